/** Lines through points as straight runs and arcs of circles, for machines that run smoother on few long pieces than on many short ones. */
import { turnsOf } from '../../geometry/curves/polygon';
import { tidy } from './drawing';

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

/**
 * The bulge of one arc from point i to point j that keeps within the tolerance of every point and every piece between; 0 where a straight
 * line does; undefined where none does. In the chord's frame (half its length a, u along it, v to its left) an arc of bulge b stands about
 * -a b (1 - (u / a)^2) off the chord, so that each point asks for b within an interval: the middle of what all allow, then measured exactly.
 */
function bulgeOf(p: readonly (readonly [number, number])[], i: number, j: number, tolerance: number): number | undefined {
  const n = p.length;
  const [[ax, ay], [bx, by]] = [p[i % n], p[j % n]];
  const a = Math.hypot(bx - ax, by - ay) / 2;
  if (a === 0) return undefined;
  const [cx, cy, mx, my] = [(bx - ax) / (2 * a), (by - ay) / (2 * a), (ax + bx) / 2, (ay + by) / 2];
  const frame = (k: number): [number, number] => {
    const [x, y] = p[k % n];
    return [(x - mx) * cx + (y - my) * cy, (y - my) * cx - (x - mx) * cy];
  };
  let [low, high, before, straight] = [-MOST_BULGE, MOST_BULGE, -a, true];
  for (let k = i + 1; k < j; k++) {
    const [u, v] = frame(k);
    if (u <= before || u >= a) return undefined;
    before = u;
    const weight = a * (1 - (u / a) ** 2);
    const c = (u * u + v * v - a * a) / (2 * Math.abs(v) || Infinity);
    const own = v === 0 ? 0 : (-Math.sign(v) * (Math.hypot(c, a) + c)) / a;
    low = Math.max(low, own - tolerance / weight);
    high = Math.min(high, own + tolerance / weight);
    straight &&= Math.abs(v) <= tolerance;
  }
  if (straight) return 0;
  if (low > high) return undefined;
  const bulge = (low + high) / 2;
  if (bulge === 0) return undefined;
  const centre = (a * (1 - bulge * bulge)) / (2 * bulge);
  const radius = Math.hypot(a, centre);
  const off = ([u, v]: readonly [number, number]) => Math.abs(Math.hypot(u, v - centre) - radius);
  let [u0, v0] = frame(i);
  for (let k = i + 1; k <= j; k++) {
    const [u, v] = frame(k);
    // A piece strays most at its ends, or inward where it is nearest the centre.
    const [du, dv] = [u - u0, v - v0];
    const t = Math.min(1, Math.max(0, -(u0 * du + (v0 - centre) * dv) / (du * du + dv * dv)));
    if (off([u, v]) > tolerance || off([u0 + t * du, v0 + t * dv]) > tolerance) return undefined;
    [u0, v0] = [u, v];
  }
  return bulge;
}

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
  const p = [...found.slice(first), ...found.slice(0, first)];
  const edge = [...edges.slice(first), ...edges.slice(0, first)];
  const bends: Bend[] = [];
  for (let i = 0; i < last;) {
    let [to, bulge] = [i + 1, 0];
    for (let j = i + 2; j <= last; j++) {
      const next = bulgeOf(p, i, j, tolerance);
      if (next === undefined || (next !== 0 && edge.slice(i, j).some(Boolean))) {
        // Too few pieces for an arc yet, or none for one: a little farther there may be.
        if (j - i >= LEAST_PIECES) break;
      } else if (next === 0 || j - i >= LEAST_PIECES) {
        [to, bulge] = [j, next];
      }
    }
    bends.push({ x: p[i][0], y: p[i][1], bulge });
    i = to;
  }
  if (!closed) bends.push({ x: p[n - 1][0], y: p[n - 1][1], bulge: 0 });
  return bends;
}
