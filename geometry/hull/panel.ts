/**
 * Panel surfaces (deck and bottom) as heights over the plan, and their true normal offsets.
 * Sections lie in station planes, so x depends on u alone and y = v Y(u): a plan point is found on the
 * surface by one root in u.
 */
import { evalOnSpan, findSpan, type Spline } from '../curves/bspline';
import { parameterAtX } from '../curves/station';
import type { Panel } from '../types';

/** A height and its gradient over the plan; keeps its place on the surface as the next call's first guess. */
export interface PanelProbe {
  u: number;
  span: number;
  z: number;
  zx: number;
  zy: number;
  /** Station of the last call and du/dx there: they predict the next call's u. */
  x: number;
  ux: number;
  /** Last plan shift of the normal offset, seen from starboard: the next call's first guess. */
  shiftX: number;
  shiftY: number;
  /** Place of the last normal offset, the way to it from the one before, and how the shift changed over that: a walk goes on evenly. */
  fromX: number;
  fromY: number;
  wayX: number;
  wayY: number;
  turnX: number;
  turnY: number;
  /** How that change itself changed, where the walk had been even before. */
  bendX: number;
  bendY: number;
}

export const panelProbe = (): PanelProbe => ({
  u: Number.NaN, span: -1, z: 0, zx: 0, zy: 0, x: 0, ux: 0, shiftX: 0, shiftY: 0, fromX: 0, fromY: 0, wayX: 0, wayY: 0, turnX: 0, turnY: 0, bendX: 0, bendY: 0,
});

/** Numbers of one piece: six columns of four power coefficients. */
const PIECE = 24;

/**
 * A panel from its lofted spline: each span's six cubics once more as powers of u - knot, so that the hot path
 * needs no basis and no division. Spans without length keep zeros: none is ever asked for.
 */
export function panelOf(spline: Spline): Panel {
  const { knots } = spline;
  const spans = knots.length - 7;
  const pieces = new Float64Array(spans * PIECE);
  const basis = new Float64Array(12);
  const from = new Float64Array(18);
  const to = new Float64Array(18);
  for (let k = 0; k < spans; k++) {
    const h = knots[k + 4] - knots[k + 3];
    if (!(h > 0)) continue;
    evalOnSpan(spline, k + 3, knots[k + 3], from, basis);
    evalOnSpan(spline, k + 3, knots[k + 4], to, basis);
    for (let c = 0; c < 6; c++) {
      const at = k * PIECE + 4 * c;
      pieces[at] = from[c];
      pieces[at + 1] = from[6 + c];
      pieces[at + 2] = from[12 + c] / 2;
      pieces[at + 3] = (to[12 + c] - from[12 + c]) / (6 * h);
    }
  }
  return { spline, pieces, creases: creasesOf(spline) };
}

/** Columns of a panel at one u: values X, Y, Z0..Z3, then their first derivatives. */
const row = new Float64Array(12);

/** Fill `row` at u, which lies on the span. */
function rowAt({ spline, pieces }: Panel, span: number, u: number): void {
  const t = u - spline.knots[span];
  let at = (span - 3) * PIECE;
  for (let c = 0; c < 6; c++, at += 4) {
    const c1 = pieces[at + 1];
    const c2 = pieces[at + 2];
    const c3 = pieces[at + 3];
    row[c] = pieces[at] + t * (c1 + t * (c2 + t * c3));
    row[c + 6] = c1 + t * (2 * c2 + 3 * t * c3);
  }
}

/** How far a square end may lean for the panel to go on beyond it: half-breadth gained per mm of length. */
const MOST_LEAN = 2;

/**
 * Set the probe on the station x and fill `row` there. Newton from the probe's own prediction; once the next
 * step is under a billionth of the way to the nearer end, that step is taken along the tangent, its square
 * being below rounding. At a tip the section has no width and a round end no dx/du: the probe keeps a
 * ten-millionth of the outline inside, and the panel is level beyond. Beyond a square end it goes on along its
 * tangent: the box's sections lie square to the rail, and reach a little past the end's plane.
 */
