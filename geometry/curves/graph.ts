/** Curves that are functions of length: rocker, thickness, crown and the rest. */
import { evalSpline, type Spline } from './bspline';
import { interpolateCubic } from './interpolate';
import type { LengthCurveDesign } from '../design/schema';

/**
 * The C2 cubic spline v(x) through a length curve's points, parameter = x (mm).
 * Slopes in the design are degrees of dv/dx. Throws a RangeError where x does not increase.
 */
export function graphSpline(curve: LengthCurveDesign): Spline {
  const { points } = curve;
  const slope = (deg: number | undefined) => (deg === undefined ? undefined : [Math.tan((deg * Math.PI) / 180)]);
  return interpolateCubic(
    points.map((p) => p.x),
    points.map((p) => p.v),
    1,
    points.flatMap((p, i) => (p.corner ? [i] : [])),
    { start: slope(curve.tailSlopeDeg), end: slope(curve.noseSlopeDeg) },
  );
}

const basis = new Float64Array(12);
const out = new Float64Array(3);

/** Value of a one-dimensional spline at x; beyond the ends the end polynomial continues. */
export function valueAt(graph: Spline, x: number): number {
  evalSpline(graph, x, out, basis);
  return out[0];
}

/** Value, slope and second derivative at x. */
export function graphAt(graph: Spline, x: number): { v: number; d1: number; d2: number } {
  evalSpline(graph, x, out, basis);
  return { v: out[0], d1: out[1], d2: out[2] };
}
