/** A place on the board, and the whole of it, in words. */
import type { WorkStep } from '../../geometry/parts/types';
import { hasBox, needsAt, ribAt, ribThrough, runOfPlace, sectionAt, stopsAt } from '../../geometry/rail/query';
import { stopsOf } from '../../geometry/rail/laid';
import type { Plan, RailSection, Stop, SectionDrawing } from '../../geometry/types';
import { textOf } from './said';
import { angleText, fieldLength, fixed, lengthWithUnit, type Unit } from './units';
import { radiusText } from './bendWords';
import { capital, stopReason, nearerEnd, boxText, rowsText, BOX_WORDS, headline } from './words';

/** Why a row of a plan stops at this very place: the gap's arithmetic, or what else ends it; figures without their unit. */
export function stopWhy(plan: Plan, { cause, end, need, row, s }: Stop, unit: Unit): string {
  const bare = (value: number) => fieldLength(value, unit, 2);
  if (cause === 'gap') {
    const { height, clearance } = needsAt(plan, s);
    return `gap ${bare(need)} = ${row} × ${bare(height)}${clearance > 0 ? ` + ${bare(clearance)}` : ''}`;
  }
  if (cause === 'bend') return `radius ${radiusText(1 / Math.abs(sectionAt(plan, s).kappa), unit)} is too tight for a spacer ${bare(plan.design.rail.spacerWidth)} wide`;
  if (cause === 'end') return 'the box ends here';
  const block = plan.rail.ends[end];
  return block && block.rowsTo !== block.s ? `the ${end} block's tongue begins here` : `the ${end} block begins here`;
}

/** Bevels smaller than this show as none, rad: a twentieth of a degree. */
const SQUARE = Math.PI / 3600;

/** How the deck lies to the cap's square top: the sign of a bevel in words. */
export const deckLie = (bevel: number): string => (Math.abs(bevel) < SQUARE ? 'deck square to the strip' : bevel > 0 ? 'deck falls outboard' : 'deck rises outboard');

/** How the deck lies, and which edge that leaves to plane. */
export const deckWords = (bevel: number): string =>
  `${capital(deckLie(bevel))}: ${Math.abs(bevel) < SQUARE ? 'nothing to plane' : bevel > 0 ? 'plane the outer edge' : 'plane the inner edge, or pack the outer'}`;

/**
 * What the plane does to the cap's outer edge where the bevel is this: how much comes off it, or, where the deck rises
 * outboard, how low the edge is: of a section, mm.
 */
export const planingOf = ({ bevel }: Pick<RailSection, 'bevel'>): { readonly edge: 'off' | 'low at'; of(section: Pick<RailSection, 'planing'>): number } =>
  (bevel < 0 ? { edge: 'low at', of: ({ planing }) => -planing } : { edge: 'off', of: ({ planing }) => planing });

/** What a place along the rail is: a rib, a stop, or where it lies among the ribs: between two, or beyond the last. */
export function placeName(plan: Plan, s: number): string {
  const ribs = [...plan.rail.ribs].sort((a, b) => a.s - b.s);
  const [at, through, stops] = [ribAt(plan, s), ribThrough(plan, s), stopsAt(plan, s)];
  const stop = stops.length > 0 && `stop of ${rowsText(stops.map(({ row }) => row))}`;
  if (at) return `Rib ${at.index + 1}${stop ? `, ${stop}` : ''}`;
  if (stop) return capital(stop);
  if (through) return `In rib ${through.index + 1}, off its middle`;
  const after = ribs.findIndex((rib) => rib.s > s);
  if (ribs.length === 0) return 'Station';
  if (after === 0) return `Between tail and rib ${ribs[0].index + 1}`;
  if (after < 0) return `Between rib ${ribs[ribs.length - 1].index + 1} and nose`;
  return `Between ribs ${ribs[after - 1].index + 1} and ${ribs[after].index + 1}`;
}

/** Where each check of a step is made, as its label's end; empty where its own words tell it apart from the others. */
export function checkPlaces(plan: Plan, checks: WorkStep['checks'], unit: Unit): string[] {
  const words = checks.map(({ what }) => textOf(what, unit));
  return checks.map(({ place }, i) => {
    if (!place || words.filter((each) => each === words[i]).length === 1) return '';
    const rib = ribAt(plan, runOfPlace(plan, place));
    return `, ${place.x === 0 ? 'tail' : place.x === plan.hull.length ? 'nose' : rib ? `rib ${rib.index + 1}` : nearerEnd(plan, place.x, unit)}`;
  });
}

/** A station in words and figures, for those who hear the page. */
export function stationWords(plan: Plan, { section: c, state, x }: SectionDrawing, unit: Unit): string {
  const figure = (mm: number) => lengthWithUnit(mm, unit);
  const { edge, of } = planingOf(c);
  const box = hasBox(plan, c.s)
    ? ` Bevel ${angleText(c.bevel)}, ${deckLie(c.bevel)}, ${figure(of(c))} ${edge} the outer edge, cap left ${figure(c.capLeft)}, slot ${figure(c.slot)}, cover ${figure(c.cover)}.`
    : '';
  const face = x === c.x ? '' : ` Box face ${figure(c.x)} from tail.`;
  return `${placeName(plan, c.s)}, ${figure(x)} from tail, ${figure(plan.hull.length - x)} from nose.${face} Box: ${BOX_WORDS[state]}.` +
    ` Gap ${figure(c.gap)}, ${c.rows} of ${plan.design.rail.rows} rows.${box}`;
}

/** What the stage shows, in words and figures. */
export function boardWords(plan: Plan, unit: Unit): string {
  const { hull, rail, design } = plan;
  const ribs = rail.ribs.map((rib) => nearerEnd(plan, rib.x, unit, 0, lengthWithUnit)).join(', ');
  return `${design.name}: ${lengthWithUnit(hull.length, unit, 0)} long, ${lengthWithUnit(2 * hull.widest.halfBreadth, unit, 0)} wide, ` +
    `${fixed(hull.volume / 1e6, 1)} litres. ${headline(plan, unit)} Bevel ${angleText(rail.range.bevel.min)} to ${angleText(rail.range.bevel.max)}. ${rail.ribs.length} ribs: ${ribs}.`;
}

/** What the ribbon shows, in words and figures: the stretches of the box and every stop, tail to nose. */
export function ribbonWords(plan: Plan, unit: Unit): readonly string[] {
  const { rail } = plan;
  const along = (s: number) => `${lengthWithUnit(s, unit, 0)} along the rail`;
  return [
    ...rail.stretches.map((stretch) => `From ${lengthWithUnit(stretch.s0, unit, 0)} to ${along(stretch.s1)}: ${boxText(stretch)}.`),
    ...stopsOf(rail).map((stop) => `${stopReason(stop, unit)}, ${nearerEnd(plan, stop.x, unit, 0, lengthWithUnit)}, ${along(stop.s)}.`),
    `Bevel from ${angleText(rail.range.bevel.min)}, ${along(rail.range.bevel.sMin)}, to ${angleText(rail.range.bevel.max)}, ${along(rail.range.bevel.sMax)}.`,
  ];
}
