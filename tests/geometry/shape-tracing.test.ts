/** The tracing's similarity: cases a person can check in the head, then the algebra of similarities. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { toBoard, toPicture, tracingSimilarity, type Point, type TracingPoints } from '../../geometry/shape/tracing';
import { errorLines, mmError } from '../support/said';

const solve = (picture: [Point, Point], board: [Point, Point], upright = true) => {
  const result = tracingSimilarity({ picture, board, upright });
  if (!result.ok) throw new Error(errorLines(result.errors));
  return result.similarity;
};
const expectPoint = (got: Point, want: Point) => {
  expect(got[0]).toBeCloseTo(want[0], 9);
  expect(got[1]).toBeCloseTo(want[1], 9);
};

describe('tracing', () => {
  it('reads a level plan: 1000 pixels for 2000 mm, 50 pixels above the centreline is 100 mm of half-breadth', () => {
    const s = solve([[100, 300], [1100, 300]], [[0, 0], [2000, 0]]);
    expect(s.scale).toBeCloseTo(2, 12);
    expect(s.turn).toBeCloseTo(0, 12);
    expectPoint(toBoard(s, [600, 250]), [1000, 100]);
    expectPoint(toPicture(s, [1000, 100]), [600, 250]);
  });

  it('reads a plan that stands on its tail: nose up', () => {
    const s = solve([[200, 1000], [200, 0]], [[0, 0], [1500, 0]]);
    // To the left of a nose-up centreline lies the side that is up once the nose points right.
    expectPoint(toBoard(s, [100, 500]), [750, 150]);
    expect(Math.abs(s.turn)).toBeCloseTo(Math.PI / 2, 12);
  });

  it('mirrors a drawing whose second axis runs down the picture', () => {
    const s = solve([[0, 0], [10, 0]], [[0, 0], [100, 0]], false);
    expectPoint(toBoard(s, [5, 3]), [50, 30]);
  });

  it('carries the known points onto theirs, scales every distance alike, and turns back', () => {
    const c = fc.double({ min: -3000, max: 3000, noNaN: true });
    const p = fc.tuple(c, c);
    fc.assert(
      fc.property(p, p, p, p, p, p, fc.boolean(), (a, b, A, B, q, r, upright) => {
        fc.pre(Math.hypot(a[0] - b[0], a[1] - b[1]) > 2 && Math.hypot(A[0] - B[0], A[1] - B[1]) > 1);
        const s = solve([a, b], [A, B], upright);
        const size = 1 + s.scale * 1e4 + 1e4;
        const near = (got: Point, want: Point) => expect(Math.hypot(got[0] - want[0], got[1] - want[1])).toBeLessThan(1e-11 * size);
        near(toBoard(s, a), A);
        near(toBoard(s, b), B);
        const [Q, R] = [toBoard(s, q), toBoard(s, r)];
        expect(Math.abs(Math.hypot(Q[0] - R[0], Q[1] - R[1]) - s.scale * Math.hypot(q[0] - r[0], q[1] - r[1]))).toBeLessThan(1e-10 * size);
        const back = toPicture(s, Q);
        expect(Math.hypot(back[0] - q[0], back[1] - q[1])).toBeLessThan((1e-10 * size) / s.scale);
        // An upright drawing's axes turn the other way from the picture's: the determinant is negative.
        const [m0, m1, m2, m3] = s.matrix;
        expect(Math.sign(m0 * m3 - m1 * m2)).toBe(upright ? -1 : 1);
      }),
      { seed: 7, numRuns: 300 },
    );
  });

  it('refuses points that coincide or have no place, saying which', () => {
    const errors = (points: TracingPoints) => {
      const result = tracingSimilarity(points);
      return result.ok ? [] : result.errors.map(mmError);
    };
    const same = errors({ picture: [[5, 5], [5, 6]], board: [[0, 0], [1, 0]] });
    expect(same).toMatchObject([{ field: 'picture', value: '1 pixels apart', allowed: '2 pixels or more apart' }]);
    const both = errors({ picture: [[5, 5], [5, 5]], board: [[3, 0], [3, 0.5]] });
    expect(both).toMatchObject([{ field: 'picture' }, { field: 'board', value: '0.5 mm apart' }]);
    expect(tracingSimilarity({ picture: [[5, Number.NaN], [5, 5]], board: [[0, 0], [9, 0]] })).toMatchObject({ ok: false, errors: [{ field: 'picture' }] });
  });
});
