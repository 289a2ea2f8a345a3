/** What the shaping tools share: a design curve of either kind, its spline, and what moving a point does to it. */
import { graphSpline } from '../curves/graph';
import { chordParameters, interpolateCubic } from '../curves/interpolate';
import { buildOutline } from '../curves/outline';
import { evalSpline, type Spline } from '../curves/bspline';
import type { Design, LengthCurveDesign, LengthCurveName, OutlineDesign } from '../design/schema';
import { parameterAtX } from '../curves/station';

/** The name of any line of a board. */
export type LineName = keyof Design['lines'];

/** A design curve of either kind: the outline in plan, or a value along the length. */
export type DesignCurve = OutlineDesign | LengthCurveDesign;

/** Length curves whose value is millimetres; the others are ratios. */
export const MM_LINES: readonly LengthCurveName[] = ['rocker', 'thickness', 'tuck', 'turn'];

/** Whether a design curve is the outline: its points have a half-breadth. */
export const isOutline = (curve: DesignCurve): curve is OutlineDesign => 'y' in curve.points[0];

const splines = new WeakMap<DesignCurve, Spline>();

/** The curve's spline: (x, y) over chord length for the outline, v over x for a length curve. Made once: a curve of a design does not change. */
export function splineOf(curve: DesignCurve): Spline {
  const known = splines.get(curve);
  if (known) return known;
  const spline = isOutline(curve) ? buildOutline(curve) : graphSpline(curve);
  splines.set(curve, spline);
  return spline;
}

/** Indices of the points where the tangent may break. */
export const cornersOf = (curve: DesignCurve): number[] => curve.points.flatMap((p, i) => (p.corner ? [i] : []));

/** Parameters of the curve's points on its spline: x, or chord length for the outline. */
export function parametersOf(curve: DesignCurve): Float64Array {
  return isOutline(curve)
    ? chordParameters(curve.points.flatMap((p) => [p.x, p.y]), 2)
    : Float64Array.from(curve.points, (p) => p.x);
}

/** Whether each end's tangent is set by the design, tail first. */
export function setEnds(curve: DesignCurve): { start: boolean; end: boolean } {
  return isOutline(curve)
    ? { start: curve.tailAngleDeg !== undefined, end: curve.noseAngleDeg !== undefined }
    : { start: curve.tailSlopeDeg !== undefined, end: curve.noseSlopeDeg !== undefined };
}

/**
 * The cardinal splines of a curve: one spline of n columns, column j being what a unit move of point j adds to
 * the curve while parameters and end tangents stay. Interpolation is linear in its data, so this is exact for
 * length curves and, for the outline, exact while its chord lengths are held.
 */
export function cardinals(t: Float64Array, corners: readonly number[], ends: { start: boolean; end: boolean }): Spline {
  const n = t.length;
  const unit = new Float64Array(n * n);
  for (let i = 0; i < n; i++) unit[i * n + i] = 1;
  const flat = new Array<number>(n).fill(0);
  return interpolateCubic(t, unit, n, corners, { start: ends.start ? flat : undefined, end: ends.end ? flat : undefined });
}

/** Half-breadth of an outline at a station, mm; beyond the ends, the end's own. */
export function halfBreadthAt(outline: Spline, x: number): number {
  const row = new Float64Array(6);
  evalSpline(outline, parameterAtX(outline, x), row, new Float64Array(12));
  return row[1];
}
