/** The closed bodies, against manifold-3d: they close, they hold what the plan says, and the hull's volume thrice. */
import { beforeAll, describe, expect, it } from 'vitest';
import { gauss5 } from '../../geometry/curves/quadrature';
import { breaks } from '../../geometry/curves/bspline';
import { planBoard } from '../../geometry/plan';
import { loopArea } from '../../geometry/curves/polygon';
import { stationOutline } from '../../geometry/hull/station';
import { timberVolumes } from '../../geometry/parts/volumes';
import { hullMesh, meshBoard, meshStarboard } from '../../geometry/solid/board';
import { meshVolume } from '../support/meshVolume';
import type { Plan } from '../../geometry/types';
import { loadManifold, manifoldOf } from '../support/kernels';
import { wedgeDesign } from '../support/plain';
import { seedDesign, seedNames } from './boards';

let module: Awaited<ReturnType<typeof loadManifold>>;
beforeAll(async () => {
  module = await loadManifold();
});

/** Integral of f over the run between two runs, by the plan's samples with trapezia (2 mm: error of order step^2). */
function alongRun(plan: Plan, s0: number, s1: number, f: (i: number) => number): number {
  const { samples } = plan.rail;
  let sum = 0;
  for (let i = 0; i + 1 < samples.n; i++) {
    const a = Math.max(s0, samples.s[i]);
    const b = Math.min(s1, samples.s[i + 1]);
    if (b > a) sum += ((b - a) * (f(i) + f(i + 1))) / 2;
  }
  return sum;
}

describe.each(seedNames)('%s', (name) => {
  const design = seedDesign(name);
  const plan = planBoard(design);
  const bodies = meshBoard(plan);
  const { stripWidth, spacerWidth, spacerHeight, soleThickness, capThickness } = design.rail;

  // Comparison of programs, and provable: a polyhedron inside a smooth hull misses its volume as the square of its facets.
  it('the hull\'s mesh is one closed solid whose volume converges on the plan\'s', () => {
    const miss = [60, 120, 240].map((detail) => {
      const solid = manifoldOf(module, hullMesh(plan, detail));
      expect(solid.status()).toBe('NoError');
      expect(solid.genus()).toBe(0);
      return solid.volume() / plan.hull.volume - 1;
    });
    expect(miss[0] / miss[1]).toBeGreaterThan(3.8);
    expect(miss[1] / miss[2]).toBeGreaterThan(3.8);
    // Richardson's step takes the rest of the second order away.
    expect(Math.abs((4 * miss[2] - miss[1]) / 3)).toBeLessThan(2e-6);
  });

  // Provable: a solid cut in two by a plane is closed but for edges in that plane.
  it('a stage\'s half of a skin or a block is that of the whole, open on the centreline alone', () => {
    const halves = meshStarboard(plan).filter(({ half }) => half);
    expect(halves.map(({ id }) => id)).toEqual(bodies.filter(({ kind, side }) => side === 'centre' && /skin|block/.test(kind)).map(({ id }) => id));
    for (const { id, mesh: { positions, indices }, mesh } of halves) {
      const whole = bodies.find((body) => body.id === id);
      // The centreline's plane goes through the origin, from which volumes are summed: what is open there adds nothing.
      expect(Math.abs((2 * meshVolume(mesh)) / (whole ? meshVolume(whole.mesh) : 0) - 1), id).toBeLessThan(4e-3);
      const edges = new Set<string>();
      indices.forEach((from, k) => edges.add(`${from} ${indices[k - (k % 3) + ((k + 1) % 3)]}`));
      const open = [...edges].map((edge) => edge.split(' ').map(Number)).filter(([from, to]) => !edges.has(`${to} ${from}`)).flat();
      expect(open.length, id).toBeGreaterThan(0);
      expect(open.every((i) => positions[3 * i + 1] === 0), id).toBe(true);
      expect(positions.every((at, i) => i % 3 !== 1 || at >= 0), id).toBe(true);
    }
  });

  // Provable: volume is the integral of the sections' areas; here by Gauss between 40 stations of 60 chords.
  it('the hull\'s volume is the integral of its station sections', () => {
    const { length } = plan.hull;
    const area = (detail: number) => (x: number) => 2 * loopArea(stationOutline(plan.hull, x, detail));
    const integral = (detail: number) => {
      let sum = 0;
      for (let i = 0; i < 40; i++) {
        // Cosine spacing: the ends, where a round tail's area starts as a root, get the short pieces.
        const at = (k: number) => (length * (1 - Math.cos((Math.PI * k) / 40))) / 2;
        sum += gauss5(area(detail), at(i), at(i + 1));
      }
      return sum;
    };
    const [coarse, fine] = [integral(15), integral(30)];
    // Chords across a convex section lose area as their square: extrapolated.
    expect(Math.abs((4 * fine - coarse) / 3 / plan.hull.volume - 1)).toBeLessThan(1e-4);
  });

  it('every closed body is a solid: manifold, whole, outward, of positive volume, its twin as large', () => {
    const closed = bodies.filter((b) => b.kind !== 'round');
    expect(closed.length).toBeGreaterThan(20);
    for (const body of closed) {
      const solid = manifoldOf(module, body.mesh);
      expect(solid.status(), body.id).toBe('NoError');
      // Ribs and stringer have lightening holes; nothing else has any.
      if (body.kind !== 'rib' && body.kind !== 'stringer') expect(solid.genus(), body.id).toBe(0);
      expect(solid.volume(), body.id).toBeGreaterThan(0);
      expect(Math.abs(solid.volume() / meshVolume(body.mesh) - 1), body.id).toBeLessThan(1e-6);
      if (body.side === 'port') {
        const twin = bodies.find((b) => b.id === body.id.replace('port', 'starboard'));
        expect(twin && meshVolume(twin.mesh) / meshVolume(body.mesh)).toBeCloseTo(1, 9);
      }
    }
  });

  // Pappus (provable): a section carried along a line holds its area times the path of its centroid; a strip's path
  // in space is its run over the cosine of its slope, shortened by inset times curvature.
  it('sole, cap and rows hold section times length', () => {
    const { rail } = plan;
    const volume = (id: string) => {
      const body = bodies.find((b) => b.id === `${id}-starboard`);
      if (!body) throw new Error(`no ${id}`);
      return manifoldOf(module, body.mesh).volume();
    };
    const at = rail.samples;
    const square = (i: number, slope: 'capSlope' | 'soleSlope', inset: number) => Math.hypot(1, at[slope][i]) * (1 - inset * at.kappa[i]);
    for (const row of rail.rows) {
      const expected = spacerWidth * spacerHeight * alongRun(plan, row.tail.s, row.nose.s, (i) => square(i, 'soleSlope', spacerWidth / 2));
      expect(Math.abs(volume(`row-${row.row}-1`) / expected - 1)).toBeLessThan(1e-4);
    }
    // Sole and cap are planed outboard: a triangle comes off where the deck falls that way, a third of the width in.
    // At a square end they are sawn off aslant: each part is longer by how far its centroid lies inside the end's plane.
    const { hull: { length }, rail: { face } } = plan;
    const strip = ({ s0, s1 }: { s0: number; s1: number }, slope: 'capSlope' | 'soleSlope', thickness: number, planing: Float64Array) => {
      const parts = (i: number) => [[stripWidth * thickness, stripWidth / 2], [(-stripWidth * Math.max(0, planing[i])) / 2, stripWidth / 3]] as const;
      const sum = (i: number, f: (inset: number) => number) => parts(i).reduce((all, [area, inset]) => all + area * f(inset), 0);
      const sawn = (i: number, way: 1 | -1, end: number) =>
        sum(i, (inset) => (Math.hypot(1, at[slope][i]) * way * (at.x[i] + inset * at.nx[i] - end)) / at.tx[i]);
      return alongRun(plan, s0, s1, (i) => sum(i, (inset) => square(i, slope, inset)))
        + (face.tail.kind === 'open' && s0 < 1e-6 ? sawn(0, 1, 0) : 0) + (face.nose.kind === 'open' && s1 > face.length - 1e-6 ? sawn(at.n - 1, -1, length) : 0);
    };
    expect(Math.abs(volume('sole') / strip(rail.sole, 'soleSlope', soleThickness, at.solePlaning) - 1)).toBeLessThan(1e-4);
    expect(Math.abs(volume('cap') / strip(rail.cap, 'capSlope', capThickness, at.planing) - 1)).toBeLessThan(1e-4);
  });

  // Comparison of programs: the bodies of hollow and ribs cut through each other by manifold-3d.
  it('the hollow\'s body, the ribs\' tabs cut out of it, holds the plan\'s hollow; the totals count the same tabs', () => {
    const hollow = bodies.find((b) => b.id === 'hollow-starboard');
    if (!hollow) throw new Error('no hollow');
    const whole = manifoldOf(module, hollow.mesh);
    const tabs = bodies.filter((b) => b.kind === 'rib').reduce((sum, b) => sum + whole.intersect(manifoldOf(module, b.mesh)).volume(), 0);
    expect(Math.abs((whole.volume() - tabs) / plan.rail.hollowVolume - 1)).toBeLessThan(2e-4);
    // A tab's ends are cut square, the box runs aslant: told to second order.
    expect(Math.abs((2 * tabs) / timberVolumes(plan).tabs - 1)).toBeLessThan(2e-3);
  });
});

