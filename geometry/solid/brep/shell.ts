/**
 * Solids bounded by curves: vertices, edges and faces that know of each other (a boundary representation; Mantyla, An
 * Introduction to Solid Modeling, 1988, chapter 10). Faces are planes and B-spline surfaces, edges B-spline curves.
 * Board axes: x from the tail, y to starboard, z up, mm. "Outward" is by the components of the cross product in these axes.
 */
import { evalSpline } from '../../curves/bspline';
import type { Body } from '../../types';

/** A curve in space: straight between two points, or a cubic B-spline on clamped knots; points as (x, y, z) rows. */
export interface CurveData {
  readonly degree: 1 | 3;
  readonly knots: Float64Array;
  readonly points: Float64Array;
}

/** A B-spline surface: (x, y, z) of rows along u, each of points along v; clamped knots. */
export interface SurfaceData {
  readonly degreeU: 1 | 3;
  readonly degreeV: 1 | 3;
  readonly knotsU: Float64Array;
  readonly knotsV: Float64Array;
  readonly points: Float64Array;
}

export interface PlaneData {
  readonly origin: readonly [number, number, number];
  /** Outward unit normal, and a unit vector in the plane. */
  readonly normal: readonly [number, number, number];
  readonly along: readonly [number, number, number];
}

/** A curve between two vertices that lie on it, which need not be its own ends. */
export interface BrepEdge {
  readonly from: number;
  readonly to: number;
  readonly curve: CurveData;
}

export interface EdgeUse {
  readonly edge: number;
  readonly forward: boolean;
}

export interface BrepFace {
  readonly surface: SurfaceData | PlaneData;
  /** Whether the surface's own normal, dU x dV, looks outward. */
  readonly outward: boolean;
  /** Counter-clockwise seen from outside; the first is the outside, others are holes. */
  readonly loops: readonly (readonly EdgeUse[])[];
}

/** A closed solid. */
export interface Brep {
  readonly id: string;
  readonly kind: Body['kind'] | 'hull';
  readonly side: Body['side'];
  /** (x, y, z) rows. */
  readonly vertices: readonly (readonly number[])[];
  readonly edges: readonly BrepEdge[];
  readonly faces: readonly BrepFace[];
}

/** Points nearer to each other than this are one vertex, mm. */
const SAME_PLACE = 1e-5;
/** Edges between the same vertices whose middles are nearer than this are one, mm. */
const SAME_EDGE = 1e-3;

type Point = readonly number[];
const apart = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);

const basis = new Float64Array(12);
const derivatives = new Float64Array(9);

/** A point of a curve. */
export function curvePoint({ degree, knots, points }: CurveData, u: number): [number, number, number] {
  if (degree === 1) {
    const t = (u - knots[1]) / (knots[2] - knots[1]);
    return [0, 1, 2].map((d) => points[d] * (1 - t) + points[3 + d] * t) as [number, number, number];
  }
  evalSpline({ dim: 3, knots, points }, u, derivatives, basis);
  return [derivatives[0], derivatives[1], derivatives[2]];
}

/** The straight line between two points. */
export const lineBetween = (a: Point, b: Point): CurveData =>
  ({ degree: 1, knots: Float64Array.of(0, 0, 1, 1), points: Float64Array.of(a[0], a[1], a[2], b[0], b[1], b[2]) });

/** The four borders of a surface: v at its first and last, u at its first and last. */
export function borders({ degreeU, degreeV, knotsU, knotsV, points }: SurfaceData): { v0: CurveData; v1: CurveData; u0: CurveData; u1: CurveData } {
  const nu = knotsU.length - degreeU - 1;
  const nv = knotsV.length - degreeV - 1;
  const along = (j: number): CurveData => {
    const row = new Float64Array(3 * nu);
    for (let i = 0; i < nu; i++) row.set(points.subarray(3 * (i * nv + j), 3 * (i * nv + j) + 3), 3 * i);
    return { degree: degreeU, knots: knotsU, points: row };
  };
  const across = (i: number): CurveData => ({ degree: degreeV, knots: knotsV, points: points.slice(3 * i * nv, 3 * (i + 1) * nv) });
  return { v0: along(0), v1: along(nv - 1), u0: across(0), u1: across(nu - 1) };
}

/** The straight surface from one curve to another that goes alike, its v from the first to the second. */
export function wallBetween(a: CurveData, b: CurveData): SurfaceData {
  const points = new Float64Array(2 * a.points.length);
  for (let i = 0; i < a.points.length; i += 3) {
    points.set(a.points.subarray(i, i + 3), 2 * i);
    points.set(b.points.subarray(i, i + 3), 2 * i + 3);
  }
  return { degreeU: a.degree, degreeV: 1, knotsU: a.knots, knotsV: Float64Array.of(0, 0, 1, 1), points };
}

