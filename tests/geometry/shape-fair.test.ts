/**
 * Combs and fairing against closed forms and one general-purpose reference: SciPy 1.17.1
 * (scipy.interpolate.make_smoothing_spline and CubicSpline), whose figures were computed once and stand below.
 */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { breaks, evalSpline } from '../../geometry/curves/bspline';
import { graphSpline, valueAt } from '../../geometry/curves/graph';
import { frameAt, planeFrame } from '../../geometry/curves/plane';
import { readDesign } from '../../geometry/design/read';
import type { Design, LengthCurveDesign, OutlineDesign } from '../../geometry/design/schema';
import { combOf } from '../../geometry/shape/comb';
import { fairCurve, leastMoves, roughnessOf } from '../../geometry/shape/fair';
import { cardinals, parametersOf, setEnds, splineOf } from '../../geometry/shape/line';
import { errorLines } from '../support/said';

function seed(name: string): Design {
  const result = readDesign(readFileSync(new URL(`../boards/${name}.board.json`, import.meta.url), 'utf8'));
  if (!result.ok) throw new Error(errorLines(result.errors));
  return result.design;
}

const curve = (pairs: readonly (readonly [number, number])[], rest: Partial<LengthCurveDesign> = {}): LengthCurveDesign => ({
  points: pairs.map(([x, v]) => ({ x, v })), ...rest,
});

/** Everything the fairing solves, with the points named free. */
function roughness(c: LengthCurveDesign, free: readonly number[], order: 2 | 3) {
  const spline = splineOf(c);
  const unit = cardinals(parametersOf(c), [], setEnds(c));
  return roughnessOf(spline, unit, new Float64Array(c.points.length).fill(1), free, order);
}
const energy = (c: LengthCurveDesign) => roughness(c, [], 2).rest.reduce((sum, r) => sum + r * r, 0);

/** Seven stations of a made-up rocker. */
const PAIRS = [[0, 32], [210, 9.5], [455, 1], [700, 4.2], [980, 14], [1240, 33.1], [1500, 70]] as const;
const NATURAL = curve(PAIRS);
const all = PAIRS.map((_, i) => i);

describe('curvature combs', () => {
  it('read a half circle as one even bend: curvature 1/R, length pi R, bending pi/R', () => {
    const R = 250;
    const n = 24;
    const points = Array.from({ length: n + 1 }, (_, i) => {
      const a = Math.PI - (Math.PI * i) / n;
      return { x: R * (1 + Math.cos(a)), y: i === 0 || i === n ? 0 : R * Math.sin(a) };
    });
    const comb = combOf({ points, tailAngleDeg: 90, noseAngleDeg: 90 });
    for (let i = 0; i < comb.teeth.length; i += 5) {
      expect(comb.teeth[i + 4] * R).toBeCloseTo(1, 1);
      // The normal points at the centre of the circle.
      expect(comb.teeth[i] + R * comb.teeth[i + 2]).toBeCloseTo(R, 0);
      expect(comb.teeth[i + 1] + R * comb.teeth[i + 3]).toBeCloseTo(0, 0);
    }
    expect(comb.figures.length).toBeCloseTo(Math.PI * R, 2);
    expect(comb.figures.bending * R).toBeCloseTo(Math.PI, 3);
    expect(comb.inflections).toEqual([]);
    expect(comb.pieces).toEqual([0]);
  });

  it('find the inflection of a cubic where its second derivative vanishes, and its curvature in closed form', () => {
    // v = (x - 400)^3 / 1e6: v'' = 6 (x - 400) / 1e6, reproduced exactly by a spline with its end slopes.
    const v = (x: number) => (x - 400) ** 3 / 1e6;
    const slope = (x: number) => (3 * (x - 400) ** 2) / 1e6;
    const deg = (s: number) => (Math.atan(s) * 180) / Math.PI;
    const c = curve([0, 150, 500, 900].map((x) => [x, v(x)] as const), { tailSlopeDeg: deg(slope(0)), noseSlopeDeg: deg(slope(900)) });
    const comb = combOf(c);
    expect(comb.inflections.map((m) => m.x)).toHaveLength(1);
    expect(comb.inflections[0].x).toBeCloseTo(400, 4);
    for (let i = 0; i < comb.teeth.length; i += 5) {
      const x = comb.teeth[i];
      expect(comb.teeth[i + 4]).toBeCloseTo((6 * (x - 400)) / 1e6 / (1 + slope(x) ** 2) ** 1.5, 9);
    }
    // As a ratio the figures are plain integrals: of v''^2 = 12e-12 [(x - 400)^3] and of v'''^2.
    const { figures } = combOf(c, { ratio: true });
    expect(figures.bending).toBeCloseTo(12e-12 * (500 ** 3 + 400 ** 3), 10);
    expect(figures.variation * 1e9).toBeCloseTo(36e-12 * 900 * 1e9, 9);
  });

  it('count the change of curvature as its slope along the curve says, by differences', () => {
    const { outline } = seed('round-tail-175').lines;
    const spline = splineOf(outline);
    const frame = planeFrame();
    const spans = breaks(spline.knots);
    let sum = 0;
    for (let k = 0; k + 1 < spans.length; k++) {
      const n = 4000;
      const h = (spans[k + 1] - spans[k]) / n;
      for (let i = 0; i < n; i++) {
        const u = spans[k] + (i + 0.5) * h;
        const high = frameAt(spline, u + h / 4, frame).kappa;
        const low = frameAt(spline, u - h / 4, frame).kappa;
        const { speed } = frameAt(spline, u, frame);
        sum += ((high - low) / (h / 2) / speed) ** 2 * speed * h;
      }
    }
    expect(combOf(outline).figures.variation / sum).toBeCloseTo(1, 2);
  });

  it('starts a new piece at a corner and marks no inflection there', () => {
    const c: LengthCurveDesign = { points: [{ x: 0, v: 0 }, { x: 400, v: 40, corner: true }, { x: 800, v: 0 }] };
    const comb = combOf(c);
    expect(comb.pieces).toHaveLength(2);
    expect(comb.teeth[comb.pieces[1] * 5]).toBeCloseTo(400, 5);
    expect(comb.inflections).toEqual([]);
  });

  it('marks a curvature peak at the tightest place between two flatter ones', () => {
    const comb = combOf(curve([[0, 0], [300, 0], [600, 25], [900, 0], [1200, 0]]));
    const tight = comb.peaks.reduce((a, b) => (Math.abs(b.kappa) > Math.abs(a.kappa) ? b : a));
    expect(tight.x).toBeCloseTo(600, 3);
    expect(comb.figures.peaks).toBe(comb.peaks.length);
    expect(comb.inflections.map((m) => m.x > 600)).toEqual([false, true]);
  });
});

