/**
 * Cover: the least timber between the hollow (and the box's own corners) and the finished outside, in the
 * plane square to the rail. The rail round is lofted in just these planes, so its section there is exact; the
 * shortest way leaves the plane where the rail tapers, and is then measured to the tangent plane of its foot.
 */
import { evalSpline } from '../curves/bspline';
import type { Hull, RailSection } from '../types';
import type { BoxSizes } from './sizes';

const basis = new Float64Array(12);
const row = new Float64Array(63);
/** Finished section at the current run: seven control points as (inset from the outline, z). */
const arc = new Float64Array(14);
/** How those points move per unit of u: (along the rail, inset, z) each. */
const drift = new Float64Array(21);

/** Load the round's section at u into (inset, z) control points. */
export function roundArcs(hull: Hull, u: number, nx: number, ny: number, outlineX: number, outlineY: number, out: Float64Array): Float64Array {
  evalSpline(hull.round, u, row, basis);
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

/** Samples along one arc from which the nearest point is sought. */
const SEEDS = 9;
/** Cubic Bernstein polynomials at the seeds: b0..b3 each. */
const bernstein = Float64Array.from({ length: SEEDS * 4 }, (_, k) => {
  const t = (k >> 2) / (SEEDS - 1);
  const r = 1 - t;
  return [r * r * r, 3 * r * r * t, 3 * r * t * t, t * t * t][k & 3];
});
/** The seeds of both arcs as (inset, z). */
const seeds = new Float64Array(SEEDS * 4);

/** Lay the seeds of both arcs in `arc`. */
function laySeeds(): void {
  for (let half = 0; half < 2; half++) {
    const p = half * 6;
    for (let i = 0; i < SEEDS; i++) {
      const b = i * 4;
      const to = 2 * (half * SEEDS + i);
      for (let d = 0; d < 2; d++) {
        seeds[to + d] = bernstein[b] * arc[p + d] + bernstein[b + 1] * arc[p + d + 2]
          + bernstein[b + 2] * arc[p + d + 4] + bernstein[b + 3] * arc[p + d + 6];
      }
    }
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

/** Signed distance from (n, z) to the round: positive on the timber side. */
function roundDistance(n: number, z: number): number {
  seekFoot(n, z, 0);
  const { distance, side } = foot;
  seekFoot(n, z, 1);
  return distance < foot.distance ? side * distance : foot.side * foot.distance;
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

/** Least cover of a point n in from the outline: to both arcs of the round, to deck and to bottom outside. */
function coverOf(sizes: BoxSizes, box: RailSection, n: number, z: number): number {
  const inFromFace = (n - sizes.faceOffset) / sizes.stripWidth;
  const deck = box.deckFace + (box.deckRib - box.deckFace) * inFromFace;
  const bottom = box.bottomFace + (box.bottomRib - box.bottomFace) * inFromFace;
  // Deck and bottom leave their chords as parabolas do.
  const between = 4 * inFromFace * (1 - inFromFace);
  return Math.min(
    roundDistance(n, z),
    (deck - z) * Math.cos(box.bevel) / Math.sqrt(1 + box.capSlope * box.capSlope) + between * box.deckHollow + sizes.deckSkin,
    (z - bottom) * Math.cos(box.soleBevel) / Math.sqrt(1 + box.soleSlope * box.soleSlope) - between * box.soleHollow + sizes.bottomSkin,
  );
}

/** A slot lower than this share of a spacer is none. */
const LEAST_SLOT = 1e-4;

/** Fill cover and boxCover of a section whose box heights, rows and slot are set. */
export function coverAt(hull: Hull, sizes: BoxSizes, out: RailSection): void {
  const d = sizes.faceOffset;
  roundArcs(hull, out.u, out.nx, out.ny, out.x - d * out.nx, out.y - d * out.ny, arc);
  loadDrift(out.nx, out.ny);
  laySeeds();
  out.boxCover = Math.min(
    coverOf(sizes, out, d, Math.min(out.capTop, out.deckFace)),
    coverOf(sizes, out, d, Math.max(out.soleBottom, out.bottomFace)),
  );
  if (out.gap <= 0) {
    // No hollow: the box's own corners are all there is to cover.
    out.cover = out.boxCover;
    return;
  }
  const back = out.rows > 0 ? d + sizes.spacerWidth : d;
  out.cover = Math.min(coverOf(sizes, out, back, out.soleTop), coverOf(sizes, out, back, out.capBottom));
  if (out.rows > 0 && out.slot > LEAST_SLOT * sizes.spacerHeight) {
    const top = out.capBottom - out.slot * Math.sqrt(1 + out.soleSlope * out.soleSlope);
    out.cover = Math.min(out.cover, coverOf(sizes, out, d, out.capBottom), coverOf(sizes, out, d, top));
  }
}
