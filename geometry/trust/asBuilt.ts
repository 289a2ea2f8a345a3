/**
 * As built: the plan corrected by caliper readings. Own choice, stated on screen and paper: between two measured ribs
 * a difference from the drawing changes evenly, beyond the first and last it stays as it is; the stringer holds the
 * middle of the deck, so that a high rib end also tilts it; where a tab was measured it is the tab that sets the gap,
 * and the cap stands proud of the deck by what is over. Stops are roots of the corrected gap. Hull and design are
 * unchanged.
 */
import { valueText } from '../design/fields';
import { planOn } from '../plan';
import { mm, range, said, size, type Said } from '../said';
import type { MadeBox, MadeField, Plan, RailPlan, RibAtRail, RowStretch } from '../types';
import { toCentre } from './spreads';
import { READING_FIELDS, type Reading, type Readings } from './readings';
import type { AsBuilt, Correction, ReadingField, ReadingFlag } from './types';

/** What each caliper reading at a rib should be by the drawing, mm: heights are upright, as a caliper on the rib end reads. */
export function expectedReadings(plan: Plan, rib: RibAtRail): Record<ReadingField, number> {
  const { section } = rib;
  const { soleThickness, capThickness, spacerHeight } = plan.design.rail;
  return {
    depth: section.deckRib - section.bottomRib, sole: soleThickness, cap: capThickness, spacer: spacerHeight,
    tab: Math.max(0, section.capBottom - section.soleTop),
  };
}

/**
 * Farthest a reading may lie from the drawing before it cannot be right, mm: four half-widths of its spread, a
 * fifth of its size, or half a millimetre, whichever is most. The project's own choice.
 */
function readingRange(plan: Plan, field: ReadingField, expected: number): { min: number; max: number } {
  const { strip, kerf, ribHeight } = plan.design.spread;
  const spread = field === 'depth' || field === 'tab' ? ribHeight + kerf : strip;
  const far = Math.max(4 * spread, expected / 5, 0.5);
  return { min: Math.max(0, expected - far), max: expected + far };
}

/** One rib's readings that are used, as deviations, mm. */
interface Deviations {
  readonly rib: RibAtRail;
  readonly by: Partial<Record<ReadingField, number>>;
}

function standing(plan: Plan, readings: readonly Reading[]): { kept: Deviations[]; flags: ReadingFlag[] } {
  const flags: ReadingFlag[] = [];
  const kept: Deviations[] = [];
  for (const reading of readings.toSorted((a, b) => a.rib - b.rib)) {
    const index = reading.rib - 1;
    const name = `rib ${reading.rib}`;
    const rib = plan.rail.ribs.find((r) => r.index === index);
    if (!rib) {
      const { length } = plan.design.frames.ribs;
      flags.push({
        field: name, rib: index < length ? index : undefined, value: reading.rib,
        allowed: plan.rail.ribs.length === 0 ? 'none: no rib meets the rail' : plan.rail.ribs.map((r) => r.index + 1).join(', '),
        message: index < length ? 'this rib does not reach the box: nothing to correct here' : 'the board has no such rib',
      });
      continue;
    }
    const expected = expectedReadings(plan, rib);
    const by: Partial<Record<ReadingField, number>> = {};
    for (const field of READING_FIELDS) {
      const value = reading[field];
      if (value === undefined) continue;
      const { min, max } = readingRange(plan, field, expected[field]);
      const flag = (allowed: Said, message: Said) =>
        void flags.push({ field: `${name}, ${field}`, rib: index, reading: field, value: size(value), allowed, message });
      if (field === 'tab' && !rib.hasTab) flag('no reading', 'this rib carries no tab by the plan; the reading is left out');
      else if (value < min || value > max) flag(range(min, max, 'mm', 2), said('cannot be right beside the drawn {drawn}; it is left out: measure again', { drawn: mm(expected[field], 2) }));
      else by[field] = value - expected[field];
    }
    if (by.tab !== undefined) {
      const open = tabRoom(rib, by);
      const { min, max } = readingRange(plan, 'tab', open);
      const tab = expected.tab + by.tab;
      if (tab < min || tab > max) {
        flags.push({
          field: `${name}, tab`, rib: index, reading: 'tab', value: size(tab), allowed: range(min, max, 'mm', 2),
          message: said('does not add up with the depth and the strips read here, which leave {open}; the tab is left out', { open: mm(open, 2) }),
        });
        delete by.tab;
      }
    }
    if (Object.keys(by).length > 0) kept.push({ rib, by });
  }
  return { kept, flags };
}

