/**
 * Cubic interpolation through points with end tangents, natural ends and corners:
 * the drafting batten as a B-spline. The Handbook form: Piegl & Tiller, The NURBS Book, 2nd ed. 1997,
 * section 9.2.3 (knots at the data parameters, two end conditions).
 */
import { cubicBasis, type Spline } from './bspline';
import { factorBand, solveBand } from './band';

/** End conditions: a first derivative (dim numbers) or undefined for zero second derivative. */
export interface EndConditions {
  readonly start?: readonly number[];
  readonly end?: readonly number[];
}

/** One smooth piece: control points for the knots [t0 x4, t1 .. , tn x4]. */
function smoothPiece(t: Float64Array, data: Float64Array, dim: number, ends: EndConditions): Spline {
  const n = t.length;
  const count = n + 2;
  const knots = new Float64Array(n + 6);
  knots.fill(t[0], 0, 4);
  for (let i = 1; i < n - 1; i++) knots[i + 3] = t[i];
  knots.fill(t[n - 1], n + 2, n + 6);
  const a = new Float64Array(count * 3);
  const b = new Float64Array(count * dim);
  const basis = new Float64Array(12);
  const put = (row: number, span: number, order: 0 | 1 | 2, u: number) => {
    cubicBasis(knots, span, u, basis);
    for (let j = 0; j < 4; j++) {
      const col = span - 3 + j - row + 1;
      if (col >= 0 && col <= 2) a[row * 3 + col] = basis[order * 4 + j];
    }
  };
  for (let i = 0; i < n; i++) {
    // The first and last point rows sit at the matrix corners; the end conditions lie just inside them.
    const row = i === 0 ? 0 : i === n - 1 ? count - 1 : i + 1;
    put(row, i === n - 1 ? n + 1 : i + 3, 0, t[i]);
    for (let d = 0; d < dim; d++) b[row * dim + d] = data[i * dim + d];
  }
  put(1, 3, ends.start ? 1 : 2, t[0]);
  put(count - 2, n + 1, ends.end ? 1 : 2, t[n - 1]);
  for (let d = 0; d < dim; d++) {
    if (ends.start) b[dim + d] = ends.start[d];
    if (ends.end) b[(count - 2) * dim + d] = ends.end[d];
  }
  solveBand(factorBand(count, 1, a), b, dim);
  return { dim, knots, points: b };
}

/**
 * The cubic spline through data rows (dim numbers each) at strictly increasing parameters.
 * `corners` lists indices of inner points where the tangent may break: the curve is only C0 there and both
 * sides end naturally. Throws a RangeError for fewer than two points or parameters that do not increase.
 */
export function interpolateCubic(
  t: ArrayLike<number>,
  data: ArrayLike<number>,
  dim: number,
  corners: readonly number[] = [],
  ends: EndConditions = {},
): Spline {
  const n = t.length;
  if (n < 2) throw new RangeError('a curve needs at least two points');
  for (let i = 1; i < n; i++) {
    if (!(t[i] > t[i - 1])) throw new RangeError(`curve parameters must increase: ${t[i - 1]} then ${t[i]}`);
  }
  const cuts = [0, ...corners.filter((c) => c > 0 && c < n - 1), n - 1];
  const knots: number[] = [];
  const points: number[] = [];
  for (let k = 0; k + 1 < cuts.length; k++) {
    const i0 = cuts[k];
    const i1 = cuts[k + 1];
    const piece = smoothPiece(
      Float64Array.from({ length: i1 - i0 + 1 }, (_, i) => t[i0 + i]),
      Float64Array.from({ length: (i1 - i0 + 1) * dim }, (_, i) => data[i0 * dim + i]),
      dim,
      { start: k === 0 ? ends.start : undefined, end: k + 2 === cuts.length ? ends.end : undefined },
    );
    // Pieces share the corner's control point, on a knot of multiplicity three.
    if (k === 0) {
      knots.push(...piece.knots.subarray(0, piece.knots.length - 1));
      points.push(...piece.points);
    } else {
      knots.push(...piece.knots.subarray(4, piece.knots.length - 1));
      points.push(...piece.points.subarray(dim));
    }
  }
  knots.push(t[n - 1]);
  return { dim, knots: Float64Array.from(knots), points: Float64Array.from(points) };
}

/** Chord-length parameters of points stored in rows of dim numbers, from 0. Coincident neighbours throw. */
export function chordParameters(data: ArrayLike<number>, dim: number): Float64Array {
  const n = data.length / dim;
  const t = new Float64Array(n);
  for (let i = 1; i < n; i++) {
    let sum = 0;
    for (let d = 0; d < dim; d++) sum += (data[i * dim + d] - data[(i - 1) * dim + d]) ** 2;
    t[i] = t[i - 1] + Math.sqrt(sum);
  }
  return t;
}
