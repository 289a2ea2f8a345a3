/** The rail in tables: the box at each rib and at steps along the rail, stops, and all that is met on the way. */
import { isHeated, stripName } from '../../geometry/parts/stripWords';
import { bendsAt, worseMethod } from '../../geometry/parts/bendsAt';
import type { Parts, StripId } from '../../geometry/parts/types';
import { hasBox, runOfPlace, sectionAt, stateAt, stationAt } from '../../geometry/rail/query';
import { stopsOf } from '../../geometry/rail/laid';
import { mm, said, type Said, size } from '../../geometry/said';
import { steamMinutes } from '../../geometry/wood/steam';
import type { Plan, RailSection, RibAtRail, Side } from '../../geometry/types';
import type { MethodHere } from '../../geometry/wood/ladder';
import { bendText } from '../say/bendWords';
import { BOX_WORDS, boxText, BEND_WORDS, otherEdge, STOP_CAUSES } from '../say/words';
import { angle, type Cell, type Column, count, length, RUN, RUN_NOSE, share, type Table, text, X, X_NOSE } from './tables';

/** Kinds of strip whose bending a place gives, in the order of the bench sheet's marks. */
export const BENT = ['sole', 'row', 'cap', 'outer-skin'] as const;

/** The most troublesome method of each kind of strip at s along the rail; undefined where there is none. */
export function bendAt(parts: Parts, s: number): Partial<Record<StripId['kind'], MethodHere>> {
  const out: Partial<Record<StripId['kind'], MethodHere>> = {};
  for (const here of bendsAt(parts.bending, s)) out[here.strip.kind] = worseMethod<MethodHere>(out[here.strip.kind] ?? here, here);
  return out;
}

/** A box section as the lists need it; `x` is the station the maker measures to. */
export interface BoxPlace {
  readonly name: string;
  readonly x: number;
  readonly section: RailSection;
  readonly rib?: RibAtRail;
}

/** The ribs, tail first. */
export const ribPlaces = (plan: Plan): BoxPlace[] =>
  plan.rail.ribs.map((rib) => ({ name: `Rib ${rib.index + 1}`, x: rib.x, section: rib.section, rib }));

/** Places every `step` mm along the rail from the tail, and the nose end. */
export function stepPlaces(plan: Plan, step: number): BoxPlace[] {
  const total = plan.rail.face.length;
  const runs: number[] = [];
  for (let s = 0; s < total - 1; s += step) runs.push(s);
  runs.push(total);
  return runs.map((s) => {
    const section = sectionAt(plan, s);
    return { name: '', x: section.x, section };
  });
}

/** The strips' radius of plan bend at the box face, mm; infinite where the rail runs straight. */
export const radiusOf = (section: RailSection): number => 1 / Math.abs(section.kappa);

const PLACE_COLUMNS = (plan: Plan): Column[] => [
  X, X_NOSE, RUN, RUN_NOSE, text('box'), length('gap'), count('rows'), length('slot'), angle('bevel'), angle('station bevel'),
  length('rise', 2, said('rise over strip width {width}', { width: size(plan.design.rail.stripWidth) })), length('planing', 2, 'planing depth'), length('cap left', 2),
  angle('sole bevel'), length('sole planing depth', 2), length('radius', 0),
  ...BENT.map((kind) => text(kind, `${kind} bends`)), length('cover', 2), length('cover of the box corners', 2),
];

function placeCells(plan: Plan, parts: Parts, { x, section }: BoxPlace): Cell[] {
  const { s } = section;
  const bend = bendAt(parts, s);
  const box = hasBox(plan, s);
  const ofBox = (value: number): Cell => (box ? value : undefined);
  return [
    x, plan.hull.length - x, s, plan.rail.face.length - s, BOX_WORDS[stateAt(plan, s)], ofBox(section.gap), ofBox(section.rows),
    ofBox(section.slot), ofBox(section.bevel), ofBox(section.stationBevel),
    ofBox(plan.design.rail.stripWidth * Math.tan(section.bevel)), ofBox(section.planing), ofBox(section.capLeft),
    ofBox(section.soleBevel), ofBox(section.solePlaning), radiusOf(section), ...BENT.map((kind): Cell => {
      const here = bend[kind];
      return here && bendText(here);
    }),
    ofBox(section.cover), ofBox(section.boxCover),
  ];
}

