/** Curves and lofts through their points: held exactly, the same as another kernel's, and where verb's is not. */
import { beforeAll, describe, expect, it } from 'vitest';
import { breaks, evalSpline, type Spline } from '../../geometry/curves/bspline';
import { graphSpline, valueAt } from '../../geometry/curves/graph';
import { chordParameters, interpolateCubic } from '../../geometry/curves/interpolate';
import { buildHull } from '../../geometry/hull/hull';
import { loft, loftKnots, loftParameters } from '../../geometry/hull/loft';
import { bottomSection, deckSection } from '../../geometry/hull/sections';
import { hullVolume } from '../../geometry/hull/volume';
import type { Design } from '../../geometry/design/schema';
import { loadOcct, loadVerb } from '../support/kernels';
import { inside } from '../support/nets';
import { seedDesign, seedNames } from './boards';

let occt: Awaited<ReturnType<typeof loadOcct>>;
beforeAll(async () => {
  occt = await loadOcct();
});

/** OCCT's cubic through three-dimensional points at given parameters, with end tangents as given. */
function occtInterpolation(points: readonly (readonly number[])[], at: readonly number[], start: readonly number[], end: readonly number[]) {
  const list = new occt.NCollection_Array1_gp_Pnt(1, points.length);
  const parameters = new occt.NCollection_Array1_double(1, points.length);
  points.forEach((p, i) => {
    list.SetValue(i + 1, new occt.gp_Pnt(p[0], p[1], p[2]));
    parameters.SetValue(i + 1, at[i]);
  });
  const fit = new occt.GeomAPI_Interpolate(
    new occt.NCollection_HArray1_gp_Pnt(list), new occt.NCollection_HArray1_double(parameters), false, 1e-9,
  );
  fit.Load(new occt.gp_Vec(start[0], start[1], start[2]), new occt.gp_Vec(end[0], end[1], end[2]), false);
  fit.Perform();
  expect(fit.IsDone()).toBe(true);
  return fit.Curve();
}

const basis = new Float64Array(12);
const row = new Float64Array(63);
const at = (spline: Spline, u: number) => {
  evalSpline(spline, u, row, basis);
  return Array.from(row.subarray(0, spline.dim));
};

describe('the cubic through points', () => {
  // Comparison of programs: the cubic of continuous curvature with given end tangents is unique (provable).
  it.each(seedNames)('%s: the outline is the one OCCT draws through the same points', (name) => {
    const { points, tailAngleDeg, noseAngleDeg } = seedDesign(name).lines.outline;
    const data = points.flatMap((p) => [p.x, p.y]);
    const us = Array.from(chordParameters(data, 2));
    const way = (deg: number, sign: number) => [Math.cos((deg * Math.PI) / 180), sign * Math.sin((deg * Math.PI) / 180)];
    const [start, end] = [way(tailAngleDeg ?? 0, 1), way(noseAngleDeg ?? 0, -1)];
    const mine = interpolateCubic(us, data, 2, [], { start, end });
    const theirs = occtInterpolation(points.map((p) => [p.x, p.y, 0]), us, [...start, 0], [...end, 0]);
    const p = new occt.gp_Pnt(0, 0, 0);
    for (const u of inside(mine.knots, 100)) {
      theirs.D0(u, p);
      expect(Math.hypot(at(mine, u)[0] - p.X(), at(mine, u)[1] - p.Y())).toBeLessThan(1e-9);
    }
  });

  // Provable: a cubic is its own interpolant when its end slopes are given, natural ends keep a straight line.
  it('gives back a cubic from five of its points, and a line from three', () => {
    const f = (x: number) => 2e-6 * x ** 3 - 3e-3 * x * x + x - 40;
    const slope = (x: number) => 6e-6 * x * x - 6e-3 * x + 1;
    const xs = [0, 130, 410, 700, 1000];
    const cubic = interpolateCubic(xs, xs.map(f), 1, [], { start: [slope(0)], end: [slope(1000)] });
    const line = interpolateCubic([0, 40, 1000], [5, 9, 105], 1);
    for (let x = 0; x <= 1000; x += 37) {
      expect(valueAt(cubic, x)).toBeCloseTo(f(x), 9);
      expect(valueAt(line, x)).toBeCloseTo(5 + x / 10, 10);
    }
  });

  it('breaks its slope at a corner and nowhere else', () => {
    const curve = graphSpline({ points: [{ x: 0, v: 0 }, { x: 100, v: 10, corner: true }, { x: 200, v: 0 }, { x: 300, v: 3 }] });
    const slopeAt = (x: number) => (valueAt(curve, x + 1e-4) - valueAt(curve, x)) / 1e-4;
    expect(slopeAt(100) - slopeAt(99.9999 - 1e-4)).toBeLessThan(-0.1);
    expect(Math.abs(slopeAt(200) - slopeAt(199.9998))).toBeLessThan(1e-5);
    expect(valueAt(curve, 100)).toBeCloseTo(10, 12);
  });
});

