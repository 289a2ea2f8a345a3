/**
 * Lofting: one spline in u through a row of sections, all columns sharing one knot vector and one set of
 * parameters, so that the surface holds every section (Piegl & Tiller, The NURBS Book, 2nd ed. 1997,
 * section 10.3, skinning). verb's own loft gives each column its own parameters and keeps only the last
 * column's knots, so it misses its sections; a test measures by how much.
 */
import { controlCount, cubicBasis, findSpan, greville, type Spline } from '../curves/bspline';
import { factorBand, solveBand } from '../curves/band';

/**
 * Knots for a loft along an outline: the outline's own knots kept (so that its curve is reproduced exactly
 * and its corners stay), a knot of three at every other parameter in `corners` where the sections' rule turns
 * a corner, each span divided until no piece exceeds the step (mm), the end spans graded finer.
 */
export function loftKnots(outlineKnots: Float64Array, corners: readonly number[], step: number, grading = 3): Float64Array {
  const times = new Map<number, number>();
  for (const k of outlineKnots) times.set(k, (times.get(k) ?? 0) + 1);
  for (const c of corners) {
    // A hair's difference is rounding: the same corner.
    const same = [...times.keys()].find((k) => Math.abs(k - c) < 1e-6);
    times.set(same ?? c, Math.max(3, times.get(same ?? c) ?? 0));
  }
  const spans = [...times.keys()].sort((a, b) => a - b);
  const out: number[] = new Array<number>(4).fill(spans[0]);
  for (let i = 0; i + 1 < spans.length; i++) {
    const a = spans[i];
    const b = spans[i + 1];
    const pieces = Math.max(2, Math.ceil((b - a) / step));
    const inner: number[] = [];
    for (let j = 1; j < pieces; j++) inner.push(a + ((b - a) * j) / pieces);
    const h = (b - a) / pieces;
    // Halve toward the ends of the board, where the outline turns fastest.
    if (i === 0) for (let g = 1; g <= grading; g++) inner.unshift(a + h / 2 ** g);
    if (i + 2 === spans.length) for (let g = 1; g <= grading; g++) inner.push(b - h / 2 ** g);
    out.push(...inner, ...new Array<number>(times.get(b) ?? 1).fill(b));
  }
  return Float64Array.from(out);
}

/** The parameters at which a loft on these knots wants its sections. */
export const loftParameters = greville;

/**
 * The spline through section rows (`dim` numbers each) at the loft parameters of `knots`, or at as many others, rising, that
 * lie among its knots as those do.
 * Reproduces any cubic, hence any surface that is cubic along the length, exactly.
 */
export function loft(knots: Float64Array, rows: Float64Array, dim: number, at: ArrayLike<number> = greville(knots)): Spline {
  const n = controlCount(knots);
  if (rows.length !== n * dim) throw new RangeError(`a loft on these knots needs ${n} sections of ${dim} numbers`);
  const half = 3;
  const width = 2 * half + 1;
  const a = new Float64Array(n * width);
  const basis = new Float64Array(12);
  for (let i = 0; i < n; i++) {
    const span = findSpan(knots, at[i]);
    cubicBasis(knots, span, at[i], basis);
    for (let j = 0; j < 4; j++) {
      const col = span - 3 + j - i + half;
      if (col >= 0 && col < width) a[i * width + col] = basis[j];
    }
  }
  const points = Float64Array.from(rows);
  solveBand(factorBand(n, half, a), points, dim);
  return { dim, knots, points };
}
