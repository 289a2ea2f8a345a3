/** B-spline surfaces through sections: as many spans along as the sections want, to a tolerance. */
import { controlCount, evalSpline, greville, type Spline } from '../../curves/bspline';
import { loft } from '../../hull/loft';
import type { SurfaceData } from './shell';

/** Rows of (x, y, z) at a parameter, a new array each time. */
export type RowsAt = (t: number) => ArrayLike<number>;

export interface FitOptions {
  /** First spans are no longer than this, and none is halved to less, in the parameter's unit. */
  readonly step: number;
  readonly least: number;
  /** How far, mm, the spline may lie off the sections, as looked at in three places of every span. */
  readonly tolerance: number;
}

const clamped = (breaks: readonly number[]): Float64Array =>
  Float64Array.from([breaks[0], breaks[0], breaks[0], ...breaks, breaks[breaks.length - 1], breaks[breaks.length - 1], breaks[breaks.length - 1]]);

/** The cubic spline through the rows on [t0, t1], which lies on them at its ends. */
export function fitRows(at: RowsAt, t0: number, t1: number, { step, least, tolerance }: FitOptions): Spline {
  const n = Math.max(1, Math.ceil((t1 - t0) / step));
  let breaks = Array.from({ length: n + 1 }, (_, i) => (i === n ? t1 : t0 + ((t1 - t0) * i) / n));
  const ends = [t0, t1].map((t) => Float64Array.from(at(t)));
  const dim = ends[0].length;
  const basis = new Float64Array(12);
  // Where nothing was halved the same places are asked for again.
  const known = new Map<number, ArrayLike<number>>();
  const rowAt = (t: number): ArrayLike<number> => {
    const kept = known.get(t) ?? at(t);
    known.set(t, kept);
    return kept;
  };
  for (;;) {
    const knots = clamped(breaks);
    const rows = new Float64Array(controlCount(knots) * dim);
    greville(knots).forEach((t, i) => rows.set(rowAt(t), i * dim));
    rows.set(ends[0], 0);
    rows.set(ends[1], rows.length - dim);
    const { points } = loft(knots, rows, dim);
    points.set(ends[0], 0);
    points.set(ends[1], points.length - dim);
    const spline = { dim, knots, points };
    const value = new Float64Array(3 * dim);
    const finer: number[] = [breaks[0]];
    for (let k = 0; k + 1 < breaks.length; k++) {
      const [a, b] = [breaks[k], breaks[k + 1]];
      const off = Math.max(...[0.25, 0.5, 0.75].map((share) => {
        const t = a + share * (b - a);
        evalSpline(spline, t, value, basis);
        return far(rowAt(t), value, dim);
      }));
      if (off > tolerance && b - a >= 2 * least) finer.push((a + b) / 2);
      finer.push(b);
    }
    if (finer.length === breaks.length) return spline;
    breaks = finer;
  }
}

/** Greatest distance of two rows' points. */
function far(a: ArrayLike<number>, b: ArrayLike<number>, dim: number): number {
  let most = 0;
  for (let i = 0; i < dim; i += 3) most = Math.max(most, Math.hypot(a[i] - b[i], a[i + 1] - b[i + 1], a[i + 2] - b[i + 2]));
  return most;
}

/** Columns `from` to `from + count - 1` of a spline's rows as a surface: straight across between two, else the cubic through them on even steps of v. */
export function surfaceOf({ dim, knots, points }: Spline, from: number, count: number): SurfaceData {
  const rows = controlCount(knots);
  const even = Array.from({ length: count }, (_, j) => j / (count - 1));
  // Not-a-knot: the second and the last but one hold no knot.
  const knotsV = count === 2 ? Float64Array.of(0, 0, 1, 1) : clamped([0, ...even.slice(2, -2), 1]);
  const own = new Float64Array(3 * count * rows);
  for (let i = 0; i < rows; i++) {
    const row = points.subarray(i * dim + 3 * from, i * dim + 3 * (from + count));
    own.set(count === 2 ? row : loft(knotsV, Float64Array.from(row), 3, even).points, 3 * count * i);
  }
  return { degreeU: 3, degreeV: count === 2 ? 1 : 3, knotsU: knots, knotsV, points: own };
}
