/**
 * Triangles of polygons with holes: count and area are provable (n + 2 holes - 2 triangles; they tile the
 * polygon), and earcut, another library, must find the same area.
 */
import earcut from 'earcut';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { loopArea, reversed } from '../../geometry/curves/polygon';
import { triangulate } from '../../geometry/solid/triangulate';

/** A star-shaped loop about (x, y), counter-clockwise: radii spread evenly round. */
const star = (x: number, y: number, radii: readonly number[]): number[] =>
  radii.flatMap((r, i) => {
    const a = (2 * Math.PI * i) / radii.length;
    return [x + r * Math.cos(a), y + r * Math.sin(a)];
  });

function areas(points: ArrayLike<number>, triangles: readonly number[]): number[] {
  return Array.from({ length: triangles.length / 3 }, (_, i) =>
    loopArea(triangles.slice(3 * i, 3 * i + 3).flatMap((v) => [points[2 * v], points[2 * v + 1]])));
}

describe('triangles by a plane sweep', () => {
  it('tile a unit square with a hole, every vertex used, also those in line', () => {
    const outline = [0, 0, 1, 0, 2, 0, 3, 0, 3, 3, 0, 3];
    const hole = [1, 1, 1, 2, 2, 2, 2, 1];
    const triangles = triangulate([...outline, ...hole], [0, 6]);
    expect(triangles.length / 3).toBe(10 + 2 - 2);
    const all = areas([...outline, ...hole], triangles);
    expect(all.reduce((a, b) => a + b)).toBeCloseTo(8, 12);
    expect(Math.min(...all)).toBeGreaterThanOrEqual(0);
    expect(new Set(triangles).size).toBe(10);
  });

  it('tile random stars with holes, none turned over, as earcut does', () => {
    const radius = fc.double({ min: 30, max: 100, noNaN: true });
    const hole = fc.array(fc.double({ min: 1, max: 6, noNaN: true }), { minLength: 3, maxLength: 12 });
    let most = 0;
    fc.assert(fc.property(fc.array(radius, { minLength: 3 * 8, maxLength: 60 }), fc.array(hole, { maxLength: 4 }), (radii, holes) => {
      const outline = star(0, 0, radii);
      // Holes stand apart on a ring inside the star's least radius: 8 corners a turn or more keep it over 25.
      const loops = [Float64Array.from(outline), ...holes.map((h, i) => reversed(star(14 * Math.cos(i * 1.6), 14 * Math.sin(i * 1.6), h)))];
      most = Math.max(most, holes.length);
      const points = loops.flatMap((l) => Array.from(l));
      const starts: number[] = [];
      let at = 0;
      for (const l of loops) {
        starts.push(at);
        at += l.length / 2;
      }
      const triangles = triangulate(points, starts);
      const n = points.length / 2;
      expect(triangles.length / 3).toBe(n + 2 * holes.length - 2);
      const all = areas(points, triangles);
      const whole = loops.reduce((sum, l) => sum + loopArea(l), 0);
      expect(all.reduce((a, b) => a + b)).toBeCloseTo(whole, 6);
      expect(Math.min(...all)).toBeGreaterThan(-1e-9);
      const other = areas(points, earcut(points, starts.slice(1))).reduce((sum, a) => sum + Math.abs(a), 0);
      expect(other).toBeCloseTo(whole, 6);
    }), { seed: 11, numRuns: 400 });
    expect(most).toBe(4);
  });

  it('refuses an outline that turns the wrong way', () => {
    expect(() => triangulate([0, 0, 0, 2, 2, 2, 2, 0], [0])).toThrow(RangeError);
  });
});
