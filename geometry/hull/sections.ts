/** The sections the hull is lofted through: two panels in station planes, the rail round square to the outline. */
import { evalSpline, type Spline } from '../curves/bspline';
import { frameAt, planeFrame } from '../curves/plane';
import { valueAt } from '../curves/graph';
import type { Hull, Panel } from '../types';
import { panelAt, panelProbe } from './panel';

type Lines = Hull['lines'];

const basis = new Float64Array(12);
const xy = new Float64Array(6);

/** Columns of a panel section: X, Y, Z0..Z3. */
export const PANEL_COLUMNS = 6;
/** Columns of a rail-round section: seven (x, y, z) points, tuck to apex to deck. */
export const ROUND_COLUMNS = 21;

/**
 * Deck section: z = rocker + thickness - rise v^2, where rise = crown ratio times half-breadth.
 * Written as cubic Bezier heights. Fills six numbers of `out` from `at`.
 */
export function deckSection(outline: Spline, lines: Lines, u: number, out: Float64Array, at: number): void {
  evalSpline(outline, u, xy, basis);
  const x = xy[0];
  const y = xy[1];
  const top = valueAt(lines.rocker, x) + valueAt(lines.thickness, x);
  const rise = valueAt(lines.crown, x) * y;
  out[at] = x;
  out[at + 1] = y;
  out[at + 2] = top;
  out[at + 3] = top;
  out[at + 4] = top - rise / 3;
  out[at + 5] = top - rise;
}

/**
 * Bottom section: z = rocker + vee v - concave (3 v^2 - 2 v^3), both ratios times half-breadth: vee lifts
 * the edge straight from the keel, concave lifts the middle over an edge that is level again at the tuck.
 * The rocker is the bottom on the centreline.
 */
export function bottomSection(outline: Spline, lines: Lines, u: number, out: Float64Array, at: number): void {
  evalSpline(outline, u, xy, basis);
  const x = xy[0];
  const y = xy[1];
  const keel = valueAt(lines.rocker, x);
  const vee = valueAt(lines.vee, x) * y;
  const concave = valueAt(lines.concave, x) * y;
  out[at] = x;
  out[at + 1] = y;
  out[at + 2] = keel;
  out[at + 3] = keel + vee / 3;
  out[at + 4] = keel + (2 * vee) / 3 - concave;
  out[at + 5] = keel + vee - concave;
}

/** A section's own rule at a distance y from the centreline, b being the half-breadth: how far the deck has fallen there, and how steeply. */
export const deckFall = (crown: number, y: number, b: number): readonly [number, number] => [(crown * y * y) / b, (2 * crown * y) / b];

/** The same of the bottom: how far it has risen over the rocker, and how steeply. */
export const bottomRise = (vee: number, concave: number, y: number, b: number): readonly [number, number] =>
  [vee * y - (concave * y * y * (3 - (2 * y) / b)) / b, vee - (6 * concave * y * (1 - y / b)) / b];

/**
 * An inset that cannot reach past the room there is: equal to what is wanted while the room is ample, tending to
 * `room` as the room shrinks (a pointed nose), smooth between.
 */
export function roomForInset(wanted: number, room: number): number {
  if (room <= 0) return 0;
  const q = wanted / room;
  return wanted / Math.sqrt(Math.sqrt(1 + q * q * q * q));
}

/**
 * Stretch over which the round's sections swing from square to the outline to the plane of a square end, as a
 * share of the board's length: 80 mm of 1.6 m.
 */
const END_SWING = 0.05;
const endFrame = planeFrame();

/**
 * How far a point one mm in from the outline is moved along x, so that the sections at a square end lie in
 * its plane: the normal's own x there, fading to nothing over END_SWING. Zero for pointed and round ends.
 */
