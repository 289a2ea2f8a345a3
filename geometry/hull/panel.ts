/**
 * Panel surfaces (deck and bottom) as heights over the plan, and their true normal offsets.
 * Sections lie in station planes, so x depends on u alone and y = v Y(u): a plan point is found on the
 * surface by one root in u.
 */
import { evalSpline, findSpan, type Spline } from '../curves/bspline';
import type { Panel } from '../types';

/** A height and its gradient over the plan; keeps its place on the surface as the next call's first guess. */
export interface PanelProbe {
  u: number;
  span: number;
  z: number;
  zx: number;
  zy: number;
  /** Last plan shift of the normal offset, the next call's first guess. */
  shiftX: number;
  shiftY: number;
}

export const panelProbe = (): PanelProbe => ({ u: Number.NaN, span: -1, z: 0, zx: 0, zy: 0, shiftX: 0, shiftY: 0 });

const basis = new Float64Array(12);
const row = new Float64Array(18);

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

/** At a tip the section has no width and a round end no dx/du: step inside by a ten-millionth of the outline. */
function offTheTip(knots: Float64Array, u: number): number {
  const first = knots[0];
  const last = knots[knots.length - 1];
  const hair = 1e-7 * (last - first);
  return u < first + hair ? first + hair : u > last - hair ? last - hair : u;
}

/**
 * Height and gradient of the finished panel over a plan point (x, y), y either side.
 * Beyond the outline the section's polynomial continues. Fills and returns the probe.
 */
export function panelAt(panel: Panel, x: number, y: number, probe: PanelProbe): PanelProbe {
  const { spline } = panel;
  const u = offTheTip(spline.knots, parameterAtX(spline, x, probe.u));
  probe.u = u;
  probe.span = evalSpline(spline, u, row, basis, probe.span);
  const side = y < 0 ? -1 : 1;
  const breadth = row[1];
  const v = (side * y) / breadth;
  const w = 1 - v;
  const z0 = row[2];
  const z1 = row[3];
  const z2 = row[4];
  const z3 = row[5];
  const c0 = w * w * w;
  const c1 = 3 * w * w * v;
  const c2 = 3 * w * v * v;
  const c3 = v * v * v;
  const zv = 3 * (w * w * (z1 - z0) + 2 * w * v * (z2 - z1) + v * v * (z3 - z2));
  const zu = c0 * row[8] + c1 * row[9] + c2 * row[10] + c3 * row[11];
  probe.z = c0 * z0 + c1 * z1 + c2 * z2 + c3 * z3;
  probe.zx = (zu - (zv * v * row[7]) / breadth) / row[6];
  probe.zy = (side * zv) / breadth;
  return probe;
}

/**
 * Height and gradient of the panel's true normal offset over a plan point: the surface `thickness` below the
 * deck (`face` 1) or above the bottom (`face` -1), measured along the normal. The foot of the normal is a
 * contraction (rate thickness times curvature), iterated to 1e-9 mm. Parallel surfaces share their normals,
 * so the gradient is the foot's. Fills and returns the probe.
 */
export function innerAt(panel: Panel, face: 1 | -1, thickness: number, x: number, y: number, probe: PanelProbe): PanelProbe {
  const t = face * thickness;
  let { shiftX, shiftY } = probe;
  let root = 1;
  for (let i = 0; i < 40; i++) {
    panelAt(panel, x - shiftX, y - shiftY, probe);
    root = 1 / Math.sqrt(1 + probe.zx * probe.zx + probe.zy * probe.zy);
    const nextX = t * probe.zx * root;
    const nextY = t * probe.zy * root;
    const moved = Math.abs(nextX - shiftX) + Math.abs(nextY - shiftY);
    shiftX = nextX;
    shiftY = nextY;
    if (moved < 1e-9) break;
  }
  // The last foot lies within 1e-9 mm of the true one; slide the height along the gradient by the rest.
  probe.z -= t * root;
  probe.shiftX = shiftX;
  probe.shiftY = shiftY;
  return probe;
}