/** y turned round. */
const turned = (points: Float64Array): Float64Array => points.map((v, i) => (i % 3 === 1 ? -v : v));

const mirroredCurve = (curve: CurveData): CurveData => ({ ...curve, points: turned(curve.points) });
const mirroredSurface = (surface: SurfaceData): SurfaceData => ({ ...surface, points: turned(surface.points) });

/** The solid on the board's other side. */
export function mirroredBrep(brep: Brep, id: string, side: Body['side']): Brep {
  const flip = ([x, y, z]: readonly [number, number, number]) => [x, -y, z] as const;
  return {
    ...brep, id, side,
    vertices: brep.vertices.map(([x, y, z]) => [x, -y, z]),
    edges: brep.edges.map((edge) => ({ ...edge, curve: mirroredCurve(edge.curve) })),
    faces: brep.faces.map(({ surface, outward, loops }) => ({
      surface: 'normal' in surface ? { origin: flip(surface.origin), normal: flip(surface.normal), along: flip(surface.along) } : mirroredSurface(surface),
      outward: 'normal' in surface ? outward : !outward,
      loops: loops.map((loop) => loop.toReversed().map(({ edge, forward }) => ({ edge, forward: !forward }))),
    })),
  };
}

/** A curve gone along between two of its parameters, either way. */
export interface Way {
  readonly curve: CurveData;
  readonly t0: number;
  readonly t1: number;
}

/** A curve gone along whole, or back. */
export function wayAlong(curve: CurveData, forward = true): Way {
  const [t0, t1] = [curve.knots[0], curve.knots[curve.knots.length - 1]];
  return forward ? { curve, t0, t1 } : { curve, t0: t1, t1: t0 };
}

/** A loop gone the other way round. */
export const gone = (loop: readonly Way[]): Way[] => loop.toReversed().map(({ curve, t0, t1 }) => ({ curve, t0: t1, t1: t0 }));
const mirroredWay = ({ curve, t0, t1 }: Way): Way => ({ curve: mirroredCurve(curve), t0, t1 });

/** A solid that does not close: which, and where. */
export class OpenShellError extends RangeError {}

/** Cells of space that vertices are looked for in, mm: many times as wide as two that are one can be apart. */
const CELL = 1e-2;

/** More vertices than any solid has: two of them make one number. */
const MOST_VERTICES = 2 ** 26;

/** A cell's key; two cells may have the same: what lies in them is measured. */
const cellKey = (x: number, y: number, z: number): number =>
  Math.imul(Math.floor(x / CELL), 73856093) ^ Math.imul(Math.floor(y / CELL), 19349663) ^ Math.imul(Math.floor(z / CELL), 83492791);

const listed = (lists: Map<number, number[]>, name: number, i: number): void => {
  const list = lists.get(name);
  if (list) list.push(i);
  else lists.set(name, [i]);
};

/** Puts faces together to a closed solid. */
export class ShellBuilder {
  private readonly vertices: Point[] = [];
  private readonly edges: (BrepEdge & { readonly middle: Point })[] = [];
  private readonly faces: BrepFace[] = [];

  /** Vertices by the cells that they lie in, and edges by their two vertices: their places in the lists, first come first. */
  private readonly cells = new Map<number, number[]>();
  private readonly between = new Map<number, number[]>();

  private vertex(p: Point): number {
    const [x, y, z] = p;
    // The first of those near enough, wherever a cell's border lies: those of the cells at the corners of a box about it, mostly one and the same.
    let [known, last] = [Infinity, Number.NaN];
    for (let corner = 0; corner < 8; corner++) {
      const key = cellKey(x + (corner & 1 ? SAME_PLACE : -SAME_PLACE), y + (corner & 2 ? SAME_PLACE : -SAME_PLACE), z + (corner & 4 ? SAME_PLACE : -SAME_PLACE));
      if (key === last) continue;
      last = key;
      for (const i of this.cells.get(key) ?? []) if (i < known && apart(p, this.vertices[i]) < SAME_PLACE) known = i;
    }
    if (known < Infinity) return known;
    const i = this.vertices.push([...p]) - 1;
    listed(this.cells, cellKey(x, y, z), i);
    return i;
  }

