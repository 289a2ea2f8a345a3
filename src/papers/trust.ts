/** Papers on tolerance and on the board as built: bands of stops and figures, readings, and what they changed. */
import { stopsOf } from '../../geometry/rail/laid';
import { expectedReadings, expectedSizes } from '../../geometry/trust/asBuilt';
import { batchFigures, READING_FIELDS, readingOf, type Readings } from '../../geometry/trust/readings';
import type { AsBuilt, Band, ReadingField, ToleranceBands } from '../../geometry/trust/types';
import type { Plan, RailSection, Side } from '../../geometry/types';
import { METHOD_WORDS } from '../say/bands';
import { angle, type Cell, count, length, RUN, share, type Table, text, X } from './tables';

/** One side as it was measured. */
export interface MeasuredSide {
  readonly side: Side;
  readonly built: AsBuilt;
}

/** The plans of the sides that readings correct, for the parts. */
export const builtSides = (sides: readonly MeasuredSide[] = []): Partial<Record<Side, Plan>> =>
  Object.fromEntries(sides.filter(({ built }) => built.used > 0).map(({ side, built }) => [side, built.plan]));

/** What goes into the papers beside the plan; either may be left out. */
export interface Trust {
  readonly bands?: ToleranceBands;
  readonly measured?: { readonly record: Readings; readonly sides: readonly MeasuredSide[] };
}

/** How bands were found, in words. */
export const methodText = ({ method, runs, seed }: ToleranceBands): string =>
  METHOD_WORDS[method] + (method === 'estimate' ? '' : ` of ${runs} boards, seed ${seed}`);

const three = ({ value, low, high }: Band): Cell[] => [value, low, high];

/** Stops with the band that each may fall in. */
function stopBandTable(bands: ToleranceBands): Table {
  return {
    id: 'stop-bands', title: `Stops and their bands, by ${methodText(bands)}`,
    columns: [count('row'), text('end'), RUN, length('least'), length('most'), share('boards that have it', 0)],
    rows: bands.stops.map((stop) => [stop.row, stop.end, ...three(stop.s), stop.present]),
  };
}

/** Gap, bevel and cover at the ribs with their bands. */
function ribBandTable(plan: Plan, bands: ToleranceBands): Table {
  return {
    id: 'rib-bands', title: `Gap, bevel and cover at the ribs with their bands, by ${methodText(bands)}`,
    columns: [
      count('rib'), X, RUN, length('gap', 2), length('gap least', 2), length('gap most', 2),
      angle('bevel', 2), angle('bevel least', 2), angle('bevel most', 2), length('cover', 2), length('cover least', 2), length('cover most', 2),
    ],
    rows: bands.ribs.map(({ index, s, bands: b }) => [index + 1, plan.design.frames.ribs[index], s, ...three(b.gap), ...three(b.bevel), ...three(b.cover)]),
  };
}

/** Figures of a rib that readings correct. */
const CORRECTED = ['gap', 'bevel', 'planing', 'cover'] as const satisfies readonly (keyof RailSection)[];

/** What they are called. */
const CORRECTED_WORDS = { gap: 'gap', bevel: 'bevel', planing: 'planing depth', cover: 'cover' } as const;

/** One rib of a measured side: what was read, and its figures as drawn and as built. */
export interface MeasuredRib {
  readonly rib: number;
  readonly read: Partial<Record<(typeof READING_FIELDS)[number], number>>;
  readonly drawn: Record<(typeof READING_FIELDS)[number], number>;
  readonly was: RailSection;
  readonly is: RailSection;
  readonly rows: readonly [was: number, is: number];
}

/** Every rib that meets the rail, tail first. */
export function measuredRibs(plan: Plan, record: Readings, { side, built }: MeasuredSide): MeasuredRib[] {
  return plan.rail.ribs.flatMap((rib) => {
    const now = built.plan.rail.ribs.find(({ index }) => index === rib.index);
    if (!now) return [];
    const own = record.readings.find((r) => r.rib === rib.index + 1 && r.side === side);
    const read = Object.fromEntries(READING_FIELDS.flatMap((field) => {
      const value = own && readingOf(own, field);
      return value === undefined ? [] : [[field, value]];
    }));
    return [{ rib: rib.index + 1, read, drawn: expectedReadings(plan, rib), was: rib.section, is: now.section, rows: [rib.rows, now.rows] }];
  });
}

/** What was read of a side's batch: sizes beside the drawn ones; of the frames, whose sizes each rib has of its own, how far all are off. */
export function measuredBatch(plan: Plan, record: Readings, side: Side): { readonly field: ReadingField; readonly read?: number; readonly drawn?: number; readonly off: number }[] {
  const sizes: Partial<Record<ReadingField, number>> = expectedSizes(plan);
  const figures = batchFigures(record, side);
  return READING_FIELDS.flatMap((field) => {
    const [read, drawn] = [figures[field], sizes[field]];
    if (read === undefined) return [];
    return [drawn === undefined ? { field, off: read } : { field, read, drawn, off: read - drawn }];
  });
}

/** The batch's readings of all sides that were measured. */
function batchTable(plan: Plan, { record, sides }: NonNullable<Trust['measured']>): Table {
  return {
    id: 'as-built-batch', title: 'As built: readings of the batch, which stand at every rib not read itself',
    columns: [text('side'), text('figure'), length('read', 2), length('drawn', 2), length('off the drawn', 2)],
    rows: sides.flatMap(({ side }) => measuredBatch(plan, record, side).map(({ field, read, drawn, off }): Cell[] => [side, field, read, drawn, off])),
  };
}

function measuredTable(plan: Plan, record: Readings, measured: MeasuredSide): Table {
  return {
    id: `as-built-${measured.side}`, title: `As built, ${measured.side}: readings, and figures drawn and corrected`,
    columns: [
      count('rib'), ...READING_FIELDS.flatMap((field) => ['read', 'drawn'].map((which) => (field === 'bevel' ? angle(`bevel ${which === 'drawn' ? 'to read' : which}`, 2) : length(`${field} ${which}`, 2)))),
      ...CORRECTED.flatMap((what) => (what === 'bevel' ? [angle('bevel drawn', 2), angle('bevel as built', 2)] : [length(`${CORRECTED_WORDS[what]} drawn`, 2), length(`${CORRECTED_WORDS[what]} as built`, 2)])),
      count('rows drawn'), count('rows as built'),
    ],
    rows: measuredRibs(plan, record, measured).map(({ rib, read, drawn, was, is, rows }) => [
      rib, ...READING_FIELDS.flatMap((field): Cell[] => [read[field], drawn[field]]), ...CORRECTED.flatMap((what): Cell[] => [was[what], is[what]]), ...rows,
    ]),
  };
}

function correctedStopTable({ side, built }: MeasuredSide): Table {
  return {
    id: `as-built-stops-${side}`, title: `Stops as built, ${side}`,
    columns: [count('row'), text('end'), length('station from tail as built'), length('along the rail from tail as built'), length('along the rail from nose as built')],
    rows: stopsOf(built.plan.rail).map((stop) => [stop.row, stop.end, stop.x, stop.s, built.plan.rail.face.length - stop.s]),
  };
}

/** All tables of tolerance and readings. */
export function trustTables(plan: Plan, { bands, measured }: Trust): Table[] {
  return [
    ...(bands ? [stopBandTable(bands), ribBandTable(plan, bands)] : []),
    ...(measured ? [batchTable(plan, measured)] : []),
    ...(measured?.sides.flatMap((side) => [measuredTable(plan, measured.record, side), correctedStopTable(side)]) ?? []),
  ];
}
