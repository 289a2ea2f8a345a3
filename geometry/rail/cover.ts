/**
 * Cover: the least timber between the hollow (and the box's own corners) and the finished outside, in the
 * plane square to the rail. The rail round is lofted in just these planes, so its section there is exact; the
 * shortest way leaves the plane where the rail tapers, and is then measured to the tangent plane of its foot.
 * The round bulges, so that what lies nearest to it is a corner of the hollow; a skin may be hollow, so that
 * nearest to it may be any place of an edge.
 */
import { evalFirst } from '../curves/bspline';
import type { Hull, RailSamples } from '../types';
import type { BoxSizes } from './sizes';

const basis = new Float64Array(12);
const row = new Float64Array(42);
let span = -1;
/** Finished section at the current run: seven control points as (inset from the outline, z). */
const arc = new Float64Array(14);
/** How those points move per unit of u: (along the rail, inset, z) each. */
const drift = new Float64Array(21);

/** Load the round's section at u into (inset, z) control points; beyond a square end it goes on along its tangent, as the outline does. */
export function roundArcs(hull: Hull, u: number, nx: number, ny: number, outlineX: number, outlineY: number, out: Float64Array): Float64Array {
  const { knots } = hull.round;
  const end = Math.min(knots[knots.length - 1], Math.max(knots[0], u));
  span = evalFirst(hull.round, end, row, basis, span);
  if (u !== end) for (let i = 0; i < 21; i++) row[i] += (u - end) * row[21 + i];
  for (let i = 0; i < 7; i++) {
    out[2 * i] = (row[3 * i] - outlineX) * nx + (row[3 * i + 1] - outlineY) * ny;
    out[2 * i + 1] = row[3 * i + 2];
  }
  return out;
}

/** Load the drift of the points that `roundArcs` has just loaded. */
function loadDrift(nx: number, ny: number): void {
  for (let i = 0; i < 21; i += 3) {
    const dx = row[21 + i];
    const dy = row[22 + i];
    // The tangent is the normal turned: n = (ty, -tx).
    drift[i] = dy * nx - dx * ny;
    drift[i + 1] = dx * nx + dy * ny;
    drift[i + 2] = row[23 + i];
  }
}

/** Samples along one arc from which the nearest point is searched. */
const SEEDS = 9;
/** Cubic Bernstein polynomials at the seeds: b0..b3 each. */
const bernstein = Float64Array.from({ length: SEEDS * 4 }, (_, k) => {
  const t = (k >> 2) / (SEEDS - 1);
  const r = 1 - t;
  return [r * r * r, 3 * r * r * t, 3 * r * t * t, t * t * t][k & 3];
});
/** The seeds of both arcs as (inset, z). */
const seeds = new Float64Array(SEEDS * 4);

/** Whether the seeds of either arc are laid for the current run: few runs ask for both. */
const laid = [false, false];

/** Lay the seeds of one of the arcs in `arc`. */
function laySeeds(half: 0 | 1): void {
  laid[half] = true;
  const p = half * 6;
  for (let i = 0; i < SEEDS; i++) {
    const b = i * 4;
    const to = 2 * (half * SEEDS + i);
    const b0 = bernstein[b], b1 = bernstein[b + 1], b2 = bernstein[b + 2], b3 = bernstein[b + 3];
    seeds[to] = b0 * arc[p] + b1 * arc[p + 2] + b2 * arc[p + 4] + b3 * arc[p + 6];
    seeds[to + 1] = b0 * arc[p + 1] + b1 * arc[p + 3] + b2 * arc[p + 5] + b3 * arc[p + 7];
  }
}

/** What `seekFoot` found: distance, and 1 on the timber side, -1 outside. */
const foot = { distance: 0, side: 1 };
/** A foot nearer than this to an arc's end, in the arc's own parameter, is at the end. */
const AT_END = 2e-3;

/**
 * The point of one cubic arc of `arc` (half 0 tuck to apex, 1 apex to deck) nearest to (n, z): nearest of the
 * seeds, then Newton on the squared distance, begun inside the arc since a chamfer's ends have no speed to
 * leave them by. Fills `foot`.
 */
