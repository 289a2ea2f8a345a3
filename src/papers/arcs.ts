/** Lines through points as straight runs and arcs of circles, for machines that run smoother on few long pieces than on many short ones. */
import { turnsOf } from '../../geometry/curves/polygon';
import { tidy, type Stroke } from './drawing';

/** A place of a line and how the way on from it bulges: the tangent of a quarter of the arc's turn, counter-clockwise positive, 0 where it is straight (DXF reference, LWPOLYLINE, group 42). */
export interface Bend {
  readonly x: number;
  readonly y: number;
  readonly bulge: number;
}

/** No arc turns farther: the tangent of a quarter of 150 degrees. */
const MOST_BULGE = Math.tan((150 * Math.PI) / 180 / 4);
/** Fewest pieces of a line that one arc stands for. */
const LEAST_PIECES = 3;

/** Points that differ, as x and y of each. */
function distinct(points: ArrayLike<number>, closed: boolean): [number, number][] {
  const kept: [number, number][] = [];
  for (let i = 0; i + 1 < points.length; i += 2) {
    const [x, y] = [tidy(points[i]), tidy(points[i + 1])];
    const last = kept.at(-1);
    if (!last || last[0] !== x || last[1] !== y) kept.push([x, y]);
  }
  while (closed && kept.length > 1 && kept[0][0] === kept[kept.length - 1][0] && kept[0][1] === kept[kept.length - 1][1]) kept.pop();
  return kept;
}

/** A line's points, and room for as many in the frame of a chord. */
interface Points {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly u: Float64Array;
  readonly v: Float64Array;
}

/**
 * The bulge of one arc from point i to point j that keeps within the tolerance of every point and every piece between; 0 where a straight
 * line does; undefined where none does. In the chord's frame (half its length a, u along it, v to its left) an arc of bulge b stands about
 * -a b (1 - (u / a)^2) off the chord, so that each point asks for b within an interval: the middle of what all allow, then measured exactly.
 */
function bulgeOf(p: Points, i: number, j: number, tolerance: number): number | undefined {
  const { x, y, u: us, v: vs } = p;
  const n = x.length;
  const [ax, ay, bx, by] = [x[i % n], y[i % n], x[j % n], y[j % n]];
  const a = Math.hypot(bx - ax, by - ay) / 2;
  if (a === 0) return undefined;
  const cx = (bx - ax) / (2 * a), cy = (by - ay) / (2 * a), mx = (ax + bx) / 2, my = (ay + by) / 2;
  let low = -MOST_BULGE, high = MOST_BULGE, before = -a, straight = true;
  for (let k = i; k <= j; k++) {
    const dx = x[k % n] - mx, dy = y[k % n] - my;
    const u = dx * cx + dy * cy, v = dy * cx - dx * cy;
    us[k - i] = u;
    vs[k - i] = v;
    if (k === i || k === j) continue;
    if (u <= before || u >= a) return undefined;
    before = u;
    const weight = a * (1 - (u / a) ** 2);
    const c = (u * u + v * v - a * a) / (2 * Math.abs(v) || Infinity);
    const own = v === 0 ? 0 : (-Math.sign(v) * (Math.hypot(c, a) + c)) / a;
    low = Math.max(low, own - tolerance / weight);
    high = Math.min(high, own + tolerance / weight);
    straight &&= Math.abs(v) <= tolerance;
    // Neither can be any more.
    if (low > high && !straight) return undefined;
  }
  if (straight) return 0;
  const bulge = (low + high) / 2;
  if (bulge === 0) return undefined;
  const centre = (a * (1 - bulge * bulge)) / (2 * bulge);
  const radius = Math.hypot(a, centre);
  let u0 = us[0], v0 = vs[0];
  for (let k = 1; k <= j - i; k++) {
    const u = us[k], v = vs[k];
    // A piece strays most at its ends, or inward where it is nearest the centre.
    const du = u - u0, dv = v - v0;
    const t = Math.min(1, Math.max(0, -(u0 * du + (v0 - centre) * dv) / (du * du + dv * dv)));
    if (away(u, v - centre, radius) > tolerance || away(u0 + t * du, v0 + t * dv - centre, radius) > tolerance) return undefined;
    u0 = u;
    v0 = v;
  }
  return bulge;
}

/** How far off a circle about (0, 0) a point is. */
const away = (u: number, v: number, radius: number): number => Math.abs(Math.sqrt(u * u + v * v) - radius);

/**
 * A line through (x, y) pairs, mm, as few straight runs and arcs that keep within `tolerance` of it, mm, and it of them; every end of a
 * piece is a point of the line. An edge that no curve of that tolerance could have been drawn as stays straight to the last digit. The
 * arcs meet without regard to tangents. The last bend of a closed line leads back to its first.
 */
export function asBends(points: ArrayLike<number>, closed: boolean, tolerance: number): Bend[] {
  const found = distinct(points, closed);
  if (found.length < 3) return found.map(([x, y]) => ({ x, y, bulge: 0 }));
  const n = found.length;
  const last = closed ? n : n - 1;
  const turn = turnsOf(found, closed);
  // A curve as long as the piece that turns as it does at its ends would stand this far off it.
  const edges = Array.from({ length: last }, (_, k) => {
    const [[ax, ay], [bx, by]] = [found[k], found[(k + 1) % n]];
    return (Math.hypot(bx - ax, by - ay) * Math.max(Math.abs(turn[k]), Math.abs(turn[(k + 1) % n]))) / 8 > tolerance;
  });
  // A closed line begins where an edge ends, if it has one, and there where it turns most.
  const sharp = (k: number) => Math.abs(turn[k]) + (edges[(k + n - 1) % n] ? 10 : 0);
  const first = closed ? found.reduce((best, _, k) => (sharp(k) > sharp(best) + 1e-9 ? k : best), 0) : 0;
  const turned = [...found.slice(first), ...found.slice(0, first)];
  const p: Points = { x: Float64Array.from(turned, ([x]) => x), y: Float64Array.from(turned, ([, y]) => y), u: new Float64Array(n + 1), v: new Float64Array(n + 1) };
  // How many edges come before each piece.
  const before = [0];
  for (let k = 0; k < edges.length; k++) before.push(before[k] + (edges[(k + first) % edges.length] ? 1 : 0));
  const bends: Bend[] = [];
  for (let i = 0; i < last;) {
    let [to, bulge] = [i + 1, 0];
    for (let j = i + 2; j <= last; j++) {
      const next = bulgeOf(p, i, j, tolerance);
      if (next === undefined || (next !== 0 && before[j] > before[i])) {
        // Too few pieces for an arc yet, or none for one: a little farther there may be.
        if (j - i >= LEAST_PIECES) break;
      } else if (next === 0 || j - i >= LEAST_PIECES) {
        [to, bulge] = [j, next];
      }
    }
    bends.push({ x: p.x[i], y: p.y[i], bulge });
    i = to;
  }
  if (!closed) bends.push({ x: p.x[n - 1], y: p.y[n - 1], bulge: 0 });
  return bends;
}

const known = new WeakMap<Stroke, { readonly within: number; readonly bends: readonly Bend[] }>();

/** A stroke as arcs: for every file that it goes into the same, found once. */
export function strokeBends(stroke: Stroke, within: number): readonly Bend[] {
  const kept = known.get(stroke);
  if (kept?.within === within) return kept.bends;
  const bends = asBends(stroke.points, stroke.closed, within);
  known.set(stroke, { within, bends });
  return bends;
}
