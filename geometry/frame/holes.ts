/**
 * Lightening holes in a plate between two edges: rounded, with a least web to every edge and between holes.
 * Own geometry rather than polygon offsets, because each hole keeps the same number of points while sizes
 * move, and a viewer can then update a mesh in place. What is cut has more of them round its corners.
 */

/** Longest hole, as times its height and at least in mm; own choice: a post carries the deck between holes. */
const HOLE_STRETCH = 3;
const HOLE_LONG = 60;
/** A hole lower or shorter than this is not worth the cut, mm; own choice. */
const LEAST_HOLE = 8;
/** Corner radius where the hole is high enough, mm; own choice. */
const HOLE_RADIUS = 6;
/**
 * Limber holes, mm: where no lightening hole fits, a small one still lets the air of a bay move, which swells in the
 * sun. Diameter, the least worth cutting, and timber left to either edge; own choice.
 */
export const LIMBER = 8;
const LEAST_LIMBER = 3;
export const LIMBER_LAND = 4;
/** What a beam leaves whole in the middle of the least hole that it goes round, mm: own choice. */
const CORE = 0.5;
/** Kept beyond the least web, mm, so that chords of curved edges never cut into it. */
const CARE = 0.05;
/** Step at which a plate's height is looked at along its length, mm. */
const SCAN_STEP = 4;
/** Sizes and places tried for a limber hole. */
const LIMBER_TRIES = 10;

/** How finely what is round is drawn: on a stage, where its edges have fewer points too; to be seen in a file; or to be cut, where the largest corner's chords stand 0.013 mm off it. */
export type Rounding = 'staged' | 'seen' | 'cut';
/** Segments round each corner of a hole, and points round a limber hole. */
const CORNER_PARTS: Readonly<Record<Rounding, number>> = { staged: 3, seen: 3, cut: 12 };
/** Segments along each long edge of a hole; on a stage every so manieth point of it, and of a rib's edges, is enough. */
const EDGE_PARTS = 8;
export const EVERY: Readonly<Record<Rounding, number>> = { staged: 2, seen: 1, cut: 1 };
const LIMBER_POINTS: Readonly<Record<Rounding, number>> = { staged: 16, seen: 16, cut: 48 };

/** A plate's two edges as (p, z) pairs in rising p. */
export interface Plate {
  readonly low: Float64Array;
  readonly high: Float64Array;
}

/**
 * The nearest z to an edge, above it (side 1) or below it (side -1), at which a point (p, z) is still
 * `distance` away from every segment and vertex of the edge: exact for the polyline.
 */
function clearOf(edge: Float64Array, side: 1 | -1, p: number, distance: number): number {
  let z = -Infinity;
  let start = 0;
  for (let high = edge.length / 2 - 1; high - start > 1;) {
    const mid = (start + high) >> 1;
    if (edge[2 * mid] <= p - distance) start = mid;
    else high = mid;
  }
  for (let i = 2 * start; i < edge.length; i += 2) {
    const off = p - edge[i];
    if (-off > distance) break;
    if (off < distance && -off < distance) z = Math.max(z, side * edge[i + 1] + Math.sqrt(distance * distance - off * off));
    if (i + 2 === edge.length) break;
    const dp = edge[i + 2] - edge[i];
    const dz = edge[i + 3] - edge[i + 1];
    if (dp > 0) {
      const m = dz / dp;
      const l = Math.sqrt(1 + m * m);
      // Foot of the point at that distance from the segment's line.
      const at = edge[i + 1] + m * off + side * distance * l;
      const foot = (off + m * (at - edge[i + 1])) / (l * l);
      if (foot >= 0 && foot <= dp) z = Math.max(z, side * at);
    }
  }
  return side * z;
}

/** Clear height between the webs of both edges at p. */
const clearance = (band: Plate, p: number, distance: number): number =>
  clearOf(band.high, -1, p, distance) - clearOf(band.low, 1, p, distance);

/**
 * Holes between p = from and p = to (both already a web away from whatever stands there), each a clockwise
 * loop of (p, z) pairs. `web` is the least timber to either edge and between two holes. None where the plate
 * is too low.
 */
function lighten(band: Plate, from: number, to: number, web: number, rounding: Rounding): Float64Array[] {
  const room = web + CARE;
  const steps = Math.max(1, Math.ceil((to - from) / SCAN_STEP));
  const at = (i: number) => from + ((to - from) * i) / steps;
  const out: Float64Array[] = [];
  let start = -1;
  for (let i = 0; i <= steps + 1; i++) {
    const high = i <= steps && to > from && clearance(band, at(i), room) >= LEAST_HOLE;
    if (high && start < 0) start = i;
    if (!high && start >= 0) {
      out.push(...divide(band, at(start), at(i - 1), room, rounding));
      start = -1;
    }
  }
  return out;
}

/**
 * Lightening holes, or where there are none one limber hole between p = low and p = high (stands' edges, no web
 * taken off); none where the plate is too low even for that, or only for one that the beam's `kerf` would burn whole.
 */
export function breathing(band: Plate, from: number, to: number, web: number, low: number, high: number, kerf: number, rounding: Rounding): Float64Array[] {
  const light = lighten(band, from, to, web, rounding);
  return light.length > 0 ? light : limber(band, low, high, Math.max(LEAST_LIMBER, kerf + CORE), LIMBER_POINTS[rounding]);
}

