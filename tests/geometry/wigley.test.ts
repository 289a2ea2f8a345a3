/**
 * The Wigley parabolic hull y = (B/2)(1 - (2x/L)^2)(1 - (z/T)^2) fed through the loft, lying on its side: the
 * half-breadth becomes a height over the (length, draught) plan. Wigley, 1930s; formula as in Kim & Lucas, 18th
 * Symposium on Naval Hydrodynamics, 1991 (formula from memory, every figure below provable).
 */
import { describe, expect, it } from 'vitest';
import { interpolateCubic } from '../../geometry/curves/interpolate';
import { gauss5 } from '../../geometry/curves/quadrature';
import { innerAt, panelAt, panelProbe, surfaceAt } from '../../geometry/hull/panel';
import { emptySamples } from '../../geometry/rail/samples';
import { fillBox, railEvaluator } from '../../geometry/rail/section';
import type { BoxSizes } from '../../geometry/rail/sizes';
import { hullOf, lofted } from '../support/custom';

// The usual proportions, L/B = 10 and B/T = 1.6, on a length of 1 m.
const L = 1000;
const B = L / 10;
const T = B / 1.6;

const form = (x: number) => 1 - ((2 * x) / L - 1) ** 2;
const height = (x: number, y: number) => (B / 2) * form(x) * (1 - (y / T) ** 2);
const slopes = (x: number, y: number) => [
  (B / 2) * (-4 / L) * ((2 * x) / L - 1) * (1 - (y / T) ** 2),
  (B / 2) * form(x) * ((-2 * y) / T ** 2),
] as const;

// Plan: a rectangle, length by draught; sections of the loft are parabolas, as cubic Bezier heights.
const outline = interpolateCubic([0, L], [0, T, L, T], 2);
const skin = lofted(outline, 48, (x) => {
  const h = (B / 2) * form(x);
  return [h, h, (2 * h) / 3, 0];
});
const flat = lofted(outline, 48, () => [0, 0, 0, 0]);
const hull = hullOf(outline, skin, flat);

/** 50 places spread over the plan by an irrational stride, none on an edge. */
const places = Array.from({ length: 50 }, (_, i) => [
  L * (0.01 + 0.98 * (((i + 1) * 0.6180339887) % 1)),
  T * (0.02 + 0.9 * (((i + 1) * 0.7548776662) % 1)),
] as const);

