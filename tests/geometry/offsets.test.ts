/** Arc length, curvature and parallels of plan curves against circle, ellipse and clothoid in closed form. */
import { describe, expect, it } from 'vitest';
import type { Spline } from '../../geometry/curves/bspline';
import { interpolateCubic } from '../../geometry/curves/interpolate';
import { frameAt, planeFrame } from '../../geometry/curves/plane';
import { buildOutline } from '../../geometry/curves/outline';
import { gauss5 } from '../../geometry/curves/quadrature';
import { offsetAt, offsetLength, planLine, RunMap } from '../../geometry/rail/planLine';
import { loopArea } from '../../geometry/curves/polygon';
import { inside } from '../support/nets';
import { seedDesign, seedNames } from './boards';

/** A curve given by its parameter: the cubic through n + 1 of its points, with its own end tangents. */
function through(n: number, from: number, to: number, point: (t: number) => [number, number], tangent: (t: number) => [number, number]): Spline {
  const ts = Array.from({ length: n + 1 }, (_, i) => from + ((to - from) * i) / n);
  return interpolateCubic(ts, ts.flatMap(point), 2, [], { start: tangent(from), end: tangent(to) });
}

const R = 300;
/** Half circle from (0, 0) over (R, R) to (2R, 0), by angle: tail to nose, convex outward. */
const halfCircle = (n: number) => through(
  n, 0, Math.PI, (a) => [R - R * Math.cos(a), R * Math.sin(a)], (a) => [R * Math.sin(a), R * Math.cos(a)],
);
/** Half ellipse with semi-axes 2 and 1. */
const halfEllipse = (n: number) => through(
  n, 0, Math.PI, (a) => [2 - 2 * Math.cos(a), Math.sin(a)], (a) => [2 * Math.sin(a), Math.cos(a)],
);
const end = (curve: Spline) => curve.knots[curve.knots.length - 1];
const length = (curve: Spline, d = 0) => offsetLength(curve, d, 0, end(curve));

/** Fresnel integrals C and S with kernels pi t^2 / 2, by composite Gauss quadrature. */
function fresnel(x: number): [number, number] {
  let c = 0;
  let s = 0;
  const n = 400;
  for (let i = 0; i < n; i++) {
    c += gauss5((t) => Math.cos((Math.PI * t * t) / 2), (x * i) / n, (x * (i + 1)) / n);
    s += gauss5((t) => Math.sin((Math.PI * t * t) / 2), (x * i) / n, (x * (i + 1)) / n);
  }
  return [c, s];
}

/** Errors at n and 2n, and the order of convergence between them. */
function convergence(error: (n: number) => number, n: number): { fine: number; order: number } {
  const [coarse, fine] = [error(n), error(2 * n)];
  return { fine, order: Math.log2(coarse / fine) };
}

describe('arc length and curvature', () => {
  // Provable: half circle pi R, curvature 1/R.
  it('of a circle: length of order four or better, curvature of order two', () => {
    const long = convergence((n) => Math.abs(length(halfCircle(n)) - Math.PI * R), 12);
    expect(long.order).toBeGreaterThan(3.5);
    expect(long.fine).toBeLessThan(1e-2);
    expect(Math.abs(length(halfCircle(96)) - Math.PI * R)).toBeLessThan(1e-5);
    const bent = (n: number) => {
      const curve = halfCircle(n);
      return Math.max(...inside(curve.knots, 500).map((u) => Math.abs(frameAt(curve, u, planeFrame()).kappa * R - 1)));
    };
    const { fine, order } = convergence(bent, 24);
    expect(order).toBeGreaterThan(1.7);
    expect(fine).toBeLessThan(1e-3);
  });

  // Provable: perimeter 8 E(m = 3/4) = 9.68844822 for semi-axes 2 and 1; curvature ab / (a^2 sin^2 + b^2 cos^2)^(3/2).
  it('of an ellipse: perimeter 9.68844822, curvature at any angle', () => {
    const { fine, order } = convergence((n) => Math.abs(2 * length(halfEllipse(n)) - 9.68844822), 12);
    expect(order).toBeGreaterThan(3.5);
    expect(fine).toBeLessThan(1e-4);
    expect(2 * length(halfEllipse(192))).toBeCloseTo(9.68844822, 7);
    const curve = halfEllipse(192);
    for (const a of inside(curve.knots, 300)) {
      const exact = 2 / (4 * Math.sin(a) ** 2 + Math.cos(a) ** 2) ** 1.5;
      expect(Math.abs(frameAt(curve, a, planeFrame()).kappa / exact - 1)).toBeLessThan(1e-3);
    }
  });

  // Abramowitz & Stegun, ch. 7 (memory, recomputed): C(1) = 0.7798934, S(1) = 0.4382591; clothoid kappa = s / a^2,
  // x = a sqrt(pi) C(s / (a sqrt(pi))), at a = 2, s = 3: x = 2.641921.
  it('of a clothoid: length is its own parameter and curvature rises with it', () => {
    expect(fresnel(1)[0]).toBeCloseTo(0.7798934, 7);
    expect(fresnel(1)[1]).toBeCloseTo(0.4382591, 7);
    const a = 2;
    const root = a * Math.sqrt(Math.PI);
    const point = (s: number): [number, number] => {
      const [c, f] = fresnel(s / root);
      return [root * c, root * f];
    };
    expect(point(3)[0]).toBeCloseTo(2.641921, 6);
    // Turned over, so that it bends toward the inward normal as a board's outline does.
    const fit = (n: number) => through(
      n, 0, 3, (s) => [point(s)[0], -point(s)[1]],
      (s) => [Math.cos(s * s / (2 * a * a)), -Math.sin(s * s / (2 * a * a))],
    );
    const { fine, order } = convergence((n) => Math.abs(length(fit(n)) - 3), 8);
    expect(order).toBeGreaterThan(3.5);
    expect(fine).toBeLessThan(1e-6);
    const curve = fit(64);
    for (const s of inside(curve.knots, 200)) {
      expect(Math.abs(frameAt(curve, s, planeFrame()).kappa - s / (a * a))).toBeLessThan(1e-3);
      expect(Math.abs(offsetLength(curve, 0, 0, s) - s)).toBeLessThan(1e-7);
    }
  });

  it('have normals that lead to the centre, and its curvature', () => {
    const curve = halfCircle(48);
    for (const u of [0.5, 1, 2]) {
      const { x, y, nx, ny, kappa } = frameAt(curve, u, planeFrame());
      expect(Math.abs(kappa * R - 1)).toBeLessThan(1e-3);
      // The inward normal leads to the centre.
      expect(Math.hypot(x + R * nx - R, y + R * ny)).toBeLessThan(1e-3);
    }
  });
});

