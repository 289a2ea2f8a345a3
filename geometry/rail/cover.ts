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

/**
 * The foot of a point q on an arc B is a root of g(t) = (B - q) . B', a quintic. In Bernstein form (Farouki & Rajan,
 * CAGD 5, 1988, from memory: products and the variation of sign) g is laid once a run without q, and q takes its
 * share of the hodograph, raised to the fifth degree. Six coefficients an arc: g, and that share's inset and z.
 */
const quintic = new Float64Array(36);
/** Whether the quintic of either arc is laid for the current run: few runs ask for both. */
const laid = [false, false];

/** Put a quadratic in Bernstein form, raised to the fifth degree, into `quintic`. */
function raise(at: number, a: number, b: number, c: number): void {
  quintic[at] = a;
  quintic[at + 1] = 0.6 * a + 0.4 * b;
  quintic[at + 2] = 0.3 * a + 0.6 * b + 0.1 * c;
  quintic[at + 3] = 0.1 * a + 0.6 * b + 0.3 * c;
  quintic[at + 4] = 0.4 * b + 0.6 * c;
  quintic[at + 5] = c;
}

/** Lay the quintic of one of the arcs in `arc`. */
function layQuintic(half: 0 | 1): void {
  laid[half] = true;
  const p = half * 6;
  const n0 = arc[p], z0 = arc[p + 1], n1 = arc[p + 2], z1 = arc[p + 3], n2 = arc[p + 4], z2 = arc[p + 5], n3 = arc[p + 6], z3 = arc[p + 7];
  const an = 3 * (n1 - n0), az = 3 * (z1 - z0), bn = 3 * (n2 - n1), bz = 3 * (z2 - z1), cn = 3 * (n3 - n2), cz = 3 * (z3 - z2);
  const q = quintic;
  const at = half * 18;
  q[at] = n0 * an + z0 * az;
  q[at + 1] = 0.4 * (n0 * bn + z0 * bz) + 0.6 * (n1 * an + z1 * az);
  q[at + 2] = 0.1 * (n0 * cn + z0 * cz) + 0.6 * (n1 * bn + z1 * bz) + 0.3 * (n2 * an + z2 * az);
  q[at + 3] = 0.3 * (n1 * cn + z1 * cz) + 0.6 * (n2 * bn + z2 * bz) + 0.1 * (n3 * an + z3 * az);
  q[at + 4] = 0.6 * (n2 * cn + z2 * cz) + 0.4 * (n3 * bn + z3 * bz);
  q[at + 5] = n3 * cn + z3 * cz;
  raise(at + 6, an, bn, cn);
  raise(at + 12, az, bz, cz);
}

/** The current arc less the point it is seen from, and its derivative, at one parameter: (inset, z) each. */
const seen = new Float64Array(4);

/** Fill `seen` from (n, z) at t of an arc. */
function see(n: number, z: number, half: 0 | 1, t: number): void {
  const p = arc;
  const at = half * 6;
  const r = 1 - t;
  const b0 = r * r * r, b1 = 3 * r * r * t, b2 = 3 * r * t * t, b3 = t * t * t;
  seen[0] = b0 * p[at] + b1 * p[at + 2] + b2 * p[at + 4] + b3 * p[at + 6] - n;
  seen[1] = b0 * p[at + 1] + b1 * p[at + 3] + b2 * p[at + 5] + b3 * p[at + 7] - z;
  const c0 = 3 * r * r, c1 = 6 * r * t, c2 = 3 * t * t;
  seen[2] = c0 * (p[at + 2] - p[at]) + c1 * (p[at + 4] - p[at + 2]) + c2 * (p[at + 6] - p[at + 4]);
  seen[3] = c0 * (p[at + 3] - p[at + 1]) + c1 * (p[at + 5] - p[at + 3]) + c2 * (p[at + 7] - p[at + 5]);
}

/** Where the search begins: nine even places of the arc. */
const SEEDS = 9;

/**
 * Parameter of the foot where the quintic may have several roots, as for a point beyond the arc's centres: nearest of
 * the seeds, then Newton on the squared distance, begun inside the arc since a chamfer's ends have no speed to leave
 * them by.
 */