/** The box where each rib meets it. */
export function ribTable(plan: Plan, parts: Parts): Table {
  return {
    id: 'ribs', title: 'The rail at each rib',
    columns: [text('rib'), length('rib half-breadth'), text('tab'), length('box face, station from tail'), ...PLACE_COLUMNS(plan)],
    rows: ribPlaces(plan).map((place) => [
      place.name, place.rib?.ribY, place.rib?.hasTab ? 'yes' : 'no', place.section.x, ...placeCells(plan, parts, place),
    ]),
  };
}

/** The box at even steps along the rail. */
export function stepTable(plan: Plan, parts: Parts, step: number): Table {
  return {
    id: 'steps', title: said('The rail every {step}', { step: size(step) }), columns: PLACE_COLUMNS(plan),
    rows: stepPlaces(plan, step).map((place) => placeCells(plan, parts, place)),
  };
}

/** Where each spacer row starts and ends. */
export function stopTable(plan: Plan): Table {
  const total = plan.rail.face.length;
  return {
    id: 'stops', title: 'Spacer rows and their stops',
    columns: [
      count('row'), text('end'), X, X_NOSE, RUN, RUN_NOSE, length('upper edge of the cut, station from tail'), length('upper edge, along the rail from tail'),
      length('lower edge of the cut, station from tail'), length('lower edge, along the rail from tail'), text('why it stops'), length('gap there'),
      length('gap needed'), length('length of row'), text('tabs at ribs'),
    ],
    rows: plan.rail.rows.flatMap((row) => [row.tail, row.nose].map((stop) => [
      row.row, stop.end, stop.x, plan.hull.length - stop.x, stop.s, total - stop.s, stop.upper.x, stop.upper.s, stop.lower.x, stop.lower.s, STOP_CAUSES[stop.cause], stop.gap, stop.need,
      row.length, row.tabs.map((i) => i + 1).join(' '),
    ])),
  };
}

/** What a maker meets along the rail. */
export type EventKind = 'rib' | 'stop' | 'joint' | 'bend' | 'block' | 'box';

/** One thing met on the way from tail to nose. */
export interface RailEvent {
  readonly kind: EventKind;
  readonly s: number;
  readonly x: number;
  readonly what: string;
  readonly side: Side | 'both';
  readonly detail: Said;
  /** Where the other edge of a row's square cut lies. */
  readonly edge?: Said;
  /** Where a stretch that begins here ends, mm along the rail. */
  readonly until?: number;
}

/** Joints at one place in one strip on both sides are one event. */
function jointEvents(parts: Parts): RailEvent[] {
  const out: RailEvent[] = [];
  for (const joint of parts.joints?.joints ?? []) {
    const what = `${stripName(joint.strip)}: ${joint.kind} joint`;
    const same = out.findIndex((e) => e.what === what && Math.abs(e.s - joint.s) < 0.05 && e.side !== joint.side);
    if (same >= 0) {
      out[same] = { ...out[same], side: 'both' };
      continue;
    }
    const tab = joint.rib === undefined ? 'in the open' : `on the tab of rib ${joint.rib + 1}`;
    const detail = joint.bearing === undefined ? tab : said('{tab}, {bearing} each side', { tab, bearing: mm(joint.bearing) });
    out.push({ kind: 'joint', s: joint.s, x: joint.x, what, side: joint.side, detail });
  }
  return out;
}

/** Joints of the skin blanks; port is cut alike. */
function blankEvents(plan: Plan, parts: Parts): RailEvent[] {
  return parts.blanks.flatMap((blank) => blank.pieces.flatMap((piece): RailEvent[] => (piece.joint === undefined ? [] : [{
    kind: 'joint', s: piece.joint.s, x: stationAt(plan, piece.joint.s), side: 'both',
    what: `Outer skin ${blank.layer}: ${piece.joint.kind} joint`, detail: `piece ${piece.index + 1} meets ${piece.index + 2}`,
  }])));
}

/** Where the outer skins butt on a block. */
const landingEvents = ({ rail: { ends } }: Plan, at: (s: number) => number): RailEvent[] => [ends.tail, ends.nose].flatMap((end): RailEvent[] => (end?.skinsTo === undefined ? [] : [{
  kind: 'joint', s: end.skinsTo, x: at(end.skinsTo), side: 'both', what: `Outer skins: butt on the ${end.end} block`, detail: 'all layers, on its landing',
}]));

