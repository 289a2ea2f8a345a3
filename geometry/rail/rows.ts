/** Spacer rows: where each fits, where it stops and why, and what is too short to bother with. */
import type { DroppedStretch, RailPlan, RailSamples, RowStretch, Stop, StopCause } from '../types';
import { creasedOf } from './kinks';
import { isFixed } from './laid';
import { sizesOnRun, stripsOnRun, whereHolds, xOnRun, type Interval, type Run } from './run';
import { gapFor } from './sizes';
import { fillRates, rowLie, sampledRates, StripWalk, type Lie, type SampledRates } from './strain';
import { roomOf, type EndRules } from '../wood/ladder';

/** What the rows are laid against. `tabs` are runs of ribs whose tab can hold a row. */
export interface RowLimits {
  /** How spacers may be bent, in either half of the rail. */
  readonly bend: EndRules;
  readonly leastRow: number;
  /** Where sole and cap end before the board does: rows end at the tongues there. */
  readonly ends: RailPlan['ends'];
  readonly tabs: readonly { readonly index: number; readonly s: number }[];
}

/** How far from a corner of the box face its two sides are looked at, mm: the gap jumps there. */
const HAIR = 4e-7;

/** The smooth stretches of [from, to] between corners of the box face: no strip turns a corner. */
function smoothStretches(from: number, to: number, { face }: Run): Interval[] {
  const corners = face.corners.map((c) => c.s).filter((c) => c > from + HAIR && c < to - HAIR);
  return [from, ...corners].map((c, i) => ({
    s0: i === 0 ? c : c + HAIR,
    s1: i === corners.length ? to : corners[i] - HAIR,
  }));
}

/** Room a stack of k rows has at a run, mm: the gap less what it needs. */
export function gapRoom(run: Run, k: number, s: number): { room: number; gap: number; need: number; soleSlope: number } {
  const { gap, soleSlope } = stripsOnRun(run, s);
  const need = gapFor(sizesOnRun(run, s), k);
  return { room: gap - need, gap, need, soleSlope };
}

/**
 * Strain row k still has free at a run, by a thousand: as millimetres of gap, so that the lesser of this and of the gap's
 * room is continuous. The strain is the one that the bending table tells (rail/strain.ts).
 */
export function bendRoom(run: Run, walk: StripWalk, bend: EndRules, s: number): number {
  const { spacerWidth, spacerHeight } = sizesOnRun(run, s);
  const { edge, flat } = walk.rates(s);
  return roomFor(run, bend, edge, flat, spacerWidth, spacerHeight, s);
}

const roomFor = (run: Run, bend: EndRules, edge: number, flat: number, width: number, thickness: number, s: number): number =>
  roomOf(bend[s < run.total / 2 ? 'tail' : 'nose'], (Math.abs(edge) * width) / 2, (Math.abs(flat) * thickness) / 2) * 1000;

/** How row k lies on this run. */
const lieOf = (run: Run, k: number): Lie => rowLie(k, run.sizes, creasedOf(run).smooth.sole);

/** The walk along row k, with derivatives over `step` mm. */
export const rowWalk = (run: Run, k: number, step: number): StripWalk => new StripWalk(run, lieOf(run, k), step);

/**
 * Fill `bend` with `bendRoom` of row k at the samples where the stack's gap has room (`room`), and at their neighbours.
 * Elsewhere the row does not fit anyway: infinite.
 */
function sampledBends(
  run: Run, k: number, lie: Lie, walk: StripWalk, samples: RailSamples, rules: EndRules, room: Float64Array, { heights, rates }: RowScratch, bend: Float64Array,
): void {
  const { n, s, soleTop, soleSlope } = samples;
  const half = (k - 0.5) * run.sizes.spacerHeight;
  for (let i = 0; i < n; i++) heights[i] = soleTop[i] + half * Math.sqrt(1 + soleSlope[i] * soleSlope[i]);
  const wanted = (i: number) => room[i] >= 0 || (i > 0 && room[i - 1] >= 0) || (i + 1 < n && room[i + 1] >= 0);
  fillRates(lie, walk, samples, heights, wanted, rates);
  bend.fill(Infinity);
  for (let i = 0; i < n; i++) {
    if (!wanted(i)) continue;
    const { spacerWidth, spacerHeight } = sizesOnRun(run, s[i]);
    bend[i] = roomFor(run, rules, rates.edge[i], rates.flat[i], spacerWidth, spacerHeight, s[i]);
  }
}

