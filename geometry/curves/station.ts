/** Where a curve along the board crosses a station. */
import { findSpan, type Spline } from './bspline';

/** Outline parameter u where X(u) = x on a spline whose first column is X and rises. `guess` may be NaN. */
export function parameterAtX(spline: Spline, x: number, guess = Number.NaN): number {
  const { knots, points, dim } = spline;
  const n = knots.length - 4;
  const first = knots[3];
  const last = knots[n];
  if (x <= points[0]) return first;
  if (x >= points[(n - 1) * dim]) return last;
  let low = first;
  let high = last;
  let u = guess > first && guess < last ? guess : first + ((last - first) * (x - points[0])) / (points[(n - 1) * dim] - points[0]);
  let span = -1;
  for (let i = 0; i < 60; i++) {
    span = columnAt(spline, u, span);
    const f = column.value - x;
    if (Math.abs(f) < 1e-10) return u;
    if (f > 0) high = u;
    else low = u;
    const next = u - f / column.slope;
    u = next > low && next < high ? next : (low + high) / 2;
    if (high - low < 1e-13 * last) return u;
  }
  return u;
}

const column = { value: 0, slope: 0 };

/** Value and slope of the first column only: the root in u needs no more. */
function columnAt(spline: Spline, u: number, hint: number): number {
  const { knots, points, dim } = spline;
  const span = findSpan(knots, u, hint);
  const k0 = knots[span];
  const k1 = knots[span + 1];
  const km1 = knots[span - 1];
  const km2 = knots[span - 2];
  const k2 = knots[span + 2];
  const k3 = knots[span + 3];
  const at = (span - 3) * dim;
  const p0 = points[at];
  const p1 = points[at + dim];
  const p2 = points[at + 2 * dim];
  const p3 = points[at + 3 * dim];
  const e0 = 1 / (k1 - km2);
  const e1 = 1 / (k2 - km1);
  const e2 = 1 / (k3 - k0);
  // de Boor by hand: the last two levels give value and slope.
  const a0 = (u - km2) * e0;
  const a1 = (u - km1) * e1;
  const a2 = (u - k0) * e2;
  const q0 = p0 + a0 * (p1 - p0);
  const q1 = p1 + a1 * (p2 - p1);
  const q2 = p2 + a2 * (p3 - p2);
  const b0 = (u - km1) / (k1 - km1);
  const b1 = (u - k0) / (k2 - k0);
  const r0 = q0 + b0 * (q1 - q0);
  const r1 = q1 + b1 * (q2 - q1);
  const h = 1 / (k1 - k0);
  column.value = r0 + (u - k0) * h * (r1 - r0);
  column.slope = 3 * h * (r1 - r0);
  return span;
}
