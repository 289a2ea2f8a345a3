/** General-purpose kernels the hull's surfaces are held against, each loaded once and given the same nets. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import manifoldModule, { type ManifoldToplevel } from 'manifold-3d';
import initOcct, { type OpenCascadeInstance } from 'replicad-opencascadejs';
import rhino3dm, { type NurbsSurface as RhinoSurface, type RhinoModule } from 'rhino3dm';
import type { Mesh } from '../../geometry/types';
import type { Net } from './nets';

const require = createRequire(import.meta.url);

/** What of verb is used here; its own typings are not a module. */
interface VerbSurfaceData {
  readonly knotsU: readonly number[];
  readonly knotsV: readonly number[];
  readonly controlPoints: readonly (readonly (readonly number[])[])[];
}
export interface VerbSurface {
  point(u: number, v: number): number[];
  normal(u: number, v: number): number[];
  derivatives(u: number, v: number, count: number): number[][][];
  asNurbs(): VerbSurfaceData;
}
interface VerbCurve {
  point(u: number): number[];
}
interface Verb {
  readonly geom: {
    readonly NurbsCurve: {
      byKnotsControlPointsWeights(degree: number, knots: readonly number[], points: readonly (readonly number[])[]): VerbCurve;
    };
    readonly NurbsSurface: {
      byKnotsControlPointsWeights(
        degreeU: number, degreeV: number, knotsU: readonly number[], knotsV: readonly number[],
        points: readonly (readonly (readonly number[])[])[],
      ): VerbSurface;
      byLoftingCurves(curves: readonly VerbCurve[], degreeV: number): VerbSurface;
    };
  };
  readonly eval: {
    readonly Eval: {
      surfacePoint(surface: VerbSurfaceData, u: number, v: number): number[];
      surfaceDerivatives(surface: VerbSurfaceData, u: number, v: number, count: number): number[][][];
    };
  };
}

/** verb prints its version when loaded, so it is loaded only where it is asked for. */
export const loadVerb = (): Verb => require('verb-nurbs-web') as Verb;

export const verbSurface = (verb: Verb, net: Net): VerbSurface =>
  verb.geom.NurbsSurface.byKnotsControlPointsWeights(3, 3, net.knotsU, net.knotsV, net.points);

export const loadRhino = (): Promise<RhinoModule> => rhino3dm();

/** openNURBS leaves out the first and last knot. */
export function rhinoSurface(rhino: RhinoModule, net: Net): RhinoSurface {
  const nu = net.points.length;
  const nv = net.points[0].length;
  const surface = rhino.NurbsSurface.create(3, false, 4, 4, nu, nv);
  net.knotsU.slice(1, -1).forEach((k, i) => surface.knotsU().set(i, k));
  net.knotsV.slice(1, -1).forEach((k, i) => surface.knotsV().set(i, k));
  const points = surface.points();
  net.points.forEach((row, i) => row.forEach((p, j) => points.set(i, j, [p[0], p[1], p[2], 1])));
  return surface;
}

export function loadOcct(): Promise<OpenCascadeInstance> {
  return initOcct({ wasmBinary: readFileSync(require.resolve('replicad-opencascadejs/wasm')) });
}

/** Distinct knots and their multiplicities, as OCCT wants them. */
export function occtKnots(occt: OpenCascadeInstance, knots: readonly number[]) {
  const distinct = [...new Set(knots)];
  const values = new occt.NCollection_Array1_double(1, distinct.length);
  const counts = new occt.NCollection_Array1_int(1, distinct.length);
  distinct.forEach((k, i) => {
    values.SetValue(i + 1, k);
    counts.SetValue(i + 1, knots.filter((other) => other === k).length);
  });
  return { values, counts };
}

export function occtSurface(occt: OpenCascadeInstance, net: Net) {
  const poles = new occt.NCollection_Array2_gp_Pnt(1, net.points.length, 1, net.points[0].length);
  net.points.forEach((row, i) => row.forEach((p, j) => poles.SetValue(i + 1, j + 1, new occt.gp_Pnt(p[0], p[1], p[2]))));
  const u = occtKnots(occt, net.knotsU);
  const v = occtKnots(occt, net.knotsV);
  return new occt.Geom_BSplineSurface(poles, u.values, v.values, u.counts, v.counts, 3, 3, false, false);
}

export async function loadManifold(): Promise<ManifoldToplevel> {
  const module = await manifoldModule();
  module.setup();
  return module;
}

/**
 * A mesh of the kernel as a solid of manifold-3d. Vertices in exactly the same place are welded first, since the
 * kernel's meshes give each face its own; triangles that then have two corners in one are left out. Nothing is
 * moved, so a crack stays a crack: throws where the mesh does not close.
 */
export function manifoldOf(module: ManifoldToplevel, { positions, indices }: Pick<Mesh, 'positions' | 'indices'>) {
  const places = new Map<string, number>();
  const vertices: number[] = [];
  const place = new Uint32Array(positions.length / 3);
  for (let i = 0; i < place.length; i++) {
    // Adding zero turns -0 into 0: one place, one key.
    const xyz = [0, 1, 2].map((d) => positions[3 * i + d] + 0);
    const key = xyz.join(' ');
    const known = places.get(key);
    place[i] = known ?? places.size;
    if (known === undefined) {
      places.set(key, place[i]);
      vertices.push(...xyz);
    }
  }
  const triangles: number[] = [];
  for (let i = 0; i < indices.length; i += 3) {
    const [a, b, c] = [place[indices[i]], place[indices[i + 1]], place[indices[i + 2]]];
    if (a !== b && b !== c && c !== a) triangles.push(a, b, c);
  }
  return new module.Manifold(new module.Mesh({ numProp: 3, vertProperties: Float32Array.from(vertices), triVerts: Uint32Array.from(triangles) }));
}
