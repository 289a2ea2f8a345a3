/**
 * The body of an end's block as a closed solid between the inner skins, both sides in one: solid or a ring. Blocks that
 * only close an end (where strips touch, where the sides meet, across a square end that the strips run to) are solid
 * unless the maker asks for a ring: they are too short for a hole.
 */
import { halfAt, type BlockPlan } from '../frame/ends';
import { acrossProbes, innerAcross } from '../hull/panel';
import type { Mesh, Plan } from '../types';
import { hanging } from './mesh';

/** Rings between two corners of a block's plan: where its side's line starts as a root, and elsewhere; and columns across each half of it. */
const ROOT_RINGS = 24;
const RINGS = 12;
const COLUMNS = 10;
/** The deck is never nearer to the bottom than this, mm: what is left at a feather edge. */
const LEAST_DEPTH = 0.01;

/**
 * Stations of a block's rings, rising. Where a side's line starts as a root (a round end, the crown of a round hole)
 * they thicken toward it as a square does, so that breadths there lie evenly.
 */
function stationsOf({ body, hole, square, corners, end }: BlockPlan, detail: number): { x: number[]; opens: number } {
  const tail = end === 'tail';
  const [x0, x1] = [body[0], body[body.length - 2]];
  const crown = hole && hole[tail ? 0 : hole.length - 2];
  const wide = hole && square ? hole[tail ? 2 : hole.length - 4] : undefined;
  const stops = [...new Set([x0, ...corners, ...[crown, wide].filter((at) => at !== undefined), x1])].sort((a, b) => a - b);
  const x: number[] = [stops[0]];
  for (let i = 0; i + 1 < stops.length; i++) {
    const [a, b] = [stops[i], stops[i + 1]];
    const root = tail ? a === x0 || a === crown : b === x1 || b === crown;
    // A square hole opens within one step.
    const count = wide !== undefined && (a === wide || b === wide) && (a === crown || b === crown) ? 1 : (root ? ROOT_RINGS : RINGS) * detail;
    for (let k = 1; k <= count; k++) {
      const t = k / count;
      x.push(k === count ? b : a + (b - a) * (!root ? t : tail ? t * t : 1 - (1 - t) * (1 - t)));
    }
  }
  return { x, opens: crown === undefined ? -1 : x.indexOf(crown) };
}

/** The mesh, in board axes. As many points for every block with as many corners, `detail` times finer than for the stage. */
export function blockMesh(plan: Plan, block: BlockPlan, detail = 1): Mesh {
  const columns = COLUMNS * detail;
  const { hull, design } = plan;
  const [deck, bottom] = [acrossProbes(), acrossProbes()];
  const { x, opens } = stationsOf(block, detail);
  const tail = block.end === 'tail';
  /** Whether a ring of the mesh lies on the hole's side of its crown, the crown itself included. */
  const open = (i: number) => opens >= 0 && (tail ? i >= opens : i <= opens);
  // Every ring's half to starboard, from the hole or the centreline outboard: breadths, and heights of bottom and deck.
  const across = columns + 1;
  const ys = new Float64Array(x.length * across);
  const lows = new Float64Array(x.length * across);
  const highs = new Float64Array(x.length * across);
  x.forEach((at, i) => {
    const half = halfAt(block.body, at);
    const hole = block.hole && open(i) && i !== opens ? halfAt(block.hole, at) : 0;
    const [low, high] = [lows, highs].map((all) => all.subarray(i * across, (i + 1) * across));
    innerAcross(hull.bottom, -1, design.skins.bottom, at, hole, half, columns, bottom, low);
    innerAcross(hull.deck, 1, design.skins.deck, at, hole, half, columns, deck, high);
    for (let j = 0; j <= columns; j++) {
      ys[i * across + j] = hole + ((half - hole) * j) / columns;
      high[j] = Math.max(low[j] + LEAST_DEPTH, high[j]);
    }
  });
  const grid = x.length * across;
  const positions = new Float32Array(12 * grid);
  // Port bottom, port deck, starboard bottom, starboard deck, columns counted from port.
  for (const [from, side, heights] of [[0, -1, lows], [1, -1, highs], [2, 1, lows], [3, 1, highs]] as const) {
    let to = 3 * from * grid;
    for (let i = 0; i < x.length; i++) {
      for (let j = 0; j < across; j++, to += 3) {
        const at = i * across + (side === 1 ? j : columns - j);
        positions[to] = x[i];
        positions[to + 1] = side * ys[at];
        positions[to + 2] = heights[at];
      }
    }
  }
  return { positions, indices: blockHanging(x.length, across, opens, tail) };
}

/** How a block hangs together: n rings of `across` columns a half; the hole's walls reach from the ring where it opens on, to the inner face of an end at the tail. */
const blockHanging = (n: number, across: number, opens: number, tail: boolean) => hanging(`block ${n} ${across} ${opens} ${tail}`, (mesh) => {
  const last = n - 1;
  for (const starboard of [false, true]) {
    const low = starboard ? 2 * n * across : 0;
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
