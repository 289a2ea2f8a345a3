/**
 * Bodies stay on the board: no vertex of any body of a starter board lies outside the box of the finished hull.
 * A panel once carried on past a tip by its own polynomial put an outer skin 200 m under the bench.
 * Limits provable: the hull's length and greatest half-breadth; heights from rocker and thickness at the ends.
 */
import { describe, expect, it } from 'vitest';
import { planBoard } from '../../geometry/plan';
import { meshBoard } from '../../geometry/solid/board';
import { seedDesign, seedNames } from './boards';

/** Least and greatest of every third number from `axis` on. */
function extent(positions: Float32Array, axis: number): [number, number] {
  let low = Infinity;
  let high = -Infinity;
  for (let i = axis; i < positions.length; i += 3) {
    if (Number.isNaN(positions[i])) return [Number.NaN, Number.NaN];
    low = Math.min(low, positions[i]);
    high = Math.max(high, positions[i]);
  }
  return [low, high];
}

describe('bodies stay on the board', () => {
  it.each(seedNames)('%s', (name) => {
    const design = seedDesign(name);
    const plan = planBoard(design);
    const bodies = meshBoard(plan);
    // The curves' own points bound the board's height up to what a cubic swings out between them.
    const swing = 2;
    const rocker = design.lines.rocker.points.map((p) => p.v);
    const thickness = design.lines.thickness.points.map((p) => p.v);
    // A concave bottom's edges hang below its centreline, whose height the rocker is.
    const hang = Math.max(...design.lines.concave.points.map((p) => p.v)) * plan.hull.widest.halfBreadth;
    const low = Math.min(...rocker) - hang - swing;
    const high = Math.max(...rocker) + Math.max(...thickness) + swing;
    const half = plan.hull.widest.halfBreadth + 1e-3;
    expect(bodies.length).toBeGreaterThan(10);
    for (const { id, mesh } of bodies) {
      const [x, y, z] = [0, 1, 2].map((axis) => extent(mesh.positions, axis));
      expect(x[0], `${id} x`).toBeGreaterThanOrEqual(-1e-3);
      expect(x[1], `${id} x`).toBeLessThanOrEqual(plan.hull.length + 1e-3);
      expect(Math.max(-y[0], y[1]), `${id} y`).toBeLessThanOrEqual(half);
      expect(z[0], `${id} z`).toBeGreaterThanOrEqual(low);
      expect(z[1], `${id} z`).toBeLessThanOrEqual(high);
    }
  });
});
