/**
 * The stage's frame. The kernel's axes (x to the nose, y to starboard, z up) are left-handed; the stage swaps
 * y and z, which makes them right-handed with up along Y, so that starboard is drawn to starboard.
 */
import { Box3, type Matrix4, Vector3 } from 'three';
import type { Plan } from '../../geometry/types';
import type { DrawnBody } from '../state/jobKinds';

/** Bench below the board's lowest point, mm. */
const BENCH_DROP = 14;
/** How far a lifted skin is raised, as a share of the board's length. */
const LIFT = 0.13;

/** Kernel to stage for a board of this length, origin at mid-length on the bench. */
export function stageMatrix(length: number, out: Matrix4): Matrix4 {
  return out.set(1, 0, 0, -length / 2, 0, 0, 1, 0, 0, 1, 0, 0, 0, 0, 0, 1);
}

/** A kernel point on the stage. */
export function toStage(length: number, x: number, y: number, z: number, out = new Vector3()): Vector3 {
  return out.set(x - length / 2, z, y);
}

/** Height of the bench under a board, kernel z, mm. */
export function benchHeight(bodies: readonly DrawnBody[]): number {
  let low = Infinity;
  for (const { kind, mesh } of bodies) {
    if (kind !== 'bottom-skin' && kind !== 'round') continue;
    for (let i = 2; i < mesh.corners.length; i += 4) low = Math.min(low, mesh.corners[i] * mesh.grid.across);
  }
  return (Number.isFinite(low) ? low : 0) - BENCH_DROP;
}

/** Rise of a lifted skin, mm. */
export function liftHeight(plan: Plan): number {
  return plan.hull.length * LIFT;
}

/** What the camera should hold: the board, with its deck where it is lifted. Stage frame. */
export function boardBounds(plan: Plan, bodies: readonly DrawnBody[], lifted: boolean): Box3 {
  const { length, widest } = plan.hull;
  let top = 0;
  for (const { kind, mesh } of bodies) {
    if (kind !== 'round') continue;
    for (let i = 2; i < mesh.corners.length; i += 4) top = Math.max(top, mesh.corners[i] * mesh.grid.across);
  }
  const low = benchHeight(bodies);
  return new Box3(
    new Vector3(-length / 2, low, -widest.halfBreadth),
    new Vector3(length / 2, top + (lifted ? liftHeight(plan) : 0), widest.halfBreadth),
  );
}