function seekFoot(n: number, z: number, half: 0 | 1): void {
  if (!laid[half]) laySeeds(half);
  const p = arc;
  const at = half * 6;
  let best = Infinity;
  let bestT = 0;
  for (let i = 0; i < SEEDS; i++) {
    const dx = seeds[2 * (half * SEEDS + i)] - n;
    const dz = seeds[2 * (half * SEEDS + i) + 1] - z;
    const d = dx * dx + dz * dz;
    if (d < best) {
      best = d;
      bestT = i / (SEEDS - 1);
    }
  }
  let t = Math.min(0.97, Math.max(0.03, bestT));
  let dx = 0, dz = 0, tx = 0, tz = 0;
  for (let k = 0; k < 10; k++) {
    const r = 1 - t;
    const b0 = r * r * r, b1 = 3 * r * r * t, b2 = 3 * r * t * t, b3 = t * t * t;
    dx = b0 * p[at] + b1 * p[at + 2] + b2 * p[at + 4] + b3 * p[at + 6] - n;
    dz = b0 * p[at + 1] + b1 * p[at + 3] + b2 * p[at + 5] + b3 * p[at + 7] - z;
    const c0 = 3 * r * r, c1 = 6 * r * t, c2 = 3 * t * t;
    tx = c0 * (p[at + 2] - p[at]) + c1 * (p[at + 4] - p[at + 2]) + c2 * (p[at + 6] - p[at + 4]);
    tz = c0 * (p[at + 3] - p[at + 1]) + c1 * (p[at + 5] - p[at + 3]) + c2 * (p[at + 7] - p[at + 5]);
    const ax = 6 * (r * (p[at + 4] - 2 * p[at + 2] + p[at]) + t * (p[at + 6] - 2 * p[at + 4] + p[at + 2]));
    const az = 6 * (r * (p[at + 5] - 2 * p[at + 3] + p[at + 1]) + t * (p[at + 7] - 2 * p[at + 5] + p[at + 3]));
    const g = dx * tx + dz * tz;
    const tt = tx * tx + tz * tz;
    const h = tt + dx * ax + dz * az;
    // Where the distance is not convex in t Newton would climb: step by the tangent alone.
    const step = h > 0.2 * tt ? g / h : tt > 0 ? g / tt : 0;
    const next = Math.min(1, Math.max(0, t - step));
    if (Math.abs(next - t) < 1e-9) {
      t = next;
      break;
    }
    t = next;
  }
  foot.distance = slanted(t, half, dx, dz, tx, tz);
  const end = t < AT_END ? -1 : t > 1 - AT_END ? 1 : 0;
  if (end === 0) {
    // Tuck to deck runs round the outside: (dx, dz) points from the query to the curve; seen from inside, the
    // curve's tangent turns left of it.
    foot.side = dx * tz - dz * tx <= 0 ? 1 : -1;
  } else {
    // At the apex, corner or not, outboard is outside; past the round's own ends deck and bottom decide.
    foot.side = (half === 0) === (end === 1) && n < p[6] ? -1 : 1;
  }
}

/** The boxes that hold the two arcs, (inset, z) least and greatest, and the least share of a way in the plane that is left in space. */
const boxes = new Float64Array(8);
let taper = 0;

/** Lay boxes and taper: a Bezier arc lies within its control points, as its drift does within theirs. */
function layBoxes(): void {
  for (let half = 0; half < 2; half++) {
    const b = half * 4;
    boxes[b] = boxes[b + 1] = Infinity;
    boxes[b + 2] = boxes[b + 3] = -Infinity;
    for (let i = 6 * half; i < 6 * half + 8; i += 2) {
      if (arc[i] < boxes[b]) boxes[b] = arc[i];
      if (arc[i + 1] < boxes[b + 1]) boxes[b + 1] = arc[i + 1];
      if (arc[i] > boxes[b + 2]) boxes[b + 2] = arc[i];
      if (arc[i + 1] > boxes[b + 3]) boxes[b + 3] = arc[i + 1];
    }
  }
  let along = Infinity;
  let across = 0;
  for (let i = 0; i < 21; i += 3) {
    along = Math.min(along, drift[i]);
    across = Math.max(across, drift[i + 1] * drift[i + 1] + drift[i + 2] * drift[i + 2]);
  }
  taper = along > 0 ? along / Math.sqrt(along * along + across) : 0;
}