describe('parallels', () => {
  // Provable: a circle's inward parallel is the circle of radius R - d (curvature kappa / (1 - d kappa)).
  it('of a circle are circles: radius, length, curvature, and a round end on the centreline', () => {
    const curve = halfCircle(192);
    for (const d of [0, 10, 60]) {
      const line = planLine(curve, d, 'test');
      expect(line.length).toBeCloseTo(Math.PI * (R - d), 4);
      expect([line.tail.kind, line.nose.kind]).toEqual(['round', 'round']);
      expect(line.corners).toEqual([]);
      for (const u of inside(curve.knots, 100)) {
        const f = offsetAt(curve, d, u, planeFrame());
        expect(Math.abs(Math.hypot(f.x - R, f.y) - (R - d))).toBeLessThan(1e-5);
        expect(Math.abs(f.kappa * (R - d) - 1)).toBeLessThan(1e-3);
      }
    }
  });

  // Steiner's formula, differential-geometry notes (read, provable): the length of a parallel changes by d times
  // the turning angle, whatever the curve.
  it.each(seedNames)('%s: an open arc\'s parallel is shorter by d times its turning', (name) => {
    const outline = buildOutline(seedDesign(name).lines.outline);
    const [a, b] = [0.1 * end(outline), 0.85 * end(outline)];
    const [p, q] = [frameAt(outline, a, planeFrame()), frameAt(outline, b, planeFrame())];
    const turning = Math.atan2(p.ty, p.tx) - Math.atan2(q.ty, q.tx);
    for (const d of [5, 22]) {
      expect(offsetLength(outline, 0, a, b) - offsetLength(outline, d, a, b)).toBeCloseTo(d * turning, 6);
    }
  });

  // Provable: two straight lines meeting at a point: the parallels meet d / sin(half angle) inside it.
  it('of a straight-sided point meet on the centreline where geometry says', () => {
    const outline = buildOutline({ points: [{ x: 0, y: 200 }, { x: 500, y: 100 }, { x: 1000, y: 0 }] });
    for (const d of [10, 22]) {
      const line = planLine(outline, d, 'test');
      expect(line.nose.kind).toBe('meets');
      expect(line.nose.x).toBeCloseTo(1000 - d / Math.sin(Math.atan(0.2)), 8);
      expect(Math.abs(line.nose.y)).toBeLessThan(1e-9);
    }
  });

  // Provable: the parallel of a straight side lies d / cos(lean) inside it, measured in the plane of a square end.
  it('of a square end start in its plane, or on the centreline where that comes first', () => {
    for (const lean of [0.3, -0.3, 0.9]) {
      const outline = buildOutline({ points: [{ x: 0, y: 200 }, { x: 500, y: 200 + 500 * lean }] });
      const { tail, length } = planLine(outline, 22, 'test');
      expect([tail.kind, tail.x, tail.y]).toEqual(['open', expect.closeTo(0, 9), expect.closeTo(200 - 22 * Math.hypot(1, lean), 9)]);
      expect(length).toBeCloseTo(500 * Math.hypot(1, lean), 9);
    }
    const narrow = planLine(buildOutline({ points: [{ x: 0, y: 25 }, { x: 500, y: 325 }] }), 22, 'test');
    expect([narrow.tail.kind, narrow.tail.x, narrow.tail.y])
      .toEqual(['meets', expect.closeTo((22 * Math.hypot(1, 0.6) - 25) / 0.6, 9), expect.closeTo(0, 9)]);
  });

  // Provable: inside a corner of the outline the parallels of its two straight sides cross d / cos(half turn)
  // from it, and the line turns there by the corner's angle and keeps no loop. Sides short and long.
  it.each([[100, 20], [500, 20], [1500, 60]])('cross inside a corner and are trimmed there: sides of %s mm, %s in', (side, d) => {
    const rise = side / 5;
    const outline = buildOutline({ points: [{ x: 0, y: 150 }, { x: side, y: 150 + rise, corner: true }, { x: 2 * side, y: 150 }] });
    const line = planLine(outline, d, 'test');
    const half = Math.atan(0.2);
    expect(line.corners).toHaveLength(1);
    expect(line.pieces).toHaveLength(2);
    expect(line.corners[0].x).toBeCloseTo(side, 7);
    expect(line.corners[0].y).toBeCloseTo(150 + rise - d / Math.cos(half), 7);
    expect(line.corners[0].turn).toBeCloseTo(2 * half, 8);
    // Cut off in the planes of the square ends: each parallel is as long as its side.
    expect(line.length).toBeCloseTo(2 * Math.hypot(side, rise), 6);
  });

  // Provable: at a notch the parallels part by 2 d sin(half turn); the line says so by a corner.
  it('part at a notch, and the line breaks there', () => {
    const outline = buildOutline({ points: [{ x: 0, y: 250 }, { x: 500, y: 150, corner: true }, { x: 1000, y: 250 }] });
    const line = planLine(outline, 20, 'test');
    expect(line.pieces).toHaveLength(2);
    expect(line.corners).toHaveLength(1);
    expect(line.corners[0].turn).toBeCloseTo(2 * Math.atan(0.2), 6);
    const [before, after] = [line.pieces[0].u1, line.pieces[1].u0].map((u) => offsetAt(outline, 20, u, planeFrame()));
    expect(Math.hypot(after.x - before.x, after.y - before.y)).toBeCloseTo(40 * Math.sin(Math.atan(0.2)), 5);
    // Each side is cut off square at the notch, in the plane of the board's end at the other: shorter by d tan.
    expect(line.length).toBeCloseTo(2 * (Math.hypot(500, 100) - 20 * Math.tan(Math.atan(0.2))), 5);
  });

  it.each(seedNames)('%s: the run and the parameter are each other\'s inverse, and the run is the length', (name) => {
    const outline = buildOutline(seedDesign(name).lines.outline);
    const line = planLine(outline, 10, 'test');
    const map = new RunMap(outline, line);
    for (let i = 0; i <= 200; i++) {
      const s = (line.length * i) / 200;
      const u = map.parameterAt(s);
      expect(Math.abs(map.runAt(u) - s)).toBeLessThan(1e-7);
      expect(Math.abs(offsetLength(outline, 10, line.pieces[0].u0, u) - s)).toBeLessThan(1e-5);
    }
  });
});