// Provable: a box of planes. Volume of hull: plan area times mean thickness; every figure by hand.
describe('a board of planes', () => {
  it('has the volume of its prism, and strips of exact size', () => {
    const wedge = { length: 1000, tailHalf: 200, noseHalf: 200, tail: 40, ridge: 60, nose: 40, ridgeAt: 500 };
    const design = wedgeDesign(wedge, { rows: 1, leastRow: 20 });
    design.lines.fullness = { points: [{ x: 0, v: 0.98 }, { x: 1000, v: 0.98 }] };
    design.lines.tuck = { points: [{ x: 0, v: 0.5 }, { x: 1000, v: 0.5 }] };
    design.lines.turn = { points: [{ x: 0, v: 0.5 }, { x: 1000, v: 0.5 }] };
    const plan = planBoard(design);
    // Each of the four rounds leaves out, between its cubic arc and the corner of its tangents, a share of the box
    // half a millimetre wide and half the depth high: the integral of x dz, of degree five, so exact by Gauss.
    const f = 0.98;
    const x = (t: number) => (1 - t) ** 3 + 3 * (1 - f) * (1 - t) ** 2 * t;
    const dz = (t: number) => 3 * (1 - f) * (2 * t - 3 * t * t) + 3 * t * t;
    const share = gauss5((t) => x(t) * dz(t), 0, 1);
    expect(plan.hull.volume).toBeCloseTo(1000 * 400 * 50 - 4 * share * 0.5 * 25 * 1000, 0);
    expect(plan.hull.centre.x).toBeCloseTo(500, 4);
    expect(plan.hull.planArea).toBeCloseTo(400_000, 4);
    const row = meshBoard(plan).find((b) => b.id === 'row-1-1-starboard');
    const [only] = plan.rail.rows;
    const { spacerWidth, spacerHeight } = design.rail;
    expect(row && manifoldOf(module, row.mesh).volume()).toBeCloseTo(spacerWidth * spacerHeight * only.length, -1);
    expect(breaks(plan.hull.outline.knots)).toEqual([0, 1000]);
  });
});
