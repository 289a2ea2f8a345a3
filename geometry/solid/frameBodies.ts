/** The frames as bodies: ribs and stringer with their notches and holes, and the blocks' bodies at the ends. */
import { blockAt } from '../frame/ends';
import type { Rounding } from '../frame/holes';
import { cutRibs, type PlateShape } from '../frame/ribProfile';
import { layStringer, stringerShape } from '../frame/stringer';
import type { Body, Plan } from '../types';
import { innerAt, innerNear } from '../hull/panel';
import { blockMesh } from './blockMesh';
import type { Facets } from './facets';
import { plate, type PlateMemo, type Point3 } from './mesh';

/** A frame as cut and its place: `place` maps (p, q, depth) to space and keeps handedness, depth from the plate's middle. */
export interface FramePlate {
  readonly id: string;
  readonly kind: 'rib' | 'stringer';
  readonly order: number;
  readonly shape: PlateShape;
  readonly thickness: number;
  readonly place: (p: number, q: number, depth: number) => Point3;
}

/** Stringer and ribs, their holes as finely rounded as is said; a rib that cannot be cut has none. Ids are stable from plan to plan. */
export function framePlates(plan: Plan, rounding: Rounding): FramePlate[] {
  const { stringerThickness, ribThickness } = plan.design.frames;
  const inner = rounding === 'staged' ? innerNear : innerAt;
  const { ribs } = cutRibs(plan, rounding, inner);
  const stringer = layStringer(plan, ribs, inner);
  const plates: FramePlate[] = ribs.map(({ index, x, shape }) => ({
    id: `rib-${index + 1}`, kind: 'rib', order: index, shape, thickness: ribThickness, place: (y, z, depth) => [x + depth, y, z],
  }));
  if (!(stringer.x1 > stringer.x0)) return plates;
  const shape = stringerShape(plan, stringer, { x: stringer.x0, fingers: false }, { x: stringer.x1, fingers: false }, rounding);
  return [{ id: 'stringer', kind: 'stringer', order: 0, shape, thickness: stringerThickness, place: (x, z, depth) => [x, -depth, z] }, ...plates];
}

/** Stringer, ribs and blocks as bodies, each spanning both sides. `half` as of `Body`, for blocks; `kept` as of `plate`. */
export function frameBodies(plan: Plan, facets: Facets, half: boolean, kept?: PlateMemo): Body[] {
  const bodies: Body[] = framePlates(plan, facets.rounding).map(({ id, kind, order, shape, thickness, place }) => ({
    id, kind, side: 'centre', order, mesh: plate(shape.outline, shape.holes, thickness, place, kept, id),
  }));
  for (const [i, end] of (['tail', 'nose'] as const).entries()) {
    const block = blockAt(plan, end);
    if (block) bodies.push({ id: `block-${end}`, kind: 'block', side: 'centre', ...(half ? { half } : {}), order: i, mesh: blockMesh(plan, block, facets, half) });
  }
  return bodies;
}
