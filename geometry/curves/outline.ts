/** The outline as a parametric cubic in plan, (x, y) against chord length. */
import { evalSpline, breaks, type Spline } from './bspline';
import { frameAt, planeFrame } from './plane';
import { findRoot } from './roots';
import { chordParameters, interpolateCubic } from './interpolate';
import type { OutlineDesign } from '../design/schema';
import { BuildError } from '../errors';
import { mm, said } from '../said';

/**
 * The outline through its points, with the tail and nose directions asked for.
 * An end angle of 90 degrees is tangent to the athwartships line: a truly round end.
 * Throws a BuildError where the outline folds back on itself along the length or crosses the centreline.
 */
export function buildOutline(design: OutlineDesign): Spline {
  const { points } = design;
  const data = Float64Array.from(points.flatMap((p) => [p.x, p.y]));
  const heading = (deg: number | undefined, sign: 1 | -1) => {
    if (deg === undefined) return undefined;
    const a = (deg * Math.PI) / 180;
    return [Math.cos(a), sign * Math.sin(a)];
  };
  const outline = interpolateCubic(
    chordParameters(data, 2),
    data,
    2,
    points.flatMap((p, i) => (p.corner ? [i] : [])),
    { start: heading(design.tailAngleDeg, 1), end: heading(design.noseAngleDeg, -1) },
  );
  checkOutline(outline);
  return outline;
}

function checkOutline(outline: Spline): void {
  const basis = new Float64Array(12);
  const out = new Float64Array(6);
  const knots = breaks(outline.knots);
  const length = outline.points[outline.points.length - 2];
  for (let k = 0; k + 1 < knots.length; k++) {
    for (let i = 0; i <= 24; i++) {
      const u = knots[k] + ((knots[k + 1] - knots[k]) * i) / 24;
      evalSpline(outline, u, out, basis);
      if (out[2] < -1e-6) {
        throw new BuildError({
          field: 'lines.outline', value: said('folds back near {x}', { x: mm(out[0], 0) }), allowed: 'x rising from tail to nose',
          message: 'the outline folds back along the length; move its points or ease its end angle',
        });
      }
      if (out[1] < -1e-6 && out[0] > 1e-6 && out[0] < length - 1e-6) {
        throw new BuildError({
          field: 'lines.outline', value: said('{y} at {x}', { y: mm(out[1]), x: mm(out[0], 0) }), allowed: 'a half-breadth of 0 or more',
          message: 'the outline crosses the centreline; add a point or ease its end angle',
        });
      }
    }
  }
}

/** The widest place of an outline: station and half-breadth, mm. */
export function widestPoint(outline: Spline): { readonly x: number; readonly halfBreadth: number } {
  const frame = planeFrame();
  const slope = (u: number) => frameAt(outline, u, frame).ty;
  let best = { x: 0, halfBreadth: 0 };
  const consider = (u: number) => {
    frameAt(outline, u, frame);
    if (frame.y > best.halfBreadth) best = { x: frame.x, halfBreadth: frame.y };
  };
  const spans = breaks(outline.knots);
  for (let k = 0; k + 1 < spans.length; k++) {
    consider(spans[k]);
    // A hair inside each span: a corner's two sides have slopes of their own.
    let a = spans[k] + 1e-9;
    let fa = slope(a);
    for (let i = 1; i <= 8; i++) {
      const b = i === 8 ? spans[k + 1] - 1e-9 : spans[k] + ((spans[k + 1] - spans[k]) * i) / 8;
      const fb = slope(b);
      if (fa > 0 && fb < 0) consider(findRoot(slope, a, b, 1e-9, fa, fb));
      a = b;
      fa = fb;
    }
    consider(spans[k + 1]);
  }
  return best;
}
