/** Sentences that several rooms say the same way. */
import type { Method } from '../../geometry/design/methods';
import type { Design, TrialBend } from '../../geometry/design/schema';
import { isHeated } from '../../geometry/parts/stripWords';
import type { BendZone, WorkStep } from '../../geometry/parts/types';
import type { FamilyRow } from '../../geometry/search/family';
import { hasBox, needsAt, ribAt, ribThrough, runOfPlace, sectionAt, stopsAt } from '../../geometry/rail/query';
import { stopsOf } from '../../geometry/rail/laid';
import { mm, said, type Said } from '../../geometry/said';
import type { BoxState, BoxStretch, FindingLevel, Plan, RailSection, Stop, SectionDrawing } from '../../geometry/types';
import { trialStrain } from '../../geometry/wood/trials';
import type { MethodHere } from '../../geometry/wood/ladder';
import type { BendLimits } from '../../geometry/wood/limits';
import { textOf } from './said';
import { angleText, fieldLength, fixed, lengthText, lengthWithUnit, type Unit } from './units';

/** Why a row stops, short enough for a table. */
export const STOP_CAUSES: Readonly<Record<Stop['cause'], string>> = { gap: 'gap too low', bend: 'bend too tight', end: 'box ends', block: 'block begins' };

/** Why a row stops, in a sentence. */
export function stopReason(stop: Stop, unit: Unit): string {
  const figures = stop.cause === 'gap' ? ` (${lengthWithUnit(stop.gap, unit)}; ${lengthWithUnit(stop.need, unit)} needed)` : '';
  return `Row ${stop.row} stops toward the ${stop.end}: ${STOP_CAUSES[stop.cause]}${figures}; ${textOf(cutEdges(stop), unit)}`;
}

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

/** A method with the number of parts, where it makes several. */
export const bendText = ({ method, n }: MethodHere): string => (n > 1 ? `${BEND_WORDS[method]} in ${n}` : BEND_WORDS[method]);

/** What a method is drawn as: as it comes, with force, in heat, or not at all. */
export const BEND_TONES: Readonly<Record<Method, 'cold' | 'forced' | 'wet' | 'block'>> = {
  cold: 'cold', forced: 'forced', wet: 'wet', split: 'wet', layers: 'wet', strap: 'wet', block: 'block',
};

/** What a timber's limits are, in words. */
export const limitText = ({ cold, forced, wet, byTrial }: BendLimits): string =>
  `cold to ${strainText(cold)}${forced === undefined ? '' : `, forced to ${strainText(forced)}`}, in wet heat to ${strainText(wet)}${byTrial ? ' (limit by your trial bend)' : ''}`;

/** What a trial bend is of. */
const TRIAL_PARTS: Readonly<Record<string, string>> = { rail: 'strips', outer: 'outer skins' };

/** A trial bend in words. */
export const trialText = (trial: TrialBend, unit: Unit): string =>
  `${TRIAL_PARTS[trial.of] ?? trial.of}, ${lengthWithUnit(trial.bent === 'edge' ? trial.width : trial.thickness, unit)} ${trial.bent === 'edge' ? 'on edge' : 'on the flat'} ` +
  `to ${lengthWithUnit(trial.radius, unit, 0)}, ${trial.heat === 'cold' ? 'cold' : 'in wet heat'}: ${trial.held ? 'held' : 'broke'} at ${strainText(trialStrain(trial))}`;

/** That a plan goes by trial bends, and which; empty where it does not. */
export const trialWords = ({ trials = [] }: Design, unit: Unit): string =>
  (trials.length === 0 ? '' : `Limit by your trial ${trials.length === 1 ? 'bend' : 'bends'}: ${trials.map((trial) => trialText(trial, unit)).join('; ')}.`);

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

/** A strain as text. */
export const strainText = (strain: number): string => `${fixed(strain * 100, 2)} %`;

/** Radius from which a strip is called straight, mm: a metre of it is 1.25 mm off its chord, less than a hand sees. Own choice. */
const STRAIGHT = 1e5;

/** A radius as text, from the strip's own curve. */
export const radiusText = (radius: number, unit: Unit): string => (radius < STRAIGHT ? lengthText(radius, unit, 0) : 'straight');

/** A zone of a strip in words. */
export function zoneText(zone: BendZone, unit: Unit): string {
  const { s0, s1, strain, radius, wrap } = zone;
  const stretch = `${bendText(zone)}, ${lengthText(s0, unit, 0)} to ${lengthText(s1, unit, 0)} along the rail`;
  const bend = `least radius ${radiusText(radius, unit)}, strain up to ${strainText(strain)}`;
  return isHeated(zone) ? `${stretch}: ${bend}; wrap ${lengthText(wrap, unit, 0)}` : `${stretch}: ${bend}`;
}

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
