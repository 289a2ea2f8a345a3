/** The hot path's B-spline arithmetic against a textbook example, the recursion itself, and polynomials. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { breaks, cubicBasis, evalSpline, findSpan, greville } from '../../geometry/curves/bspline';
import { graphRange } from '../../geometry/curves/range';
import { gauss5 } from '../../geometry/curves/quadrature';
import { findRoot } from '../../geometry/curves/roots';

/** Basis function N(i, p) at u by the Cox-de Boor recursion as it is written, 0/0 taken as 0: slow and plain. */
function coxDeBoor(knots: ArrayLike<number>, i: number, p: number, u: number): number {
  if (p === 0) return knots[i] <= u && u < knots[i + 1] ? 1 : 0;
  const part = (top: number, low: number) => (low === 0 ? 0 : top / low);
  return part(u - knots[i], knots[i + p] - knots[i]) * coxDeBoor(knots, i, p - 1, u)
    + part(knots[i + p + 1] - u, knots[i + p + 1] - knots[i + 1]) * coxDeBoor(knots, i + 1, p - 1, u);
}

/** Clamped cubic knots with inner knots of multiplicity up to three. */
const knotVectors = fc
  .array(fc.record({ gap: fc.double({ min: 0.05, max: 3, noNaN: true }), times: fc.integer({ min: 1, max: 3 }) }), { minLength: 1, maxLength: 9 })
  .map((parts) => {
    const knots = [0, 0, 0, 0];
    let at = 0;
    parts.forEach(({ gap, times }, i) => {
      at += gap;
      for (let k = 0; k < (i + 1 === parts.length ? 4 : times); k++) knots.push(at);
    });
    return Float64Array.from(knots);
  });

describe('cubic basis functions', () => {
  // Piegl & Tiller, The NURBS Book, 2nd ed. 1997, Ex. 2.3 (second-hand, recomputed): p = 2,
  // U = {0,0,0,1,2,3,4,4,5,5,5}, u = 5/2: N(2,2) = 1/8, N(3,2) = 6/8, N(4,2) = 1/8. The kernel's basis is
  // cubic; on U with one knot more at each end its first derivatives are 3 N(i,2) over their supports.
  it('hold the textbook quadratic inside their first derivatives', () => {
    const knots = Float64Array.from([0, 0, 0, 0, 1, 2, 3, 4, 4, 5, 5, 5, 5]);
    const u = 5 / 2;
    const span = findSpan(knots, u);
    const out = new Float64Array(12);
    cubicBasis(knots, span, u, out);
    expect(span).toBe(5);
    // Undo the differences one by one: N' = 3 (low - high), each over its support.
    const n2 = (-out[4] * (knots[span + 1] - knots[span - 2])) / 3;
    const n4 = (out[7] * (knots[span + 3] - knots[span])) / 3;
    const n3 = ((-out[4] - out[5]) * (knots[span + 2] - knots[span - 1])) / 3;
    expect([n2, n3, n4].map((n) => Number(n.toFixed(15)))).toEqual([1 / 8, 6 / 8, 1 / 8]);
  });

  // Provable: N(2,2) = (3 - u)^2 / 2 and N(4,2) = (u - 2)^2 / 2 on [2, 3], so at 5/2 their slopes are -1/2 and 1/2.
  it('hold that quadratic\'s slopes inside their second derivatives', () => {
    const knots = Float64Array.from([0, 0, 0, 0, 1, 2, 3, 4, 4, 5, 5, 5, 5]);
    const out = new Float64Array(12);
    cubicBasis(knots, 5, 5 / 2, out);
    expect((-out[8] * (knots[6] - knots[3])) / 3).toBeCloseTo(-1 / 2, 14);
    expect((out[11] * (knots[8] - knots[5])) / 3).toBeCloseTo(1 / 2, 14);
  });

  // The NURBS Book, eq. 2.5 (memory): the recursion, as the slow twin of the unrolled form.
  it('equal the Cox-de Boor recursion on any knots, and sum to one', () => {
    const out = new Float64Array(12);
    fc.assert(
      fc.property(knotVectors, fc.double({ min: 0, max: 0.999999, noNaN: true }), (knots, t) => {
        const u = t * knots[knots.length - 1];
        const span = findSpan(knots, u);
        cubicBasis(knots, span, u, out);
        let sum = 0;
        for (let j = 0; j < 4; j++) {
          expect(Math.abs(out[j] - coxDeBoor(knots, span - 3 + j, 3, u))).toBeLessThan(1e-12);
          sum += out[j];
        }
        expect(Math.abs(sum - 1)).toBeLessThan(1e-12);
        expect(Math.abs(out[4] + out[5] + out[6] + out[7])).toBeLessThan(1e-9);
        expect(Math.abs(out[8] + out[9] + out[10] + out[11])).toBeLessThan(1e-6);
      }),
      { numRuns: 400 },
    );
  });

  // Provable: with the control values e1 e2 e3 of the knots' products (blossoms), a spline is exactly u^3;
  // so its value, slope and second derivative are u^3, 3 u^2 and 6 u (Marsden's identity).
  it('reproduce u^3 with both derivatives from its blossom', () => {
    const basis = new Float64Array(12);
    const out = new Float64Array(3);
    fc.assert(
      fc.property(knotVectors, fc.double({ min: 0, max: 1, noNaN: true }), (knots, t) => {
        const points = Float64Array.from({ length: knots.length - 4 }, (_, i) => knots[i + 1] * knots[i + 2] * knots[i + 3]);
        const end = knots[knots.length - 1];
        const u = t * end;
        evalSpline({ dim: 1, knots, points }, u, out, basis);
        expect(Math.abs(out[0] - u ** 3)).toBeLessThan(1e-11 * end ** 3);
        expect(Math.abs(out[1] - 3 * u * u)).toBeLessThan(1e-9 * end ** 2);
        expect(Math.abs(out[2] - 6 * u)).toBeLessThan(1e-6 * end);
      }),
      { numRuns: 400 },
    );
  });

  it('find the span of any parameter, hint or none, and the last span at the end', () => {
    fc.assert(
      fc.property(knotVectors, fc.double({ min: 0, max: 1, noNaN: true }), fc.integer({ min: -1, max: 40 }), (knots, t, hint) => {
        const u = t * knots[knots.length - 1];
        const span = findSpan(knots, u, hint);
        expect(knots[span + 1]).toBeGreaterThan(knots[span]);
        expect(knots[span]).toBeLessThanOrEqual(u);
        if (u < knots[knots.length - 1]) expect(knots[span + 1]).toBeGreaterThan(u);
        else expect(knots[span + 1]).toBe(u);
      }),
      { numRuns: 400 },
    );
  });

  it('stand for the means of three knots: the Greville abscissae make u itself', () => {
    const knots = Float64Array.from([0, 0, 0, 0, 1, 2.5, 2.5, 2.5, 4, 7, 7, 7, 7]);
    const points = greville(knots);
    const out = new Float64Array(3);
    for (const u of [0, 0.3, 2.5, 3, 6.9, 7]) {
      evalSpline({ dim: 1, knots, points }, u, out, new Float64Array(12));
      expect(out[0]).toBeCloseTo(u, 13);
      expect(out[1]).toBeCloseTo(1, 12);
    }
    expect(breaks(knots)).toEqual([0, 1, 2.5, 4, 7]);
  });
});

