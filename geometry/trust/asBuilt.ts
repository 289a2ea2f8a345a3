/**
 * As built: the plan corrected by caliper readings. Own choice, stated on screen and paper: a reading is its rib's own, and a rib
 * where a figure was not read counts as drawn, or as the batch if that was told; from rib to rib a difference from the drawing fades
 * into the next as smoothly as a strip lies (so that a lone one is gone at the ribs before and after); beyond the first and
 * last rib of the drawn box it stays as it is, also at a rib that only the corrected box reaches. What a tab has over its room goes
 * straight to the next rib with a tab, whatever ribs stand between, and beyond the first and last of these it stays as it is. The
 * stringer holds the middle of the deck, so that a high rib end also tilts it; where a tab was measured it is the tab that sets the
 * gap, and the cap stands proud of the deck by what is over; a bevel read at a rib is the deck's tilt there.
 * Stops are roots of the corrected gap. Hull and design are unchanged.
 */
import { valueText } from '../design/fields';
import { planOn } from '../plan';
import { eased } from '../rail/made';
import { mm, range, said, size, type Figure } from '../said';
import type { MadeBox, MadeField, Plan, RailPlan, RibAtRail, RowStretch, Side } from '../types';
import { toCentre } from './spreads';
import { BATCH_FIELDS, batchFigures, FRAME_FIELDS, isFrameField, READING_FIELDS, readingOf, type Readings } from './readings';
import type { AsBuilt, Correction, ReadingField, ReadingFlag } from './types';

/** What each size of the batch should be by the drawing, mm. */
export function expectedSizes({ design: { rail } }: Plan): Record<(typeof BATCH_FIELDS)[number], number> {
  return { sole: rail.soleThickness, cap: rail.capThickness, spacer: rail.spacerHeight };
}

/** What each reading at a rib should be by the drawing, mm (the bevel radians): heights are upright, as a caliper on the rib end reads. */
export function expectedReadings(plan: Plan, rib: RibAtRail): Record<ReadingField, number> {
  const { section } = rib;
  return {
    ...expectedSizes(plan), depth: section.deckRib - section.bottomRib, tab: Math.max(0, section.capBottom - section.soleTop), bevel: section.bevel,
  };
}

/** A figure of a reading as it is told: to a hundredth, or as it was given. */
const told = (field: ReadingField, value: number): Figure => (field === 'bevel' ? { of: 'rad', value, decimals: 1 } : mm(value, 2));
const given = (field: ReadingField, value: number): Figure => (field === 'bevel' ? told(field, value) : size(value));

/** The same for a bevel, either way, radians: 6 degrees. A rib that is 3 mm off tilts the deck by less than 2. */
const BEVEL_RANGE = (6 * Math.PI) / 180;

/**
 * Farthest a reading may lie from the drawing before it cannot be right, mm: four half-widths of its spread, a
 * fifth of its size, or half a millimetre, whichever is most. The project's own choice.
 */
function readingRange(plan: Plan, field: ReadingField, expected: number): { min: number; max: number } {
  if (field === 'bevel') return { min: expected - BEVEL_RANGE, max: expected + BEVEL_RANGE };
  const { strip, kerf, ribHeight } = plan.design.spread;
  const spread = isFrameField(field) ? ribHeight + kerf : strip;
  const far = Math.max(4 * spread, expected / 5, 0.5);
  return { min: Math.max(0, expected - far), max: expected + far };
}

/** Deviations that are used, mm (the bevel radians). */
type Deviation = Partial<Record<ReadingField, number>>;
interface Deviations {
  readonly rib: RibAtRail;
  readonly by: Deviation;
}

