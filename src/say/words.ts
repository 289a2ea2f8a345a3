/** Sentences that several rooms say the same way. */
import type { BendState, BendZone } from '../../geometry/parts/types';
import { stopsOf } from '../../geometry/rail/rows';
import type { BoxState, Finding, Plan, Stop, SectionDrawing } from '../../geometry/types';
import { angleText, fixed, lengthText, lengthWithUnit, unitSign, type Unit } from './units';

const CAUSES: Readonly<Record<Stop['cause'], string>> = {
  gap: 'the gap gets too low',
  bend: 'the rail bends too tightly',
  end: 'the box ends',
};

/** Why a row stops. */
export function stopReason(stop: Stop, unit: Unit): string {
  const figures = stop.cause === 'gap' ? `: ${lengthText(stop.gap, unit)} of ${lengthWithUnit(stop.need, unit)} needed` : '';
  return `Row ${stop.row} stops toward the ${stop.end}: ${CAUSES[stop.cause]}${figures}`;
}

/** Distance from the nearer end along the centreline, as text: builders measure from there. */
export function nearerEnd(plan: Plan, x: number, unit: Unit, decimals = 0): string {
  const fromNose = plan.hull.length - x;
  return x <= fromNose ? `${lengthText(x, unit, decimals)} from tail` : `${lengthText(fromNose, unit, decimals)} from nose`;
}

/** What the box is at a place. */
export const STATE_WORDS: Readonly<Record<BoxState, string>> = {
  full: 'Full stack of rows',
  fewer: 'Fewer rows fit here',
  open: 'Hollow without spacer',
  closed: 'Strips touch: taper or block',
  none: 'No room for the sole',
  meet: 'The two boxes meet here',
};

/** What a strip wants. */
export const BEND_WORDS: Readonly<Record<BendState, string>> = { dry: 'bends dry', steam: 'steam it', no: 'will not go' };

/** A strain as text. */
export const strainText = (strain: number): string => `${fixed(strain * 100, 2)} %`;

/** Radius from which a strip is called straight, mm: a metre of it is 1.25 mm off its chord, less than a hand sees. Own choice. */
const STRAIGHT = 1e5;

/** A radius as text, from the strip's own curve. */
export const radiusText = (radius: number, unit: Unit): string => (radius < STRAIGHT ? lengthText(radius, unit, 0) : 'straight');

/** A zone of a strip in words. */
export function zoneText({ state, s0, s1, strain, radius, wrap }: BendZone, unit: Unit): string {
  const stretch = `${BEND_WORDS[state]}, run ${lengthText(s0, unit, 0)} to ${lengthText(s1, unit, 0)}`;
  const bend = `least radius ${radiusText(radius, unit)}, strain up to ${strainText(strain)}`;
  return state === 'steam' ? `${stretch}: ${bend}; wrap ${lengthText(wrap, unit, 0)}` : `${stretch}: ${bend}`;
}

/** A finding's figure or limit with its unit. */
export function findingFigure(value: number, of: Finding['unit'], unit: Unit): string {
  switch (of) {
    case 'mm':
      return lengthWithUnit(value, unit, 2);
    case 'rad':
      return angleText(value);
    case 'strain':
    case 'ratio':
      return `${fixed(value * 100, 1)} %`;
    case 'kg':
      return `${fixed(value, 2)} kg`;
    default:
      return fixed(value, 0);
  }
}

/** The plan in one or two sentences. */
export function headline(plan: Plan, unit: Unit): string {
  const { rows, range } = plan.rail;
  const bevel = `Bevel ${angleText(range.bevel.min)} to ${angleText(range.bevel.max)}.`;
  if (rows.length === 0) return `No spacer row fits. ${bevel}`;
  const tallest = Math.max(...rows.map((row) => row.row));
  const first = rows.filter((row) => row.row === 1);
  const tail = first.reduce((a, b) => (b.tail.s < a.tail.s ? b : a), first[0]).tail;
  const nose = first.reduce((a, b) => (b.nose.s > a.nose.s ? b : a), first[0]).nose;
  const count = tallest === 1 ? 'One spacer row' : `${tallest} spacer rows`;
  return `${count}; the lowest stops ${nearerEnd(plan, tail.x, unit)} and ${nearerEnd(plan, nose.x, unit)}. ${bevel}`;
}

/** Where a run lies among the ribs: on one, between two, or past the last. */
export function placeName(plan: Plan, s: number): string {
  const ribs = [...plan.rail.ribs].sort((a, b) => a.s - b.s);
  const on = ribs.find((rib) => Math.abs(rib.s - s) <= plan.design.frames.ribThickness / 2);
  if (on) return `Rib ${on.index + 1}`;
  const after = ribs.findIndex((rib) => rib.s > s);
  if (ribs.length === 0) return 'Station';
  if (after === 0) return `Before rib ${ribs[0].index + 1}`;
  if (after < 0) return `Past rib ${ribs[ribs.length - 1].index + 1}`;
  return `Between ribs ${ribs[after - 1].index + 1} and ${ribs[after].index + 1}`;
}

/** A station in words and figures, for those who hear the page. */
export function stationWords(plan: Plan, { section: c, state, xFromTail, xFromNose }: SectionDrawing, unit: Unit): string {
  const figure = (mm: number) => lengthWithUnit(mm, unit);
  const boxed = c.s >= plan.rail.cap.s0 && c.s <= plan.rail.cap.s1;
  const box = boxed
    ? ` Bevel ${angleText(c.bevel)}, planing depth ${figure(c.planing)}, cap left ${figure(c.capLeft)}, slot ${figure(c.slot)}, cover ${figure(c.cover)}.`
    : '';
  return `${placeName(plan, c.s)}, ${figure(xFromTail)} from tail, ${figure(xFromNose)} from nose. ${STATE_WORDS[state]}.` +
    ` Gap ${figure(c.gap)}, ${c.rows} of ${plan.design.rail.rows} rows.${box}`;
}

/** What the stage shows, in words and figures. */
export function boardWords(plan: Plan, unit: Unit): string {
  const { hull, rail, design } = plan;
  const ribs = rail.ribs.map((rib) => nearerEnd(plan, rib.x, unit)).join(', ');
  return `${design.name}: ${lengthWithUnit(hull.length, unit, 0)} long, ${lengthWithUnit(2 * hull.widest.halfBreadth, unit, 0)} wide, ` +
    `${fixed(hull.volume / 1e6, 1)} litres. ${headline(plan, unit)} ${rail.ribs.length} ribs, in ${unitSign(unit)}: ${ribs}.`;
}

/** What the ribbon shows, in words and figures: the stretches of the box and every stop, tail to nose. */
export function ribbonWords(plan: Plan, unit: Unit): readonly string[] {
  const { rail } = plan;
  const run = (s: number) => lengthWithUnit(s, unit, 0);
  return [
    ...rail.stretches.map(({ s0, s1, state, rows }) => `Run ${run(s0)} to ${run(s1)}: ${STATE_WORDS[state]}${rows > 0 ? `, ${rows} standing` : ''}.`),
    ...stopsOf(rail).map((stop) => `${stopReason(stop, unit)}, at run ${run(stop.s)}, ${nearerEnd(plan, stop.x, unit)}.`),
    `Bevel ${angleText(rail.range.bevel.min)} at run ${run(rail.range.bevel.sMin)} to ${angleText(rail.range.bevel.max)} at run ${run(rail.range.bevel.sMax)}.`,
  ];
}
