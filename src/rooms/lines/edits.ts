/**
 * Changes of single points and ends of a line. Each takes a design and gives the checked new one, or every
 * error; nothing is adjusted to fit. Untouched lines stay the same objects, so that views know they did not change.
 */
import { evalSpline } from '../../../geometry/curves/bspline';
import { frameAt, planeFrame } from '../../../geometry/curves/plane';
import { graphAt } from '../../../geometry/curves/graph';
import { checkDesign } from '../../../geometry/design/read';
import type { FieldError } from '../../../geometry/design/fields';
import type { Design, LengthCurveDesign, LengthCurveName, OutlineDesign } from '../../../geometry/design/schema';
import { type DesignCurve, isOutline, type LineName, splineOf } from '../../../geometry/shape/line';
import { footGrid, footOn } from '../../../geometry/shape/project';

export type Edit = { readonly ok: true; readonly design: Design } | { readonly ok: false; readonly errors: readonly FieldError[] };

/** Which end of the board. */
export type End = 'tail' | 'nose';

/** The design itself where it checks, with its own objects: `checkDesign` never changes a value. */
export function checked(design: Design): Edit {
  const read = checkDesign(design);
  return read.ok ? { ok: true, design } : read;
}

/** A design with one line replaced, checked. */
export function withLine(design: Design, name: LineName, curve: DesignCurve): Edit {
  return checked({ ...design, lines: { ...design.lines, [name]: curve } });
}

/** A value rounded to the file's grain, so that sums of steps leave no long tails. */
const grain = (v: number): number => Math.round(v * 1e6) / 1e6;

function withPoint(curve: DesignCurve, index: number, x: number, v: number): DesignCurve {
  return isOutline(curve)
    ? { ...curve, points: curve.points.map((p, i) => (i === index ? { ...p, x: grain(x), y: grain(v) } : p)) }
    : { ...curve, points: curve.points.map((p, i) => (i === index ? { ...p, x: grain(x), v: grain(v) } : p)) };
}

/** Whether a point's station may be moved: not the tail's, and the nose's only on the outline, whose end is the board's. */
export function stationMoves(curve: DesignCurve, index: number): boolean {
  const last = curve.points.length - 1;
  return index > 0 && (index < last || isOutline(curve));
}

/** All lines with their last point at the nose's new station; what lies between stays where it is. */
function withLength(design: Design, outline: OutlineDesign): Design {
  const x = outline.points[outline.points.length - 1].x;
  const lines = { ...design.lines, outline };
  const { outline: _, ...along } = design.lines;
  for (const name of Object.keys(along) as LengthCurveName[]) {
    const { points } = along[name];
    lines[name] = { ...along[name], points: points.map((p, i) => (i === points.length - 1 ? { ...p, x } : p)) };
  }
  return { ...design, lines };
}

/**
 * A point moved to station x (mm) and value v. Moving the outline's nose along the board changes the board's
 * length: the last points of all lines go with it. A station that does not move keeps its own.
 */
export function movePoint(design: Design, name: LineName, index: number, x: number, v: number): Edit {
  const curve = design.lines[name];
  const at = stationMoves(curve, index) ? x : curve.points[index].x;
  const next = withPoint(curve, index, at, v);
  const nose = isOutline(next) && index === next.points.length - 1 && at !== curve.points[index].x;
  return nose ? checked(withLength(design, next)) : withLine(design, name, next);
}

const row = new Float64Array(6);
const basis = new Float64Array(12);

/** The point of a curve nearest to (x, v): square to the outline in plan, at the same station for a length curve. */
function nearestOn(curve: DesignCurve, x: number, v: number): { readonly x: number; readonly v: number } {
  const spline = splineOf(curve);
  if (!isOutline(curve)) {
    evalSpline(spline, x, row, basis);
    return { x, v: row[0] };
  }
  evalSpline(spline, footOn(spline, footGrid(spline), x, v).u, row, basis);
  return { x: row[0], v: row[1] };
}

/** The middle, by station, of the widest space between two points: where a point is added when no place is given. */
export function widestSpace(curve: DesignCurve): number {
  const { points } = curve;
  let best = 1;
  for (let i = 2; i < points.length; i++) if (points[i].x - points[i - 1].x > points[best].x - points[best - 1].x) best = i;
  return (points[best].x + points[best - 1].x) / 2;
}

/** A new point on the curve nearest to (x, v), and its index. A length curve stays exactly as it was. */
export function addPoint(design: Design, name: LineName, x: number, v: number): { readonly edit: Edit; readonly index: number } {
  const curve = design.lines[name];
  const at = nearestOn(curve, x, v);
  const index = curve.points.filter((p) => p.x < at.x).length;
  const next: DesignCurve = isOutline(curve)
    ? { ...curve, points: [...curve.points.slice(0, index), { x: grain(at.x), y: grain(at.v) }, ...curve.points.slice(index)] }
    : { ...curve, points: [...curve.points.slice(0, index), { x: grain(at.x), v: grain(at.v) }, ...curve.points.slice(index)] };
  return { edit: withLine(design, name, next), index };
}