  /** The edge along a way; nothing where it has no length. */
  private edge({ curve, t0, t1 }: Way): EdgeUse | undefined {
    const [a, b] = [t0, t1].map((t) => this.vertex(curvePoint(curve, t)));
    if (a === b) return undefined;
    const middle = curvePoint(curve, (t0 + t1) / 2);
    const name = Math.min(a, b) * MOST_VERTICES + Math.max(a, b);
    const known = this.between.get(name)?.find((i) => apart(this.edges[i].middle, middle) < SAME_EDGE);
    if (known !== undefined) return { edge: known, forward: this.edges[known].from === a };
    // An edge runs the way its curve does.
    const forward = t1 > t0;
    const [from, to] = forward ? [a, b] : [b, a];
    const edge = this.edges.push({ from, to, curve, middle }) - 1;
    listed(this.between, name, edge);
    return { edge, forward };
  }

  /** A face on a surface within loops of ways, counter-clockwise seen from outside; one that comes to a line is none. */
  face(surface: SurfaceData | PlaneData, outward: boolean, loops: readonly (readonly Way[])[]): void {
    const used = loops.map((loop) => loop.flatMap((way) => this.edge(way) ?? []));
    // What is gone along and straight back again bounds nothing.
    const kept = used.map((loop) => {
      const times = new Map<number, number>();
      for (const { edge } of loop) times.set(edge, (times.get(edge) ?? 0) + 1);
      return loop.filter(({ edge }) => times.get(edge) === 1);
    }).filter((loop) => loop.length > 1);
    if (kept.length > 0) this.faces.push({ surface, outward, loops: kept });
  }

  /** A surface to starboard within a loop counter-clockwise by dU x dV, and its mirror image to port; `outward` whether dU x dV looks out. */
  trimmed(surface: SurfaceData, outward: boolean, loop: readonly Way[]): void {
    const seen = outward ? loop : gone(loop);
    this.face(surface, outward, [seen]);
    this.face(mirroredSurface(surface), !outward, [gone(seen.map(mirroredWay))]);
  }

  /** A whole surface as a face; `outward` whether dU x dV looks out; `both` with its mirror image to port. */
  patch(surface: SurfaceData, outward: boolean, both = false): void {
    const { v0, v1, u0, u1 } = borders(surface);
    const loop = [wayAlong(v0), wayAlong(u1), wayAlong(v1, false), wayAlong(u0, false)];
    if (both) this.trimmed(surface, outward, loop);
    else this.face(surface, outward, [outward ? loop : gone(loop)]);
  }

  /** A plane face across the board at a station: its border from the centreline to starboard, up and back to the centreline, and port's like it. Facing the nose (1) or the tail (-1). */
  acrossEnd(starboard: readonly Way[], x: number, facing: 1 | -1): void {
    const loop = [...starboard, ...gone(starboard.map(mirroredWay))];
    this.face({ origin: [x, 0, 0], normal: [facing, 0, 0], along: [0, 1, 0] }, true, [facing === 1 ? loop : gone(loop)]);
  }

  /** A plane face across the board to starboard, within a whole loop counter-clockwise as seen from the nose, and its mirror image to port. */
  besideCentre(starboard: readonly Way[], x: number, facing: 1 | -1): void {
    const plane: PlaneData = { origin: [x, 0, 0], normal: [facing, 0, 0], along: [0, 1, 0] };
    const seen = facing === 1 ? starboard : gone(starboard);
    this.face(plane, true, [seen]);
    this.face(plane, true, [gone(seen.map(mirroredWay))]);
  }

  /** A plane face within a border, which is gone along forward or, where it is not, back. */
  cap(plane: PlaneData, border: readonly Way[], forward: boolean): void {
    this.face(plane, true, [forward ? border : gone(border)]);
  }

  /** The solid. Throws an OpenShellError where an edge does not part two faces: then it does not close. */
  build(id: string, kind: Brep['kind'], side: Body['side']): Brep {
    const uses = new Int32Array(2 * this.edges.length);
    for (const { loops } of this.faces) for (const { edge, forward } of loops.flat()) uses[2 * edge + (forward ? 0 : 1)]++;
    const open = this.edges.findIndex((_, i) => uses[2 * i] !== 1 || uses[2 * i + 1] !== 1);
    if (open >= 0 || this.faces.length === 0) {
      const [x, y, z] = open >= 0 ? this.edges[open].middle : [Number.NaN, Number.NaN, Number.NaN];
      throw new OpenShellError(`${id} does not close at ${x.toFixed(2)}, ${y.toFixed(2)}, ${z.toFixed(2)}`);
    }
    return { id, kind, side, vertices: this.vertices, edges: this.edges.map(({ from, to, curve }) => ({ from, to, curve })), faces: this.faces };
  }
}
