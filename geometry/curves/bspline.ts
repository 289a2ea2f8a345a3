/**
 * Non-rational B-splines on flat typed arrays: the evaluator of the hot path.
 * Basis functions and derivatives follow Piegl & Tiller, The NURBS Book, 2nd ed. 1997, algorithms A2.1 to
 * A2.3, unrolled for the cubic. verb's evaluator allocates arrays per call; `npm run bench` shows the cost.
 */

/** A cubic B-spline curve of any dimension. `points` holds n rows of `dim` numbers. */
export interface Spline {
  readonly dim: number;
  /** Clamped knots, length n + 4, non-decreasing. */
  readonly knots: Float64Array;
  readonly points: Float64Array;
}

/** Number of control points of a cubic on these knots. */
export const controlCount = (knots: Float64Array): number => knots.length - 4;

/**
 * The knot span holding u: the largest i with knots[i] <= u < knots[i+1]; the last non-empty span at the end.
 * Outside the knot range the nearest end span is returned, so that the end polynomial extends.
 */
export function findSpan(knots: Float64Array, u: number, hint = -1): number {
  const n = knots.length - 5;
  if (hint >= 3 && hint < n && u >= knots[hint]) {
    if (u < knots[hint + 1]) return hint;
    if (u < knots[hint + 2]) return hint + 1;
  }
  if (u >= knots[n + 1]) {
    let i = n;
    while (i > 3 && knots[i] === knots[i + 1]) i--;
    return i;
  }
  let low = 3;
  let high = n + 1;
  while (high - low > 1) {
    const mid = (low + high) >> 1;
    if (u < knots[mid]) high = mid;
    else low = mid;
  }
  while (low < n && knots[low] === knots[low + 1]) low++;
  return low;
}

/**
 * The four cubic basis functions that live on a span, with first and second derivatives.
 * Writes N0..N3, N0'..N3', N0''..N3'' into `out` (12 numbers).
 */
export function cubicBasis(knots: Float64Array, span: number, u: number, out: Float64Array): void {
  const k0 = knots[span];
  const k1 = knots[span + 1];
  const km1 = knots[span - 1];
  const km2 = knots[span - 2];
  const k2 = knots[span + 2];
  const k3 = knots[span + 3];
  // Degree 1 values on [k0, k1].
  const h = 1 / (k1 - k0);
  const a0 = (k1 - u) * h;
  const a1 = (u - k0) * h;
  // Degree 2.
  const d0 = 1 / (k1 - km1);
  const d1 = 1 / (k2 - k0);
  const l0 = (k1 - u) * d0;
  const l1 = (u - k0) * d1;
  const b0 = l0 * a0;
  const b1 = (1 - l0) * a0 + (1 - l1) * a1;
  const b2 = l1 * a1;
  // Degree 3.
  const e0 = 1 / (k1 - km2);
  const e1 = 1 / (k2 - km1);
  const e2 = 1 / (k3 - k0);
  const m0 = (k1 - u) * e0;
  const m1 = (k2 - u) * e1;
  const m2 = (u - k0) * e2;
  out[0] = m0 * b0;
  out[1] = (1 - m0) * b0 + m1 * b1;
  out[2] = (1 - m1) * b1 + (1 - m2) * b2;
  out[3] = m2 * b2;
  // First derivatives: 3 * differences of the degree 2 values over their supports.
  const f0 = 3 * b0 * e0;
  const f1 = 3 * b1 * e1;
  const f2 = 3 * b2 * e2;
  out[4] = -f0;
  out[5] = f0 - f1;
  out[6] = f1 - f2;
  out[7] = f2;
  // Second derivatives from the degree 1 values.
  const g0 = 2 * a0 * d0;
  const g1 = 2 * a1 * d1;
  const q0 = -3 * e0 * -g0;
  const q1 = 3 * e1 * (g0 - g1);
  const q2 = 3 * e2 * g1;
  // b0' = -g0, b1' = g0 - g1, b2' = g1.
  out[8] = q0;
  out[9] = -q0 - q1;
  out[10] = q1 - q2;
  out[11] = q2;
}

/**
 * Point, first and second derivative of a spline at u.
 * Writes dim values, dim first and dim second derivatives into `out` (3 * dim numbers). Returns the span.
 */
export function evalSpline(spline: Spline, u: number, out: Float64Array, basis: Float64Array, hint = -1): number {
  const span = findSpan(spline.knots, u, hint);
  evalOnSpan(spline, span, u, out, basis);
  return span;
}

/** The same by the polynomial of a given span, wherever u lies. */
export function evalOnSpan({ dim, knots, points }: Spline, span: number, u: number, out: Float64Array, basis: Float64Array): void {
  cubicBasis(knots, span, u, basis);
  const at = (span - 3) * dim;
  for (let d = 0; d < dim; d++) {
    const p0 = points[at + d];
    const p1 = points[at + dim + d];
    const p2 = points[at + 2 * dim + d];
    const p3 = points[at + 3 * dim + d];
    out[d] = basis[0] * p0 + basis[1] * p1 + basis[2] * p2 + basis[3] * p3;
    out[dim + d] = basis[4] * p0 + basis[5] * p1 + basis[6] * p2 + basis[7] * p3;
    out[2 * dim + d] = basis[8] * p0 + basis[9] * p1 + basis[10] * p2 + basis[11] * p3;
  }
}

/** Point and first derivative alone, dim numbers each, by the same formulas: what a hot path asks for where columns are many. Returns the span. */
export function evalFirst({ dim, knots, points }: Spline, u: number, out: Float64Array, basis: Float64Array, hint = -1): number {
  const span = findSpan(knots, u, hint);
  cubicBasis(knots, span, u, basis);
  const b0 = basis[0], b1 = basis[1], b2 = basis[2], b3 = basis[3], d0 = basis[4], d1 = basis[5], d2 = basis[6], d3 = basis[7];
  const at = (span - 3) * dim;
  for (let d = 0; d < dim; d++) {
    const p0 = points[at + d], p1 = points[at + dim + d], p2 = points[at + 2 * dim + d], p3 = points[at + 3 * dim + d];
    out[d] = b0 * p0 + b1 * p1 + b2 * p2 + b3 * p3;
    out[dim + d] = d0 * p0 + d1 * p1 + d2 * p2 + d3 * p3;
  }
  return span;
}

/** Greville abscissae of a cubic knot vector: the parameter each control point stands for. */
export function greville(knots: Float64Array): Float64Array {
  const n = controlCount(knots);
  const out = new Float64Array(n);
  for (let i = 0; i < n; i++) out[i] = (knots[i + 1] + knots[i + 2] + knots[i + 3]) / 3;
  out[0] = knots[0];
  out[n - 1] = knots[knots.length - 1];
  return out;
}

/** The distinct knots of a knot vector, ends included. */
export function breaks(knots: Float64Array): number[] {
  const out: number[] = [];
  for (const k of knots) if (out.length === 0 || k > out[out.length - 1]) out.push(k);
  return out;
}
