/**
 * The same questions to every kernel: points, first derivatives and normals of one deck net at the same places.
 * Each kernel is asked in its own quickest way that the package offers; answers are gathered into one array so
 * that they can be compared before anything is timed.
 */
import { surfaceAt } from '../../geometry/hull/panel';
import type { Panel } from '../../geometry/types';
import { loadOcct, loadRhino, loadVerb, occtSurface, rhinoSurface, verbSurface } from '../support/kernels';
import { panelNet } from '../support/nets';

/** What is asked; the number of figures in one answer. The first two are planning's own (planQueries.ts). */
export const QUESTIONS = {
  'height over the plan': 3, 'inner face over the plan': 3, point: 3, 'point and derivatives': 9, 'point and normal': 6,
} as const;
type Question = keyof typeof QUESTIONS;

/** One kernel's way to answer a question at all places, writing its answers in order. */
export interface Contestant {
  readonly kernel: string;
  readonly question: Question;
  /** How it is asked, where that needs a word. */
  readonly how: string;
  /** Places answered per run: those of the list, or a grid of the kernel's own. */
  readonly answer: (out: Float64Array) => void;
}

/** Contestants, and for each kernel across a WASM boundary what an all but empty call costs. */
export interface Field {
  readonly contestants: readonly Contestant[];
  readonly emptyCalls: readonly { readonly kernel: string; readonly call: () => void }[];
}

const set3 = (out: Float64Array, at: number, p: readonly number[]) => {
  out[at] = p[0];
  out[at + 1] = p[1];
  out[at + 2] = p[2];
};

/** Free what a WASM kernel allotted; its typings leave the method out. */
function release(owner: object): void {
  if ('delete' in owner && typeof owner.delete === 'function') owner.delete();
}

/** Cross product of du and dv at nine[3..8], to unit length, into out. */
function unitNormal(nine: Float64Array, out: Float64Array, at: number): void {
  const x = nine[4] * nine[8] - nine[5] * nine[7];
  const y = nine[5] * nine[6] - nine[3] * nine[8];
  const z = nine[3] * nine[7] - nine[4] * nine[6];
  const scale = 1 / Math.sqrt(x * x + y * y + z * z);
  out[at] = x * scale;
  out[at + 1] = y * scale;
  out[at + 2] = z * scale;
}

/** Ours: the evaluator that the rail's planning runs on. */
function ours(panel: Panel, us: Float64Array, vs: Float64Array): Contestant[] {
  const nine = new Float64Array(9);
  return [
    {
      kernel: 'ours', question: 'point', how: 'surfaceAt',
      answer: (out) => {
        let span = -1;
        for (let i = 0; i < us.length; i++) {
          span = surfaceAt(panel, us[i], vs[i], nine, span);
          out[3 * i] = nine[0];
          out[3 * i + 1] = nine[1];
          out[3 * i + 2] = nine[2];
        }
      },
    },
    {
      kernel: 'ours', question: 'point and derivatives', how: 'surfaceAt',
      answer: (out) => {
        let span = -1;
        for (let i = 0; i < us.length; i++) {
          span = surfaceAt(panel, us[i], vs[i], nine, span);
          for (let d = 0; d < 9; d++) out[9 * i + d] = nine[d];
        }
      },
    },
    {
      kernel: 'ours', question: 'point and normal', how: 'surfaceAt and a cross product',
      answer: (out) => {
        let span = -1;
        for (let i = 0; i < us.length; i++) {
          span = surfaceAt(panel, us[i], vs[i], nine, span);
          out[6 * i] = nine[0];
          out[6 * i + 1] = nine[1];
          out[6 * i + 2] = nine[2];
          unitNormal(nine, out, 6 * i + 3);
        }
      },
    },
  ];
}

function verbs(panel: Panel, us: Float64Array, vs: Float64Array): Contestant[] {
  const verb = loadVerb();
  const surface = verbSurface(verb, panelNet(panel));
  const bare = { ...surface.asNurbs(), controlPoints: panelNet(panel).points };
  const nine = new Float64Array(9);
  const derive = (i: number) => {
    // The core call without weights: verb's public one divides by them and takes longer.
    const d = verb.eval.Eval.surfaceDerivatives(bare, us[i], vs[i], 1);
    set3(nine, 0, d[0][0]);
    set3(nine, 3, d[1][0]);
    set3(nine, 6, d[0][1]);
  };
  const all = (write: (out: Float64Array, i: number) => void) => (out: Float64Array) => {
    for (let i = 0; i < us.length; i++) write(out, i);
  };
  return [
    {
      kernel: 'verb', question: 'point', how: 'Eval.surfacePoint, no weights',
      answer: all((out, i) => set3(out, 3 * i, verb.eval.Eval.surfacePoint(bare, us[i], vs[i]))),
    },
    {
      kernel: 'verb', question: 'point and derivatives', how: 'Eval.surfaceDerivatives, no weights',
      answer: all((out, i) => {
        derive(i);
        out.set(nine, 9 * i);
      }),
    },
    {
      kernel: 'verb', question: 'point and normal', how: 'the same and a cross product',
      answer: all((out, i) => {
        derive(i);
        out[6 * i] = nine[0];
        out[6 * i + 1] = nine[1];
        out[6 * i + 2] = nine[2];
        unitNormal(nine, out, 6 * i + 3);
      }),
    },
  ];
}