function settle(panel: Panel, x: number, probe: PanelProbe): void {
  const { spline, pieces } = panel;
  const { knots } = spline;
  const first = knots[0];
  const last = knots[knots.length - 1];
  const hair = 1e-7 * (last - first);
  let u = probe.u + (x - probe.x) * probe.ux;
  let rest = Number.NaN;
  for (let i = 0; i < 4 && u > first + hair && u < last - hair; i++) {
    probe.span = findSpan(knots, u, probe.span);
    const t = u - knots[probe.span];
    const at = (probe.span - 3) * PIECE;
    const c1 = pieces[at + 1];
    const c2 = pieces[at + 2];
    const c3 = pieces[at + 3];
    const step = (x - pieces[at] - t * (c1 + t * (c2 + t * c3))) / (c1 + t * (2 * c2 + 3 * t * c3));
    if (Math.abs(step) <= 1e-9 * Math.min(u - first, last - u)) {
      rest = step;
      rowAt(panel, probe.span, u);
      break;
    }
    u += step;
  }
  if (Number.isNaN(rest)) {
    // First call, a tip, or a leap too far for Newton alone.
    u = Math.min(last - hair, Math.max(first + hair, parameterAtX(spline, x, probe.u)));
    probe.span = findSpan(knots, u, probe.span);
    rowAt(panel, probe.span, u);
    const beyond = x < spline.points[0] || x > spline.points[spline.points.length - spline.dim];
    rest = beyond && row[1] > hair && Math.abs(row[7]) < MOST_LEAN * row[6] ? (x - row[0]) / row[6] : 0;
  }
  for (let c = 1; c < 6; c++) row[c] += rest * row[c + 6];
  probe.u = u + rest;
  probe.x = x;
  probe.ux = 1 / row[6];
}

/** Height, and its derivatives along u and v, of the section in `row` at v. */
const height = { z: 0, zu: 0, zv: 0 };

function blend(v: number): void {
  const w = 1 - v;
  const z0 = row[2];
  const z1 = row[3];
  const z2 = row[4];
  const z3 = row[5];
  if (v > 1) {
    height.zv = 3 * (z3 - z2);
    height.z = z3 + (v - 1) * height.zv;
    height.zu = row[11] + 3 * (v - 1) * (row[11] - row[10]);
    return;
  }
  const c0 = w * w * w;
  const c1 = 3 * w * w * v;
  const c2 = 3 * w * v * v;
  const c3 = v * v * v;
  height.z = c0 * z0 + c1 * z1 + c2 * z2 + c3 * z3;
  height.zu = c0 * row[8] + c1 * row[9] + c2 * row[10] + c3 * row[11];
  height.zv = 3 * (w * w * (z1 - z0) + 2 * w * v * (z2 - z1) + v * v * (z3 - z2));
}

/**
 * Point and first derivatives of the panel at its own parameters, u along the outline and v from centreline
 * (0) to outline (1). Writes x, y, z, then d/du of them, then d/dv: nine numbers. `hint` is the span of the
 * last call, -1 for none; returns the span.
 */
export function surfaceAt(panel: Panel, u: number, v: number, out: Float64Array, hint = -1): number {
  const { spline } = panel;
  const span = findSpan(spline.knots, u, hint);
  rowAt(panel, span, u);
  blend(v);
  out[0] = row[0];
  out[1] = v * row[1];
  out[2] = height.z;
  out[3] = row[6];
  out[4] = v * row[7];
  out[5] = height.zu;
  out[6] = 0;
  out[7] = row[1];
  out[8] = height.zv;
  return span;
}

/**
 * Height and gradient of the finished panel over a plan point (x, y), y either side.
 * Beyond the outline the section goes on along its tangent: the polynomial itself would run off at a tip,
 * where a hair in y is many half-breadths. Fills and returns the probe.
 */
export function panelAt(panel: Panel, x: number, y: number, probe: PanelProbe): PanelProbe {
  const side = y < 0 ? -1 : 1;
  starboardAt(panel, x, side * y, probe);
  probe.zy *= side;
  return probe;
}