describe('small numerics', () => {
  // Provable: a five-point Gauss rule is exact to degree nine (Abramowitz & Stegun, 25.4.29; memory), and not at ten.
  it('integrate x^n exactly up to degree nine, and no further', () => {
    for (let n = 0; n <= 9; n++) expect(gauss5((x) => x ** n, 0, 2)).toBeCloseTo(2 ** (n + 1) / (n + 1), 11);
    expect(Math.abs(gauss5((x) => x ** 10, 0, 2) - 2 ** 11 / 11)).toBeGreaterThan(1e-4);
  });

  // Provable: roots of (x - r)(x^2 + 1), of cos, and of a function flat at its root.
  it('find roots between a sign change, whatever the slope there', () => {
    expect(findRoot((x) => (x - 0.123456789) * (x * x + 1), -3, 4, 1e-12)).toBeCloseTo(0.123456789, 11);
    expect(findRoot(Math.cos, 0, 3, 1e-12)).toBeCloseTo(Math.PI / 2, 11);
    expect(Math.abs(findRoot((x) => (x - 1) ** 3, 0, 1.7, 1e-9) - 1)).toBeLessThan(1e-9);
    expect(() => findRoot((x) => x * x + 1, -1, 1)).toThrow(/no sign change/);
  });

  // Provable: x^3 - 3x on [-2, 2] has its extremes 2 at -1 and 2, -2 at 1 and -2.
  it('find the extremes of a cubic between its knots', () => {
    // Bezier heights of x^3 - 3x on [-1.5, 1.5] by its blossom abc - (a + b + c).
    const [a, b] = [-1.5, 1.5];
    const at = (p: number, q: number, r: number) => p * q * r - (p + q + r);
    const range = graphRange({ dim: 1, knots: Float64Array.from([a, a, a, a, b, b, b, b]), points: Float64Array.from([at(a, a, a), at(a, a, b), at(a, b, b), at(b, b, b)]) });
    expect(range.max).toBeCloseTo(2, 13);
    expect(range.xMax).toBeCloseTo(-1, 12);
    expect(range.min).toBeCloseTo(-2, 13);
    expect(range.xMin).toBeCloseTo(1, 12);
  });
});