async function rhinos(panel: Panel, us: Float64Array, vs: Float64Array): Promise<Field> {
  const surface = rhinoSurface(await loadRhino(), panelNet(panel));
  const all = (write: (out: Float64Array, i: number) => void) => (out: Float64Array) => {
    for (let i = 0; i < us.length; i++) write(out, i);
  };
  const contestants: Contestant[] = [
    {
      kernel: 'openNURBS', question: 'point', how: 'rhino3dm pointAt',
      answer: all((out, i) => set3(out, 3 * i, surface.pointAt(us[i], vs[i]))),
    },
    {
      // The package gives a surface's derivatives only along its isoparametric curves, which must be cut out first.
      kernel: 'openNURBS', question: 'point and derivatives', how: 'rhino3dm: two isoCurves and their derivativeAt',
      answer: all((out, i) => {
        const across = surface.isoCurve(1, us[i]);
        const along = surface.isoCurve(0, vs[i]);
        const [p, dv] = across.derivativeAt(vs[i], 1);
        const [, du] = along.derivativeAt(us[i], 1);
        release(across);
        release(along);
        set3(out, 9 * i, p);
        set3(out, 9 * i + 3, du);
        set3(out, 9 * i + 6, dv);
      }),
    },
    {
      kernel: 'openNURBS', question: 'point and normal', how: 'rhino3dm pointAt and normalAt',
      answer: all((out, i) => {
        set3(out, 6 * i, surface.pointAt(us[i], vs[i]));
        set3(out, 6 * i + 3, surface.normalAt(us[i], vs[i]));
      }),
    },
  ];
  return { contestants, emptyCalls: [{ kernel: 'openNURBS (rhino3dm)', call: () => surface.degree(0) }] };
}

async function occts(panel: Panel, us: Float64Array, vs: Float64Array): Promise<Field> {
  const occt = await loadOcct();
  const surface = occtSurface(occt, panelNet(panel));
  const p = new occt.gp_Pnt(0, 0, 0);
  const du = new occt.gp_Vec(0, 0, 0);
  const dv = new occt.gp_Vec(0, 0, 0);
  const face = new occt.BRepBuilderAPI_MakeFace(surface, 1e-6).Face();
  const property = new occt.BRepGProp_Face(face, false);
  const put = (out: Float64Array, at: number, v: { X(): number; Y(): number; Z(): number }) => {
    out[at] = v.X();
    out[at + 1] = v.Y();
    out[at + 2] = v.Z();
  };
  const all = (write: (out: Float64Array, i: number) => void) => (out: Float64Array) => {
    for (let i = 0; i < us.length; i++) write(out, i);
  };
  const contestants: Contestant[] = [
    {
      kernel: 'OCCT', question: 'point', how: 'Geom_BSplineSurface D0 and three reads',
      answer: all((out, i) => {
        surface.D0(us[i], vs[i], p);
        put(out, 3 * i, p);
      }),
    },
    {
      kernel: 'OCCT', question: 'point and derivatives', how: 'D1 and nine reads',
      answer: all((out, i) => {
        surface.D1(us[i], vs[i], p, du, dv);
        put(out, 9 * i, p);
        put(out, 9 * i + 3, du);
        put(out, 9 * i + 6, dv);
      }),
    },
    {
      kernel: 'OCCT', question: 'point and normal', how: 'BRepGProp_Face Normal, six reads, to unit length',
      answer: all((out, i) => {
        property.Normal(us[i], vs[i], p, du);
        put(out, 6 * i, p);
        put(out, 6 * i + 3, du);
        const scale = 1 / Math.hypot(out[6 * i + 3], out[6 * i + 4], out[6 * i + 5]);
        for (let d = 3; d < 6; d++) out[6 * i + d] *= scale;
      }),
    },
  ];
  return {
    contestants,
    emptyCalls: [{ kernel: 'OCCT (a read of X)', call: () => p.X() }, { kernel: 'OCCT (bare D0, no reads)', call: () => surface.D0(us[0], vs[0], p) }],
  };
}

/** Every contestant on one panel at the places (us, vs). */
export async function field(panel: Panel, us: Float64Array, vs: Float64Array): Promise<Field> {
  const fields: Field[] = [
    { contestants: [...ours(panel, us, vs), ...verbs(panel, us, vs)], emptyCalls: [] },
    await rhinos(panel, us, vs),
    await occts(panel, us, vs),
  ];
  return { contestants: fields.flatMap((f) => f.contestants), emptyCalls: fields.flatMap((f) => f.emptyCalls) };
}