/** The starboard half, y not negative. Fills the probe. */
function starboardAt(panel: Panel, x: number, y: number, probe: PanelProbe): void {
  settle(panel, x, probe);
  const breadth = row[1];
  const v = y / breadth;
  blend(v);
  probe.z = height.z;
  probe.zx = (height.zu - (height.zv * v * row[7]) / breadth) / row[6];
  probe.zy = height.zv / breadth;
}

/** Heights of the finished panel at x and n + 1 even places from y0 to y1, to starboard: the section is found once for all. Fills `out`. */
export function heightsAcross(panel: Panel, x: number, y0: number, y1: number, n: number, probe: PanelProbe, out: Float64Array): void {
  settle(panel, x, probe);
  for (let j = 0; j <= n; j++) {
    blend((y0 + ((y1 - y0) * j) / n) / row[1]);
    out[j] = height.z;
  }
}

/** A walk's next place lies no farther ahead than this many times the last step, to be foreseen from it. */
const MOST_AHEAD = 2;

/** A place this near the centreline, mm, counts as starboard: rounding must not choose the side of a keel. */
const CENTRE = 1e-9;

/**
 * Height and gradient of the panel's true normal offset over a plan point: the surface `thickness` below the
 * deck (`face` 1) or above the bottom (`face` -1), measured along the normal. The foot of the normal is a
 * contraction (rate thickness times curvature), iterated to 1e-7 mm; the height then follows the tangent
 * plane over the rest, which leaves an error of its square. Parallel surfaces share their normals, so the
 * gradient is the foot's. The foot lies on the point's own side of the centreline: its mirror image is farther
 * off. Where the surface bends as sharply as the skin is thick, or has a crease, the foot is searched instead.
 * Fills and returns the probe.
 */
export function innerAt(panel: Panel, face: 1 | -1, thickness: number, x: number, y: number, probe: PanelProbe): PanelProbe {
  const t = face * thickness;
  const side = y < -CENTRE ? -1 : 1;
  const across = Math.abs(y);
  // Along a walk the shift goes on as it went, by Newton's backward differences: nearly half of the feet are saved.
  const wayX = x - probe.fromX;
  const wayY = across - probe.fromY;
  const before = probe.wayX * probe.wayX + probe.wayY * probe.wayY;
  const share = before > 0 ? (wayX * probe.wayX + wayY * probe.wayY) / before : 0;
  const lastX = probe.shiftX;
  const lastY = probe.shiftY;
  const walks = share > 0 && share < MOST_AHEAD;
  if (walks) {
    const second = (share * (share + 1)) / 2;
    probe.shiftX += share * probe.turnX + second * probe.bendX;
    probe.shiftY += share * probe.turnY + second * probe.bendY;
  }
  let found = !creaseNear(panel, x, thickness);
  /** How often in a row the foot fell beyond the centreline. */
  let beyond = 0;
  for (let i = 0; found; i++) {
    const { shiftX } = probe;
    const foot = Math.abs(across - probe.shiftY);
    const shiftY = across - foot;
    starboardAt(panel, x - shiftX, foot, probe);
    const root = 1 / Math.sqrt(1 + probe.zx * probe.zx + probe.zy * probe.zy);
    probe.shiftX = t * probe.zx * root;
    probe.shiftY = t * probe.zy * root;
    const restX = shiftX - probe.shiftX;
    const restY = shiftY - probe.shiftY;
    if (Math.abs(restX) + Math.abs(restY) < 1e-7) {
      found = thickness * sharpest(face) < SHARP;
      probe.z += probe.zx * restX + probe.zy * restY - t * root;
      break;
    }
    beyond = probe.shiftY > across ? beyond + 1 : 0;
    found = i < 40 && beyond < 2;
  }
  if (!found && !(beyond > 1 && footOnCentre(panel, face, thickness, x, across, probe))) searchFoot(panel, face, thickness, x, across, probe);
  probe.fromX = x;
  probe.fromY = across;
  probe.wayX = wayX;
  probe.wayY = wayY;
  const turnX = probe.shiftX - lastX;
  const turnY = probe.shiftY - lastY;
  probe.bendX = walks ? turnX - probe.turnX : 0;
  probe.bendY = walks ? turnY - probe.turnY : 0;
  probe.turnX = turnX;
  probe.turnY = turnY;
  probe.zy *= side;
  return probe;
}

