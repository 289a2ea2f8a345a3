/** Targets in words and in the maker's units. */
import type { FamilyRow } from '../../../geometry/search/family';
import type { LeverId } from '../../../geometry/search/levers';
import type { Target } from '../../../geometry/search/targets';
import { capital, SEVERITY_WORDS } from '../../say/words';
import { angleText, fixed, lengthText, lengthWithUnit, readLength, readNumber, type Unit, unitSign } from '../../say/units';

export const KINDS: readonly { readonly kind: Target['kind']; readonly label: string }[] = [
  { kind: 'volume', label: 'Volume' },
  { kind: 'mass', label: 'Mass of timber' },
  { kind: 'bevel', label: 'Bevel at most' },
  { kind: 'reach', label: 'Row reaches to within' },
];

/** A target's figure, in the unit it is typed in. */
export function targetFigure(target: Target, unit: Unit): { readonly text: string; readonly sign: string; readonly allowed: string } {
  switch (target.kind) {
    case 'volume':
      return { text: fixed(target.value / 1e6, 1), sign: 'l', allowed: '1 to 1000 litres' };
    case 'mass':
      return { text: fixed(target.value, 2), sign: 'kg', allowed: '0.1 to 100 kg' };
    case 'bevel':
      return { text: fixed((target.most * 180) / Math.PI, 1), sign: '°', allowed: '0 to 60°' };
    case 'reach':
      return { text: lengthText(target.within, unit, 0), sign: unitSign(unit), allowed: `0 to ${lengthWithUnit(6000, unit, 0)}` };
  }
}

/** Reads what is typed as a target's figure; null where it is none or out of its range. */
export function readFigure(target: Target, text: string, unit: Unit): number | null {
  const plain = readNumber(text);
  const within = (value: number | null, least: number, most: number) => (value !== null && value >= least && value <= most ? value : null);
  switch (target.kind) {
    case 'volume':
      return within(plain === null ? null : plain * 1e6, 1e6, 1e9);
    case 'mass':
      return within(plain, 0.1, 100);
    case 'bevel':
      return within(plain === null ? null : (plain * Math.PI) / 180, 0, Math.PI / 3);
    case 'reach':
      return within(readLength(text, unit), 0, 6000);
  }
}

/** A target with another figure. */
export function withFigure(target: Target, value: number): Target {
  if (target.kind === 'bevel') return { ...target, most: value };
  return target.kind === 'reach' ? { ...target, within: value } : { ...target, value: value };
}

/** A target in one line. */
export function targetText(target: Target, unit: Unit): string {
  const { text, sign } = targetFigure(target, unit);
  switch (target.kind) {
    case 'volume':
    case 'mass':
      return `${target.kind === 'volume' ? 'Volume' : 'Mass of timber'} ${target.sense ?? 'about'} ${text} ${sign}`;
    case 'bevel':
      return `Bevel at most ${text}${sign}`;
    case 'reach':
      return `Row ${target.row ?? 1} reaches to within ${text} ${sign} of the ${target.end}`;
  }
}

/** A board's figure for a target. */
export function outcomeText(target: Target, value: number | undefined, unit: Unit): string {
  if (value === undefined) return 'no such row';
  switch (target.kind) {
    case 'volume':
      return `${fixed(value / 1e6, 2)} l`;
    case 'mass':
      return `${fixed(value, 2)} kg`;
    case 'bevel':
      return angleText(value, 2);
    case 'reach':
      return lengthWithUnit(value, unit, 0);
  }
}

/** Levers by what a maker would have to change. */
export const LEVER_GROUPS: readonly { readonly title: string; readonly ids: readonly LeverId[] }[] = [
  { title: 'Lines', ids: ['thickness', 'thickness-nose', 'thickness-tail', 'width', 'breadth-nose', 'breadth-tail', 'crown', 'vee'] },
  { title: 'Strips', ids: ['spacer-height', 'spacer-width', 'sole-thickness', 'cap-thickness', 'strip-width'] },
  { title: 'Skins', ids: ['outer-thickness', 'bottom-skin', 'deck-skin'] },
];

/** How grave findings are, worst first. */
const LEVELS = ['cannot', 'check', 'note'] as const;

/** The figures of a board that are compared before and after. */
export function rowFigures(row: FamilyRow, unit: Unit): readonly (readonly [string, string])[] {
  const first = row.rows.filter((r) => r.row === 1);
  const least = (values: number[]) => (values.length === 0 ? 'none' : lengthText(Math.min(...values), unit, 0));
  return [
    [`Width, ${unitSign(unit)}`, lengthText(row.width, unit)],
    [`Thickness, ${unitSign(unit)}`, lengthText(row.thickness, unit)],
    ['Volume, litres', fixed(row.volume / 1e6, 2)],
    ...(row.mass === undefined ? [] : [['Mass of timber, kg', fixed(row.mass, 2)] as const]),
    ['Bevel', `${angleText(row.bevel.min)} to ${angleText(row.bevel.max)}`],
    [`Least cover, ${unitSign(unit)}`, lengthText(row.cover, unit)],
    ['Rows', String(new Set(row.rows.map((r) => r.row)).size)],
    ['Row 1 from tail', least(first.map((r) => r.fromTail))],
    ['Row 1 from nose', least(first.map((r) => r.fromNose))],
    [capital(LEVELS.map((level) => SEVERITY_WORDS[level]).join(', ')), LEVELS.map((level) => row.findings[level]).join(', ')],
  ];
}