/** Readings of one side, sorted into those that are used and those that cannot be right. `used` counts each once. */
function standing(plan: Plan, record: Readings, side: Side): { kept: Deviations[]; flags: ReadingFlag[]; used: number } {
  const flags: ReadingFlag[] = [];
  const { ribs } = plan.rail;
  let used = 0;
  /** The deviation of a figure that was read, where it can be right. */
  const heard = (name: string, rib: number | undefined, reading: ReadingField, value: number, expected: number): number | undefined => {
    const { min, max } = readingRange(plan, reading, expected);
    if (value >= min && value <= max) return value - expected;
    flags.push({
      field: `${name}, ${reading}`, ...(rib === undefined ? {} : { rib }), reading, value: given(reading, value),
      allowed: reading === 'bevel' ? range(min, max, 'rad', 1) : range(min, max, 'mm', 2),
      message: said('cannot be right beside the drawn {drawn}; it is left out: measure again', { drawn: told(reading, expected) }),
    });
    return undefined;
  };

  const batch: Deviation = {};
  const ofBatch = batchFigures(record, side);
  const sizes = expectedSizes(plan);
  for (const field of BATCH_FIELDS) {
    const value = ofBatch[field];
    const by = value === undefined ? undefined : heard('batch', undefined, field, value, sizes[field]);
    if (by === undefined) continue;
    batch[field] = by;
    used++;
  }
  const drawn = new Map(ribs.map((rib) => [rib.index, expectedReadings(plan, rib)]));
  const tabbed = ribs.filter(({ hasTab }) => hasTab);
  const offFlag = (field: (typeof FRAME_FIELDS)[number], off: number, [down, up]: readonly [number, number], message: ReadingFlag['message']): ReadingFlag =>
    ({ field: `batch, ${field}`, reading: field, value: size(off), allowed: range(down, up, 'mm', 2), message });
  for (const field of FRAME_FIELDS) {
    const by = ofBatch[field];
    const among = [...drawn].filter(([index]) => field !== 'tab' || tabbed.some((rib) => rib.index === index)).map(([, each]) => each[field]);
    if (by === undefined || among.length === 0) continue;
    // All ribs are off alike: either way no farther than the one that may be off least that way.
    const ranges = among.map((expected) => ({ expected, ...readingRange(plan, field, expected) }));
    const down = Math.max(...ranges.map(({ min, expected }) => min - expected));
    const up = Math.min(...ranges.map(({ max, expected }) => max - expected));
    if (by >= down && by <= up) {
      batch[field] = by;
      used++;
    } else {
      flags.push(offFlag(field, by, [down, up], 'cannot be right at every rib; it is left out: measure again'));
    }
  }

  const own = new Map<number, Deviation>();
  for (const reading of record.readings.filter((r) => r.of === 'rib' && r.side === side).toSorted((a, b) => (a.rib ?? 0) - (b.rib ?? 0))) {
    const number = reading.rib ?? 0;
    const index = number - 1;
    const name = `rib ${number}`;
    const rib = ribs.find((r) => r.index === index);
    if (!rib) {
      const { length } = plan.design.frames.ribs;
      flags.push({
        field: name, rib: index < length ? index : undefined, value: number,
        allowed: ribs.length === 0 ? 'none: no rib meets the rail' : ribs.map((r) => r.index + 1).join(', '),
        message: index < length ? 'this rib does not reach the box: nothing to correct here' : 'the board has no such rib',
      });
      continue;
    }
    const expected = drawn.get(index) ?? expectedReadings(plan, rib);
    const by: Deviation = {};
    for (const field of READING_FIELDS) {
      const value = readingOf(reading, field);
      if (value === undefined) continue;
      if (field === 'tab' && !rib.hasTab) {
        flags.push({
          field: `${name}, tab`, rib: index, reading: 'tab', value: size(value), allowed: 'no reading', message: 'this rib carries no tab by the plan; the reading is left out',
        });
        continue;
      }
      const off = heard(name, index, field, value, expected[field]);
      if (off !== undefined) by[field] = off;
    }
    if (by.tab !== undefined) {
      const { tab } = expected;
      const { open, min, max } = tabRange(plan, rib, { ...batch, ...by });
      if (tab + by.tab < min || tab + by.tab > max) {
        flags.push({
          field: `${name}, tab`, rib: index, reading: 'tab', value: size(tab + by.tab), allowed: range(min, max, 'mm', 2),
          message: said('does not add up with the depth and the strips read here, which leave {open}; the tab is left out', { open: mm(open, 2) }),
        });
        delete by.tab;
      }
    }
    used += Object.keys(by).length;
    own.set(index, by);
  }
  // The batch's tab stands wherever none was read: at each of these it must go in between what was read there.
  const off = batch.tab;
  const tight = off === undefined ? undefined : tabbed.filter((rib) => own.get(rib.index)?.tab === undefined).flatMap((rib) => {
    const tab = drawn.get(rib.index)?.tab ?? 0;
    const { open, min, max } = tabRange(plan, rib, { ...batch, ...own.get(rib.index) });
    return tab + off < min || tab + off > max ? [{ rib, open, least: min - tab, most: max - tab }] : [];
  }).at(0);
  if (off !== undefined && tight) {
    const { rib, open, least, most } = tight;
    flags.push(offFlag('tab', off, [least, most], said('does not add up with the depth and the strips at rib {rib}, which leave {open}; it is left out', { rib: rib.index + 1, open: mm(open, 2) })));
    delete batch.tab;
    used--;
  }
  const kept = ribs.map((rib) => ({ rib, by: { ...batch, ...own.get(rib.index) } }));
  return { kept, flags, used: kept.length === 0 ? 0 : used };
}

/** Clear height, upright, that the depth and the strips as read leave at a rib, mm. */
function tabRoom({ section }: RibAtRail, by: Deviations['by']): number {
  return section.capBottom - section.soleTop + (by.depth ?? 0)
    - (by.sole ?? 0) * Math.hypot(1, section.soleSlope) - (by.cap ?? 0) * Math.hypot(1, section.capSlope);
}

/** That height, and between which heights a tab may have been read there, mm. */
function tabRange(plan: Plan, rib: RibAtRail, by: Deviation): { open: number; min: number; max: number } {
  const open = tabRoom(rib, by);
  return { open, ...readingRange(plan, 'tab', open) };
}