function searchFoot(n: number, z: number, half: 0 | 1): number {
  let best = Infinity;
  let t = 0;
  for (let i = 0; i < SEEDS; i++) {
    see(n, z, half, i / (SEEDS - 1));
    const d = seen[0] * seen[0] + seen[1] * seen[1];
    if (d < best) {
      best = d;
      t = i / (SEEDS - 1);
    }
  }
  t = Math.min(0.97, Math.max(0.03, t));
  const p = arc;
  const at = half * 6;
  for (let k = 0; k < 10; k++) {
    see(n, z, half, t);
    const ax = 6 * ((1 - t) * (p[at + 4] - 2 * p[at + 2] + p[at]) + t * (p[at + 6] - 2 * p[at + 4] + p[at + 2]));
    const az = 6 * ((1 - t) * (p[at + 5] - 2 * p[at + 3] + p[at + 1]) + t * (p[at + 7] - 2 * p[at + 5] + p[at + 3]));
    const g = seen[0] * seen[2] + seen[1] * seen[3];
    const tt = seen[2] * seen[2] + seen[3] * seen[3];
    const h = tt + seen[0] * ax + seen[1] * az;
    // Where the distance is not convex in t Newton would climb: step by the tangent alone.
    const step = h > 0.2 * tt ? g / h : tt > 0 ? g / tt : 0;
    const next = Math.min(1, Math.max(0, t - step));
    if (Math.abs(next - t) < 1e-9) return next;
    t = next;
  }
  return t;
}

/**
 * Parameter of the point of an arc (half 0 tuck to apex, 1 apex to deck) nearest to corner c. The roots of a quintic are
 * no more than the changes of sign among its coefficients: with none the nearest is an end; with one, from minus to
 * plus, it is the root, by Newton inside a bracket from where the coefficients' polygon crosses zero.
 */
function footOn(c: number, half: 0 | 1): number {
  if (!laid[half]) layQuintic(half);
  const n = corners[2 * c], z = corners[2 * c + 1];
  const q = quintic;
  const at = half * 18;
  const g0 = q[at] - n * q[at + 6] - z * q[at + 12];
  const g1 = q[at + 1] - n * q[at + 7] - z * q[at + 13];
  const g2 = q[at + 2] - n * q[at + 8] - z * q[at + 14];
  const g3 = q[at + 3] - n * q[at + 9] - z * q[at + 15];
  const g4 = q[at + 4] - n * q[at + 10] - z * q[at + 16];
  const g5 = q[at + 5] - n * q[at + 11] - z * q[at + 17];
  // How many are under zero, and how many of those begin the row: all of them where minus turns to plus once.
  const minus = (g0 < 0 ? 1 : 0) + (g1 < 0 ? 1 : 0) + (g2 < 0 ? 1 : 0) + (g3 < 0 ? 1 : 0) + (g4 < 0 ? 1 : 0) + (g5 < 0 ? 1 : 0);
  if (minus === 0) return 0;
  if (minus === 6) return 1;
  const first = g0 >= 0 ? 0 : g1 >= 0 ? 1 : g2 >= 0 ? 2 : g3 >= 0 ? 3 : g4 >= 0 ? 4 : 5;
  if (first !== minus) return searchFoot(n, z, half);
  const below = first === 1 ? g0 : first === 2 ? g1 : first === 3 ? g2 : first === 4 ? g3 : g4;
  const above = first === 1 ? g1 : first === 2 ? g2 : first === 3 ? g3 : first === 4 ? g4 : g5;
  // As powers of t.
  const c1 = 5 * (g1 - g0);
  const c2 = 10 * (g2 - 2 * g1 + g0);
  const c3 = 10 * (g3 - g0 + 3 * (g1 - g2));
  const c4 = 5 * (g4 + g0 - 4 * (g3 + g1) + 6 * g2);
  const c5 = g5 - g0 + 5 * (g1 - g4) + 10 * (g3 - g2);
  let low = 0, high = 1;
  let t = (first - 1 + below / (below - above)) / 5;
  for (let k = 0; k < 60; k++) {
    const g = g0 + t * (c1 + t * (c2 + t * (c3 + t * (c4 + t * c5))));
    const slope = c1 + t * (2 * c2 + t * (3 * c3 + t * (4 * c4 + t * (5 * c5))));
    if (g < 0) low = t;
    else high = t;
    const newton = t - g / slope;
    const next = newton > low && newton < high ? newton : (low + high) / 2;
    // Newton squares the error: from a step this short nothing is left to check.
    if (Math.abs(next - t) < 1e-6) return next;
    t = next;
  }
  return t;
}

/** Seven numbers an arc: least and greatest inset and height, its chord's inward normal, and the greatest way along that. */
const boxes = new Float64Array(14);
/** The least share of a way in the plane that is left in space. */
let taper = 0;

