/** Mesh building: sweeps, grids and plates. Counter-clockwise seen from outside, flat faces, shared layout. */
import earcut from 'earcut';
import { loopArea, reversed } from '../curves/polygon';
import type { Mesh } from '../types';
import { triangulate } from './triangulate';

/** Room that every builder fills in turn: a board's bodies are built one after the other, and their lengths are known only at their ends. */
const room = {
  positions: new Float64Array(3 * 8192),
  run: new Float32Array(8192),
  bevel: new Float32Array(8192),
  indices: new Uint32Array(3 * 16384),
};

/** Growing triangle soup with per-face normals: crisp arrises, as timber has. Build one before the next is begun: they share their room. */
export class MeshBuilder {
  private vertices = 0;
  private corners = 0;

  /** Add a vertex; returns its number. */
  vertex(x: number, y: number, z: number, run = 0, bevel = 0): number {
    const i = this.vertices++;
    if (i === room.run.length) {
      room.positions = doubled(room.positions, Float64Array);
      room.run = doubled(room.run, Float32Array);
      room.bevel = doubled(room.bevel, Float32Array);
    }
    const { positions } = room;
    positions[3 * i] = x;
    positions[3 * i + 1] = y;
    positions[3 * i + 2] = z;
    room.run[i] = run;
    room.bevel[i] = bevel;
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

  /** The finished mesh; normals are the area-weighted mean over each vertex's own triangles. */
  build(withBevel = false): Mesh {
    const exact = room.positions.subarray(0, 3 * this.vertices);
    const indices = room.indices.slice(0, this.corners);
    return {
      positions: new Float32Array(exact),
      normals: vertexNormals(exact, indices),
      indices,
      run: room.run.slice(0, this.vertices),
      ...(withBevel ? { bevel: room.bevel.slice(0, this.vertices) } : {}),
    };
  }
}

/** A copy of an array with twice the room. */
function doubled<T extends Float64Array | Float32Array | Uint32Array>(from: T, make: new (length: number) => T): T {
  const to = new make(2 * from.length);
  to.set(from);
  return to;
}

function vertexNormals(p: Float64Array, indices: Uint32Array): Float32Array {
  const n = new Float32Array(p.length);
  for (let i = 0; i < indices.length; i += 3) {
    const a = indices[i] * 3, b = indices[i + 1] * 3, c = indices[i + 2] * 3;
    const ux = p[b] - p[a], uy = p[b + 1] - p[a + 1], uz = p[b + 2] - p[a + 2];
    const vx = p[c] - p[a], vy = p[c + 1] - p[a + 1], vz = p[c + 2] - p[a + 2];
    const x = uy * vz - uz * vy, y = uz * vx - ux * vz, z = ux * vy - uy * vx;
    n[a] += x; n[a + 1] += y; n[a + 2] += z;
    n[b] += x; n[b + 1] += y; n[b + 2] += z;
    n[c] += x; n[c + 1] += y; n[c + 2] += z;
  }
  for (let i = 0; i < n.length; i += 3) {
    const l = Math.sqrt(n[i] * n[i] + n[i + 1] * n[i + 1] + n[i + 2] * n[i + 2]) || 1;
    n[i] /= l;
    n[i + 1] /= l;
    n[i + 2] /= l;
  }
  return n;
}

/** A point of a swept ring. */
export type Point3 = readonly [number, number, number];

/** One station of a sweep: the run there and the ring's corners, all rings with the same count. */
export interface Ring {
  readonly run: number;
  readonly bevel: number;
  readonly corners: readonly Point3[];
}

/**
 * A closed solid swept through rings of k corners, tail to nose. Corners run counter-clockwise in
 * (outboard, up), which makes the faces point outward; the two ends are capped. Each side has its own vertices, so arrises stay crisp along the length while each face shades smoothly.
 */
export function sweep(rings: readonly Ring[], withBevel = false): Mesh {
  const mesh = new MeshBuilder();
  const k = rings[0].corners.length;
  for (let side = 0; side < k; side++) {
    const next = (side + 1) % k;
    let before = -1;
    for (const ring of rings) {
      const p = ring.corners[side];
      const q = ring.corners[next];
      const a = mesh.vertex(p[0], p[1], p[2], ring.run, ring.bevel);
      const b = mesh.vertex(q[0], q[1], q[2], ring.run, ring.bevel);
      if (before >= 0) mesh.quad(before, before + 1, b, a);
      before = a;
    }
  }
  const cap = (ring: Ring, last: boolean) => {
    const ids = ring.corners.map((c) => mesh.vertex(...c, ring.run, ring.bevel));
    for (const [a, b, c] of ringTriangles(ring.corners)) {
      // A triangle that turns as the ring does faces along the sweep.
      if (last) mesh.triangle(ids[a], ids[b], ids[c]);
      else mesh.triangle(ids[a], ids[c], ids[b]);
    }
  };
  cap(rings[0], false);
  cap(rings[rings.length - 1], true);
  return mesh.build(withBevel);
}

/**
 * A ring's k - 2 triangles, each turning as the ring does. earcut leaves out corners that lie in line, as where
 * strips touch and the ring has no height; a fan about the inward corner then closes the end whole.
 */
function ringTriangles(corners: readonly Point3[]): (readonly [number, number, number])[] {
  const flat = flatten(corners);
  const k = corners.length;
  const whole = Math.sign(loopArea(flat));
  const turn = (a: number, b: number, c: number) =>
    whole * ((flat[2 * b] - flat[2 * a]) * (flat[2 * c + 1] - flat[2 * b + 1]) - (flat[2 * b + 1] - flat[2 * a + 1]) * (flat[2 * c] - flat[2 * b]));
  const found = earcut(flat);
  if (found.length === 3 * (k - 2)) {
    return Array.from({ length: k - 2 }, (_, i) => {
      const [a, b, c] = found.slice(3 * i, 3 * i + 3);
      return turn(a, b, c) > 0 ? [a, b, c] : [a, c, b];
    });
  }
  let hub = 0;
  for (let i = 0; i < k; i++) if (turn((i + k - 1) % k, i, (i + 1) % k) < -1e-9) hub = i;
  return Array.from({ length: k - 2 }, (_, i) => [hub, (hub + i + 1) % k, (hub + i + 2) % k]);
}

/** Ring corners in their own plane: (horizontal distance from the first corner, z). */
function flatten(corners: readonly Point3[]): number[] {
  let far = corners[0];
  for (const c of corners) {
    if (Math.hypot(c[0] - corners[0][0], c[1] - corners[0][1]) > Math.hypot(far[0] - corners[0][0], far[1] - corners[0][1])) far = c;
  }
  const l = Math.hypot(far[0] - corners[0][0], far[1] - corners[0][1]) || 1;
  const ux = (far[0] - corners[0][0]) / l;
  const uy = (far[1] - corners[0][1]) / l;
  return corners.flatMap((c) => [(c[0] - corners[0][0]) * ux + (c[1] - corners[0][1]) * uy, c[2]]);
}

/**
 * A flat plate: polygon (p, q) pairs with holes, extruded to both sides of its plane. `place` maps (p, q,
 * depth) to space and must keep handedness: counter-clockwise polygons then face +depth.
 */
export function plate(
  outline: ArrayLike<number>, holes: readonly ArrayLike<number>[], thickness: number,
  place: (p: number, q: number, depth: number) => Point3,
): Mesh {
  const mesh = new MeshBuilder();
  const loops = [outline, ...holes].map((l, i) => oriented(l, i === 0));
  const flat = new Float64Array(loops.reduce((sum, l) => sum + l.length, 0));
  const starts: number[] = [];
  let filled = 0;
  for (const l of loops) {
    starts.push(filled / 2);
    flat.set(l, filled);
    filled += l.length;
  }
  const triangles = triangulate(flat, starts);
  const half = thickness / 2;
  const put = (p: number, q: number, depth: number): number => {
    const at = place(p, q, depth);
    return mesh.vertex(at[0], at[1], at[2]);
  };
  for (const depth of [half, -half]) {
    const first = put(flat[0], flat[1], depth);
    for (let i = 2; i < flat.length; i += 2) put(flat[i], flat[i + 1], depth);
    for (let i = 0; i < triangles.length; i += 3) {
      const [b, c] = depth > 0 ? [triangles[i + 1], triangles[i + 2]] : [triangles[i + 2], triangles[i + 1]];
      mesh.triangle(first + triangles[i], first + b, first + c);
    }
  }
  for (const loop of loops) {
    for (let i = 0; i < loop.length; i += 2) {
      const j = i + 2 < loop.length ? i + 2 : 0;
      mesh.quad(
        put(loop[i], loop[i + 1], -half), put(loop[j], loop[j + 1], -half),
        put(loop[j], loop[j + 1], half), put(loop[i], loop[i + 1], half),
      );
    }
  }
  return mesh.build();
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
  const positions = mesh.positions.slice();
  const normals = mesh.normals.slice();
  for (let i = 1; i < positions.length; i += 3) {
    positions[i] = -positions[i];
    normals[i] = -normals[i];
  }
  return { ...mesh, positions, normals, indices: reversedTriangles(mesh.indices) };
}