/** Straight between places, one at least, held beyond the ends. */
function straight(places: readonly { s: number; v: number }[], s: number): number {
  const after = places.findIndex((p) => p.s >= s);
  if (after === 0) return places[0].v;
  if (after < 0) return places[places.length - 1].v;
  const a = places[after - 1];
  const b = places[after];
  return a.v + ((b.v - a.v) * (s - a.s)) / (b.s - a.s);
}

/** The deviations of the box as made at every rib, from the readings that are used; 0 where nothing was read. */
function madeFrom(plan: Plan, kept: readonly Deviations[]): MadeBox {
  const s = Float64Array.from(kept, (k) => k.rib.s);
  const by: Partial<Record<MadeField, Float64Array>> = {};
  const lay = (field: MadeField, value: (k: Deviations) => number | undefined, ribs = kept) => {
    const read = ribs.map(value);
    if (read.every((v) => v === undefined)) return;
    const places = ribs.map((k, i) => ({ s: k.rib.s, v: read[i] ?? 0 }));
    by[field] = s.map((at) => straight(places, at));
  };
  lay('sole', (k) => k.by.sole);
  lay('cap', (k) => k.by.cap);
  lay('spacerHeight', (k) => k.by.spacer);
  lay('lift', (k) => k.by.depth);
  lay('tilt', ({ rib, by: { depth, bevel } }) => {
    // The bevel is told by the deck's fall over the strip, times the cosine of its slope (rail/section.ts).
    if (bevel !== undefined) return (Math.tan(rib.section.bevel) - Math.tan(rib.section.bevel + bevel)) * Math.hypot(1, rib.section.capSlope);
    return depth === undefined ? undefined : depth / toCentre(plan, rib);
  });
  // The cap's seat is what the tab has over the room that depth and strips leave. A rib without one says nothing of it.
  lay('seat', ({ rib, by: own }) => {
    if (own.tab === undefined) return undefined;
    const { section } = rib;
    return (section.capBottom - section.soleTop + own.tab - tabRoom(rib, own)) / Math.hypot(1, section.capSlope);
  }, kept.filter(({ rib }) => rib.hasTab));
  return { s, by, eased: Object.fromEntries(Object.entries(by).map(([field, line]) => [field, eased(s, line)])) };
}

/**
 * Correct a plan by the readings of one side and of its batch. Takes a plan as drawn; returns the plan as measured, what
 * changed, and the readings that cannot be right (which are left out). Throws a BuildError where the readings
 * leave no room for any box.
 */
export function applyReadings(plan: Plan, record: Readings, side: Side = 'starboard'): AsBuilt {
  const { kept, flags, used } = standing(plan, record, side);
  for (const [field, there] of [['board', plan.design.name], ['revision', plan.design.revision]] as const) {
    const own = record[field];
    if (own !== there) {
      flags.unshift({
        field, value: valueText(own), allowed: valueText(there),
        message: 'the readings were taken on another board or revision: check that they belong here',
      });
    }
  }
  if (used === 0) return { plan, changes: [], flags, used };
  const corrected = planOn(plan.design, plan.hull, { step: plan.rail.samples.step * (1 + 1e-9), made: madeFrom(plan, kept) });
  return { plan: corrected, changes: movesBetween(plan.rail, corrected.rail), flags, used };
}

/** A figure that moved by less needs no line, mm. */
const LEAST_CHANGE = 0.01;

/** What moved between two plans of one rail: stops, rows that came or went, and gap, planing and cover at the ribs; mm. */
export function movesBetween(was: RailPlan, is: RailPlan): Correction[] {
  const out: Correction[] = [];
  const moved = (a: number, b: number) => Math.abs(a - b) >= LEAST_CHANGE;
  const left = [...is.rows];
  const gone = (row: RowStretch, before: boolean): Correction => ({
    what: 'rows', row: row.row, s: row.tail.s, x: row.tail.x, was: before ? row.length : undefined, is: before ? undefined : row.length,
  });
  for (const row of was.rows) {
    const i = left.findIndex((r) => r.row === row.row && r.tail.s < row.nose.s && row.tail.s < r.nose.s);
    if (i < 0) {
      out.push(gone(row, true));
      continue;
    }
    const [now] = left.splice(i, 1);
    for (const end of ['tail', 'nose'] as const) {
      if (moved(row[end].s, now[end].s)) {
        out.push({ what: 'stop', row: row.row, end, s: now[end].s, x: now[end].x, was: row[end].s, is: now[end].s });
      }
    }
  }
  out.push(...left.map((row) => gone(row, false)));
  for (const rib of was.ribs) {
    const now = is.ribs.find((r) => r.index === rib.index);
    if (!now) continue;
    for (const what of ['gap', 'planing', 'cover'] as const) {
      const a = rib.section[what];
      const b = now.section[what];
      if (moved(a, b)) out.push({ what, rib: rib.index, s: rib.s, x: rib.x, was: a, is: b });
    }
  }
  return out;
}
