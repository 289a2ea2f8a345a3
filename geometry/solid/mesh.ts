/** Mesh building: grids, sweeps and plates. Counter-clockwise seen from outside. Faces that meet at an arris share its vertices: whoever shades them tells the two apart. */
import earcut from 'earcut';
import { loopArea, reversed } from '../curves/polygon';
import type { Mesh } from '../types';
import { triangulate } from './triangulate';

/** Least depth of a body between two skins, mm: where they leave no room, as at a block's feather edge, it keeps an inside. */
export const LEAST_DEPTH = 0.01;

/** Room that every builder fills in turn: a board's bodies are built one after the other, and their lengths are known only at their ends. */
const room = { positions: new Float32Array(3 * 8192), indices: new Uint32Array(3 * 16384) };

/** A growing mesh. Build one before the next is begun: they share their room. */
export class MeshBuilder {
  private vertices = 0;
  private corners = 0;

  /** Add a vertex; returns its number. */
  vertex(x: number, y: number, z: number): number {
    const i = this.vertices++;
    if (3 * i === room.positions.length) room.positions = doubled(room.positions, Float32Array);
    const { positions } = room;
    positions[3 * i] = x;
    positions[3 * i + 1] = y;
    positions[3 * i + 2] = z;
    return i;
  }

  triangle(a: number, b: number, c: number): void {
    const i = this.corners;
    this.corners += 3;
    if (this.corners > room.indices.length) room.indices = doubled(room.indices, Uint32Array);
    const { indices } = room;
    indices[i] = a;
    indices[i + 1] = b;
    indices[i + 2] = c;
  }

  quad(a: number, b: number, c: number, d: number): void {
    this.triangle(a, b, c);
    this.triangle(a, c, d);
  }

  /** The finished triangles alone, where the vertices lie in an array of their own. */
  triangles(): Uint32Array<ArrayBuffer> {
    return room.indices.slice(0, this.corners);
  }

  /** The finished mesh. */
  build(): Mesh {
    return { positions: room.positions.slice(0, 3 * this.vertices), indices: this.triangles() };
  }
}

/** A copy of an array with twice the room. */
function doubled<T extends Float32Array | Uint32Array>(from: T, make: new (length: number) => T): T {
  const to = new make(2 * from.length);
  to.set(from);
  return to;
}

/** How grids hang together, by what it follows from: the same from board to board. */
const hangings = new Map<string, Uint32Array<ArrayBuffer>>();
/** As many are kept: boards of one kind ask for a few. */
const MOST_HANGINGS = 64;

/** Triangles that hang on `key` alone, put together once. */
export function hanging(key: string, make: (mesh: MeshBuilder) => void): Uint32Array<ArrayBuffer> {
  const kept = hangings.get(key);
  if (kept) return kept;
  const mesh = new MeshBuilder();
  make(mesh);
  if (hangings.size >= MOST_HANGINGS) hangings.clear();
  const made = mesh.triangles();
  hangings.set(key, made);
  return made;
}

/** A point of a plate. */
export type Point3 = readonly [number, number, number];

/** Rings of a sweep: k corners each, all corners of a ring together as (x, y, z); the run of each ring, and its bevel where that is shown. */
interface Rings {
  readonly k: number;
  readonly positions: Float32Array;
  readonly run: readonly number[];
  readonly bevel?: readonly number[];
}

/**
 * A closed solid swept through rings of k corners, tail to nose. Corners run counter-clockwise in
 * (outboard, up), which makes the faces point outward; the two ends are capped.
 */
