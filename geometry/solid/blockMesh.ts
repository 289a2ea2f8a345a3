/**
 * The body of an end's block as a closed solid between the inner skins, both sides in one: solid or a ring. Blocks that
 * only close an end (where strips touch, where the sides meet, across a square end that the strips run to) are solid
 * unless the maker asks for a ring: they are too short for a hole.
 */
import { halfAt, type BlockPlan } from '../frame/ends';
import { acrossProbes, innerAcross } from '../hull/panel';
import type { Mesh, Plan } from '../types';
import type { Facets } from './facets';
import { hanging, LEAST_DEPTH } from './mesh';

/** Rings between two corners of a block's plan: where its side's line starts as a root, and elsewhere. */
const ROOT_RINGS = 24;
const RINGS = 12;

/** A stretch of a block between two corners of its plan, tail to nose. */
interface BlockStretch {
  readonly a: number;
  readonly b: number;
  /** Whether a side's line starts as a root at its end. */
  readonly root: boolean;
  /** Whether the hole is open here, and whether it opens at once, within one step. */
  readonly open: boolean;
  readonly opens: boolean;
  /** The station a share t of the way. Where a line starts as a root (a round end, the crown of a round hole) they thicken toward it as a square does, so that breadths there lie evenly. */
  readonly station: (t: number) => number;
}

/** A block's stretches, rising. */
export function blockStretches({ body, hole, square, corners, end }: BlockPlan): BlockStretch[] {
  const tail = end === 'tail';
  const [x0, x1] = [body[0], body[body.length - 2]];
  const crown = hole && hole[tail ? 0 : hole.length - 2];
  const wide = hole && square ? hole[tail ? 2 : hole.length - 4] : undefined;
  const stops = [...new Set([x0, ...corners, ...[crown, wide].filter((at) => at !== undefined), x1])].sort((a, b) => a - b);
  return stops.slice(1).map((b, i) => {
    const a = stops[i];
    const root = tail ? a === x0 || a === crown : b === x1 || b === crown;
    return {
      a, b, root,
      open: crown !== undefined && (tail ? a >= crown : b <= crown),
      opens: wide !== undefined && (a === wide || b === wide) && (a === crown || b === crown),
      station: (t) => (t === 0 ? a : t === 1 ? b : a + (b - a) * (!root ? t : tail ? t * t : 1 - (1 - t) * (1 - t))),
    };
  });
}

/** Stations of a block's rings, rising, and the number of the one where its hole opens. */
function stationsOf(block: BlockPlan, detail: number): { x: number[]; opens: number } {
  const stretches = blockStretches(block);
  const x = [stretches[0].a];
  for (const { root, opens, station } of stretches) {
    const count = opens ? 1 : (root ? ROOT_RINGS : RINGS) * detail;
    for (let k = 1; k <= count; k++) x.push(station(k / count));
  }
  const { hole, end } = block;
  return { x, opens: hole ? x.indexOf(hole[end === 'tail' ? 0 : hole.length - 2]) : -1 };
}

/** A block's half to starboard at a station, from the hole or the centreline outboard: breadths, and heights of bottom and deck, on even steps. */
export function blockAcross({ hull, design }: Plan, block: BlockPlan, columns: number): (x: number, open: boolean, breadths: Float64Array, low: Float64Array, high: Float64Array) => void {
  const [deck, bottom] = [acrossProbes(), acrossProbes()];
  const { body, hole, end } = block;
  const crown = hole && hole[end === 'tail' ? 0 : hole.length - 2];
  return (x, open, breadths, low, high) => {
    const to = halfAt(body, x);
    const from = hole && open && x !== crown ? halfAt(hole, x) : 0;
    innerAcross(hull.bottom, -1, design.skins.bottom, x, from, to, columns, bottom, low);
    innerAcross(hull.deck, 1, design.skins.deck, x, from, to, columns, deck, high);
    for (let j = 0; j <= columns; j++) {
      breadths[j] = from + ((to - from) * j) / columns;
      high[j] = Math.max(low[j] + LEAST_DEPTH, high[j]);
    }
  };
}

/** The mesh, in board axes. As many points for every block with as many corners; `half` as of `Body`. */
export function blockMesh(plan: Plan, block: BlockPlan, facets: Facets, half = false): Mesh {
  const { body } = block;
  const columns = facets.blockColumns(Array.from({ length: body.length / 2 }, (_, i) => [body[2 * i], body[2 * i + 1]]));
  const acrossAt = blockAcross(plan, block, columns);
  const { x, opens } = stationsOf(block, facets.detail);
  const tail = block.end === 'tail';
  /** Whether a ring of the mesh lies on the hole's side of its crown, the crown itself included. */
  const open = (i: number) => opens >= 0 && (tail ? i >= opens : i <= opens);
  const across = columns + 1;
  const ys = new Float64Array(x.length * across);
  const lows = new Float64Array(x.length * across);
  const highs = new Float64Array(x.length * across);
  x.forEach((at, i) => {
    const [breadths, low, high] = [ys, lows, highs].map((all) => all.subarray(i * across, (i + 1) * across));
    acrossAt(at, open(i), breadths, low, high);
  });
  const grid = x.length * across;
  const positions = new Float32Array((half ? 6 : 12) * grid);
  let to = 0;
  // Port bottom, port deck, starboard bottom, starboard deck, columns counted from port.
  for (const [side, heights] of [[-1, lows], [-1, highs], [1, lows], [1, highs]] as const) {
    if (half && side === -1) continue;
    for (let i = 0; i < x.length; i++) {
      for (let j = 0; j < across; j++, to += 3) {
        const at = i * across + (side === 1 ? j : columns - j);
        positions[to] = x[i];
        positions[to + 1] = side * ys[at];
        positions[to + 2] = heights[at];
      }
    }
  }
  return { positions, indices: blockHanging(x.length, across, opens, tail, half) };
}

/** How a block hangs together: n rings of `across` columns a half; the hole's walls reach from the ring where it opens on, to the inner face of an end at the tail. */
const blockHanging = (n: number, across: number, opens: number, tail: boolean, half: boolean) => hanging(`block ${n} ${across} ${opens} ${tail} ${half}`, (mesh) => {
  const last = n - 1;
  for (const starboard of half ? [true] : [false, true]) {
    const low = starboard && !half ? 2 * n * across : 0;
    const high = low + n * across;
    for (let i = 0; i < last; i++) {
      for (let j = 0; j + 1 < across; j++) {
        const a = i * across + j;
        const b = a + across;
        mesh.quad(high + a, high + b, high + b + 1, high + a + 1);
        mesh.quad(low + a + 1, low + b + 1, low + b, low + a);
      }
    }
    /** A wall along column j over rings [from, to], facing starboard or port. */
    const wall = (j: number, out: boolean, from: number, to: number) => {
      for (let i = from + 1; i <= to; i++) {
        const [a, b] = [(i - 1) * across + j, i * across + j];
        if (out) mesh.quad(low + a, high + a, high + b, low + b);
        else mesh.quad(low + b, high + b, high + a, low + a);
      }
    };
    wall(starboard ? across - 1 : 0, starboard, 0, last);
    if (opens >= 0) wall(starboard ? 0 : across - 1, !starboard, tail ? opens : 0, tail ? last : opens);
    for (const [i, nose] of [[0, false], [last, true]] as const) {
      for (let j = 1; j < across; j++) {
        const [a, b] = [i * across + j - 1, i * across + j];
        if (nose) mesh.quad(low + b, high + b, high + a, low + a);
        else mesh.quad(low + a, high + a, high + b, low + b);
      }
    }
  }
});
