/** Boards as beams: closed forms of Euler-Bernoulli's beam and the transformed section. */
import { describe, expect, it } from 'vitest';
import { sagMidway, slab, stiffnessOf } from '../../geometry/wood/beam';

describe('a board as a beam', () => {
  it.each([[6, 12, 26.25], [12, 6, 6.56]])('a strip %d by %d high on 230 mm gives %d N/mm in the middle', (b, h, stiffness) => {
    // 48 EI / L^3 (Euler-Bernoulli; provable); redcedar 7700 MPa, strip 12 x 6 on edge and on the flat.
    const { ei } = stiffnessOf([slab(7700, b, 0, h)]);
    expect(1 / sagMidway(0, 230, () => ei)).toBeCloseTo(stiffness, 2);
  });

  it('two timbers', () => {
    // 12 x 6 at 8000 MPa under 12 x 12 at 4000 (transformed section; provable).
    const { zbar, ei } = stiffnessOf([slab(8000, 12, 0, 6), slab(4000, 12, 6, 18)]);
    expect(zbar).toBeCloseTo(7.5, 12);
    expect(ei / 3.1968e7).toBeCloseTo(1, 12);
  });

  it('a box with a void', () => {
    // 20 x 60 on edge less 12 x 48: 1 - 12 48^3 / (20 60^3) (provable).
    const solid = slab(7700, 20, 0, 60);
    const hollow = stiffnessOf([solid, slab(7700, -12, 6, 54)]);
    expect(hollow.ei / stiffnessOf([solid]).ei).toBeCloseTo(0.6928, 4);
  });

  it('a stiffness that steps half way to the middle', () => {
    // EI halved over the outer half of each half-span: 1/48 (2 - 1) ... integral of x^2/4 twice over [0, L/4] at 1/2, the rest at 1 (provable).
    const L = 400;
    const sag = sagMidway(0, L, (x) => (Math.min(x, L - x) < L / 4 ? 0.5 : 1));
    const third = (a: number, b: number) => (b ** 3 - a ** 3) / 12;
    expect(sag).toBeCloseTo(2 * (2 * third(0, L / 4) + third(L / 4, L / 2)), 6);
  });
});