export function sweep({ k, positions, run, bevel }: Rings): Mesh {
  const n = run.length;
  const last = (n - 1) * k;
  const [first, end] = [0, last].map((from) => ringTriangles(positions.subarray(3 * from, 3 * (from + k)), k));
  const indices = hanging(`sweep ${n} ${k} ${first.join()} ${end.join()}`, (mesh) => {
    for (let side = 0; side < k; side++) {
      const next = (side + 1) % k;
      for (let i = 0; i < last; i += k) mesh.quad(i + side, i + next, i + k + next, i + k + side);
    }
    // A triangle that turns as the ring does faces along the sweep.
    for (let i = 0; i < first.length; i += 3) mesh.triangle(first[i], first[i + 2], first[i + 1]);
    for (let i = 0; i < end.length; i += 3) mesh.triangle(last + end[i], last + end[i + 1], last + end[i + 2]);
  });
  const eachCorner = (of: readonly number[]) => {
    const out = new Float32Array(n * k);
    for (let i = 0, at = 0; i < n; i++) for (let j = 0; j < k; j++) out[at++] = of[i];
    return out;
  };
  return { positions, indices, run: eachCorner(run), ...(bevel ? { bevel: eachCorner(bevel) } : {}) };
}

/** Twice the least area of a triangle that a corner sees, mm2. */
const SEEN = 1e-3;

/**
 * A ring's k - 2 triangles, each turning as the ring does. earcut leaves out corners that lie in line, as where
 * strips touch and the ring has no height; a fan about the inward corner then closes the end whole.
 */
function ringTriangles(corners: Float32Array, k: number): number[] {
  const flat = flatten(corners, k);
  const whole = Math.sign(loopArea(flat));
  const turn = (a: number, b: number, c: number) =>
    whole * ((flat[2 * b] - flat[2 * a]) * (flat[2 * c + 1] - flat[2 * b + 1]) - (flat[2 * b + 1] - flat[2 * a + 1]) * (flat[2 * c] - flat[2 * b]));
  const fan = (hub: number) => Array.from({ length: k - 2 }, (_, i) => [hub, (hub + i + 1) % k, (hub + i + 2) % k] as const);
  // A corner that sees all the others, where there is one: the same one while they move, whichever of them come to lie in line.
  for (let i = 0; i < k; i++) {
    const seen = fan(i);
    if (seen.every(([a, b, c]) => turn(a, b, c) > SEEN)) return seen.flat();
  }
  const found = earcut(flat);
  if (found.length === 3 * (k - 2)) {
    for (let i = 0; i < found.length; i += 3) {
      const [a, b, c] = [found[i], found[i + 1], found[i + 2]];
      if (turn(a, b, c) <= 0) [found[i + 1], found[i + 2]] = [c, b];
    }
    return found;
  }
  let hub = 0;
  for (let i = 0; i < k; i++) if (turn((i + k - 1) % k, i, (i + 1) % k) < -1e-9) hub = i;
  return fan(hub).flat();
}

/** Ring corners in their own plane: (horizontal distance from the first corner, z). */
function flatten(p: Float32Array, k: number): number[] {
  let [far, ux, uy] = [0, 1, 0];
  for (let i = 0; i < 3 * k; i += 3) {
    const [dx, dy] = [p[i] - p[0], p[i + 1] - p[1]];
    const away = Math.hypot(dx, dy);
    if (away > far) [far, ux, uy] = [away, dx / away, dy / away];
  }
  const out: number[] = [];
  for (let i = 0; i < 3 * k; i += 3) out.push((p[i] - p[0]) * ux + (p[i + 1] - p[1]) * uy, p[i + 2]);
  return out;
}

/** Triangles of plates by name, kept from plan to plan while a rib keeps as many corners. */
export type PlateMemo = Map<string, { readonly starts: string; readonly triangles: readonly number[]; readonly indices: Uint32Array<ArrayBuffer> }>;

/** Height of a triangle that is turned over and cannot be seen, mm: it lies over its neighbours by no more, in their one plane. */
const SLIVER = 0.03;
/** Twice an area so small is rounding, mm2: most slivers along a straight edge. */
const ROUNDING = 1e-6;

/**
 * Whether triangles that fill one shape fill another with as many corners, so far as can be seen: they do where every one still
 * turns the same way round, for then their areas add up to the shape's and none lies over another (provable).
 */