/** Lay boxes and taper: a Bezier arc lies within its control points, as its drift does within theirs. */
function layBoxes(): void {
  for (let b = 0, p = 0; b < 14; b += 7, p += 6) {
    const n0 = arc[p], z0 = arc[p + 1], n1 = arc[p + 2], z1 = arc[p + 3], n2 = arc[p + 4], z2 = arc[p + 5], n3 = arc[p + 6], z3 = arc[p + 7];
    const chord = Math.sqrt((n3 - n0) * (n3 - n0) + (z3 - z0) * (z3 - z0));
    const cn = chord > 0 ? (z3 - z0) / chord : 0, cz = chord > 0 ? (n0 - n3) / chord : 0;
    boxes[b] = Math.min(n0, n1, n2, n3);
    boxes[b + 1] = Math.max(n0, n1, n2, n3);
    boxes[b + 2] = Math.min(z0, z1, z2, z3);
    boxes[b + 3] = Math.max(z0, z1, z2, z3);
    boxes[b + 4] = cn;
    boxes[b + 5] = cz;
    boxes[b + 6] = Math.max(cn * n0 + cz * z0, cn * n1 + cz * z1, cn * n2 + cz * z2);
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
  const b = half * 7;
  const under = boxes[b + 2] - z;
  const over = z - boxes[b + 3];
  if ((half === 0 ? under : over) > 0) return true;
  const reach = limit / taper;
  if (boxes[b + 4] * n + boxes[b + 5] * z - boxes[b + 6] >= reach) return false;
  const dn = Math.max(0, boxes[b] - n, n - boxes[b + 1]);
  const dz = Math.max(0, under, over);
  return dn * dn + dz * dz < reach * reach;
}

/** A foot nearer than this to an arc's end, in the arc's own parameter, is at the end. */
const AT_END = 2e-3;

/** Whether corner c lies outside the round, as the foot that is `seen` at t of an arc tells. */
function isOutside(c: number, half: 0 | 1, t: number): boolean {
  const end = t < AT_END ? -1 : t > 1 - AT_END ? 1 : 0;
  // Tuck to deck runs round the outside: from inside, the curve's tangent turns left of the way to it.
  if (end === 0) return seen[0] * seen[3] - seen[1] * seen[2] > 0;
  // At the apex, corner or not, outboard is outside; past the round's own ends deck and bottom decide.
  return (half === 0) === (end === 1) && corners[2 * c] < arc[6];
}

/** Corners to be covered, (inset, z) each. */
const corners = new Float64Array(12);

/**
 * The least of `least` and of the signed distances from the first `count` corners to the round, positive on the timber
 * side. An arc that cannot come nearer is not asked: most corners are far from one or both.
 */
function leastToRound(count: number, least: number): number {
  for (let c = 0; c < count; c++) {
    const n = corners[2 * c], z = corners[2 * c + 1];
    let near = Infinity;
    let signed = Infinity;
    for (let half: 0 | 1 = 0; ; half = 1) {
      const limit = Math.min(least, near);
      if (!(least > 0) || mayReach(n, z, half, limit)) {
        const t = footOn(c, half);
        see(n, z, half, t);
        const outside = isOutside(c, half, t);
        const inPlane = Math.sqrt(seen[0] * seen[0] + seen[1] * seen[1]);
        const distance = !outside && inPlane * taper >= limit ? inPlane : slanted(t, half);
        if (distance < near) {
          near = distance;
          signed = outside ? -near : near;
        }
      }
      if (half === 1) break;
    }
    least = Math.min(least, signed);
  }
  return least;
}

/**
 * The shortest way to the round's tangent plane, where the shortest in the section is the one that is `seen` at t of an
 * arc: the rail tapers, so the true foot lies a little along it. What the plane's own curvature takes is of third order.
 */
function slanted(t: number, half: 0 | 1): number {
  const dx = seen[0], dz = seen[1], tx = seen[2], tz = seen[3];
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

/**
 * An inner face over the strip at the current run: which way is out, its height at the box face, what it rises to the
 * rib-end line, how hollow it is between as a parabola, 1 and the square of its slope along the rail, the skin on it;
 * and where the strip lies.
 */
const inner = (way: 1 | -1) => ({ way, atFace: 0, rise: 0, hollow: 0, along: 1, skin: 0, inset: 0, width: 1 });
const deck = inner(1);
const bottom = inner(-1);
const faces = [deck, bottom] as const;

/** Lay both from sample i. */
function layInner(sizes: BoxSizes, box: RailSamples, i: number): void {
  deck.skin = sizes.deckSkin;
  deck.atFace = box.deckFace[i];
  deck.rise = box.deckRib[i] - box.deckFace[i];
  deck.along = 1 + box.capSlope[i] * box.capSlope[i];
  deck.hollow = 4 * box.deckHollow[i];
  bottom.skin = sizes.bottomSkin;
  bottom.atFace = box.bottomFace[i];
  bottom.rise = box.bottomRib[i] - box.bottomFace[i];
  bottom.along = 1 + box.soleSlope[i] * box.soleSlope[i];
  bottom.hollow = 4 * box.soleHollow[i];
  for (const face of faces) {
    face.inset = sizes.faceOffset;
    face.width = sizes.stripWidth;
    face.hollow *= Math.sqrt(face.along + (face.rise / face.width) * (face.rise / face.width));
  }
}

/** From a level line at height z to the inner face, square to it at share e of the strip's width in from the box face. */
function wayAt(face: typeof deck, z: number, e: number): number {
  const tilt = (face.rise + face.hollow * (1 - 2 * e)) / face.width;
  return (face.way * (face.atFace + e * (face.rise + face.hollow * (1 - e)) - z)) / Math.sqrt(face.along + tilt * tilt);
}

/** Least way out through the deck or the bottom from the level edge that runs from corner `from` in to corner `to`, or from one corner. */
function skinCover(face: typeof deck, from: number, to: number): number {
  const z = corners[2 * from + 1];
  const e0 = (corners[2 * from] - face.inset) / face.width;
  let least = wayAt(face, z, e0);
  if (to !== from) {
    const e1 = (corners[2 * to] - face.inset) / face.width;
    least = Math.min(least, wayAt(face, z, e1));
    // Where the face runs level across, it may come nearest between the ends.
    const level = (face.rise + face.hollow) / (2 * face.hollow);
    if (level > e0 && level < e1) least = Math.min(least, wayAt(face, z, level));
  }
  return least + face.skin;
}

/** A slot lower than this share of a spacer is none. */
const LEAST_SLOT = 1e-4;

const covers = { cover: 0, boxCover: 0 };

/** Cover, and cover of the box's own corners, of the box in sample i with `rows` in it and `slot` over them. The same object each time, filled again. */
export function coverAt(hull: Hull, sizes: BoxSizes, box: RailSamples, i: number, rows: number, slot: number): Readonly<typeof covers> {
  const d = sizes.faceOffset;
  const nx = box.nx[i], ny = box.ny[i];
  roundArcs(hull, box.u[i], nx, ny, box.x[i] - d * nx, box.y[i] - d * ny, arc);
  loadDrift(nx, ny);
  laid[0] = laid[1] = false;
  layBoxes();
  layInner(sizes, box, i);
  const c = corners;
  // The box's own outer corners.
  c[0] = c[2] = d;
  c[1] = Math.min(box.capTop[i], box.deckFace[i]);
  c[3] = Math.max(box.soleBottom[i], box.bottomFace[i]);
  covers.boxCover = leastToRound(2, Math.min(skinCover(deck, 0, 0), skinCover(bottom, 0, 0), skinCover(deck, 1, 1), skinCover(bottom, 1, 1)));
  // With no hollow the box's own corners are all there is to cover.
  covers.cover = covers.boxCover;
  if (box.gap[i] <= 0) return covers;
  // The hollow's: above and behind the rows, its slot's floor, and at the rib-end line.
  const behind = rows > 0 ? sizes.spacerWidth : 0;
  const slotted = rows > 0 && slot > LEAST_SLOT * sizes.spacerHeight;
  c[0] = slotted ? d : d + behind;
  c[2] = c[10] = d + behind;
  c[4] = c[6] = d + sizes.stripWidth;
  c[1] = c[7] = box.capBottom[i];
  c[3] = c[5] = box.soleTop[i];
  c[8] = d;
  c[9] = c[11] = box.capBottom[i] - slot * Math.sqrt(bottom.along);
  let least = Math.min(skinCover(deck, 0, 3), skinCover(bottom, 1, 2));
  if (slotted) least = Math.min(least, skinCover(bottom, 4, 5));
  covers.cover = leastToRound(slotted ? 5 : 4, least);
  return covers;
}