/** A round hole for the air: its middle in its part's own plane, and its diameter, mm. */
export interface LimberHole {
  readonly at: readonly [number, number];
  readonly diameter: number;
}

/** The limber holes among a part's holes: those that are round, whatever was cut beside them. */
export function limbersOf(holes: readonly Float64Array[]): LimberHole[] {
  return holes.filter(({ length }) => Object.values(LIMBER_POINTS).includes(length / 2)).flatMap((loop): LimberHole[] => {
    const n = loop.length / 2;
    let [p, z] = [0, 0];
    for (let i = 0; i < loop.length; i += 2) {
      p += loop[i] / n;
      z += loop[i + 1] / n;
    }
    const radii = Array.from({ length: n }, (_, i) => Math.hypot(loop[2 * i] - p, loop[2 * i + 1] - z));
    return Math.max(...radii) - Math.min(...radii) < 1e-6 ? [{ at: [p, z], diameter: 2 * radii[0] }] : [];
  });
}

/** The largest limber hole that fits, halfway up where the plate is highest, clockwise. */
function limber(band: Plate, from: number, to: number, least: number, points: number): Float64Array[] {
  for (let k = 0; k <= LIMBER_TRIES; k++) {
    const r = (LIMBER + ((Math.min(LIMBER, least) - LIMBER) * k) / LIMBER_TRIES) / 2;
    const room = r + LIMBER_LAND + CARE;
    const [p0, p1] = [from + r + LIMBER_LAND, to - r - LIMBER_LAND];
    if (!(p1 >= p0)) continue;
    let [at, best] = [p0, -Infinity];
    for (let i = 0; i <= LIMBER_TRIES; i++) {
      const p = p0 + ((p1 - p0) * i) / LIMBER_TRIES;
      const clear = clearance(band, p, room);
      if (clear > best) [at, best] = [p, clear];
    }
    if (best < 0) continue;
    const z = (clearOf(band.low, 1, at, room) + clearOf(band.high, -1, at, room)) / 2;
    const angle = (i: number) => (-2 * Math.PI * i) / points;
    return [Float64Array.from({ length: 2 * points }, (_, i) => (i % 2 === 0 ? at + r * Math.cos(angle(i >> 1)) : z + r * Math.sin(angle(i >> 1))))];
  }
  return [];
}

/** One clear stretch divided into holes with posts between them. */
function divide(band: Plate, from: number, to: number, room: number, rounding: Rounding): Float64Array[] {
  let height = 0;
  for (let i = 0; i <= 4; i++) height += clearance(band, from + ((to - from) * i) / 4, room) / 5;
  const longest = Math.max(HOLE_LONG, HOLE_STRETCH * height);
  const count = Math.max(1, Math.ceil((to - from + room) / (longest + room)));
  const length = (to - from - (count - 1) * room) / count;
  if (length < LEAST_HOLE) return [];
  return Array.from({ length: count }, (_, i) => hole(band, from + i * (length + room), length, room, rounding));
}

/** One rounded hole: a core further from the edges by the corner radius, and a disc of that radius run round it. */
function hole(band: Plate, from: number, length: number, room: number, rounding: Rounding): Float64Array {
  const corner = CORNER_PARTS[rounding];
  let least = Infinity;
  for (let i = 0; i <= EDGE_PARTS; i++) least = Math.min(least, clearance(band, from + (length * i) / EDGE_PARTS, room));
  const r = Math.min(HOLE_RADIUS, 0.45 * least, 0.45 * length);
  const top: [number, number][] = [];
  const bottom: [number, number][] = [];
  for (let i = 0; i <= EDGE_PARTS; i += EVERY[rounding]) {
    const p = from + r + ((length - 2 * r) * i) / EDGE_PARTS;
    const high = clearOf(band.high, -1, p, room + r);
    const low = clearOf(band.low, 1, p, room + r);
    // Two edges that turn toward each other may leave the core no height: it then shrinks to its middle.
    top.push([p, Math.max(high, (high + low) / 2)]);
    bottom.push([p, Math.min(low, (high + low) / 2)]);
  }
  const points: number[] = [];
  // Clockwise: along the top toward rising p, back along the bottom.
  const side = (line: readonly (readonly [number, number])[], up: 1 | -1) => {
    const normal = (i: number): number => {
      const [a, b] = [line[Math.max(0, i - 1)], line[Math.min(line.length - 1, i + 1)]];
      return Math.atan2(b[1] - a[1], b[0] - a[0]) + Math.PI / 2;
    };
    const first = normal(0);
    const last = normal(line.length - 1);
    const around = (i: number, angle: number) => points.push(line[i][0] + r * Math.cos(angle), line[i][1] + r * Math.sin(angle));
    const start = up === 1 ? Math.PI : 0;
    for (let k = 0; k < corner; k++) around(0, start + ((wrap(first - start)) * k) / corner);
    for (let i = 0; i < line.length; i++) around(i, normal(i));
    const end = start + Math.PI;
    for (let k = 1; k <= corner; k++) around(line.length - 1, last + (wrap(end - last) * k) / corner);
  };
  side(top, 1);
  side(bottom.reverse(), -1);
  return Float64Array.from(points);
}

/** An angle brought into (-pi, pi]. */
function wrap(angle: number): number {
  const turn = angle - 2 * Math.PI * Math.round(angle / (2 * Math.PI));
  return turn <= -Math.PI ? turn + 2 * Math.PI : turn;
}
