/**
 * The body of an end's block as a closed solid between the inner skins, both sides in one: solid or a ring. Blocks that
 * only close an end (where strips touch, where the sides meet, across a square end that the strips run to) are solid
 * unless the maker asks for a ring: they are too short for a hole.
 */
import { halfAt, type BlockPlan } from '../frame/ends';
import { innerAcross, panelProbe } from '../hull/panel';
import type { Mesh, Plan } from '../types';
import { MeshBuilder } from './mesh';

/** Rings between two corners of a block's plan, and columns across each half of it. */
const RINGS = 36;
const COLUMNS = 20;
/** The deck is never nearer to the bottom than this, mm: what is left at a feather edge. */
const LEAST_DEPTH = 0.01;

/**
 * Stations of a block's rings, rising. Where a side's line starts as a root (a round end, the crown of a round hole)
 * they thicken toward it as a square does, so that breadths there lie evenly.
 */
function stationsOf({ body, hole, square, corners, end }: BlockPlan, rings: number): { x: number[]; opens: number } {
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
    const count = wide !== undefined && (a === wide || b === wide) && (a === crown || b === crown) ? 1 : rings;
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
  const [deck, bottom] = [panelProbe(), panelProbe()];
  const { x, opens } = stationsOf(block, RINGS * detail);
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
  const mesh = new MeshBuilder();
  const last = x.length - 1;
  for (const side of [-1, 1] as const) {
    /** The point of ring i in column j, counted from port, on bottom (`lows`) or deck (`highs`). */
    const put = (i: number, j: number, heights: Float64Array): number => {
      const at = i * across + (side === 1 ? j : columns - j);
      return mesh.vertex(x[i], side * ys[at], heights[at], x[i]);
    };
    for (const heights of [lows, highs]) {
      const first = put(0, 0, heights);
      for (let k = 1; k < x.length * across; k++) put(Math.floor(k / across), k % across, heights);
      for (let i = 0; i < last; i++) {
        for (let j = 0; j < columns; j++) {
          const a = first + i * across + j;
          const b = a + across;
          if (heights === highs) mesh.quad(a, b, b + 1, a + 1);
          else mesh.quad(a + 1, b + 1, b, a);
        }
      }
    }
    /** A wall along column j over rings [from, to], facing starboard or port. */
    const wall = (j: number, out: boolean, from: number, to: number) => {
      for (let i = from; i <= to; i++) {
        const low = put(i, j, lows);
        const high = put(i, j, highs);
        if (i === from) continue;
        if (out) mesh.quad(low - 2, high - 2, high, low);
        else mesh.quad(low, high, high - 2, low - 2);
      }
    };
    const starboard = side === 1;
    wall(starboard ? columns : 0, starboard, 0, last);
    if (opens >= 0) wall(starboard ? 0 : columns, !starboard, tail ? opens : 0, tail ? last : opens);
    for (const [i, nose] of [[0, false], [last, true]] as const) {
      for (let j = 0; j <= columns; j++) {
        const low = put(i, j, lows);
        const high = put(i, j, highs);
        if (j === 0) continue;
        if (nose) mesh.quad(low, high, high - 2, low - 2);
        else mesh.quad(low - 2, high - 2, high, low);
      }
    }
  }
  return mesh.build();
}