/** Clear height, upright, that the depth and the strips as read leave at a rib, mm. */
function tabRoom({ section }: RibAtRail, by: Deviations['by']): number {
  return section.capBottom - section.soleTop + (by.depth ?? 0)
    - (by.sole ?? 0) * Math.hypot(1, section.soleSlope) - (by.cap ?? 0) * Math.hypot(1, section.capSlope);
}

/** Straight between places, held beyond the ends. */
function straight(places: readonly { s: number; v: number }[], s: number): number {
  const after = places.findIndex((p) => p.s >= s);
  if (after === 0) return places[0].v;
  if (after < 0) return places[places.length - 1].v;
  const a = places[after - 1];
  const b = places[after];
  return a.v + ((b.v - a.v) * (s - a.s)) / (b.s - a.s);
}

/** The deviations of the box as made, from the readings that are used. */
function madeFrom(plan: Plan, kept: readonly Deviations[]): MadeBox {
  const s = Float64Array.from(kept, (k) => k.rib.s);
  const by: Partial<Record<MadeField, Float64Array>> = {};
  const lay = (field: MadeField, value: (k: Deviations) => number | undefined) => {
    const places = kept.flatMap((k) => {
      const v = value(k);
      return v === undefined ? [] : [{ s: k.rib.s, v }];
    });
    if (places.length > 0) by[field] = s.map((at) => straight(places, at));
  };
  lay('sole', (k) => k.by.sole);
  lay('cap', (k) => k.by.cap);
  lay('spacerHeight', (k) => k.by.spacer);
  lay('lift', (k) => k.by.depth);
  lay('tilt', (k) => (k.by.depth === undefined ? undefined : k.by.depth / toCentre(plan, k.rib)));
  // The cap's seat is what the tab has over the room that depth and strips leave, theirs being laid already.
  const at = (field: MadeField, i: number) => by[field]?.[i] ?? 0;
  lay('seat', (k) => {
    if (k.by.tab === undefined) return undefined;
    const i = kept.indexOf(k);
    const { section } = k.rib;
    const room = tabRoom(k.rib, { depth: at('lift', i), sole: at('sole', i), cap: at('cap', i) });
    return (section.capBottom - section.soleTop + k.by.tab - room) / Math.hypot(1, section.capSlope);
  });
  return { s, by };
}

/**
 * Correct a plan by the readings of one side. Takes a plan as drawn; returns the plan as measured, what
 * changed, and the readings that cannot be right (which are left out). Throws a BuildError where the readings
 * leave no room for any box.
 */
export function applyReadings(plan: Plan, record: Readings, side: Reading['side'] = 'starboard'): AsBuilt {
  const { kept, flags } = standing(plan, record.readings.filter((r) => r.side === side));
  for (const [field, there] of [['board', plan.design.name], ['revision', plan.design.revision]] as const) {
    const own = record[field];
    if (own !== there) {
      flags.unshift({
        field, value: valueText(own), allowed: valueText(there),
        message: 'the readings were taken on another board or revision: check that they belong here',
      });
    }
  }
  const used = kept.reduce((sum, k) => sum + Object.keys(k.by).length, 0);
  if (used === 0) return { plan, changes: [], flags, used };
  const corrected = planOn(plan.design, plan.hull, { step: plan.rail.samples.step * (1 + 1e-9), made: madeFrom(plan, kept) });
  return { plan: corrected, changes: changesOf(plan.rail, corrected.rail), flags, used };
}

/** A figure that moved by less needs no line, mm. */
const LEAST_CHANGE = 0.01;

function changesOf(was: RailPlan, is: RailPlan): Correction[] {
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
