/**
 * The body of an end's block as a closed solid between the inner skins, both sides in one: solid or a ring. Blocks that
 * only close an end (where strips touch, where the sides meet, across a square end that the strips run to) are solid
 * unless the maker asks for a ring: they are too short for a hole.
 */
import { halfAt, type BlockPlan } from '../frame/ends';
import { innerAt, panelProbe } from '../hull/panel';
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
  // Every ring port to starboard: each half's columns with bottom and deck.
  const rings = x.map((at, i) => {
    const half = halfAt(block.body, at);
    const hole = block.hole && open(i) && i !== opens ? halfAt(block.hole, at) : 0;
    const points = Array.from({ length: columns + 1 }, (_, j) => {
      const y = hole + ((half - hole) * j) / columns;
      const low = innerAt(hull.bottom, -1, design.skins.bottom, at, y, bottom).z;
      return { y, low, high: Math.max(low + LEAST_DEPTH, innerAt(hull.deck, 1, design.skins.deck, at, y, deck).z) };
    });
    return { port: points.slice().reverse().map((p) => ({ ...p, y: -p.y })), starboard: points };
  });
  const mesh = new MeshBuilder();
  for (const side of ['port', 'starboard'] as const) {
    for (const face of ['low', 'high'] as const) {
      const grid = rings.map((ring, i) => ring[side].map((p) => mesh.vertex(x[i], p.y, p[face], x[i])));
      for (let i = 0; i + 1 < grid.length; i++) {
        for (let j = 0; j < columns; j++) {
          const [a, b, c, d] = [grid[i][j], grid[i + 1][j], grid[i + 1][j + 1], grid[i][j + 1]];
          if (face === 'high') mesh.quad(a, b, c, d);
          else mesh.quad(d, c, b, a);
        }
      }
    }
    /** A wall along column j over rings [from, to], facing starboard or port. */
    const wall = (j: number, out: boolean, from: number, to: number) => {
      let before: [number, number] | undefined;
      for (let i = from; i <= to; i++) {
        const p = rings[i][side][j];
        const here: [number, number] = [mesh.vertex(x[i], p.y, p.low, x[i]), mesh.vertex(x[i], p.y, p.high, x[i])];
        if (before) {
          if (out) mesh.quad(before[0], before[1], here[1], here[0]);
          else mesh.quad(here[0], here[1], before[1], before[0]);
        }
        before = here;
      }
    };
    const starboard = side === 'starboard';
    const last = rings.length - 1;
    wall(starboard ? columns : 0, starboard, 0, last);
    if (opens >= 0) wall(starboard ? 0 : columns, !starboard, tail ? opens : 0, tail ? last : opens);
    for (const [i, nose] of [[0, false], [last, true]] as const) {
      const ids = rings[i][side].map((p) => [mesh.vertex(x[i], p.y, p.low, x[i]), mesh.vertex(x[i], p.y, p.high, x[i])]);
      for (let j = 0; j < columns; j++) {
        const [[a, b], [d, c]] = [ids[j], ids[j + 1]];
        if (nose) mesh.quad(d, c, b, a);
        else mesh.quad(a, b, c, d);
      }
    }
  }
  return mesh.build();
}