describe('the fairing functional', () => {
  it('is the linearised bending energy: the natural spline of the reference has the same', () => {
    expect(energy(NATURAL)).toBeCloseTo(7.005566347522113e-5, 16);
  });

  it('is least for the natural spline among the curves through its points (Holladay)', () => {
    const spline = graphSpline(NATURAL);
    const base = energy(NATURAL);
    fc.assert(
      fc.property(fc.array(fc.double({ min: -20, max: 20, noNaN: true }), { minLength: 6, maxLength: 6 }), (bumps) => {
        // Another interpolant: the same points, and one more between each two, off the natural spline.
        const points = PAIRS.flatMap(([x, v], i) => {
          if (i === 6) return [{ x, v }];
          const mid = (x + PAIRS[i + 1][0]) / 2;
          return [{ x, v }, { x: mid, v: valueAt(spline, mid) + bumps[i] }];
        });
        const other = energy({ points });
        // And the gap is the energy of the difference alone: the two are orthogonal.
        const gap = energy({ points: points.map((p) => ({ x: p.x, v: p.v - valueAt(spline, p.x) })) });
        expect(other).toBeGreaterThanOrEqual(base * (1 - 1e-12));
        expect(Math.abs(other - base - gap)).toBeLessThan(1e-9 * (base + gap));
      }),
      { seed: 4, numRuns: 100 },
    );
  });

  it('lets free points fall on the natural spline of the kept ones when the weight is infinite', () => {
    const spline = graphSpline(NATURAL);
    const mids = [100, 600, 1100, 1350];
    const points = [...PAIRS.map(([x, v]) => ({ x, v })), ...mids.map((x) => ({ x, v: 25 }))].sort((a, b) => a.x - b.x);
    const free = points.flatMap((p, i) => (mids.includes(p.x) ? [i] : []));
    const moves = leastMoves(roughness({ points }, free, 2))(Infinity);
    free.forEach((i, c) => expect(points[i].v + moves[c]).toBeCloseTo(valueAt(spline, points[i].x), 8));
  });

  it.each([
    [1e4, [31.97958513270978, 9.530882185814145, 0.9943069207156306, 4.193198377034999, 13.992282954314469, 33.12379888929125, 69.98594554011973]],
    [1e7, [26.374219369864928, 13.06210846702816, 3.608966218556758, 3.642660122338879, 15.255932338909428, 36.59987850092487, 65.25623498237695]],
  ])('moves points as the smoothing spline of the reference does: lambda %d', (lambda, want) => {
    const moves = leastMoves(roughness(NATURAL, all, 2))(lambda);
    all.forEach((i) => expect(PAIRS[i][1] + moves[i]).toBeCloseTo(want[i], 7));
  });

  it('moves nothing as lambda goes to nothing, and to the line of least squares as it grows', () => {
    const solve = leastMoves(roughness(NATURAL, all, 2));
    expect(Math.max(...solve(1e-6).map(Math.abs))).toBeLessThan(1e-8);
    const n = PAIRS.length;
    const mx = PAIRS.reduce((s, [x]) => s + x, 0) / n;
    const mv = PAIRS.reduce((s, [, v]) => s + v, 0) / n;
    const slope = PAIRS.reduce((s, [x, v]) => s + (x - mx) * (v - mv), 0) / PAIRS.reduce((s, [x]) => s + (x - mx) ** 2, 0);
    const far = solve(Infinity);
    all.forEach((i) => expect(PAIRS[i][1] + far[i]).toBeCloseTo(mv + slope * (PAIRS[i][0] - mx), 8));
  });

  it('leaves an even bend alone, and makes one: change of curvature gone through three kept points is a parabola', () => {
    const parabola = (x: number) => 30 - x / 20 + (x * x) / 20000;
    const xs = [0, 200, 500, 900, 1200, 1500];
    const deg = (x: number) => (Math.atan(-1 / 20 + x / 10000) * 180) / Math.PI;
    const even = curve(xs.map((x) => [x, parabola(x)] as const), { tailSlopeDeg: deg(0), noseSlopeDeg: deg(1500) });
    const rest = roughness(even, [1, 2, 3, 4], 3).rest.reduce((s, r) => s + r * r, 0);
    expect(rest).toBeLessThan(1e-24);
    const rough = { ...even, points: even.points.map((p, i) => ({ ...p, v: p.v + [0, 3, -2, 0, 4, 0][i] })) };
    const moves = leastMoves(roughness(rough, [1, 2, 4], 3))(Infinity);
    [1, 2, 4].forEach((i, c) => expect(rough.points[i].v + moves[c]).toBeCloseTo(parabola(xs[i]), 6));
  });
});

