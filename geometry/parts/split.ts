/**
 * Splitting a developed layer into pieces that fit the stock boards: a dynamic programme over nodes along u,
 * fewest pieces first, then joints where the skin bends least and pieces of even length.
 */
import { leastWidthBox, type LeastBox } from '../curves/polygon';
import type { Design } from '../design/schema';
import type { Development } from './develop';

type Board = Design['timber']['boards'][number];

/** What a piece carries beyond its joints' lines, mm. */
export interface Allowance {
  /** Oversize along the edges and past the layer's own free ends. */
  readonly oversize: number;
  /** Length of a scarf, 0 for butts: each piece reaches half of it past the joint's middle. */
  readonly scarf: number;
}

/** A stretch of layer between two ends or corners, as sample indices, and whether it wraps round an end. */
export interface Domain {
  readonly from: number;
  readonly to: number;
  readonly wrapTail: boolean;
  readonly wrapNose: boolean;
}

/** The stretches of a layer that are split on their own: between corners; round ends wrap onto port. */
export function domainsOf(dev: Development): Domain[] {
  const cuts = [0, ...dev.corners, dev.u.length - 1];
  return Array.from({ length: cuts.length - 1 }, (_, k) => ({
    from: cuts[k],
    to: cuts[k + 1],
    wrapTail: k === 0 && dev.ends.tail === 'round',
    wrapNose: k === cuts.length - 2 && dev.ends.nose === 'round',
  }));
}

/**
 * The flat loop of the piece between samples i and j, counter-clockwise, with its allowances: rocker edge
 * tail to nose, deck edge back. A piece that wraps is its own mirror image about the end's centreline.
 * Oversize is measured square to the edge: in v it is oversize * sqrt(1 + slope^2).
 */
export function pieceLoop(dev: Development, domain: Domain, i: number, j: number, allowance: Allowance): Float64Array {
  const { u, bottom, deck } = dev;
  const { oversize, scarf } = allowance;
  /** How far the piece reaches past its end: half a scarf at a joint, the oversize at a free end. */
  const reach = (k: number, end: 'tail' | 'nose') => {
    const outer = end === 'tail' ? domain.from : domain.to;
    if (k !== outer) return scarf / 2;
    if (end === 'tail' ? domain.wrapTail : domain.wrapNose) return 0;
    return oversize;
  };
  const tail = reach(i, 'tail');
  const nose = reach(j, 'nose');
  // Past a joint the scarf follows the layer itself, as far as the layer goes.
  const a = i === domain.from ? u[i] - tail : Math.max(u[domain.from], u[i] - tail);
  const b = j === domain.to ? u[j] + nose : Math.min(u[domain.to], u[j] + nose);
  let k0 = i;
  while (k0 > domain.from && u[k0 - 1] > a) k0--;
  let k1 = j;
  while (k1 < domain.to && u[k1 + 1] < b) k1++;
  const before = a < u[k0] ? 1 : 0;
  const own = k1 - k0 + 1 + before + (b > u[k1] ? 1 : 0);
  // The axis of a mirror is a point of both halves, once.
  const atTail = domain.wrapTail && i === domain.from ? own - 1 : 0;
  const atNose = domain.wrapNose && j === domain.to ? own - 1 : 0;
  const n = atTail + own + atNose;
  const loop = new Float64Array(4 * n);
  for (let p = 0; p < own; p++) {
    const k = Math.min(k1, Math.max(k0, k0 + p - before));
    const at = p < before ? a : k0 + p - before > k1 ? b : u[k];
    const from = Math.max(domain.from, k - 1);
    const to = Math.min(domain.to, k + 1);
    const sb = (bottom[to] - bottom[from]) / (u[to] - u[from]);
    const sd = (deck[to] - deck[from]) / (u[to] - u[from]);
    const low = bottom[k] + sb * (at - u[k]) - oversize * Math.sqrt(1 + sb * sb);
    const high = deck[k] + sd * (at - u[k]) + oversize * Math.sqrt(1 + sd * sd);
    put(loop, n, atTail + p, at, low, high);
    if (p > 0 && atTail > 0) put(loop, n, atTail - p, 2 * u[i] - at, low, high);
    if (p < own - 1 && atNose > 0) put(loop, n, n - 1 - p, 2 * u[j] - at, low, high);
  }
  return loop;
}

/** Set point p of a loop's n along, and its fellow on the way back. */
function put(loop: Float64Array, n: number, p: number, at: number, low: number, high: number): void {
  loop[2 * p] = at;
  loop[2 * p + 1] = low;
  loop[4 * n - 2 - 2 * p] = at;
  loop[4 * n - 1 - 2 * p] = high;
}

/** Grain runs along the board, so a piece is never laid farther across it than this, radians. */
const GRAIN_LIMIT = Math.PI / 4;

/** The least-width box of a piece that keeps its grain along the board. */
export const blankBox = (loop: ArrayLike<number>): LeastBox => leastWidthBox(loop, GRAIN_LIMIT);

/** Whether a box fits a board. */
const fitsBoard = (box: { length: number; width: number }, board: Board): boolean =>
  box.length <= board.length + 1e-6 && box.width <= board.width + 1e-6;

/** Whether a box fits any board. */
export const fitsAny = (box: { length: number; width: number }, boards: readonly Board[]): boolean =>
  boards.some((b) => fitsBoard(box, b));