/**
 * Whether an arc may be nearer to (n, z) than `limit`. Beyond the outer side of its box it is always asked: it may
 * show that the point lies outside.
 */
function mayReach(n: number, z: number, half: 0 | 1, limit: number): boolean {
  const b = half * 4;
  const under = boxes[b + 1] - z;
  const over = z - boxes[b + 3];
  if ((half === 0 ? under : over) > 0) return true;
  const dn = Math.max(0, boxes[b] - n, n - boxes[b + 2]);
  const dz = Math.max(0, under, over);
  return Math.sqrt(dn * dn + dz * dz) * taper < limit;
}

/**
 * Signed distance from (n, z) to the round, positive on the timber side. Where it cannot be under a positive
 * `limit` it may be given as Infinity: most corners are far from one arc or both.
 */
function roundDistance(n: number, z: number, limit: number): number {
  let near = Infinity;
  let signed = Infinity;
  for (let half: 0 | 1 = 0; ; half = 1) {
    if (!(limit > 0) || mayReach(n, z, half, Math.min(limit, near))) {
      seekFoot(n, z, half);
      if (foot.distance < near) {
        near = foot.distance;
        signed = foot.side * near;
      }
    }
    if (half === 1) return signed;
  }
}

/**
 * The shortest way to the round's tangent plane, where the shortest in the section goes to (dx, dz) at t with
 * tangent (tx, tz): the rail tapers, so the true foot lies a little along it. What the plane's own curvature
 * takes is of third order.
 */
function slanted(t: number, half: 0 | 1, dx: number, dz: number, tx: number, tz: number): number {
  const at = half * 9;
  const r = 1 - t;
  const b0 = r * r * r, b1 = 3 * r * r * t, b2 = 3 * r * t * t, b3 = t * t * t;
  const ua = b0 * drift[at] + b1 * drift[at + 3] + b2 * drift[at + 6] + b3 * drift[at + 9];
  const un = b0 * drift[at + 1] + b1 * drift[at + 4] + b2 * drift[at + 7] + b3 * drift[at + 10];
  const uz = b0 * drift[at + 2] + b1 * drift[at + 5] + b2 * drift[at + 8] + b3 * drift[at + 11];
  const square = dx * dx + dz * dz;
  const tt = tx * tx + tz * tz;
  // The direction along the rail, square to the section's tangent unless the foot is an end of the arc.
  const ut = tt > 1e-12 && t > 0 && t < 1 ? (un * tx + uz * tz) / tt : 0;
  const en = un - ut * tx;
  const ez = uz - ut * tz;
  const ee = ua * ua + en * en + ez * ez;
  if (!(ee > 1e-12)) return Math.sqrt(square);
  const along = dx * en + dz * ez;
  return Math.sqrt(Math.max(0, square - (along * along) / ee));
}

/** An inner face over the strip, by its share in from the box face, and what the height over an edge is divided by. */
const over = { atFace: 0, rise: 0, hollow: 0, along: 1, width: 1 };

/** From a level line at height z to the inner face of `over`, `face` 1 above it, square to the face at share e. */
function wayAt(face: 1 | -1, z: number, e: number): number {
  const tilt = (over.rise + over.hollow * (1 - 2 * e)) / over.width;
  return (face * (over.atFace + e * (over.rise + over.hollow * (1 - e)) - z)) / Math.sqrt(over.along + tilt * tilt);
}

/** Deck and bottom over the strip at the current run: heights at the box face and the rib-end line, hollow, slope along the rail. */
const deck = { atFace: 0, atRib: 0, hollow: 0, slope: 0 };
const bottom = { ...deck };