/** A curve without one of its inner points. The ends stay: asking for one is an error. */
export function removePoint(design: Design, name: LineName, index: number): Edit {
  const curve = design.lines[name];
  if (index <= 0 || index >= curve.points.length - 1) {
    const error = { field: `lines.${name}.points[${index}]`, value: `point ${index + 1}`, allowed: `point 2 to ${curve.points.length - 1}`, message: 'is an end of the board and cannot be removed' };
    return { ok: false, errors: [error] };
  }
  const next: DesignCurve = isOutline(curve)
    ? { ...curve, points: curve.points.filter((_, i) => i !== index) }
    : { ...curve, points: curve.points.filter((_, i) => i !== index) };
  return withLine(design, name, next);
}

function cornered<P extends { corner?: boolean }>(point: P, corner: boolean): Omit<P, 'corner'> | P {
  const { corner: was, ...kept } = point;
  if (corner) return { ...point, corner };
  return was === undefined ? point : kept;
}

/** The tangent at a point kept (false) or broken (true). */
export function setCorner(design: Design, name: LineName, index: number, corner: boolean): Edit {
  const curve = design.lines[name];
  const next: DesignCurve = isOutline(curve)
    ? { ...curve, points: curve.points.map((p, i) => (i === index ? cornered(p, corner) : p)) }
    : { ...curve, points: curve.points.map((p, i) => (i === index ? cornered(p, corner) : p)) };
  return withLine(design, name, next);
}

/** The angle set at an end, degrees as in the board file; undefined where the end is free. */
export function endAngle(curve: DesignCurve, end: End): number | undefined {
  if (isOutline(curve)) return end === 'tail' ? curve.tailAngleDeg : curve.noseAngleDeg;
  return end === 'tail' ? curve.tailSlopeDeg : curve.noseSlopeDeg;
}

function angled(curve: OutlineDesign, end: End, deg: number | undefined): OutlineDesign {
  const { [end === 'tail' ? 'tailAngleDeg' : 'noseAngleDeg']: _, ...rest } = curve;
  return deg === undefined ? rest : { ...rest, [end === 'tail' ? 'tailAngleDeg' : 'noseAngleDeg']: deg };
}

function sloped(curve: LengthCurveDesign, end: End, deg: number | undefined): LengthCurveDesign {
  const { [end === 'tail' ? 'tailSlopeDeg' : 'noseSlopeDeg']: _, ...rest } = curve;
  return deg === undefined ? rest : { ...rest, [end === 'tail' ? 'tailSlopeDeg' : 'noseSlopeDeg']: deg };
}

/** The angle of an end set, in degrees as in the board file, or left free (undefined). */
export function setEndAngle(design: Design, name: LineName, end: End, deg: number | undefined): Edit {
  const curve = design.lines[name];
  return withLine(design, name, isOutline(curve) ? angled(curve, end, deg) : sloped(curve, end, deg));
}

/** The angle a curve has at an end now, set or free, degrees as the board file counts it. */
export function presentAngle(curve: DesignCurve, end: End): number {
  const spline = splineOf(curve);
  const { knots } = spline;
  const u = end === 'tail' ? knots[0] : knots[knots.length - 1];
  if (!isOutline(curve)) return (Math.atan(graphAt(spline, u).d1) * 180) / Math.PI;
  const { tx, ty } = frameAt(spline, u, planeFrame());
  return (Math.atan2(end === 'tail' ? ty : -ty, tx) * 180) / Math.PI;
}

/** How an outline ends: round (on the centreline, square to it), pointed (on it at an angle), square (with a width). */
export type EndShape = 'round' | 'pointed' | 'square';

/** The shape of an outline's end. */
export function endShape(outline: OutlineDesign, end: End): EndShape {
  const { y } = end === 'tail' ? outline.points[0] : outline.points[outline.points.length - 1];
  if (y > 0) return 'square';
  return endAngle(outline, end) === 90 ? 'round' : 'pointed';
}

/** Angle of an end newly pointed, and share of its neighbour's half-breadth of an end newly squared: own choices. */
const POINT_DEG = 35;
const SQUARE_SHARE = 0.6;

/** The outline's end given another shape: its half-breadth and angle follow. */
export function setEndShape(design: Design, end: End, shape: EndShape): Edit {
  const { outline } = design.lines;
  const index = end === 'tail' ? 0 : outline.points.length - 1;
  const next = outline.points[end === 'tail' ? 1 : index - 1];
  const y = shape === 'square' ? Math.round(next.y * SQUARE_SHARE * 10) / 10 : 0;
  const was = endAngle(outline, end);
  const deg = shape === 'round' ? 90 : shape === 'pointed' ? (was === 90 || was === undefined ? POINT_DEG : was) : undefined;
  const points = outline.points.map((p, i) => (i === index ? { ...p, y } : p));
  return withLine(design, 'outline', angled({ ...outline, points }, end, deg));
}
