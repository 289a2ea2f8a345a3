/**
 * The bevel: on a cone over a circular outline in closed form, and on every board by vectors alone.
 * Provable throughout: vector calculus, and the boatbuilder's rolling bevel (slope = grad z . n; in space, the
 * angle between two planes that share the rail's tangent).
 */
import { describe, expect, it } from 'vitest';
import { interpolateCubic } from '../../geometry/curves/interpolate';
import { innerAt, panelProbe } from '../../geometry/hull/panel';
import { planBoard } from '../../geometry/plan';
import { sectionAt } from '../../geometry/rail/query';
import { RunMap, planLine } from '../../geometry/rail/planLine';
import { emptySamples, sectionOf } from '../../geometry/rail/samples';
import { fillBox, railEvaluator } from '../../geometry/rail/section';
import { boxSizes, type BoxSizes } from '../../geometry/rail/sizes';
import type { Hull, RailSection } from '../../geometry/types';
import { cubicThrough, hullOf, lofted } from '../support/custom';
import { seedDesign, seedNames } from './boards';

type V = readonly [number, number, number];
const cross = (a: V, b: V): V => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const dot = (a: V, b: V) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const between = (a: V, b: V) => Math.atan2(Math.hypot(...cross(a, b)), dot(a, b));

/**
 * Bevel and station bevel of a section by vectors: two planes through the rail's tangent, one level square to
 * it, one through the deck's chord; the angle between their normals, and between their traces in x = const.
 */
function byVectors(c: RailSection, w: number): { bevel: number; station: number } {
  const tangent: V = [c.tx, c.ty, c.capSlope];
  const strip = cross(tangent, [c.nx, c.ny, 0]);
  const deck = cross(tangent, [c.nx, c.ny, (c.deckRib - c.deckFace) / w]);
  const falls = Math.sign(c.deckRib - c.deckFace) || 1;
  const trace = (normal: V): V => {
    const line = cross(normal, [1, 0, 0]);
    // Outboard is starboard.
    return line[1] < 0 ? [-line[0], -line[1], -line[2]] : line;
  };
  const [a, b] = [trace(strip), trace(deck)];
  return { bevel: falls * between(strip, deck), station: Math.atan2(a[2], a[1]) - Math.atan2(b[2], b[1]) };
}

describe('a cone over a circular outline', () => {
  const R = 300;
  const H = 90;
  const q = 0.22;
  const sizes: BoxSizes = {
    faceOffset: 10, stripWidth: 12, sole: 6, cap: 6, spacerWidth: 6, spacerHeight: 6, rows: 1, clearance: 0.3, glue: 0.1,
    deckSkin: 4, bottomSkin: 4,
  };
  const n = 384;
  const angles = Array.from({ length: n + 1 }, (_, i) => (Math.PI * i) / n);
  const outline = interpolateCubic(
    angles.map((a) => R * a), angles.flatMap((a) => [R - R * Math.cos(a), R * Math.sin(a)]), 2, [], { start: [0, 1], end: [0, -1] },
  );

  /** The cone's hull. Its sections are hyperbolas: each is followed by the cubic through four places of the band
   * that the box and its skin reach, so heights farther in are of no use. What the cubic misses there shows as
   * 5e-5 mm and 4e-6 rad (0.0003 degrees) in the checks below. */
  function cone(apexX: number, width = sizes.stripWidth): Hull {
    const inner = R - sizes.faceOffset - width - 3;
    const deck = lofted(outline, 4, (x, y) => {
      if (y < 1e-6) return new Array<number>(4).fill(H - q * Math.abs(x - apexX));
      const low = Math.sqrt(Math.max(0, inner ** 2 - (x - R) ** 2)) / y;
      // Chebyshev's places, which spread the error evenly (memory).
      const vs = [0, 1, 2, 3].map((k) => (1 + low) / 2 + ((1 - low) / 2) * Math.cos(((2 * k + 1) * Math.PI) / 8));
      return cubicThrough(vs, vs.map((v) => H - q * Math.hypot(x - apexX, v * y)));
    });
    return hullOf(outline, deck, lofted(outline, 4, () => [0, 0, 0, 0]));
  }

  /** Sections at runs up to 50 degrees to both sides of the beam. */
  function sections(hull: Hull, stripWidth = sizes.stripWidth): RailSection[] {
    const face = planLine(outline, sizes.faceOffset, 'test');
    const map = new RunMap(outline, face);
    const ev = railEvaluator(hull, { ...sizes, stripWidth });
    const at = emptySamples(1, 1);
    return Array.from({ length: 50 }, (_, i) => {
      const a = Math.PI / 2 + ((i / 49) * 2 - 1) * (50 / 180) * Math.PI;
      const s = (R - sizes.faceOffset) * a;
      fillBox(ev, map.parameterAt(s), s, at, 0);
      return sectionOf(at, 0);
    });
  }

  // The inner deck is the parallel cone, as steep; along the circle it is level: bevel atan q everywhere.
  it('centred on its axis: bevel, planing, hollow and station bevel in closed form at 50 places', () => {
    for (const c of sections(cone(R))) {
      const beam = Math.asin((c.x - R) / (R - sizes.faceOffset));
      expect(Math.abs(c.capSlope)).toBeLessThan(4e-6);
      expect(Math.abs(c.bevel - Math.atan(q))).toBeLessThan(4e-6);
      expect(Math.abs(c.planing - sizes.stripWidth * q)).toBeLessThan(5e-5);
      expect(Math.abs(c.deckHollow)).toBeLessThan(5e-5);
      expect(Math.abs(c.stationBevel - Math.atan(q * Math.cos(beam)))).toBeLessThan(4e-6);
      expect(Math.abs(c.deckRib - (H - sizes.deckSkin * Math.hypot(1, q) - q * (R - sizes.faceOffset - sizes.stripWidth)))).toBeLessThan(5e-5);
    }
  });

  // Off its axis the strip runs up and down the cone, so the bevel square to the rail differs from the fall.
  it.each([140, 420])('with its axis at x = %s: bevel and station bevel in closed form at 50 places', (apexX) => {
    const inner = (x: number, y: number) => H - sizes.deckSkin * Math.hypot(1, q) - q * Math.hypot(x - apexX, y);
    let steepest = 0;
    for (const c of sections(cone(apexX))) {
      const far = Math.hypot(c.ribX - apexX, c.ribY);
      const slope = (-q * ((c.ribX - apexX) * c.tx + c.ribY * c.ty)) / far;
      const fall = (inner(c.ribX, c.ribY) - inner(c.x, c.y)) / sizes.stripWidth;
      expect(Math.abs(c.capSlope - slope)).toBeLessThan(4e-6);
      expect(Math.abs(c.bevel - Math.atan(fall / Math.hypot(1, slope)))).toBeLessThan(4e-6);
      const station = Math.atan(slope * c.ty) - Math.atan(slope * c.ty + fall * c.ny);
      expect(Math.abs(c.stationBevel - station)).toBeLessThan(4e-6);
      steepest = Math.max(steepest, Math.abs(slope));
    }
    expect(steepest).toBeGreaterThan(0.07);
  });

  it('is met the better the narrower the band that its cubics follow', () => {
    const worst = (width: number) => Math.max(...sections(cone(420, width), width).map((c) => {
      const exact = H - sizes.deckSkin * Math.hypot(1, q) - q * Math.hypot(c.ribX - 420, c.ribY);
      return Math.abs(c.deckRib - exact);
    }));
    // A cubic through four places errs as the fourth power of the band; the band is the strip and 13 mm more.
    expect(worst(37) / worst(12)).toBeGreaterThan(8);
    expect(worst(12)).toBeLessThan(5e-5);
  });
});