/**
 * `innerAt` to the first order, for what only weighs: the skin's upright thickness is taken where the point lies and not at
 * its foot. Off by half the thickness squared times the surface's bend along its own slope: a few micrometres, more at a tip.
 */
export function innerNear(panel: Panel, face: 1 | -1, thickness: number, x: number, y: number, probe: PanelProbe): PanelProbe {
  panelAt(panel, x, y, probe);
  probe.z -= face * thickness * Math.sqrt(1 + probe.zx * probe.zx + probe.zy * probe.zy);
  return probe;
}

/** Intervals across a half at whose ends `innerAcross` seeks the foot, and what it may stray from `innerAt` between them, mm. */
const FEET = 5;
const STRAYS = 1e-4;
const feet = new Float64Array(FEET + 1);

/** Probes of `innerAcross`: of the section, of each foot, and of the one that holds the rest to them. From section to section each foot goes on from its own last. */
export type AcrossProbes = readonly PanelProbe[];

export const acrossProbes = (): AcrossProbes => Array.from({ length: FEET + 3 }, panelProbe);

/**
 * Heights of the inner face (`innerAt`) at x and n + 1 even places from y0 to y1, n a multiple of five. How far it lies
 * from the finished face changes so evenly across a board that six feet tell it: a quintic through them strays by 5e-6 mm
 * at most on the boards at hand. A seventh foot between the first two holds it to that; where it strays, as at a
 * keel or a crease, every foot is sought. Fills `out`.
 */
export function innerAcross(panel: Panel, face: 1 | -1, thickness: number, x: number, y0: number, y1: number, n: number, probes: AcrossProbes, out: Float64Array): void {
  const section = probes[FEET + 1];
  const check = probes[FEET + 2];
  const at = (j: number) => y0 + ((y1 - y0) * j) / n;
  heightsAcross(panel, x, y0, y1, n, section, out);
  const every = n / FEET;
  if (every === 1) {
    for (let k = 0; k <= FEET; k++) out[k] = innerAt(panel, face, thickness, x, at(k), probes[k]).z;
    return;
  }
  for (let k = 0; k <= FEET; k++) feet[k] = innerAt(panel, face, thickness, x, at(k * every), probes[k]).z - out[k * every];
  // Newton's form on even nodes: the differences, each by its factorial.
  for (let k = 1; k <= FEET; k++) for (let i = FEET; i >= k; i--) feet[i] = (feet[i] - feet[i - 1]) / k;
  const between = (t: number): number =>
    feet[0] + t * (feet[1] + (t - 1) * (feet[2] + (t - 2) * (feet[3] + (t - 3) * (feet[4] + (t - 4) * feet[5]))));
  const odd = Math.round(every / 2);
  const even = !(Math.abs(out[odd] + between(odd / every) - innerAt(panel, face, thickness, x, at(odd), check).z) > STRAYS);
  for (let j = 0; j <= n; j++) out[j] = even ? out[j] + between(j / every) : innerAt(panel, face, thickness, x, at(j), check).z;
}

/** Share of the skin's thickness in the radius of a hollow beyond which its foot is searched. */
const SHARP = 0.5;

/** Sharpest hollow of the section in `row`, as the skin sees it: 1/mm, positive where normals run together. */
function sharpest(face: 1 | -1): number {
  const a = 6 * (row[2] - 2 * row[3] + row[4]);
  const b = 6 * (row[3] - 2 * row[4] + row[5]);
  // The second derivative runs straight from a to b. Under a deck normals meet where it is round, over a bottom where hollow.
  return -Math.min(face * a, face * b) / (row[1] * row[1]);
}