describe('area of a section', () => {
  /** log Gamma(x), x >= 1, by Stirling's series after a shift (Abramowitz & Stegun, 6.1.41; memory). */
  function logGamma(x: number): number {
    if (x < 20) return logGamma(x + 1) - Math.log(x);
    return (x - 0.5) * Math.log(x) - x + 0.5 * Math.log(2 * Math.PI) + 1 / (12 * x) - 1 / (360 * x ** 3) + 1 / (1260 * x ** 5);
  }
  const gammaArea = (n: number) => 4 * Math.exp(2 * logGamma(1 + 1 / n) - logGamma(1 + 2 / n));

  // Standard formula 4ab Gamma(1 + 1/n)^2 / Gamma(1 + 2/n) (formula read, values recomputed).
  it.each([[1, 2], [2, 3.141593], [2.5, 3.380935], [3, 3.533278], [4, 3.708149]])('of a superellipse, exponent %s: %s', (n, printed) => {
    expect(gammaArea(n)).toBeCloseTo(printed, 6);
    /** Half outline from the bottom of the centreline round to its top, m corners, in the kernel's (y, z) order. */
    const half = (m: number) => Float64Array.from({ length: 2 * (m + 1) }, (_, k) => {
      const a = -Math.PI / 2 + (Math.PI * (k >> 1)) / m;
      const c = k % 2 === 0 ? Math.cos(a) : Math.sin(a);
      return Math.sign(c) * Math.abs(c) ** (2 / n);
    });
    // Corners on the curve: the polygon lies inside it and its area converges as the square of the step where the
    // curve is smooth; sharper exponents cost some order at the four vertices.
    const error = (m: number) => Math.abs(2 * loopArea(half(m)) - printed);
    expect(error(20000)).toBeLessThan(2e-6);
    if (n > 1) expect(error(400) / error(1600)).toBeGreaterThan(4);
  });
});