describe('a Wigley hull through the loft', () => {
  it('has block coefficient 4/9 and its centre amidships', () => {
    // `hullVolume` counts both mirror halves: here the two signs of z, so B/2 of breadth each.
    const block = hull.volume / (L * (B / 2) * (2 * T));
    expect(block).toBeCloseTo(4 / 9, 12);
    expect(hull.centre.x).toBeCloseTo(L / 2, 9);
    // Mean of half the squared height over mean height: (B/4)(4/5)(4/5).
    expect(hull.centre.z).toBeCloseTo((B / 4) * (16 / 25), 9);
  });

  it('has waterplane, midship and prismatic coefficients of 2/3', () => {
    const probe = panelProbe();
    const parts = (a: number, b: number, f: (t: number) => number) => {
      let sum = 0;
      for (let i = 0; i < 8; i++) sum += gauss5(f, a + ((b - a) * i) / 8, a + ((b - a) * (i + 1)) / 8);
      return sum;
    };
    const waterplane = 2 * parts(0, L, (x) => panelAt(skin, x, 0, probe).z);
    const midship = 2 * parts(0, T, (y) => panelAt(skin, L / 2, y, probe).z);
    expect(waterplane / (L * B)).toBeCloseTo(2 / 3, 11);
    expect(midship / (B * T)).toBeCloseTo(2 / 3, 11);
    expect(hull.volume / 2 / (midship / 2 * L)).toBeCloseTo(2 / 3, 11);
  });

  // Provable; KB = 5T/8 above the keel, hence 3T/8 below the waterline: the mean of y over the section's area.
  it('has its centre of buoyancy 3T/8 under the waterline', () => {
    const probe = panelProbe();
    const moment = gauss5((y) => y * panelAt(skin, 300, y, probe).z, 0, T) / gauss5((y) => panelAt(skin, 300, y, probe).z, 0, T);
    expect(moment).toBeCloseTo((3 / 8) * T, 10);
  });

  // Wetted surface 0.148791 for L = 1, B = 0.1, T = 0.0625, both sides (provable; recomputed to six figures).
  it('has the wetted surface of the formula', () => {
    const nine = new Float64Array(9);
    const area = (u: number, v: number) => {
      surfaceAt(skin, u, v, nine);
      const [, , , xu, yu, zu, , yv, zv] = nine;
      return Math.hypot(yu * zv - zu * yv, xu * zv, xu * yv);
    };
    let sum = 0;
    for (let i = 0; i < 20; i++) for (let j = 0; j < 10; j++) {
      sum += gauss5((u) => gauss5((v) => area(u, v), j / 10, (j + 1) / 10), (L * i) / 20, (L * (i + 1)) / 20);
    }
    expect((2 * sum) / L ** 2).toBeCloseTo(0.148791, 6);
  });

  it('has height and slope in closed form at 50 places', () => {
    const probe = panelProbe();
    for (const [x, y] of places) {
      panelAt(skin, x, y, probe);
      const [zx, zy] = slopes(x, y);
      expect(Math.abs(probe.z - height(x, y))).toBeLessThan(1e-10);
      expect(Math.abs(probe.zx - zx)).toBeLessThan(1e-10);
      expect(Math.abs(probe.zy - zy)).toBeLessThan(1e-10);
    }
  });

  // The inner face holds, at P - t n, the normal n of P (provable: parallel surfaces share normals).
  it('has inner faces on the normals of 50 places', () => {
    const probe = panelProbe();
    for (const [x, y] of places) {
      const [zx, zy] = slopes(x, y);
      const root = Math.sqrt(1 + zx * zx + zy * zy);
      const t = 4;
      innerAt(skin, 1, t, x + (t * zx) / root, y + (t * zy) / root, probe);
      expect(Math.abs(probe.z - (height(x, y) - t / root))).toBeLessThan(1e-9);
      // The foot is found to 1e-6 mm: its slope errs by that times the curvature, here B / T^2 = 0.026 per mm.
      expect(Math.abs(probe.zx - zx)).toBeLessThan(3e-8);
      expect(Math.abs(probe.zy - zy)).toBeLessThan(3e-8);
    }
  });

  // The bevel by the rail's own code: a strip w wide laid along the hull at each place, its cap's square top
  // against the chord of the surface across it, seen square to the strip's slope a = dz/dx.
  it('has the bevel of the closed form across a strip at 50 places', () => {
    const w = 8;
    const out = emptySamples(1, 1);
    for (const [x, y] of places) {
      const sizes: BoxSizes = {
        faceOffset: T - y, stripWidth: Math.min(w, y / 2), sole: 1, cap: 1, spacerWidth: 1, spacerHeight: 1, rows: 1,
        clearance: 0, glue: 0, deckSkin: 0, bottomSkin: 0,
      };
      fillBox(railEvaluator(hull, sizes), x, x, out, 0);
      const inner = y - sizes.stripWidth;
      const a = slopes(x, inner)[0];
      const fall = (height(x, inner) - height(x, y)) / sizes.stripWidth;
      expect(Math.abs(out.bevel[0] - Math.atan(fall / Math.sqrt(1 + a * a)))).toBeLessThan(1e-10);
      // The rail runs along x, so the station plane is square to it in plan: the traces' angle is atan(fall).
      expect(Math.abs(out.stationBevel[0] - Math.atan(fall))).toBeLessThan(1e-10);
      // As the strip narrows the chord becomes the surface's own slope: dz/dy.
      expect(Math.abs(fall + (slopes(x, inner)[1] + slopes(x, y)[1]) / 2)).toBeLessThan(1e-10);
    }
  });
});
