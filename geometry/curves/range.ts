/** Where a length curve is least and greatest. */
import { breaks, evalSpline, type Spline } from './bspline';

/** Extremes of a one-dimensional spline and where they are. */
export interface GraphRange {
  readonly min: number;
  readonly xMin: number;
  readonly max: number;
  readonly xMax: number;
}

/**
 * Least and greatest value of a one-dimensional cubic spline over its knots, exact: on each span the
 * derivative is a quadratic, so its zeros are solved, not searched.
 */
export function graphRange(graph: Spline): GraphRange {
  const basis = new Float64Array(12);
  const out = new Float64Array(3);
  let min = Infinity;
  let max = -Infinity;
  let xMin = 0;
  let xMax = 0;
  const consider = (x: number) => {
    evalSpline(graph, x, out, basis);
    if (out[0] < min) {
      min = out[0];
      xMin = x;
    }
    if (out[0] > max) {
      max = out[0];
      xMax = x;
    }
  };
  const slope = (x: number) => {
    evalSpline(graph, x, out, basis);
    return out[1];
  };
  const spans = breaks(graph.knots);
  for (let k = 0; k + 1 < spans.length; k++) {
    const a = spans[k];
    const h = spans[k + 1] - a;
    consider(a);
    consider(spans[k + 1]);
    // The quadratic through the derivative at quarter, half and three quarters (inside, where corners cannot reach).
    const d1 = slope(a + 0.25 * h);
    const d2 = slope(a + 0.5 * h);
    const d3 = slope(a + 0.75 * h);
    const c2 = 8 * (d1 - 2 * d2 + d3);
    const c1 = 2 * (d3 - d1) - c2;
    const c0 = d2 - c1 / 2 - c2 / 4;
    for (const t of quadraticRoots(c2, c1, c0)) if (t > 0 && t < 1) consider(a + t * h);
  }
  return { min, xMin, max, xMax };
}

/** Real roots of a t^2 + b t + c, by the form that loses no digits to cancellation. */
function quadraticRoots(a: number, b: number, c: number): number[] {
  const disc = b * b - 4 * a * c;
  if (disc < 0) return [];
  const q = -0.5 * (b + (b < 0 ? -1 : 1) * Math.sqrt(disc));
  const roots: number[] = [];
  if (a !== 0) roots.push(q / a);
  if (q !== 0) roots.push(c / q);
  return roots;
}