/** What a split must keep to. */
export interface SplitRules {
  readonly boards: readonly Board[];
  readonly allowance: Allowance;
  readonly leastPiece: number;
  /** Runs (mm on the box face) of joints to keep away from, and how far. */
  readonly away: readonly number[];
  readonly stagger: number;
  /** Where joints would rather be: -1 toward the tail, 1 toward the nose, 0 evenly spread. */
  readonly lean: -1 | 0 | 1;
}

/** A split of one domain: node samples from its tail end to its nose end, and which pieces fit no board. */
export interface Split {
  readonly nodes: readonly number[];
  readonly fits: readonly boolean[];
  readonly cost: number;
}

/** A joint where the skin bends this hard costs as much as one fully out of place; own choice, 1/mm. */
const TIGHT = 1 / 300;
// Far enough apart that no sum of lesser costs outweighs one piece more, or one piece that fits no board.
const UNFIT = 1e9;
const PIECE = 1e5;

/** Which node ranges fit a board: `reach[i]` is the farthest node of a piece that starts at node i. */
export interface Reach {
  readonly nodes: readonly number[];
  readonly reach: Int32Array;
  /** First node from which a piece to the domain's end fits: a wrapping end counts both sides. */
  readonly lastFrom: number;
}

/**
 * Farthest fitting piece from each node. A part of a fitting piece fits too, so the reach only grows along
 * the layer, and two pointers find it in linear time. Nodes are every second sample and the domain's ends.
 */
export function reachOf(dev: Development, domain: Domain, boards: readonly Board[], allowance: Allowance): Reach {
  const nodes: number[] = [];
  for (let k = domain.from; k < domain.to; k += 2) nodes.push(k);
  nodes.push(domain.to);
  const n = nodes.length;
  const fits = (i: number, j: number) => fitsAny(blankBox(pieceLoop(dev, domain, nodes[i], nodes[j], allowance)), boards);
  const reach = new Int32Array(n);
  // Inner reach as if no end wrapped: ends that wrap are asked for on their own below.
  let j = 0;
  for (let i = domain.wrapTail ? 1 : 0; i < n - 1; i++) {
    j = Math.max(i, j);
    const last = domain.wrapNose ? n - 2 : n - 1;
    while (j < last && fits(i, j + 1)) j++;
    reach[i] = j;
  }
  if (domain.wrapTail) {
    while (reach[0] < (domain.wrapNose ? n - 2 : n - 1) && fits(0, reach[0] + 1)) reach[0]++;
  }
  let lastFrom = n - 1;
  if (domain.wrapNose) {
    const first = domain.wrapTail ? 1 : 0;
    while (lastFrom > first && fits(lastFrom - 1, n - 1)) lastFrom--;
  }
  return { nodes, reach, lastFrom };
}

/** Fewest, best placed pieces of one domain under the rules; undefined where the rules allow none. */
export function splitDomain(dev: Development, domain: Domain, { nodes, reach, lastFrom }: Reach, rules: SplitRules): Split | undefined {
  const n = nodes.length;
  const { u, s, kappa } = dev;
  const total = u[domain.to] - u[domain.from];
  const longest = Math.max(...rules.boards.map((b) => b.length));
  const fits = (i: number, j: number) => (domain.wrapNose && j === n - 1 ? i >= lastFrom : j <= reach[i]);
  // A node whose next cell fits no board; stretches of such cells become pieces of their own, cut to length.
  const bad = Int32Array.from({ length: n - 1 }, (_, i) => (fits(i, i + 1) ? 0 : 1));
  const badUpTo = new Int32Array(n);
  for (let i = 0; i + 1 < n; i++) badUpTo[i + 1] = badUpTo[i] + bad[i];
  const jointCost = Float64Array.from({ length: n }, (_, i) => {
    if (i === 0 || i === n - 1) return 0;
    if (rules.away.some((at) => Math.abs(at - s[nodes[i]]) < rules.stagger)) return Infinity;
    const along = (u[nodes[i]] - u[domain.from]) / total;
    return 300 * Math.min(1, Math.abs(kappa[nodes[i]]) / TIGHT) + (rules.lean === 0 ? 0 : 20 * (rules.lean < 0 ? along : 1 - along));
  });
  const best = new Float64Array(n).fill(Infinity);
  const from = new Int32Array(n).fill(-1);
  best[0] = 0;
  for (let j = 1; j < n; j++) {
    if (jointCost[j] === Infinity) continue;
    for (let i = 0; i < j; i++) {
      if (best[i] === Infinity || (i === 0 && j === n - 1 && domain.wrapTail && domain.wrapNose)) continue;
      const wraps = (i === 0 && domain.wrapTail) || (j === n - 1 && domain.wrapNose);
      const length = (u[nodes[j]] - u[nodes[i]]) * (wraps ? 2 : 1);
      const good = fits(i, j);
      if (!good && !(badUpTo[j] - badUpTo[i] === j - i && length <= longest)) continue;
      const whole = i === 0 && j === n - 1;
      if (length < rules.leastPiece && !whole) continue;
      const even = rules.lean === 0 ? 100 * (length / total) ** 2 : 0;
      const cost = best[i] + (good ? 0 : UNFIT) + PIECE + jointCost[j] + even;
      if (cost < best[j]) {
        best[j] = cost;
        from[j] = i;
      }
    }
  }
  if (best[n - 1] === Infinity) return undefined;
  const path = [n - 1];
  while (path[0] > 0) path.unshift(from[path[0]]);
  return {
    nodes: path.map((i) => nodes[i]),
    fits: path.slice(1).map((j, k) => fits(path[k], j)),
    cost: best[n - 1],
  };
}