describe('the loft', () => {
  it.each(seedNames)('%s: holds every section it was laid through', (name) => {
    const { outline, lines, deck, bottom } = buildHull(seedDesign(name));
    const want = new Float64Array(6);
    let worst = 0;
    const us = loftParameters(deck.spline.knots);
    for (const u of us) {
      deckSection(outline, lines, u, want, 0);
      at(deck.spline, u).forEach((v, c) => (worst = Math.max(worst, Math.abs(v - want[c]))));
      bottomSection(outline, lines, u, want, 0);
      at(bottom.spline, u).forEach((v, c) => (worst = Math.max(worst, Math.abs(v - want[c]))));
    }
    expect(us.length).toBeGreaterThan(30);
    expect(worst).toBeLessThan(1e-9);
  });

  // Comparison of programs. verb gives each column of control points its own parameters and keeps one knot
  // vector for all; the kernel therefore lofts for itself. Distance from a section to verb's loft is taken at
  // the parameter that suits the section best, so it is the least miss that can be claimed.
  it.each(['round-tail-175.board.json', 'long-275.board.json'])('%s: verb\'s own loft through the same sections misses them', (name) => {
    const { deck } = buildHull(seedDesign(name));
    const verb = loadVerb();
    const us = Array.from(loftParameters(deck.spline.knots));
    const curves = us.map((u) => {
      const r = at(deck.spline, u);
      const points = [0, 1, 2, 3].map((j) => [r[0], (r[1] * j) / 3, r[2 + j]]);
      return verb.geom.NurbsCurve.byKnotsControlPointsWeights(3, [0, 0, 0, 0, 1, 1, 1, 1], points);
    });
    const theirs = verb.geom.NurbsSurface.byLoftingCurves(curves, 3);
    const across = [0, 0.25, 0.5, 0.75, 1];
    let worst = 0;
    curves.forEach((curve) => {
      const section = across.map((t) => curve.point(t));
      const miss = (w: number) => Math.max(...across.map((t, k) => {
        const p = theirs.point(t, w);
        return Math.hypot(p[0] - section[k][0], p[1] - section[k][1], p[2] - section[k][2]);
      }));
      let best = Infinity;
      let where = 0;
      for (let k = 0; k <= 300; k++) {
        const d = miss(k / 300);
        if (d < best) [best, where] = [d, k / 300];
      }
      for (let h = 1 / 300; h > 1e-9; h *= 0.7) {
        for (const w of [where - h, where + h]) {
          const d = w >= 0 && w <= 1 ? miss(w) : Infinity;
          if (d < best) [best, where] = [d, w];
        }
      }
      worst = Math.max(worst, best);
    });
    // Seen: 2.4 and 2.3 mm.
    expect(worst).toBeGreaterThan(1);
  });

  // Provable: cubics in u lie in the spline space of any knots.
  it('reproduces a surface that is cubic along the length', () => {
    const knots = loftKnots(Float64Array.from([0, 0, 0, 0, 300, 700, 700, 700, 1000, 1000, 1000, 1000]), [450], 60);
    const f = (u: number) => [u, 3e-7 * u ** 3 - 1e-4 * u * u, 40 - 1e-8 * u ** 3];
    const spline = loft(knots, Float64Array.from(Array.from(loftParameters(knots)).flatMap(f)), 3);
    for (const u of inside(knots, 200)) at(spline, u).forEach((v, c) => expect(Math.abs(v - f(u)[c])).toBeLessThan(1e-9));
  });

  // The same round on knots that stand twice as close, three times over (provable: a spline lies in the space of more knots).
  // Seen: 2.8e-9 of the volume and 5e-7 mm at worst, and the area to rounding, which three points a span integrate exactly.
  it.each(seedNames)('%s: volume, centre and area are those of a sum over eighths of the spans', (name) => {
    const hull = buildHull(seedDesign(name));
    let round = hull.round;
    for (let k = 0; k < 3; k++) {
      const halves = breaks(round.knots).flatMap((u, i, all) => (i === 0 ? [] : [(all[i - 1] + u) / 2]));
      const knots = Float64Array.from([...round.knots, ...halves]).sort();
      round = loft(knots, Float64Array.from(Array.from(loftParameters(knots)).flatMap((u) => at(hull.round, u))), hull.round.dim);
    }
    const fine = hullVolume(hull.deck, hull.bottom, round);
    expect(Math.abs(hull.volume / fine.volume - 1)).toBeLessThan(1e-8);
    expect(Math.abs(hull.planArea / fine.planArea - 1)).toBeLessThan(1e-12);
    for (const c of ['x', 'z'] as const) expect(Math.abs(hull.centre[c] - fine.centre[c])).toBeLessThan(1e-6);
  });

  /** Greatest distance between lofted panels and their sections, anywhere. */
  function strays(design: Design, step: number): number {
    const hull = buildHull(design, step);
    const want = new Float64Array(6);
    let worst = 0;
    for (const u of inside(hull.deck.spline.knots, 4000)) {
      deckSection(hull.outline, hull.lines, u, want, 0);
      at(hull.deck.spline, u).forEach((v, c) => (worst = Math.max(worst, Math.abs(v - want[c]))));
      bottomSection(hull.outline, hull.lines, u, want, 0);
      at(hull.bottom.spline, u).forEach((v, c) => (worst = Math.max(worst, Math.abs(v - want[c]))));
    }
    return worst;
  }

  it.each(seedNames)('%s: strays under 2 micrometres between sections, and far less when they stand closer', (name) => {
    const design = seedDesign(name);
    const coarse = strays(design, 48);
    expect(coarse).toBeLessThan(0.002);
    // Fourth order would divide by 16; the length curves' own knots, between the loft's, cost one order.
    expect(strays(design, 24)).toBeLessThan(coarse / 2);
  });

  it.each(['rocker', 'thickness', 'crown'] as const)('keeps a corner of the %s sharp instead of rippling about it', (line) => {
    const design = structuredClone(seedDesign('round-tail-175.board.json'));
    const { points } = design.lines[line];
    const middle = points[points.length >> 1];
    middle.corner = true;
    middle.v *= 1.2;
    // Without knots of its own a corner strays by half a millimetre at any step.
    expect(strays(design, 48)).toBeLessThan(0.01);
  });
});
