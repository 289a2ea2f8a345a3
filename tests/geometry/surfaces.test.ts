/**
 * The hull's surfaces against three general-purpose kernels on the same control nets: verb, openNURBS
 * (rhino3dm) and OCCT (replicad-opencascadejs). Each check here is a comparison of programs, no printed value.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { evalSpline } from '../../geometry/curves/bspline';
import { buildHull } from '../../geometry/hull/hull';
import { acrossProbes, innerAcross, innerAt, panelProbe, surfaceAt } from '../../geometry/hull/panel';
import { roundPoint } from '../../geometry/hull/station';
import { planBoard } from '../../geometry/plan';
import { loadOcct, loadRhino, loadVerb, occtSurface, rhinoSurface, verbSurface } from '../support/kernels';
import { inside, panelNet, roundNet, type Net } from '../support/nets';
import { level } from '../support/plain';
import { seedDesign, seedNames } from './boards';

let rhino: Awaited<ReturnType<typeof loadRhino>>;
let occt: Awaited<ReturnType<typeof loadOcct>>;
const verb = loadVerb();
beforeAll(async () => {
  [rhino, occt] = await Promise.all([loadRhino(), loadOcct()]);
});

/** Bernstein weights of a cubic and their first and second derivatives. */
function bernstein(t: number): [number[], number[], number[]] {
  const r = 1 - t;
  return [
    [r ** 3, 3 * r * r * t, 3 * r * t * t, t ** 3],
    [-3 * r * r, 3 * r * r - 6 * r * t, 6 * r * t - 3 * t * t, 3 * t * t],
    [6 * r, 6 * t - 12 * r, 6 * r - 12 * t, 6 * t],
  ];
}

/** S, Su, Sv, Suu, Suv, Svv by our spline evaluator in u and Bernstein polynomials in v. */
function ours(points: (column: number) => number[][], t: number, scale: number): number[][] {
  const b = bernstein(t);
  const mix = (du: number, dv: number) =>
    [0, 1, 2].map((d) => b[dv].reduce((sum, w, j) => sum + w * points(j)[du][d], 0) * scale ** dv);
  return [mix(0, 0), mix(1, 0), mix(0, 1), mix(2, 0), mix(1, 1), mix(0, 2)];
}

const away = (a: readonly number[], b: readonly number[]) => Math.max(...a.map((x, i) => Math.abs(x - b[i])));
const size = (a: readonly number[]) => Math.max(1, ...a.map(Math.abs));

