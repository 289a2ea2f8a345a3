/**
 * A body cut by planes across it, each triangle looked at once for all of them; and what the cuts measure. three-mesh-bvh's tree
 * needs 5 times as long for 133 cuts of 41 000 triangles, 17 times for two million; once made, its cuts take about as long as
 * these: 4 ms beside 3, 53 beside 65 (`npm run bench -- --only bodies`, Node 20).
 */
import { firstBeyond } from '../../curves/chords';
import type { Triangles } from './body';

/** A cut: (y, z) of both ends of each piece, four numbers a piece. */
export interface Slice {
  readonly x: number;
  readonly pieces: Float64Array;
}

/** The cuts of a body at stations, which rise. A corner that lies in a plane counts as beyond it, so that no piece comes twice. */
export function slicesOf({ positions: p, indices }: Triangles, stations: readonly number[]): Slice[] {
  const cuts = stations.map((): number[] => []);
  for (let i = 0; i < indices.length; i += 3) {
    const [a, b, c] = [3 * indices[i], 3 * indices[i + 1], 3 * indices[i + 2]];
    const most = Math.max(p[a], p[b], p[c]);
    for (let k = firstBeyond(stations, Math.min(p[a], p[b], p[c])); k < stations.length && stations[k] <= most; k++) {
      const x = stations[k];
      const cut = cuts[k];
      crossing(p, a, b, x, cut);
      crossing(p, b, c, x, cut);
      crossing(p, c, a, x, cut);
    }
  }
  return cuts.map((cut, k) => ({ x: stations[k], pieces: Float64Array.from(cut) }));
}

/** Adds where an edge crosses a plane: of a triangle none or two do. */
function crossing(p: Float32Array, s: number, e: number, x: number, cut: number[]): void {
  if ((p[s] < x) === (p[e] < x)) return;
  const t = (x - p[s]) / (p[e] - p[s]);
  cut.push(p[s + 1] + t * (p[e + 1] - p[s + 1]), p[s + 2] + t * (p[e + 2] - p[s + 2]));
}

/** What a cut measures: its reach to either side, and the lowest and highest point on the centreline; NaN where it does not reach. */
export interface CutSizes {
  readonly x: number;
  readonly port: number;
  readonly starboard: number;
  readonly low: number;
  readonly high: number;
}

/** How far off the centreline a fin's foot does not reach, mm; and what stands out farther than this on the centreline alone is one. */
const BESIDE = 20;
const FIN = 6;

export function cutSizes({ x, pieces }: Slice): CutSizes {
  let [port, starboard] = [Infinity, -Infinity];
  for (let i = 0; i < pieces.length; i += 4) {
    port = Math.min(port, pieces[i], pieces[i + 2]);
    starboard = Math.max(starboard, pieces[i], pieces[i + 2]);
  }
  const [low, high] = heightsAt(pieces, 0);
  const sides = [-BESIDE, BESIDE].map((y) => heightsAt(pieces, y));
  const [lowBeside, highBeside] = [0, 1].map((k) => (sides[0][k] + sides[1][k]) / 2);
  const or = (v: number) => (Number.isFinite(v) ? v : Number.NaN);
  return { x, port: or(port), starboard: or(starboard), low: or(low < lowBeside - FIN && Number.isFinite(lowBeside) ? lowBeside : low), high: or(high > highBeside + FIN && Number.isFinite(highBeside) ? highBeside : high) };
}

/** The lowest and highest point of a cut at a distance from the centreline. */
function heightsAt(pieces: Float64Array, y: number): readonly [number, number] {
  let [low, high] = [Infinity, -Infinity];
  for (let i = 0; i < pieces.length; i += 4) {
    const [y0, z0, y1, z1] = [pieces[i] - y, pieces[i + 1], pieces[i + 2] - y, pieces[i + 3]];
    if ((y0 <= 0) === (y1 <= 0)) continue;
    const z = z0 + (y0 / (y0 - y1)) * (z1 - z0);
    low = Math.min(low, z);
    high = Math.max(high, z);
  }
  return [low, high];
}
