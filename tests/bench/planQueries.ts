/**
 * What planning asks all the time: the height and the slopes of a panel over a plan point, and those of its inner
 * face (the true offset by the skin). Ours answers in one call; the other kernels know their own parameters only, so
 * each is led there by Newton's method from the place before, on the derivatives that it offers quickest.
 */
import { innerAt, panelAt, panelProbe } from '../../geometry/hull/panel';
import type { Panel } from '../../geometry/types';
import { loadOcct, loadRhino, loadVerb, occtSurface, rhinoSurface, verbSurface } from '../support/kernels';
import { panelNet } from '../support/nets';
import type { Contestant } from './queries';

/** A point with its derivatives along u and v at (u, v): nine numbers into `out`. */
type Derive = (u: number, v: number, out: Float64Array) => void;

/** The skin of the inner face asked about, mm. */
const SKIN = 4;
/** Newton ends within this of the plan point, mm; far below the 0.01 mm that answers may differ by. */
const NEAR = 1e-8;
const MOST = 30;

/** Height and slopes over plan points in turn by a kernel's derivatives: a root in u and v from the one before. */
function overPlan(derive: Derive, u0: number, v0: number) {
  const nine = new Float64Array(9);
  let u = u0;
  let v = v0;
  return (x: number, y: number, out: Float64Array, at: number): void => {
    for (let i = 0; i < MOST; i++) {
      derive(u, v, nine);
      const dx = x - nine[0];
      const dy = y - nine[1];
      const det = nine[3] * nine[7] - nine[6] * nine[4];
      if (Math.abs(dx) + Math.abs(dy) < NEAR) {
        out[at] = nine[2];
        out[at + 1] = (nine[5] * nine[7] - nine[8] * nine[4]) / det;
        out[at + 2] = (nine[8] * nine[3] - nine[5] * nine[6]) / det;
        return;
      }
      u += (dx * nine[7] - dy * nine[6]) / det;
      v += (dy * nine[3] - dx * nine[4]) / det;
    }
    throw new Error(`no root over ${x}, ${y}`);
  };
}

/** The inner face below a deck by the foot of its normal: a contraction, iterated as ours is. */
function innerBy(height: (x: number, y: number, out: Float64Array, at: number) => void) {
  const foot = new Float64Array(3);
  let sx = 0;
  let sy = 0;
  return (x: number, y: number, out: Float64Array, at: number): void => {
    for (let i = 0; i < MOST; i++) {
      height(x - sx, y - sy, foot, 0);
      const root = 1 / Math.sqrt(1 + foot[1] * foot[1] + foot[2] * foot[2]);
      const [nx, ny] = [SKIN * foot[1] * root, SKIN * foot[2] * root];
      const rest = Math.abs(nx - sx) + Math.abs(ny - sy);
      sx = nx;
      sy = ny;
      if (rest < 1e-6) {
        out[at] = foot[0] - SKIN * root;
        out[at + 1] = foot[1];
        out[at + 2] = foot[2];
        return;
      }
    }
    throw new Error(`no foot over ${x}, ${y}`);
  };
}

/**
 * All contestants over the plan points (xs, ys), which lie along a line as the rail's do: each place is near the one
 * before. (u0, v0) is where the first lies on the panel, roughly.
 */
export async function planField(panel: Panel, xs: Float64Array, ys: Float64Array, u0: number, v0: number): Promise<Contestant[]> {
  const net = panelNet(panel);
  const verb = loadVerb();
  const bare = { ...verbSurface(verb, net).asNurbs(), controlPoints: net.points };
  const rhino = rhinoSurface(await loadRhino(), net);
  const occt = await loadOcct();
  const surface = occtSurface(occt, net);
  const [p, du, dv] = [new occt.gp_Pnt(0, 0, 0), new occt.gp_Vec(0, 0, 0), new occt.gp_Vec(0, 0, 0)];

  const byVerb: Derive = (u, v, out) => {
    const d = verb.eval.Eval.surfaceDerivatives(bare, u, v, 1);
    for (let k = 0; k < 3; k++) {
      out[k] = d[0][0][k];
      out[3 + k] = d[1][0][k];
      out[6 + k] = d[0][1][k];
    }
  };
  // The package has no derivatives of a surface: a step aside each way is quicker than its isoparametric curves.
  const STEP_U = 1e-3;
  const STEP_V = 1e-5;
  const byRhino: Derive = (u, v, out) => {
    const [a, b, c] = [rhino.pointAt(u, v), rhino.pointAt(u + STEP_U, v), rhino.pointAt(u, v + STEP_V)];
    for (let k = 0; k < 3; k++) {
      out[k] = a[k];
      out[3 + k] = (b[k] - a[k]) / STEP_U;
      out[6 + k] = (c[k] - a[k]) / STEP_V;
    }
  };
  const byOcct: Derive = (u, v, out) => {
    surface.D1(u, v, p, du, dv);
    out[0] = p.X();
    out[1] = p.Y();
    out[2] = p.Z();
    out[3] = du.X();
    out[4] = du.Y();
    out[5] = du.Z();
    out[6] = dv.X();
    out[7] = dv.Y();
    out[8] = dv.Z();
  };
  const all = (make: () => (x: number, y: number, out: Float64Array, at: number) => void) => (out: Float64Array) => {
    const ask = make();
    for (let i = 0; i < xs.length; i++) ask(xs[i], ys[i], out, 3 * i);
  };
  const kernels = [
    ['verb', byVerb, 'Newton on Eval.surfaceDerivatives'],
    ['openNURBS', byRhino, 'Newton on rhino3dm pointAt and two steps aside'],
    ['OCCT', byOcct, 'Newton on Geom_BSplineSurface D1, nine reads'],
  ] as const;
  const ours = (inner: boolean) => () => {
    const probe = panelProbe();
    return (x: number, y: number, out: Float64Array, at: number) => {
      if (inner) innerAt(panel, 1, SKIN, x, y, probe);
      else panelAt(panel, x, y, probe);
      out[at] = probe.z;
      out[at + 1] = probe.zx;
      out[at + 2] = probe.zy;
    };
  };
  return [
    { kernel: 'ours', question: 'height over the plan', how: 'panelAt', answer: all(ours(false)) },
    ...kernels.map(([kernel, derive, how]): Contestant => ({
      kernel, question: 'height over the plan', how, answer: all(() => overPlan(derive, u0, v0)),
    })),
    { kernel: 'ours', question: 'inner face over the plan', how: 'innerAt', answer: all(ours(true)) },
    ...kernels.map(([kernel, derive, how]): Contestant => ({
      kernel, question: 'inner face over the plan', how: `${how}, foot of the normal iterated`, answer: all(() => innerBy(overPlan(derive, u0, v0))),
    })),
  ];
}
