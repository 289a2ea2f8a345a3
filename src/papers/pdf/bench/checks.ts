/** What to measure in a step, as grids: one column a rib, a row or a place, what it should read above and room to write below. */
import type { WorkStep } from '../../../../geometry/parts/types';
import { capital } from '../../../say/words';
import { textOf } from '../../../say/said';
import { len, type Kit } from './kit';

type Check = WorkStep['checks'][number];

/** Checks that ask the same of several places. */
interface Group {
  readonly title: string;
  readonly columns: { readonly label: string; readonly value: string }[];
}

/** Most columns of a grid, and heights of its lines, mm. */
const ACROSS = 13;
const [TITLE, HEAD, VALUE, BLANK] = [4.2, 3.4, 4.5, 5.6];

/** Words that begin with what they are of: "Rib 3: …", "Row 1: …". */
const OF = /^([^:{}]*\{\w+\}): (.*)$/s;

/** What is asked, the same for all of a group, and of what this one asks it. */
function askedOf(check: Check, kit: Kit): { asked: string; of: string } {
  const { unit } = kit.stamp;
  const { what, place } = check;
  const at = place === undefined ? '' : len(kit, place.s ?? place.x, 0);
  if (typeof what !== 'object' || !('say' in what)) return { asked: textOf(what, unit), of: at };
  const [, head, rest] = OF.exec(what.say) ?? [];
  if (head !== undefined) return { asked: capital(textOf({ say: rest, with: what.with }, unit)), of: textOf({ say: head, with: what.with }, unit) };
  if (what.with.rib === undefined) return { asked: textOf(what, unit), of: at };
  return { asked: textOf({ ...what, with: { ...what.with, rib: 'n' } }, unit), of: `Rib ${textOf(what.with.rib, unit)}` };
}

/** Checks by what they ask, in the order in which it is first asked. */
function groupsOf(checks: readonly Check[], kit: Kit): Group[] {
  const groups = new Map<string, Group>();
  for (const check of checks) {
    const { asked, of } = askedOf(check, kit);
    const group = groups.get(asked) ?? { title: asked, columns: [] };
    groups.set(asked, group);
    group.columns.push({ label: of, value: check.unit === 'mm' ? len(kit, check.value) : textOf({ of: check.unit, value: check.value, decimals: 1 }, kit.stamp.unit) });
  }
  return [...groups.values()];
}

const labelsOf = ({ columns }: Group): string => columns.map(({ label }) => label).join('|');

/** Columns of a grid whose words stand beside it, not above; and the width of each, mm. */
const [FEW, EACH] = [5, 20];

/** Height of one group, the first line of it, mm; `same` where the heads of the group before serve it too. */
function heights({ columns }: Group, same: boolean): { first: number; whole: number } {
  if (columns.length === 1) return { first: BLANK + 0.6, whole: BLANK + 0.6 };
  const line = (same ? 0 : HEAD) + VALUE + BLANK;
  const title = columns.length > FEW ? TITLE : 0;
  return { first: title + line, whole: title + Math.ceil(columns.length / ACROSS) * line };
}

/** Groups with whether the heads of the one before serve them too. */
function headed(groups: readonly Group[]): { group: Group; same: boolean }[] {
  return groups.map((group, i) => ({ group, same: i > 0 && group.columns.length > 1 && labelsOf(group) === labelsOf(groups[i - 1]) }));
}

/** Height that a step's checks take, mm. */
export const checksHeight = (checks: readonly Check[], kit: Kit): number =>
  headed(groupsOf(checks, kit)).reduce((sum, { group, same }) => sum + heights(group, same).whole, 0);

/** One figure alone on its line. */
function single(kit: Kit, { title, columns: [{ label, value }] }: Group, left: number, width: number): void {
  const { flow } = kit;
  const right = left + width;
  const y = flow.y + 4.4;
  const place = /^[\d.]/.test(label) ? `at ${label}` : label;
  flow.fitted(left, y, width - 62, place === '' ? title : `${title} (${place})`, 10);
  flow.pen.text(right - 34, y, value, { size: 12, face: 'bold', align: 'right' });
  flow.pen.rect(right - 30, y - 3.9, 30, BLANK - 0.8, { width: 0.15, grey: 0.4 });
  flow.space(BLANK + 0.6);
}

/** A line of a grid, its left edge at x: heads unless they stand above already, figures, room to write. */
function gridLine(kit: Kit, columns: Group['columns'], x: number, each: number, same: boolean): void {
  const { flow } = kit;
  const top = flow.y + (same ? 0 : HEAD);
  columns.forEach(({ label, value }, i) => {
    if (!same) flow.fitted(x + i * each + 0.5, top - 0.6, each - 1, label, 8, 'regular', 'centre', 0.2);
    flow.fitted(x + i * each + 0.5, top + 3.5, each - 1, value, 11.5, 'bold', 'centre');
    flow.pen.rect(x + i * each, top + VALUE, each, BLANK - 0.8, { width: 0.15, grey: 0.4 });
  });
  flow.y = top + VALUE + BLANK;
}

/** All checks of a step, from `indent` in. */
export function checkGrids(kit: Kit, checks: readonly Check[], indent: number): void {
  const { flow } = kit;
  const left = flow.left + indent;
  const width = flow.width - indent;
  for (const { group, same: fits } of headed(groupsOf(checks, kit))) {
    const { title, columns } = group;
    // On a fresh page the heads are printed again.
    const same = !flow.need(heights(group, fits).first) && fits;
    if (columns.length === 1) single(kit, group, left, width);
    else if (columns.length <= FEW) {
      const x = left + width - columns.length * EACH;
      flow.fitted(left, flow.y + (same ? 0 : HEAD) + 3.5, x - left - 2, title, 9.5, 'bold');
      gridLine(kit, columns, x, EACH, same);
    } else {
      flow.fitted(left, flow.y + 3.3, width, title, 9.5, 'bold');
      flow.space(TITLE);
      for (let from = 0; from < columns.length; from += ACROSS) {
        if (from > 0) flow.need((same ? 0 : HEAD) + VALUE + BLANK);
        gridLine(kit, columns.slice(from, from + ACROSS), left, Math.min(24, width / Math.min(ACROSS, columns.length)), same);
      }
    }
  }
}