/** Stations at which a panel on this spline has a crease. */
function creasesOf({ knots, points, dim }: Spline): Float64Array {
  const at: number[] = [];
  // On a knot of three the control point before its last repetition lies on the curve.
  for (let k = 4; k < knots.length - 6; k++) if (knots[k] === knots[k + 2]) at.push(points[(k - 1) * dim]);
  return Float64Array.from(at);
}

/** Whether a crease lies within reach of the station x. */
function creaseNear({ creases }: Panel, x: number, reach: number): boolean {
  for (let i = 0; i < creases.length; i++) if (Math.abs(creases[i] - x) <= reach) return true;
  return false;
}

/**
 * The inner face where both halves send the foot across the centreline, as a bottom does that falls outboard of it: the ball then lies
 * on the centreline itself, and the foot moves along that alone. Returns whether it does.
 */
function footOnCentre(panel: Panel, face: 1 | -1, thickness: number, x: number, y: number, probe: PanelProbe): boolean {
  const radius = Math.sqrt(thickness * thickness - y * y);
  if (!(radius > 0)) return false;
  let shift = probe.shiftX;
  for (let i = 0; i < 20; i++) {
    settle(panel, x - shift, probe);
    blend(0);
    const slope = height.zu / row[6];
    const upright = radius / Math.sqrt(1 + slope * slope);
    const next = face * slope * upright;
    const rest = shift - next;
    shift = next;
    if (!(Math.abs(rest) < 1e-7)) continue;
    // Outboard of it the ball must rise from the surface.
    if (face * height.zv * upright < y * row[1] || thickness * sharpest(face) >= SHARP) return false;
    probe.z = height.z + slope * rest - face * upright;
    probe.zx = slope;
    probe.zy = (face * y) / upright;
    probe.shiftX = shift;
    probe.shiftY = y;
    return true;
  }
  return false;
}

/** First step of the search, as a share of the thickness, and last, mm. */
const FIRST_STEP = 1 / 6;
const LAST_STEP = 1e-5;

/**
 * The inner face by its definition: a ball of the skin's thickness rolled along the inside of the finished
 * surface leaves its centre there, so under a deck the height is the least, over feet f within the thickness
 * in plan, of z(f) - sqrt(thickness^2 - |f - p|^2); over a bottom the greatest with plus. Searched on a grid, then
 * from the best by ever shorter steps; slow, sure, and the same whatever was asked before.
 */
function searchFoot(panel: Panel, face: 1 | -1, thickness: number, x: number, y: number, probe: PanelProbe): void {
  let best = Infinity;
  let shiftX = 0;
  let shiftY = 0;
  // Places of one station share its section, which costs most.
  let at = Number.NaN;
  const look = (dx: number, dy: number): boolean => {
    const rest = thickness * thickness - dx * dx - dy * dy;
    if (rest <= 0 || y - dy < 0) return false;
    if (dx !== at) {
      settle(panel, x - dx, probe);
      at = dx;
    }
    blend((y - dy) / row[1]);
    const value = face * height.z - Math.sqrt(rest);
    if (!(value < best - 1e-12)) return false;
    best = value;
    shiftX = dx;
    shiftY = dy;
    return true;
  };
  let h = thickness * FIRST_STEP;
  for (let i = -6; i <= 6; i++) for (let j = -6; j <= 6; j++) look(i * h, j * h);
  // The foot that lies on the centreline itself is on no grid.
  if (y < thickness) look(0, y);
  while (h > LAST_STEP) {
    const [cx, cy] = [shiftX, shiftY];
    let moved = false;
    for (let k = 0; k < 9; k++) if (k !== 4) moved = look(cx + (Math.floor(k / 3) - 1) * h, cy + ((k % 3) - 1) * h) || moved;
    if (!moved) h /= 2;
  }
  const upright = Math.sqrt(thickness * thickness - shiftX * shiftX - shiftY * shiftY);
  probe.z = face * best;
  probe.zx = (face * shiftX) / upright;
  probe.zy = (face * shiftY) / upright;
  probe.shiftX = shiftX;
  probe.shiftY = shiftY;
}
