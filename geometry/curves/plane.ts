/** Differential geometry of a plan curve and of its normal offsets. */
import { evalSpline, type Spline } from './bspline';

const basis = new Float64Array(12);
const values = new Float64Array(6);
/** Span of the last call: a curve is asked from place to place. */
let span = -1;

/** Frame of a plan curve at one parameter; mutable so that hot loops reuse it. */
export interface PlaneFrame {
  x: number;
  y: number;
  /** Unit tangent, tail to nose. */
  tx: number;
  ty: number;
  /** Inward unit normal: the tangent turned to starboard-in, (ty, -tx). */
  nx: number;
  ny: number;
  /** |dC/du|. */
  speed: number;
  /** Curvature, positive where the outline is convex (turns toward the inward normal), 1/mm. */
  kappa: number;
}

export const planeFrame = (): PlaneFrame => ({ x: 0, y: 0, tx: 1, ty: 0, nx: 0, ny: -1, speed: 1, kappa: 0 });

/**
 * Fill `out` with the frame of a two-dimensional spline at u; beyond its ends the curve goes on straight along its
 * end tangent. Returns `out`.
 */
export function frameAt(curve: Spline, u: number, out: PlaneFrame): PlaneFrame {
  const { knots } = curve;
  const last = knots[knots.length - 1];
  if (u < knots[0] || u > last) {
    const end = u > last ? last : knots[0];
    frameAt(curve, end, out);
    out.x += (u - end) * out.speed * out.tx;
    out.y += (u - end) * out.speed * out.ty;
    out.kappa = 0;
    return out;
  }
  span = evalSpline(curve, u, values, basis, span);
  const dx = values[2];
  const dy = values[3];
  // Several times quicker than Math.hypot, whose guard against overflow no board needs.
  const speed = Math.sqrt(dx * dx + dy * dy);
  out.x = values[0];
  out.y = values[1];
  out.speed = speed;
  out.tx = dx / speed;
  out.ty = dy / speed;
  out.nx = out.ty;
  out.ny = -out.tx;
  out.kappa = (dy * values[4] - dx * values[5]) / (speed * speed * speed);
  return out;
}
