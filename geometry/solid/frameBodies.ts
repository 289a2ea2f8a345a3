/** The frames as bodies: ribs and stringer with their notches and holes, and the blocks at the ends. */
import { blockAt, blockHalf, type BlockPlan } from '../frame/ends';
import { cutRibs } from '../frame/ribProfile';
import { layStringer, stringerShape } from '../frame/stringer';
import { innerAt, panelProbe } from '../hull/panel';
import type { Body, Mesh, Plan } from '../types';
import { plate, sweep, type Point3, type Ring } from './mesh';

/** Rings between two corners of a block's plan, and columns across it. */
const BLOCK_RINGS = 8;
const BLOCK_COLUMNS = 20;

/** Stringer, ribs and blocks, each spanning both sides. Ids are stable from plan to plan; a rib that cannot be cut has none. */
export function frameBodies(plan: Plan): Body[] {
  const { design } = plan;
  const { stringerThickness, ribThickness } = design.frames;
  const { ribs } = cutRibs(plan);
  const stringer = layStringer(plan, ribs);
  const bodies: Body[] = [];
  const add = (id: string, kind: 'rib' | 'stringer' | 'block', order: number, mesh: Mesh) => bodies.push({ id, kind, side: 'centre', order, mesh });
  if (stringer.x1 > stringer.x0) {
    const { outline, holes } = stringerShape(plan, stringer, { x: stringer.x0, fingers: false }, { x: stringer.x1, fingers: false });
    add('stringer', 'stringer', 0, plate(outline, holes, stringerThickness, (x, z, depth) => [x, -depth, z]));
  }
  for (const { index, x, shape } of ribs) {
    add(`rib-${index + 1}`, 'rib', index, plate(shape.outline, shape.holes, ribThickness, (y, z, depth) => [x + depth, y, z]));
  }
  for (const [i, end] of (['tail', 'nose'] as const).entries()) {
    const block = blockAt(plan, end);
    if (block) add(`block-${end}`, 'block', i, blockMesh(plan, block));
  }
  return bodies;
}

/** A block as a solid between the inner skins over its plan. Board axes; closed; rings by its corners. */
export function blockMesh(plan: Plan, block: BlockPlan): Mesh {
  const { hull, design } = plan;
  const deck = panelProbe();
  const bottom = panelProbe();
  const stops = [block.x0, ...block.corners, block.x1];
  const count = BLOCK_RINGS * (stops.length - 1);
  const rings = Array.from({ length: count + 1 }, (_, i): Ring => {
    const k = Math.min(stops.length - 2, Math.floor(i / BLOCK_RINGS));
    const x = stops[k] + (stops[k + 1] - stops[k]) * (i / BLOCK_RINGS - k);
    const half = blockHalf(block, x);
    const ring: Point3[] = [];
    for (let j = 0; j <= BLOCK_COLUMNS; j++) {
      const y = half * ((2 * j) / BLOCK_COLUMNS - 1);
      ring.push([x, y, innerAt(hull.bottom, -1, design.skins.bottom, x, y, bottom).z]);
    }
    for (let j = BLOCK_COLUMNS; j >= 0; j--) {
      const y = half * ((2 * j) / BLOCK_COLUMNS - 1);
      ring.push([x, y, Math.max(ring[j][2] + 0.01, innerAt(hull.deck, 1, design.skins.deck, x, y, deck).z)]);
    }
    return { run: x, bevel: 0, corners: ring };
  });
  return sweep(rings);
}