/** A row's middle line and its rates of turn at the samples, filled again for each row. */
interface RowScratch {
  readonly heights: Float64Array;
  readonly rates: SampledRates;
}

/** How far past its end a row is asked what stops it, mm: past the refinement of the root. */
const BEYOND = 1e-4;

/** A bend that has this much more room than the gap at the samples to either side is not asked for between them, mm. */
const CLEAR = 1;

/**
 * Lay every row. Row k fits where gap >= k * height + clearance and the spacer can follow the curve; each
 * end is a root of the governing condition refined to 1e-5 mm of run. Stretches under the least length, or
 * that reach no tab, are dropped and listed.
 */
export function layRows(run: Run, samples: RailSamples, limits: RowLimits): { rows: RowStretch[]; dropped: DroppedStretch[] } {
  const { sizes } = run;
  const rows: RowStretch[] = [];
  const dropped: DroppedStretch[] = [];
  const { tail, nose } = limits.ends;
  const [from, to] = [tail?.rowsTo ?? run.boxFrom, nose?.rowsTo ?? run.boxTo];
  const smooth = smoothStretches(from, to, run);
  let under = smooth;
  // Why a stretch ends there: a row that reaches as far as the one below ends for the same reason.
  const causes = new Map<number, StopCause>(smooth.flatMap(({ s0, s1 }) => [
    [s0, tail && s0 === from ? 'block' : 'end'], [s1, nose && s1 === to ? 'block' : 'end'],
  ]));
  const [values, bend] = [new Float64Array(samples.n), new Float64Array(samples.n)];
  const scratch: RowScratch = { heights: new Float64Array(samples.n), rates: sampledRates(samples.n) };
  for (let k = 1; k <= sizes.rows; k++) {
    const lie = lieOf(run, k);
    const walk = new StripWalk(run, lie, samples.step, samples);
    for (let i = 0; i < values.length; i++) values[i] = samples.gap[i] - gapFor(sizesOnRun(run, samples.s[i]), k);
    sampledBends(run, k, lie, walk, samples, limits.bend, values, scratch, bend);
    for (let i = 0; i < values.length; i++) values[i] = Math.min(values[i], bend[i]);
    /** The lesser room at a run, and which it is. */
    const margin = (s: number) => {
      const own = gapRoom(run, k, s);
      const i = Math.min(samples.n - 2, Math.max(0, Math.floor(s / samples.step)));
      if (own.room + CLEAR < Math.min(bend[i], bend[i + 1])) return { ...own, cause: 'gap' as const };
      const left = bendRoom(run, walk, limits.bend, s);
      return own.room <= left ? { ...own, cause: 'gap' as const } : { ...own, room: left, cause: 'bend' as const };
    };
    // A row lies on the one below, which may bend a hair more.
    under = under.flatMap((part) => whereHolds((s) => margin(s).room, samples.s, values, part.s0, part.s1));
    const stop = (s: number, end: 'tail' | 'nose'): Stop => {
      const { gap, need, soleSlope } = margin(s);
      // What fails just beyond: at the middle of the board another method begins, and the room for a bend jumps there.
      const cause = causes.get(s) ?? margin(Math.min(run.total, Math.max(0, end === 'tail' ? s - BEYOND : s + BEYOND))).cause;
      causes.set(s, cause);
      const own = { s, x: xOnRun(run, s) };
      // The lower edge of a square cut lies toward the nose from the upper one by this; at the box's end, and at a tongue, neither passes it.
      const off = (sizesOnRun(run, s).spacerHeight * soleSlope) / Math.hypot(1, soleSlope);
      const back = isFixed({ cause }) && (end === 'nose' ? off > 0 : off < 0);
      const far = s + (back ? -off : off);
      const other = { s: far, x: xOnRun(run, far) };
      const [upper, lower] = back ? [other, own] : [own, other];
      return { row: k, end, ...own, upper, lower, cause, gap, need };
    };
    for (const { s0, s1 } of under) {
      const tabs = limits.tabs.filter((t) => t.s > s0 && t.s < s1).map((t) => t.index);
      if (s1 - s0 < limits.leastRow) dropped.push({ row: k, s0, s1, why: 'short' });
      else if (tabs.length === 0) dropped.push({ row: k, s0, s1, why: 'no tab' });
      else rows.push({ row: k, tail: stop(s0, 'tail'), nose: stop(s1, 'nose'), length: s1 - s0, tabs });
    }
  }
  return { rows, dropped };
}