/**
 * Least way out through the deck (`face` 1) or the bottom (-1) from a level edge at height z, e0 to e1 of the
 * strip's width in from the box face. The inner face leaves its chord as a parabola does; square to it the
 * height over the edge shrinks by its slopes across and along, and the skin follows.
 */
function skinCover(sizes: BoxSizes, face: 1 | -1, z: number, e0: number, e1: number): number {
  const { atFace, atRib, hollow, slope } = face === 1 ? deck : bottom;
  over.width = sizes.stripWidth;
  over.atFace = atFace;
  over.rise = atRib - atFace;
  over.along = 1 + slope * slope;
  const across = over.rise / over.width;
  over.hollow = 4 * hollow * Math.sqrt(over.along + across * across);
  let least = wayAt(face, z, e0);
  if (e1 > e0) {
    least = Math.min(least, wayAt(face, z, e1));
    // Where the face runs level across, it may come nearest between the ends.
    const level = (over.rise + over.hollow) / (2 * over.hollow);
    if (level > e0 && level < e1) least = Math.min(least, wayAt(face, z, level));
  }
  return least + (face === 1 ? sizes.deckSkin : sizes.bottomSkin);
}

/** Cover of an outer corner of the box, at the box face. */
function cornerCover(sizes: BoxSizes, z: number): number {
  const skins = Math.min(skinCover(sizes, 1, z, 0, 0), skinCover(sizes, -1, z, 0, 0));
  return Math.min(skins, roundDistance(sizes.faceOffset, z, skins));
}

/** A slot lower than this share of a spacer is none. */
const LEAST_SLOT = 1e-4;

const covers = { cover: 0, boxCover: 0 };

/** Cover, and cover of the box's own corners, of the box in sample i with `rows` in it and `slot` over them. The same object each time, filled again. */
export function coverAt(hull: Hull, sizes: BoxSizes, box: RailSamples, i: number, rows: number, slot: number): Readonly<typeof covers> {
  const d = sizes.faceOffset;
  const nx = box.nx[i], ny = box.ny[i], soleTop = box.soleTop[i], capBottom = box.capBottom[i];
  roundArcs(hull, box.u[i], nx, ny, box.x[i] - d * nx, box.y[i] - d * ny, arc);
  loadDrift(nx, ny);
  laid[0] = laid[1] = false;
  layBoxes();
  deck.atFace = box.deckFace[i];
  deck.atRib = box.deckRib[i];
  deck.hollow = box.deckHollow[i];
  deck.slope = box.capSlope[i];
  bottom.atFace = box.bottomFace[i];
  bottom.atRib = box.bottomRib[i];
  bottom.hollow = box.soleHollow[i];
  bottom.slope = box.soleSlope[i];
  covers.boxCover = Math.min(
    cornerCover(sizes, Math.min(box.capTop[i], deck.atFace)),
    cornerCover(sizes, Math.max(box.soleBottom[i], bottom.atFace)),
  );
  // With no hollow the box's own corners are all there is to cover.
  covers.cover = covers.boxCover;
  if (box.gap[i] <= 0) return covers;
  const behind = rows > 0 ? sizes.spacerWidth : 0;
  const slotted = rows > 0 && slot > LEAST_SLOT * sizes.spacerHeight;
  const top = slotted ? 0 : behind;
  const back = behind / sizes.stripWidth;
  let least = Math.min(skinCover(sizes, 1, capBottom, top / sizes.stripWidth, 1), skinCover(sizes, -1, soleTop, back, 1));
  least = Math.min(least, roundDistance(d + top, capBottom, least));
  least = Math.min(least, roundDistance(d + behind, soleTop, least));
  if (slotted) {
    const floor = capBottom - slot * Math.sqrt(1 + bottom.slope * bottom.slope);
    least = Math.min(least, skinCover(sizes, -1, floor, 0, back));
    least = Math.min(least, roundDistance(d, floor, least));
  }
  least = Math.min(least, roundDistance(d + sizes.stripWidth, soleTop, least));
  least = Math.min(least, roundDistance(d + sizes.stripWidth, capBottom, least));
  covers.cover = least;
  return covers;
}
