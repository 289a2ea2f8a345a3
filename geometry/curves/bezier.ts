/** Cubic Bezier curves: one's values, and a spline's spans as such, the form in which drawings are written. */
import { breaks, evalSpline, type Spline } from './bspline';

/** Value and first two derivatives of a cubic Bezier curve's coordinate. */
export function cubicAt(a: number, b: number, c: number, d: number, t: number): readonly [number, number, number] {
  const s = 1 - t;
  return [
    s * s * s * a + 3 * s * s * t * b + 3 * s * t * t * c + t * t * t * d,
    3 * (s * s * (b - a) + 2 * s * t * (c - b) + t * t * (d - c)),
    6 * (s * (c - 2 * b + a) + t * (d - 2 * c + b)),
  ];
}

/**
 * The spans of a cubic spline as cubic Bezier control points, exact: four rows of dim numbers a span. Each span
 * is the cubic through its own points at 0, 1/3, 2/3 and 1 (inside the span, so a corner's two sides stay apart),
 * and a cubic is one: the inverse of the Bernstein basis there (Piegl & Tiller, The NURBS Book, 2nd ed. 1997,
 * eq. 1.8).
 */
export function bezierSpans(spline: Spline): Float64Array {
  const { dim } = spline;
  const spans = breaks(spline.knots);
  const out = new Float64Array((spans.length - 1) * 4 * dim);
  const basis = new Float64Array(12);
  const rows = [0, 1, 2, 3].map(() => new Float64Array(3 * dim));
  for (let k = 0; k + 1 < spans.length; k++) {
    const [a, b] = [spans[k], spans[k + 1]];
    rows.forEach((row, i) => evalSpline(spline, i === 3 ? b : a + ((b - a) * i) / 3, row, basis));
    for (let d = 0; d < dim; d++) {
      const [p0, p1, p2, p3] = rows.map((row) => row[d]);
      const at = k * 4 * dim + d;
      out[at] = p0;
      out[at + dim] = (-5 * p0 + 18 * p1 - 9 * p2 + 2 * p3) / 6;
      out[at + 2 * dim] = (2 * p0 - 9 * p1 + 18 * p2 - 5 * p3) / 6;
      out[at + 3 * dim] = p3;
    }
  }
  return out;
}
