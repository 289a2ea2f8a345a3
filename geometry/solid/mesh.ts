/** Mesh building: sweeps, grids and plates. Counter-clockwise seen from outside, flat faces, shared layout. */
import earcut from 'earcut';
import type { Mesh } from '../types';
import { triangulate } from './triangulate';

/** Growing triangle soup with per-face normals: crisp arrises, as timber has. */
export class MeshBuilder {
  private readonly positions: number[] = [];
  private readonly indices: number[] = [];
  private readonly channels: { bevel: number[]; run: number[] } = { bevel: [], run: [] };

  /** Add a vertex; returns its number. */
  vertex(x: number, y: number, z: number, run = 0, bevel = 0): number {
    this.positions.push(x, y, z);
    this.channels.run.push(run);
    this.channels.bevel.push(bevel);
    return this.positions.length / 3 - 1;
  }

  triangle(a: number, b: number, c: number): void {
    this.indices.push(a, b, c);
  }

  quad(a: number, b: number, c: number, d: number): void {
    this.indices.push(a, b, c, a, c, d);
  }

  /** The finished mesh; normals are the area-weighted mean over each vertex's own triangles. */
  build(withBevel = false): Mesh {
    const positions = Float32Array.from(this.positions);
    const indices = Uint32Array.from(this.indices);
    return {
      positions,
      normals: vertexNormals(this.positions, indices),
      indices,
      run: Float32Array.from(this.channels.run),
      ...(withBevel ? { bevel: Float32Array.from(this.channels.bevel) } : {}),
    };
  }
}

function vertexNormals(p: ArrayLike<number>, indices: Uint32Array): Float32Array {
  const n = new Float32Array(p.length);
  for (let i = 0; i < indices.length; i += 3) {
    const a = indices[i] * 3, b = indices[i + 1] * 3, c = indices[i + 2] * 3;
    const ux = p[b] - p[a], uy = p[b + 1] - p[a + 1], uz = p[b + 2] - p[a + 2];
    const vx = p[c] - p[a], vy = p[c + 1] - p[a + 1], vz = p[c + 2] - p[a + 2];
    const x = uy * vz - uz * vy, y = uz * vx - ux * vz, z = ux * vy - uy * vx;
    for (const k of [a, b, c]) {
      n[k] += x;
      n[k + 1] += y;
      n[k + 2] += z;
    }
  }
  for (let i = 0; i < n.length; i += 3) {
    const l = Math.hypot(n[i], n[i + 1], n[i + 2]) || 1;
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
    let before: [number, number] | undefined;
    for (const ring of rings) {
      const a = mesh.vertex(...ring.corners[side], ring.run, ring.bevel);
      const b = mesh.vertex(...ring.corners[next], ring.run, ring.bevel);
      if (before) mesh.quad(before[0], before[1], b, a);
      before = [a, b];
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

function signedArea(flat: readonly number[]): number {
  let sum = 0;
  for (let i = 0; i < flat.length; i += 2) {
    const j = (i + 2) % flat.length;
    sum += flat[i] * flat[j + 1] - flat[j] * flat[i + 1];
  }
  return sum / 2;
}

/**
 * A ring's k - 2 triangles, each turning as the ring does. earcut leaves out corners that lie in line, as where
 * strips touch and the ring has no height; a fan about the inward corner then closes the end whole.
 */
function ringTriangles(corners: readonly Point3[]): (readonly [number, number, number])[] {
  const flat = flatten(corners);
  const k = corners.length;
  const whole = Math.sign(signedArea(flat));
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
  const flat = loops.flat();
  const starts: number[] = [];
  let count = 0;
  for (const l of loops) {
    starts.push(count);
    count += l.length / 2;
  }
  const triangles = triangulate(flat, starts);
  const half = thickness / 2;
  for (const depth of [half, -half]) {
    const first = mesh.vertex(...place(flat[0], flat[1], depth));
    for (let i = 2; i < flat.length; i += 2) mesh.vertex(...place(flat[i], flat[i + 1], depth));
    for (let i = 0; i < triangles.length; i += 3) {
      const [a, b, c] = [first + triangles[i], first + triangles[i + 1], first + triangles[i + 2]];
      if (depth > 0) mesh.triangle(a, b, c);
      else mesh.triangle(a, c, b);
    }
  }
  for (const loop of loops) {
    const n = loop.length / 2;
    for (let i = 0; i < n; i++) {
      const j = (i + 1) % n;
      const a = mesh.vertex(...place(loop[2 * i], loop[2 * i + 1], -half));
      const b = mesh.vertex(...place(loop[2 * j], loop[2 * j + 1], -half));
      const c = mesh.vertex(...place(loop[2 * j], loop[2 * j + 1], half));
      const d = mesh.vertex(...place(loop[2 * i], loop[2 * i + 1], half));
      mesh.quad(a, b, c, d);
    }
  }
  return mesh.build();
}

/** A loop as plain numbers, outer loops counter-clockwise and holes clockwise. */
function oriented(loop: ArrayLike<number>, outer: boolean): number[] {
  const flat = Array.from(loop);
  if (signedArea(flat) > 0 === outer) return flat;
  const out: number[] = [];
  for (let i = flat.length - 2; i >= 0; i -= 2) out.push(flat[i], flat[i + 1]);
  return out;
}

/** A mesh mirrored to port: y negated, winding turned back. */
export function mirrored(mesh: Mesh): Mesh {
  const positions = Float32Array.from(mesh.positions);
  const normals = Float32Array.from(mesh.normals);
  for (let i = 1; i < positions.length; i += 3) {
    positions[i] = -positions[i];
    normals[i] = -normals[i];
  }
  const indices = new Uint32Array(mesh.indices.length);
  for (let i = 0; i < indices.length; i += 3) {
    indices[i] = mesh.indices[i];
    indices[i + 1] = mesh.indices[i + 2];
    indices[i + 2] = mesh.indices[i + 1];
  }
  return { ...mesh, positions, normals, indices };
}

/** Signed volume enclosed by a closed mesh, in the cube of its unit (divergence theorem); positive outward. */
export function meshVolume(mesh: Pick<Mesh, 'positions' | 'indices'>): number {
  const { positions: p, indices } = mesh;
  let sum = 0;
  for (let i = 0; i < indices.length; i += 3) {
    const a = indices[i] * 3, b = indices[i + 1] * 3, c = indices[i + 2] * 3;
    sum += p[a] * (p[b + 1] * p[c + 2] - p[b + 2] * p[c + 1])
      - p[a + 1] * (p[b] * p[c + 2] - p[b + 2] * p[c])
      + p[a + 2] * (p[b] * p[c + 1] - p[b + 1] * p[c]);
  }
  return sum / 6;
}
