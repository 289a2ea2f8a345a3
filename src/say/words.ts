/** Sentences that several rooms say the same way. */
import type { Method } from '../../geometry/design/methods';
import type { FamilyRow } from '../../geometry/search/family';
import { mm, said, type Said } from '../../geometry/said';
import type { BoxState, BoxStretch, FindingLevel, Plan, Stop } from '../../geometry/types';
import { textOf } from './said';
import { lengthText, lengthWithUnit, type Unit } from './units';

/** Why a row stops, short enough for a table. */
export const STOP_CAUSES: Readonly<Record<Stop['cause'], string>> = { gap: 'gap too low', bend: 'bend too tight', end: 'box ends', block: 'block begins' };

/** Why a row stops, in a sentence. */
export function stopReason(stop: Stop, unit: Unit): string {
  const figures = stop.cause === 'gap' ? ` (${lengthWithUnit(stop.gap, unit)}; ${lengthWithUnit(stop.need, unit)} needed)` : '';
  return `Row ${stop.row} stops toward the ${stop.end}: ${STOP_CAUSES[stop.cause]}${figures}; ${textOf(cutEdges(stop), unit)}`;
}

/** Where a row of a board stops, from tail and from nose, the farthest out of its stretches; null where it has none. */
export function outerStops(rows: FamilyRow['rows'], row: number, unit: Unit): readonly [fromTail: string, fromNose: string] | null {
  const own = rows.filter((each) => each.row === row);
  const least = (end: 'fromTail' | 'fromNose') => lengthText(Math.min(...own.map((each) => each[end])), unit, 0);
  return own.length === 0 ? null : [least('fromTail'), least('fromNose')];
}

/** Rows by number: "row 3", "rows 1 and 2". */
export const rowsText = (rows: readonly number[]): string => (rows.length === 1 ? `row ${rows[0]}` : `rows ${rows.slice(0, -1).join(', ')} and ${rows[rows.length - 1]}`);

/** Where the edge of a row's square cut lies that the stop is not; undefined where a figure would not tell the two apart. */
export function otherEdge({ end, s, upper, lower }: Stop): Said | undefined {
  const off = (end === 'nose' ? 1 : -1) * (s === upper.s ? lower.s - s : upper.s - s);
  if (Math.abs(off) < 0.05) return undefined;
  return said('{edge} edge {off} {way}', { edge: s === upper.s ? 'lower' : 'upper', off: mm(Math.abs(off)), way: off > 0 ? 'nearer the end' : 'farther in' });
}

/** Which edge of a row's square cut the stop is, and where the other lies. */
export function cutEdges(stop: Stop): Said {
  const other = otherEdge(stop);
  return other === undefined ? 'both edges of the square cut' : said('{edge} edge of the square cut, {other}', { edge: stop.s === stop.upper.s ? 'upper' : 'lower', other });
}

/** Distance from the nearer end along the centreline, as text: builders measure from there. `text` writes it, with or without its unit. */
export function nearerEnd({ hull }: { readonly hull: Pick<Plan['hull'], 'length'> }, x: number, unit: Unit, decimals = 0, text = lengthText): string {
  const fromNose = hull.length - x;
  return x <= fromNose ? `${text(x, unit, decimals)} from tail` : `${text(fromNose, unit, decimals)} from nose`;
}

/** What the box is at a place: these words on screen, on paper and on the command line. */
export const BOX_WORDS: Readonly<Record<BoxState, string>> = {
  full: 'all rows', fewer: 'fewer rows', open: 'hollow, no rows', tongue: 'block\'s tongue', block: 'end block', closed: 'strips touch', none: 'no room', meet: 'sides meet',
};

/** What the box is over a stretch, with the rows that stand there. */
export const boxText = ({ state, rows }: Pick<BoxStretch, 'state' | 'rows'>): string => (rows > 0 ? `${BOX_WORDS[state]} (${rows})` : BOX_WORDS[state]);

/** How grave a finding is: these words on screen, on paper and on the command line. */
export const SEVERITY_WORDS: Readonly<Record<FindingLevel, string>> = { cannot: "can't build", check: 'check', note: 'note' };

/** A text with a capital first. */
export const capital = (text: string): string => text.slice(0, 1).toUpperCase() + text.slice(1);

/** How a strip is brought to its curve: these words on screen, on paper and on the command line. */
export const BEND_WORDS: Readonly<Record<Method, string>> = {
  cold: 'cold', forced: 'cold, forced', wet: 'wet heat', split: 'split', layers: 'layers', strap: 'wet, strapped', block: 'needs a block',
};

const COUNTS = ['No', 'One', 'Two', 'Three', 'Four', 'Five', 'Six', 'Seven', 'Eight', 'Nine', 'Ten', 'Eleven', 'Twelve'];

/** Heights smaller than this show as none, mm. */
const FLUSH = 0.05;

/** What the bevel asks for along the whole cap. */
function planeWords({ rail: { range: { planing: { min, max } } } }: Plan, unit: Unit): string {
  const low = `its outer edge is up to ${lengthWithUnit(-min, unit)} low`;
  if (max < FLUSH) return min > -FLUSH ? 'The cap needs no planing.' : `The deck rises outboard of the cap: ${low}.`;
  const from = min < FLUSH ? 'up to ' : lengthText(min, unit) === lengthText(max, unit) ? '' : `${lengthText(min, unit)} to `;
  const off = `Plane ${from}${lengthWithUnit(max, unit)} off the cap`;
  return min > -FLUSH ? `${off}.` : `${off}; where the deck rises ${low}.`;
}

/** What the rail is, in a sentence or two: its rows, where the first stops and what is beyond, and what is planed off the cap. */
export function headline(plan: Plan, unit: Unit): string {
  const { rows, ends } = plan.rail;
  if (rows.length === 0) return `No spacer row fits. ${planeWords(plan, unit)}`;
  const tallest = Math.max(...rows.map((row) => row.row));
  const first = rows.filter((row) => row.row === 1);
  const tail = first.reduce((a, b) => (b.tail.s < a.tail.s ? b : a), first[0]).tail;
  const nose = first.reduce((a, b) => (b.nose.s > a.nose.s ? b : a), first[0]).nose;
  const blocks = (['tail', 'nose'] as const).filter((end) => ends[end]);
  const beyond = blocks.length === 2 ? ', a block beyond each' : blocks.length === 1 ? `, a block beyond at the ${blocks[0]}` : '';
  return `${COUNTS[tallest] ?? tallest} row${tallest === 1 ? '' : 's'}; row 1 stops ${lengthWithUnit(tail.x, unit, 0)} from the tail and ` +
    `${lengthWithUnit(plan.hull.length - nose.x, unit, 0)} from the nose${beyond}. ${planeWords(plan, unit)}`;
}
