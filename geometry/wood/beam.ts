/** Bending of a board as a beam: stiffness of a section of several timbers, and how far a load in the middle sags it. */
import { gauss5 } from '../curves/quadrature';

/** A part of a section: modulus (MPa), area (mm2), height of its middle (mm), and its own second moment about that (mm4). */
export interface Fibre {
  readonly modulus: number;
  readonly area: number;
  readonly z: number;
  readonly own: number;
}

/** A rectangle from z0 to z1, b wide, mm. */
export const slab = (modulus: number, b: number, z0: number, z1: number): Fibre =>
  ({ modulus, area: b * (z1 - z0), z: (z0 + z1) / 2, own: (b * (z1 - z0) ** 3) / 12 });

/**
 * Height of the neutral axis (mm) and EI about it (N mm2): the sum of E (I + A (z - zbar)^2), zbar the mean of heights
 * weighed by E A (transformed section; provable). Parts may be taken off by a negative area and moment.
 */
export function stiffnessOf(fibres: readonly Fibre[]): { zbar: number; ei: number } {
  let [weight, first] = [0, 0];
  for (const { modulus, area, z } of fibres) {
    weight += modulus * area;
    first += modulus * area * z;
  }
  const zbar = first / weight;
  return { zbar, ei: fibres.reduce((sum, { modulus, area, z, own }) => sum + modulus * (own + area * (z - zbar) ** 2), 0) };
}

/** Gauss pieces over each half of a span. */
const PIECES = 4;

/**
 * Sag per newton, mm/N, midway between two supports a and b (mm) under a load there: the integral of m^2 / EI, m being
 * half the way from the nearer support (unit load; provable). For one EI all along it is L^3 / (48 EI).
 */
export function sagMidway(a: number, b: number, eiAt: (x: number) => number): number {
  const mid = (a + b) / 2;
  const step = (mid - a) / PIECES;
  let sag = 0;
  for (let i = 0; i < PIECES; i++) {
    sag += gauss5((x) => ((x - a) / 2) ** 2 / eiAt(x), a + i * step, a + (i + 1) * step);
    sag += gauss5((x) => ((b - x) / 2) ** 2 / eiAt(x), mid + i * step, mid + (i + 1) * step);
  }
  return sag;
}