function endSwing(outline: Spline, x: number): number {
  const { knots, points } = outline;
  const stretch = END_SWING * points[points.length - 2];
  let swing = 0;
  for (const u of [knots[0], knots[knots.length - 1]]) {
    frameAt(outline, u, endFrame);
    const t = Math.abs(x - endFrame.x) / stretch;
    if (endFrame.y > 1e-6 && t < 1) swing -= endFrame.nx * (1 - t) ** 3 * (1 + 3 * t);
  }
  return swing;
}

const frame = planeFrame();
const deckProbe = panelProbe();
const bottomProbe = panelProbe();

/**
 * Rail-round section square to the outline at u: tuck to apex to deck, two cubic arcs, vertical at the apex,
 * tangent to the bottom at the tuck and to the deck where it meets it. Fullness draws the arcs toward the
 * corner of their tangents (0.5523 is the usual cubic circle). Fills 21 numbers of `out` from `at`.
 */
export function roundSection(hull: { outline: Spline; lines: Lines; deck: Panel; bottom: Panel }, u: number, out: Float64Array, at: number): void {
  const { outline, lines } = hull;
  frameAt(outline, u, frame);
  const { x, y, ny } = frame;
  const nx = frame.nx + endSwing(outline, x);
  // Distance along the inward normal to the centreline; at a round end that is the radius.
  const reach = ny < -1e-6 && y > 1e-6 ? y / -ny : frame.kappa > 1e-9 && y <= 1e-6 && ny > -1e-6 ? 1 / frame.kappa : y;
  const turn = roomForInset(valueAt(lines.turn, x), 0.75 * reach);
  const tuck = roomForInset(valueAt(lines.tuck, x), 0.75 * reach);
  const full = valueAt(lines.fullness, x);
  let zTurn: number;
  let zTuck: number;
  let deckSlope = 0;
  let bottomSlope = 0;
  if (reach > 1e-6) {
    panelAt(hull.deck, x + turn * nx, Math.max(0, y + turn * ny), deckProbe);
    panelAt(hull.bottom, x + tuck * nx, Math.max(0, y + tuck * ny), bottomProbe);
    zTurn = deckProbe.z;
    zTuck = bottomProbe.z;
    deckSlope = deckProbe.zx * nx + deckProbe.zy * ny;
    bottomSlope = bottomProbe.zx * nx + bottomProbe.zy * ny;
  } else {
    zTurn = valueAt(lines.rocker, x) + valueAt(lines.thickness, x);
    zTuck = valueAt(lines.rocker, x);
  }
  roundControls({ turn, tuck, full, apex: valueAt(lines.apex, x), zTurn, zTuck, deckSlope, bottomSlope }, (i, inset, z) => {
    out[at + i * 3] = x + inset * nx;
    out[at + i * 3 + 1] = y + inset * ny;
    out[at + i * 3 + 2] = z;
  });
}

/** What the round of one section is made of: its insets as there is room for them, and where deck and bottom are there. */
interface RoundOf {
  readonly turn: number;
  readonly tuck: number;
  readonly full: number;
  readonly apex: number;
  readonly zTurn: number;
  readonly zTuck: number;
  /** Rise of deck and bottom for each mm inward. */
  readonly deckSlope: number;
  readonly bottomSlope: number;
}

/** Puts the seven control points of the round's two cubic arcs, tuck to apex to deck: inset from the outline and height of each. */
export function roundControls({ turn, tuck, full, apex, zTurn, zTuck, deckSlope, bottomSlope }: RoundOf, put: (i: number, inset: number, z: number) => void): void {
  const zDeckEdge = zTurn - deckSlope * turn;
  const zBottomEdge = zTuck - bottomSlope * tuck;
  const zApex = zBottomEdge + apex * (zDeckEdge - zBottomEdge);
  put(0, tuck, zTuck);
  put(1, tuck * (1 - full), zTuck + full * (zBottomEdge - zTuck));
  put(2, 0, zApex + full * (zBottomEdge - zApex));
  put(3, 0, zApex);
  put(4, 0, zApex + full * (zDeckEdge - zApex));
  put(5, turn * (1 - full), zTurn + full * (zDeckEdge - zTurn));
  put(6, turn, zTurn);
}