function stillFill(triangles: readonly number[], flat: Float64Array): boolean {
  for (let i = 0; i < triangles.length; i += 3) {
    const [a, b, c] = [2 * triangles[i], 2 * triangles[i + 1], 2 * triangles[i + 2]];
    const [ux, uz, vx, vz] = [flat[b] - flat[a], flat[b + 1] - flat[a + 1], flat[c] - flat[a], flat[c + 1] - flat[a + 1]];
    const twice = ux * vz - uz * vx;
    if (twice < -ROUNDING && -twice > SLIVER * Math.max(Math.hypot(ux, uz), Math.hypot(vx, vz), Math.hypot(vx - ux, vz - uz))) return false;
  }
  return true;
}

/**
 * A flat plate: polygon (p, q) pairs with holes, extruded to both sides of its plane. `place` maps (p, q,
 * depth) to space and must keep handedness: counter-clockwise polygons then face +depth. `kept` and `name`: triangles
 * to use again where they still fill it.
 */
export function plate(
  outline: ArrayLike<number>, holes: readonly ArrayLike<number>[], thickness: number,
  place: (p: number, q: number, depth: number) => Point3, kept?: PlateMemo, name = '',
): Mesh {
  const loops = [outline, ...holes].map((l, i) => oriented(l, i === 0));
  const flat = new Float64Array(loops.reduce((sum, l) => sum + l.length, 0));
  const starts: number[] = [];
  let filled = 0;
  for (const l of loops) {
    starts.push(filled / 2);
    flat.set(l, filled);
    filled += l.length;
  }
  const n = flat.length / 2;
  const positions = new Float32Array(6 * n);
  for (const [from, depth] of [[0, thickness / 2], [n, -thickness / 2]] as const) {
    for (let i = 0; i < n; i++) {
      const at = place(flat[2 * i], flat[2 * i + 1], depth);
      for (let d = 0; d < 3; d++) positions[3 * (from + i) + d] = at[d];
    }
  }
  const loopsKey = [...starts, n].join();
  const before = kept?.get(name);
  if (before?.starts === loopsKey && stillFill(before.triangles, flat)) return { positions, indices: before.indices };
  const triangles = triangulate(flat, starts);
  const mesh = new MeshBuilder();
  for (let i = 0; i < triangles.length; i += 3) mesh.triangle(triangles[i], triangles[i + 1], triangles[i + 2]);
  for (let i = 0; i < triangles.length; i += 3) mesh.triangle(n + triangles[i], n + triangles[i + 2], n + triangles[i + 1]);
  starts.forEach((from, l) => {
    const to = l + 1 < starts.length ? starts[l + 1] : n;
    for (let i = from; i < to; i++) {
      const j = i + 1 < to ? i + 1 : from;
      mesh.quad(n + i, n + j, j, i);
    }
  });
  const indices = mesh.triangles();
  kept?.set(name, { starts: loopsKey, triangles, indices });
  return { positions, indices };
}

/** A loop that turns as it should: outer loops counter-clockwise, holes clockwise. */
const oriented = (loop: ArrayLike<number>, outer: boolean): ArrayLike<number> =>
  loopArea(loop) > 0 === outer ? loop : reversed(loop);

/** Triangles turned the other way round. */
export function reversedTriangles(indices: Uint32Array): Uint32Array<ArrayBuffer> {
  const out = new Uint32Array(indices.length);
  for (let i = 0; i < indices.length; i += 3) {
    out[i] = indices[i];
    out[i + 1] = indices[i + 2];
    out[i + 2] = indices[i + 1];
  }
  return out;
}

/** A mesh mirrored to port: y negated, winding turned back. */
export function mirrored(mesh: Mesh): Mesh {
  const turned = (xyz: Float32Array) => {
    const out = xyz.slice();
    for (let i = 1; i < out.length; i += 3) out[i] = -out[i];
    return out;
  };
  return {
    ...mesh, positions: turned(mesh.positions), indices: reversedTriangles(mesh.indices), ...(mesh.normals ? { normals: turned(mesh.normals) } : {}),
  };
}