describe.each(seedNames)('%s', (name) => {
  const design = seedDesign(name);
  const plan = planBoard(design);
  const { stripWidth: w, capThickness } = design.rail;
  const places = Array.from({ length: 120 }, (_, i) => plan.rail.cap.s0 + ((plan.rail.cap.s1 - plan.rail.cap.s0) * (i + 0.5)) / 120);

  it('bevel and station bevel are the angles between planes and between their traces', () => {
    let differ = 0;
    for (const s of places) {
      const c = sectionAt(plan, s);
      const { bevel, station } = byVectors(c, w);
      expect(Math.abs(c.bevel - bevel)).toBeLessThan(1e-12);
      expect(Math.abs(c.stationBevel - station)).toBeLessThan(1e-12);
      differ = Math.max(differ, Math.abs(c.bevel - c.stationBevel));
    }
    // The two are not the same figure: on every board they part by a third of a degree or more somewhere.
    expect(differ).toBeGreaterThan((0.33 * Math.PI) / 180);
  });

  it('the fall across the strip is the inner deck\'s own slope, grad z . n, half way', () => {
    const { deckSkin } = boxSizes(design);
    const probe = panelProbe();
    let [whole, tenth] = [0, 0];
    for (const s of places) {
      const c = sectionAt(plan, s);
      const at = (o: number) => innerAt(plan.hull.deck, 1, deckSkin, c.x + o * c.nx, c.y + o * c.ny, probe);
      const half = at(w / 2);
      const slope = half.zx * c.nx + half.zy * c.ny;
      whole = Math.max(whole, Math.abs((c.deckRib - c.deckFace) / w - slope));
      tenth = Math.max(tenth, Math.abs((at(0.55 * w).z - at(0.45 * w).z) / (0.1 * w) - slope));
    }
    // A chord's own error is width^2 / 24 times the third derivative: a hundredth of it on a strip a tenth as wide.
    expect(whole).toBeLessThan(2e-3);
    expect(tenth).toBeLessThan(whole / 50);
  });

  it('planing and what is left of the cap make the cap', () => {
    for (const s of places) {
      const c = sectionAt(plan, s);
      expect(c.planing + c.capLeft).toBeCloseTo(capThickness, 12);
      expect(c.planing).toBeCloseTo(w * Math.tan(c.bevel), 12);
      expect(c.solePlaning + c.soleLeft).toBeCloseTo(design.rail.soleThickness, 12);
    }
  });
});
