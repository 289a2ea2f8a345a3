/** The frames as bodies: ribs and stringer with their notches and holes, and the blocks' bodies at the ends. */
import { blockAt } from '../frame/ends';
import { cutRibs } from '../frame/ribProfile';
import { layStringer, stringerShape } from '../frame/stringer';
import type { Body, Mesh, Plan } from '../types';
import { blockMesh } from './blockMesh';
import { plate, type PlateMemo } from './mesh';

/** Stringer, ribs and blocks, each spanning both sides. Ids are stable from plan to plan; a rib that cannot be cut has none. `detail` as of `meshBoard`, `kept` as of `plate`. */
export function frameBodies(plan: Plan, detail: number, kept?: PlateMemo): Body[] {
  const { design } = plan;
  const { stringerThickness, ribThickness } = design.frames;
  const { ribs } = cutRibs(plan);
  const stringer = layStringer(plan, ribs);
  const bodies: Body[] = [];
  const add = (id: string, kind: 'rib' | 'stringer' | 'block', order: number, mesh: Mesh) => bodies.push({ id, kind, side: 'centre', order, mesh });
  if (stringer.x1 > stringer.x0) {
    const { outline, holes } = stringerShape(plan, stringer, { x: stringer.x0, fingers: false }, { x: stringer.x1, fingers: false });
    add('stringer', 'stringer', 0, plate(outline, holes, stringerThickness, (x, z, depth) => [x, -depth, z], kept, 'stringer'));
  }
  for (const { index, x, shape } of ribs) {
    add(`rib-${index + 1}`, 'rib', index, plate(shape.outline, shape.holes, ribThickness, (y, z, depth) => [x + depth, y, z], kept, `rib-${index + 1}`));
  }
  for (const [i, end] of (['tail', 'nose'] as const).entries()) {
    const block = blockAt(plan, end);
    if (block) add(`block-${end}`, 'block', i, blockMesh(plan, block, detail));
  }
  return bodies;
}