/** Everything met along the rail, tail to nose: ribs, stops, joints, what is more than bent cold, changes of the box. */
export function railEvents(plan: Plan, parts: Parts): RailEvent[] {
  const at = (s: number): number => stationAt(plan, s);
  const ribs = plan.rail.ribs.map((rib): RailEvent => ({
    kind: 'rib', s: rib.section.s, x: rib.x, what: `Rib ${rib.index + 1}`, side: 'both', detail: rib.hasTab ? '' : 'no tab here',
  }));
  const stops = stopsOf(plan.rail).map((stop): RailEvent => ({
    kind: 'stop', s: stop.s, x: stop.x, side: 'both', detail: STOP_CAUSES[stop.cause], edge: otherEdge(stop),
    what: `Row ${stop.row} ${stop.end === 'tail' ? 'starts' : 'stops'}`,
  }));
  const zones = parts.bending.flatMap(({ strip, zones: list }) => list.filter((zone) => zone.method !== 'cold').map((zone): RailEvent => ({
    kind: zone.method === 'block' ? 'block' : 'bend', s: zone.s0, x: at(zone.s0), side: 'both', until: zone.s1,
    what: `${stripName(strip)}: ${bendText(zone)}`, detail: '',
  })));
  // Where a row starts or stops the box changes too: that is one event, the stop.
  const told = stops.map(({ s }) => s);
  const boxes = plan.rail.stretches.filter(({ s0 }) => s0 === 0 || !told.some((s) => Math.abs(s - s0) < 0.5)).map((stretch): RailEvent => ({
    kind: 'box', s: stretch.s0, x: at(stretch.s0), side: 'both', until: stretch.s1,
    what: `Box: ${boxText(stretch)}`, detail: '',
  }));
  const order: readonly EventKind[] = ['box', 'stop', 'bend', 'block', 'rib', 'joint'];
  return [...ribs, ...stops, ...jointEvents(parts), ...blankEvents(plan, parts), ...landingEvents(plan, at), ...zones, ...boxes]
    .sort((a, b) => a.s - b.s || order.indexOf(a.kind) - order.indexOf(b.kind) || (a.what < b.what ? -1 : 1));
}

/** The events as a table. */
export function eventTable(plan: Plan, parts: Parts): Table {
  const total = plan.rail.face.length;
  return {
    id: 'along-the-rail', title: 'What you meet from tail to nose',
    columns: [text('kind'), text('what'), X, X_NOSE, RUN, RUN_NOSE, text('side'), length('until, along the rail from tail'), text('detail')],
    rows: railEvents(plan, parts).map((e) => [
      e.kind, e.what, e.x, plan.hull.length - e.x, e.s, total - e.s, e.side, e.until,
      e.edge === undefined ? e.detail : said('{detail}; {edge}', { detail: e.detail, edge: e.edge }),
    ]),
  };
}

/** Zones of every strip. */
export function bendTable(plan: Plan, parts: Parts): Table {
  return {
    id: 'bending', title: 'Bending of every strip',
    columns: [
      text('strip'), length('width'), length('thickness'), text('method'), count('parts'), RUN, length('to'),
      length('length to wrap', 0), length('least radius', 0), share('greatest strain'), share('left to bear'), share('cold limit'), share('forced limit'),
      share('wet limit'), count('R / t'), length('strain greatest at, along the rail'), length('thickness that would bend'), length('width that would bend'), text('limits by trial bend'),
    ],
    rows: parts.bending.flatMap((bent) => bent.zones.map((zone) => [
      stripName(bent.strip), bent.width, bent.thickness, BEND_WORDS[zone.method], zone.n, zone.s0, zone.s1, isHeated(zone) ? zone.wrap : undefined,
      zone.radius, zone.strain, zone.borne, bent.limits.cold, bent.limits.forced, bent.limits.wet, zone.strain > 0 ? 1 / (2 * zone.strain) : undefined, runOfPlace(plan, zone.at),
      zone.method === 'block' ? bent.advice?.thickness : undefined, zone.method === 'block' ? bent.advice?.width : undefined, bent.limits.byTrial?.join(' '),
    ])),
  };
}

/** How long the strips that are bent wet stand in the steam, by their thickness; '' where none is. */
export function steamText(parts: Parts): Said {
  const thick = Math.max(0, ...parts.bending.filter(({ zones }) => zones.some(isHeated)).map(({ thickness }) => thickness));
  return thick === 0 ? '' : said('Steam up to {minutes} for {thick}: an hour for each inch of thickness is common practice, no source; 20 minutes for an inch did for strapped southern pine of 1/2 to 1 inch (Lemoine & Koch 1971, abstract). Try an offcut.', {
    minutes: { of: 'min', value: Math.ceil(steamMinutes(thick)) }, thick: size(thick),
  });
}