describe('fair this', () => {
  const bumped = { ...NATURAL, points: NATURAL.points.map((p, i) => (i === 3 ? { ...p, v: p.v + 4 } : p)), noseSlopeDeg: 9 };

  it.each(['variation', 'bending'] as const)('takes a bump out of a rocker up to the limit, by %s, ends and slopes kept', (measure) => {
    const result = fairCurve(bumped, { limit: 2, measure });
    expect(result.greatestMove.amount).toBeCloseTo(2, 5);
    expect(result.curveMove.amount).toBeGreaterThanOrEqual(2 - 1e-6);
    expect(result.roughness.after).toBeLessThan(result.roughness.before);
    expect(result.after[measure]).toBeLessThan(result.before[measure]);
    expect(result.curve.points[0]).toEqual(bumped.points[0]);
    expect(result.curve.points[6]).toEqual(bumped.points[6]);
    expect(result.curve.noseSlopeDeg).toBe(9);
    expect(result.curve.points.map((p) => p.x)).toEqual(bumped.points.map((p) => p.x));
    result.moves.forEach((m, i) => expect(result.curve.points[i].v - bumped.points[i].v).toBeCloseTo(m, 12));
    // The farthest the curve moved, by brute force.
    const a = graphSpline(bumped);
    const b = graphSpline(result.curve);
    let most = 0;
    for (let x = 0; x <= 1500; x += 0.25) most = Math.max(most, Math.abs(valueAt(a, x) - valueAt(b, x)));
    expect(result.curveMove.amount).toBeCloseTo(most, 4);
  });

  it('is the least of its sum: no nearby moves are better', () => {
    const lambda = 1e11;
    const result = fairCurve(bumped, { limit: 50, lambda });
    const cost = (moves: readonly number[]) => {
      const c = { ...bumped, points: bumped.points.map((p, i) => ({ ...p, v: p.v + moves[i] })) };
      return moves.reduce((s, m) => s + m * m, 0) + lambda * roughness(c, [], 3).rest.reduce((s, r) => s + r * r, 0);
    };
    const least = cost(result.moves);
    fc.assert(
      fc.property(fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 5, maxLength: 5 }), (step) => {
        expect(cost(result.moves.map((m, i) => (i === 0 || i === 6 ? m : m + step[i - 1])))).toBeGreaterThanOrEqual(least * (1 - 1e-12));
      }),
      { seed: 11, numRuns: 200 },
    );
  });

  it('keeps the points and corners it is told to keep', () => {
    const corner = { ...bumped, points: bumped.points.map((p, i) => (i === 2 ? { ...p, corner: true } : p)) };
    const result = fairCurve(corner, { limit: 3, keep: [4] });
    expect(result.moves[2]).toBe(0);
    expect(result.moves[4]).toBe(0);
    expect(result.greatestMove.amount).toBeGreaterThan(0);
  });

  it('keeps values within the range given, by leaving points where they were, and names them', () => {
    const { concave } = seed('round-tail-175').lines;
    const free = fairCurve(concave, { limit: 0.1, ratio: true });
    expect(Math.min(...free.curve.points.map((p) => p.v))).toBeLessThan(0);
    const result = fairCurve(concave, { limit: 0.1, ratio: true, range: { min: 0, max: 0.3 } });
    expect(Math.min(...result.curve.points.map((p) => p.v))).toBeGreaterThanOrEqual(0);
    for (const i of result.held) expect(result.moves[i]).toBe(0);
    expect(result.held.length).toBeGreaterThan(0);
    expect(result.roughness.after).toBeLessThanOrEqual(result.roughness.before);
  });

  it('moves nothing where there is nothing free to move', () => {
    const line = curve([[0, 5], [1000, 9]]);
    expect(fairCurve(line, { limit: 1 })).toMatchObject({ curve: line, moves: [0, 0], greatestMove: { amount: 0 }, curveMove: { amount: 0 } });
  });

  it('says so when the smoothest curve lies within the limit', () => {
    const result = fairCurve(bumped, { limit: 200 });
    expect(result.lambda).toBe(Infinity);
    expect(result.greatestMove.amount).toBeLessThan(200);
  });

  it('fairs an outline square to itself, keeping tips, tangents and the limit', () => {
    const { outline } = seed('round-tail-175').lines;
    const rough: OutlineDesign = { ...outline, points: outline.points.map((p, i) => (i === 4 ? { ...p, y: p.y + 5 } : p)) };
    const last = rough.points.length - 1;
    const result = fairCurve(rough, { limit: 3, keep: [1, 2, last - 2, last - 1] });
    expect(result.greatestMove.amount).toBeCloseTo(3, 5);
    expect(result.greatestMove.index).toBe(4);
    expect(result.moves[4]).toBeLessThan(0);
    expect(result.curve.points[0]).toEqual(rough.points[0]);
    expect(result.curve.points[last]).toEqual(rough.points[last]);
    expect([result.curve.tailAngleDeg, result.curve.noseAngleDeg]).toEqual([outline.tailAngleDeg, outline.noseAngleDeg]);
    expect(result.roughness.after).toBeLessThan(result.roughness.before);
    const spline = splineOf(rough);
    const t = parametersOf(rough);
    const row = new Float64Array(6);
    result.curve.points.forEach((p, i) => {
      evalSpline(spline, t[i], row, new Float64Array(12));
      // Along the tangent nothing moved.
      expect((p.x - rough.points[i].x) * row[2] + (p.y - rough.points[i].y) * row[3]).toBeCloseTo(0, 6);
      expect(Math.hypot(p.x - rough.points[i].x, p.y - rough.points[i].y)).toBeCloseTo(Math.abs(result.moves[i]), 9);
    });
    expect(result.curveMove.amount).toBeGreaterThanOrEqual(3 - 1e-6);
    expect(result.curveMove.amount).toBeLessThan(6);
  });

  it('settles: fairing the outline again with the weight found, from where it was drawn, gives the same', () => {
    const { outline } = seed('child-155').lines;
    const first = fairCurve(outline, { limit: 1 });
    const again = fairCurve(outline, { limit: 1.000001, lambda: first.lambda });
    again.moves.forEach((m, i) => expect(m).toBeCloseTo(first.moves[i], 5));
  });

  it('refuses a limit or a weight outside its range, naming it', () => {
    expect(() => fairCurve(bumped, { limit: 0 })).toThrow(/limit: 0 given; more than 0/);
    expect(() => fairCurve(bumped, { limit: Number.NaN })).toThrow(/limit/);
    expect(() => fairCurve(bumped, { limit: 1, lambda: -1 })).toThrow(/lambda: -1 given; 0 or more/);
    expect(() => fairCurve(bumped, { limit: 1, keep: [9] })).toThrow(/keep: point 9 given; 0 to 6/);
    expect(() => fairCurve(bumped, { limit: 0.01, lambda: 1e12 })).toThrow(/beyond the limit/);
  });
});
