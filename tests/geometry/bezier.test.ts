/** Bezier spans against de Casteljau's own construction (a closed form) and the spline they came from. */
import { describe, expect, it } from 'vitest';
import { bezierSpans } from '../../geometry/curves/bezier';
import { breaks, evalSpline, type Spline } from '../../geometry/curves/bspline';
import { interpolateCubic } from '../../geometry/curves/interpolate';

/** De Casteljau, The NURBS Book, algorithm A1.5: repeated thirds of the way. */
function casteljau(points: number[], t: number): number {
  const p = [...points];
  for (let k = 1; k < p.length; k++) for (let i = 0; i < p.length - k; i++) p[i] += (p[i + 1] - p[i]) * t;
  return p[0];
}

function expectSame(spline: Spline): void {
  const spans = breaks(spline.knots);
  const bezier = bezierSpans(spline);
  const row = new Float64Array(3 * spline.dim);
  expect(bezier.length).toBe((spans.length - 1) * 4 * spline.dim);
  for (let k = 0; k + 1 < spans.length; k++) {
    for (const t of [0, 0.1, 0.37, 0.5, 0.82, 0.999]) {
      evalSpline(spline, spans[k] + (spans[k + 1] - spans[k]) * t, row, new Float64Array(12));
      for (let d = 0; d < spline.dim; d++) {
        const control = [0, 1, 2, 3].map((i) => bezier[(k * 4 + i) * spline.dim + d]);
        // Both are the same cubic in exact arithmetic; a thousand units to rounding.
        expect(casteljau(control, t)).toBeCloseTo(row[d], 9);
      }
    }
  }
}

describe('bezierSpans', () => {
  it('is the same curve as a plane spline with set ends', () => {
    expectSame(interpolateCubic([0, 80, 300, 700, 1000], [0, 0, 35, 76, 180, 164, 850, 264, 1100, 0], 2, [], { start: [0, 1], end: [0, -1] }));
  });
  it('keeps the two sides of a corner apart', () => {
    const spline = interpolateCubic([0, 100, 200, 300], [0, 10, 90, 0], 1, [1]);
    expectSame(spline);
    const b = bezierSpans(spline);
    const [before, after] = [b[3] - b[2], b[5] - b[4]];
    expect(Math.abs(before - after)).toBeGreaterThan(5);
  });
});