describe.each(seedNames)('%s', (name) => {
  const hull = buildHull(seedDesign(name));
  const basis = new Float64Array(12);
  const row = new Float64Array(63);
  const vs = [0, 0.03, 0.31, 0.5001, 0.77, 0.99, 1];

  /** Our six derivatives of a panel's net at (u, v). */
  const panelSix = (panel: typeof hull.deck) => (u: number, v: number) => {
    evalSpline(panel.spline, u, row, basis);
    const at = (j: number) => [0, 1, 2].map((order) => [row[order * 6], (row[order * 6 + 1] * j) / 3, row[order * 6 + 2 + j]]);
    return ours(at, v, 1);
  };
  const roundSix = (u: number, v: number) => {
    evalSpline(hull.round, u, row, basis);
    const half = v < 0.5 ? 0 : 1;
    const at = (j: number) => [0, 1, 2].map((order) => [0, 1, 2].map((d) => row[order * 21 + (half * 3 + j) * 3 + d]));
    return ours(at, 2 * v - half, 2);
  };
  const nets: [string, Net, (u: number, v: number) => number[][]][] = [
    ['deck', panelNet(hull.deck), panelSix(hull.deck)],
    ['bottom', panelNet(hull.bottom), panelSix(hull.bottom)],
    ['round', roundNet(hull.round), roundSix],
  ];

  it.each(nets)('%s: points, first and second derivatives agree with verb', (_, net, six) => {
    const surface = verbSurface(verb, net);
    let compared = 0;
    for (const u of inside(net.knotsU, 40)) {
      for (const v of vs) {
        const d = surface.derivatives(u, v, 2);
        const mine = six(u, v);
        [d[0][0], d[1][0], d[0][1], d[2][0], d[1][1], d[0][2]].forEach((theirs, k) => {
          expect(away(theirs, mine[k])).toBeLessThan(1e-9 * size(theirs));
          compared++;
        });
      }
    }
    expect(compared).toBe(40 * vs.length * 6);
  });

  it.each(nets)('%s: points and normals agree with openNURBS, and derivatives along its isoparametric curves', (_, net, six) => {
    const surface = rhinoSurface(rhino, net);
    expect(surface.isValid).toBe(true);
    for (const u of inside(net.knotsU, 40)) {
      // Direction 1 holds u and runs along v.
      const across = surface.isoCurve(1, u);
      for (const v of vs) {
        const [p, pu, pv, puu, , pvv] = six(u, v);
        expect(away(surface.pointAt(u, v), p)).toBeLessThan(1e-9);
        const [, dv, dvv] = across.derivativeAt(v, 2);
        expect(away(dv, pv)).toBeLessThan(1e-8 * size(dv));
        expect(away(dvv, pvv)).toBeLessThan(1e-8 * size(dvv));
        const along = surface.isoCurve(0, v);
        const [, du, duu] = along.derivativeAt(u, 2);
        expect(away(du, pu)).toBeLessThan(1e-8 * size(du));
        expect(away(duu, puu)).toBeLessThan(1e-8 * size(duu));
        const n = [pu[1] * pv[2] - pu[2] * pv[1], pu[2] * pv[0] - pu[0] * pv[2], pu[0] * pv[1] - pu[1] * pv[0]];
        const length = Math.hypot(...n);
        if (length > 1e-3) expect(away(surface.normalAt(u, v), n.map((c) => c / length))).toBeLessThan(1e-9);
      }
    }
  });

  it.each(nets)('%s: points, first and second derivatives agree with OCCT', (_, net, six) => {
    const surface = occtSurface(occt, net);
    const p = new occt.gp_Pnt(0, 0, 0);
    const [du, dv, duu, dvv, duv] = [1, 2, 3, 4, 5].map(() => new occt.gp_Vec(0, 0, 0));
    const list = (v: { X(): number; Y(): number; Z(): number }) => [v.X(), v.Y(), v.Z()];
    for (const u of inside(net.knotsU, 40)) {
      for (const v of vs) {
        surface.D2(u, v, p, du, dv, duu, dvv, duv);
        [p, du, dv, duu, duv, dvv].map(list).forEach((theirs, k) => {
          expect(away(theirs, six(u, v)[k])).toBeLessThan(1e-9 * size(theirs));
        });
      }
    }
  });

  it('the quick panel and round points are those of the net', () => {
    const nine = new Float64Array(9);
    const three = new Float64Array(3);
    for (const u of inside(hull.deck.spline.knots, 60)) {
      for (const v of vs) {
        for (const panel of [hull.deck, hull.bottom]) {
          surfaceAt(panel, u, v, nine);
          expect(away(panelSix(panel)(u, v).slice(0, 3).flat(), Array.from(nine))).toBeLessThan(1e-10);
        }
        roundPoint(hull, u, v, three);
        expect(away(roundSix(u, v)[0], Array.from(three))).toBeLessThan(1e-10);
      }
    }
  });
});

describe('the inner face across a station', () => {
  const columns = 20;
  const worst = (name: string, bend?: (design: ReturnType<typeof seedDesign>) => void): number => {
    const design = structuredClone(seedDesign(name));
    bend?.(design);
    const { hull, rail: { samples } } = planBoard(design);
    const out = new Float64Array(columns + 1);
    const [across, one] = [acrossProbes(), panelProbe()];
    let most = 0;
    for (let i = 0; i < samples.n; i += 5) {
      const [x, half] = [samples.x[i], Math.max(0, samples.y[i])];
      if (half < 0.5) continue;
      for (const [panel, face, thick] of [[hull.deck, 1, design.skins.deck], [hull.bottom, -1, design.skins.bottom]] as const) {
        innerAcross(panel, face, thick, x, 0, half, columns, across, out);
        for (let j = 0; j <= columns; j++) most = Math.max(most, Math.abs(out[j] - innerAt(panel, face, thick, x, (half * j) / columns, one).z));
      }
    }
    return most;
  };

  it.each(seedNames)('%s: through six feet strays from each foot by less than a hundredth of what is allowed', (name) => {
    expect(worst(name)).toBeLessThan(1e-5);
  });

  it('holds to its bound over a keel and in a hollow', () => {
    for (const rise of [0.08, -0.08]) {
      const vee = (design: ReturnType<typeof seedDesign>) => {
        design.lines.vee = level(design.lines.outline.points[design.lines.outline.points.length - 1].x, rise);
      };
      expect(worst('child-155.board.json', vee), `vee ${rise}`).toBeLessThan(1e-4);
    }
  });
});
