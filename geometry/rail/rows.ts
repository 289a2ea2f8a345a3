/** Spacer rows: where each fits, where it stops and why, and what is too short to bother with. */
import type { DroppedStretch, RowStretch, Stop } from '../types';
import { gapAt } from './section';
import { gapFor, type BoxSizes } from './sizes';
import { sizesOnRun, whereHolds, type Interval, type Run } from './run';

/** What the rows are laid against. `tabs` are runs of ribs whose tab can hold a row. */
export interface RowLimits {
  /** Greatest edgewise fibre strain the spacer takes with steam; kappa * width / 2 (Euler-Bernoulli). */
  readonly steamLimit: number;
  readonly leastRow: number;
  readonly tabs: readonly { readonly index: number; readonly s: number }[];
}

/** Samples the search starts from: run, gap and plan curvature. */
export interface GapSamples {
  readonly s: Float64Array;
  readonly gap: Float64Array;
  readonly kappa: Float64Array;
}

/** How far from a corner of the box face its two sides are looked at, mm: the gap jumps there. */
const HAIR = 4e-7;

/** The smooth stretches of the box between corners of its face: no strip turns a corner. */
function smoothStretches({ boxFrom, boxTo, face }: Run): Interval[] {
  const corners = face.corners.map((c) => c.s).filter((c) => c > boxFrom + HAIR && c < boxTo - HAIR);
  return [boxFrom, ...corners].map((c, i) => ({
    s0: i === 0 ? c : c + HAIR,
    s1: i === corners.length ? boxTo : corners[i] - HAIR,
  }));
}

/**
 * Room of row k at a run, mm: the lesser of the gap over what the stack needs and of the strain still free,
 * scaled by 1000 to millimetres of gap so that their lesser is continuous. The row fits where it is >= 0.
 */
export function rowMargin(run: Run, k: number, steamLimit: number, s: number): { margin: number; gap: number; need: number; cause: 'gap' | 'bend'; soleSlope: number } {
  const { gap, soleSlope } = gapAt(run.ev, run.map.parameterAt(s), s);
  const sizes = sizesOnRun(run, s);
  const need = gapFor(sizes, k);
  const bend = bendMargin(sizes, steamLimit, run.ev.frame.kappa);
  const cause = gap - need <= bend ? 'gap' : 'bend';
  return { margin: cause === 'gap' ? gap - need : bend, gap, need, cause, soleSlope };
}

/** Edgewise fibre strain free at a plan curvature of the box face, by a thousand. */
function bendMargin(sizes: BoxSizes, steamLimit: number, kappa: number): number {
  const bent = Math.abs(kappa) * (sizes.spacerWidth / 2);
  return (steamLimit - bent / (1 - bent)) * 1000;
}

/**
 * Lay every row. Row k fits where gap >= k * height + clearance and the spacer can follow the curve; each
 * end is a root of the governing condition refined to 1e-5 mm of run. Stretches under the least length, or
 * that reach no tab, are dropped and listed.
 */
export function layRows(run: Run, samples: GapSamples, limits: RowLimits): { rows: RowStretch[]; dropped: DroppedStretch[] } {
  const { sizes } = run;
  const rows: RowStretch[] = [];
  const dropped: DroppedStretch[] = [];
  const smooth = smoothStretches(run);
  const values = new Float64Array(samples.s.length);
  for (let k = 1; k <= sizes.rows; k++) {
    for (let i = 0; i < values.length; i++) {
      const at = sizesOnRun(run, samples.s[i]);
      values[i] = Math.min(samples.gap[i] - gapFor(at, k), bendMargin(at, limits.steamLimit, samples.kappa[i]));
    }
    const margin = (s: number) => rowMargin(run, k, limits.steamLimit, s).margin;
    const fits = smooth.flatMap((part) => whereHolds(margin, samples.s, values, part.s0, part.s1));
    const stop = (s: number, end: 'tail' | 'nose'): Stop => {
      const { gap, need, cause, soleSlope } = rowMargin(run, k, limits.steamLimit, s);
      const own = { s, x: run.ev.frame.x };
      const atEnd = smooth.some((part) => s === part.s0 || s === part.s1);
      // The lower edge of a square cut lies toward the nose from the upper one by this; at the box's end neither passes it.
      const off = (sizesOnRun(run, s).spacerHeight * soleSlope) / Math.hypot(1, soleSlope);
      const back = atEnd && (end === 'nose' ? off > 0 : off < 0);
      const far = s + (back ? -off : off);
      gapAt(run.ev, run.map.parameterAt(far), far);
      const other = { s: far, x: run.ev.frame.x };
      const [upper, lower] = back ? [other, own] : [own, other];
      return { row: k, end, ...own, upper, lower, cause: atEnd ? 'end' : cause, gap, need };
    };
    for (const { s0, s1 } of fits) {
      const tabs = limits.tabs.filter((t) => t.s > s0 && t.s < s1).map((t) => t.index);
      if (s1 - s0 < limits.leastRow) dropped.push({ row: k, s0, s1, why: 'short' });
      else if (tabs.length === 0) dropped.push({ row: k, s0, s1, why: 'no tab' });
      else rows.push({ row: k, tail: stop(s0, 'tail'), nose: stop(s1, 'nose'), length: s1 - s0, tabs });
    }
  }
  return { rows, dropped };
}

/** Every stop of the rows, row by row from the sole up, each stretch's tail end first. */
export const stopsOf = ({ rows }: { readonly rows: readonly RowStretch[] }): Stop[] => rows.flatMap(({ tail, nose }) => [tail, nose]);

/** Rows standing at a run: rows nest, so their number is the highest that covers it. */
export function rowsAt(rows: readonly RowStretch[], s: number): number {
  let n = 0;
  for (const r of rows) if (s >= r.tail.s && s <= r.nose.s && r.row > n) n = r.row;
  return n;
}
