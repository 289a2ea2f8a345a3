/**
 * Ink lines: the edges of a mesh that a draughtsman would draw. Which vertex pairs they are depends only on
 * how the triangles hang together, so the viewer draws them over the mesh's own position buffer.
 */
import type { Mesh } from '../../geometry/types';

/** Edges whose faces turn by more than this are drawn, radians. */
const CREASE = (35 * Math.PI) / 180;
/** Vertices nearer than this are one, mm. */
const WELD = 1e-3;

/** For each vertex, the number of the first vertex at the same place. */
function weld(positions: Float32Array): Uint32Array {
  const count = positions.length / 3;
  let size = 16;
  while (size < count * 2) size *= 2;
  const table = new Int32Array(size).fill(-1);
  const first = new Uint32Array(count);
  const at = (i: number) => Math.round(positions[i] / WELD);
  for (let i = 0; i < count; i++) {
    const x = at(3 * i);
    const y = at(3 * i + 1);
    const z = at(3 * i + 2);
    let slot = (Math.imul(x, 73856093) ^ Math.imul(y, 19349663) ^ Math.imul(z, 83492791)) & (size - 1);
    for (;;) {
      const j = table[slot];
      if (j < 0) {
        table[slot] = i;
        first[i] = i;
        break;
      }
      if (at(3 * j) === x && at(3 * j + 1) === y && at(3 * j + 2) === z) {
        first[i] = j;
        break;
      }
      slot = (slot + 1) & (size - 1);
    }
  }
  return first;
}

/** Unit normals of the triangles, xyz triples; zero where a triangle has no area. */
function faceNormals({ positions: p, indices }: Mesh): Float32Array {
  const out = new Float32Array(indices.length);
  for (let f = 0; f < indices.length; f += 3) {
    const a = 3 * indices[f];
    const b = 3 * indices[f + 1];
    const c = 3 * indices[f + 2];
    const ux = p[b] - p[a], uy = p[b + 1] - p[a + 1], uz = p[b + 2] - p[a + 2];
    const vx = p[c] - p[a], vy = p[c + 1] - p[a + 1], vz = p[c + 2] - p[a + 2];
    const nx = uy * vz - uz * vy, ny = uz * vx - ux * vz, nz = ux * vy - uy * vx;
    const length = Math.hypot(nx, ny, nz);
    if (length > 0) out.set([nx / length, ny / length, nz / length], f);
  }
  return out;
}

/**
 * The vertex pairs to draw as ink lines: edges between faces that turn by more than the crease angle, and
 * edges of one face only. Edges between faces without area are left out; of a `half`, open on the centreline, those on it.
 */
export function inkEdges(mesh: Mesh, half = false): Uint32Array {
  const first = weld(mesh.positions);
  const normals = faceNormals(mesh);
  const { indices } = mesh;
  const count = first.length;
  /** Edge key to the index, within `indices`, of the edge's first corner in the first face that has it. */
  const seen = new Map<number, number>();
  const drawn: number[] = [];
  const limit = Math.cos(CREASE);
  for (let k = 0; k < indices.length; k++) {
    const face = k - (k % 3);
    if (normals[face] === 0 && normals[face + 1] === 0 && normals[face + 2] === 0) continue;
    const from = indices[k];
    const to = indices[face + ((k + 1) % 3)];
    const a = first[from];
    const b = first[to];
    if (a === b) continue;
    const key = a < b ? a * count + b : b * count + a;
    const other = seen.get(key);
    if (other === undefined) {
      seen.set(key, k);
      continue;
    }
    seen.delete(key);
    const g = other - (other % 3);
    const dot = normals[face] * normals[g] + normals[face + 1] * normals[g + 1] + normals[face + 2] * normals[g + 2];
    if (dot < limit) drawn.push(from, to);
  }
  for (const k of seen.values()) {
    const face = k - (k % 3);
    const [from, to] = [indices[k], indices[face + ((k + 1) % 3)]];
    if (!half || mesh.positions[3 * from + 1] !== 0 || mesh.positions[3 * to + 1] !== 0) drawn.push(from, to);
  }
  return Uint32Array.from(drawn);
}
