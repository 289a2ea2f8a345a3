/**
 * The assembly as glTF 2.0 (.glb), in metres. Board axes (x forward, y starboard, z up) are left-handed; glTF's
 * are right-handed with +Y up and +Z forward, where starboard is -X: X = -y, Y = z, Z = x. That is a
 * reflection of the numbers, so every triangle is turned round, and starboard stays starboard.
 */
import { Accessor, Document, WebIO } from '@gltf-transform/core';
import { reversedTriangles } from '../../geometry/solid/mesh';
import type { Body, Mesh, PartKind } from '../../geometry/types';
import { stampLine, type Stamp } from './stamp';
import { properTriangles } from './solids';

/** Colours of the parts, linear RGB: our own, honest timber. */
const COLOURS: Readonly<Record<PartKind, readonly [number, number, number]>> = {
  'bottom-skin': [0.62, 0.47, 0.3], 'deck-skin': [0.66, 0.5, 0.32], round: [0.5, 0.33, 0.2], rib: [0.55, 0.4, 0.24],
  stringer: [0.48, 0.33, 0.19], sole: [0.36, 0.17, 0.08], row: [0.5, 0.27, 0.13], cap: [0.42, 0.2, 0.09],
  hollow: [0.3, 0.5, 0.6], 'outer-skin': [0.7, 0.55, 0.36], block: [0.4, 0.25, 0.13], fitting: [0.45, 0.22, 0.14],
};

/** Faces that turn by more than this meet in an arris, radians: own choice. */
const CREASE = (30 * Math.PI) / 180;

/** Proper triangles of a mesh with unit normals: each vertex once for every smooth face that it belongs to, so that arrises stay crisp. */
function shaded(mesh: Mesh): { readonly positions: Float32Array<ArrayBuffer>; readonly normals: Float32Array<ArrayBuffer>; readonly indices: Uint32Array<ArrayBuffer> } {
  const { positions: p } = mesh;
  const triangles = properTriangles(mesh);
  const limit = Math.cos(CREASE);
  // Vertices as they are split: the first of each of the mesh's, the next of the same one, which it is, and its sum of normals.
  const first = new Int32Array(p.length / 3).fill(-1);
  const next = new Int32Array(triangles.length);
  const from = new Uint32Array(triangles.length);
  const sums = new Float64Array(3 * triangles.length);
  const indices = new Uint32Array(triangles.length);
  let count = 0;
  for (let i = 0; i < triangles.length; i += 3) {
    const a = 3 * triangles[i], b = 3 * triangles[i + 1], c = 3 * triangles[i + 2];
    const ux = p[b] - p[a], uy = p[b + 1] - p[a + 1], uz = p[b + 2] - p[a + 2];
    const vx = p[c] - p[a], vy = p[c + 1] - p[a + 1], vz = p[c + 2] - p[a + 2];
    const nx = uy * vz - uz * vy, ny = uz * vx - ux * vz, nz = ux * vy - uy * vx;
    const size = Math.sqrt(nx * nx + ny * ny + nz * nz);
    for (let k = i; k < i + 3; k++) {
      let v = first[triangles[k]];
      while (v >= 0) {
        const x = sums[3 * v], y = sums[3 * v + 1], z = sums[3 * v + 2];
        // A triangle without area goes with any face.
        if (x * nx + y * ny + z * nz >= limit * Math.sqrt(x * x + y * y + z * z) * size) break;
        v = next[v];
      }
      if (v < 0) {
        v = count++;
        from[v] = triangles[k];
        next[v] = first[triangles[k]];
        first[triangles[k]] = v;
      }
      sums[3 * v] += nx;
      sums[3 * v + 1] += ny;
      sums[3 * v + 2] += nz;
      indices[k] = v;
    }
  }
  const positions = new Float32Array(3 * count);
  const normals = new Float32Array(3 * count);
  for (let v = 0; v < count; v++) {
    const size = Math.hypot(sums[3 * v], sums[3 * v + 1], sums[3 * v + 2]);
    for (let d = 0; d < 3; d++) {
      positions[3 * v + d] = p[3 * from[v] + d];
      normals[3 * v + d] = size > 0 ? sums[3 * v + d] / size : d === 2 ? 1 : 0;
    }
  }
  return { positions, normals, indices };
}

/** The glb's bytes. One node a body, named by its id, with its kind and side in `extras`. */
export async function writeGlb(bodies: readonly Body[], stamp: Stamp): Promise<Uint8Array> {
  const doc = new Document();
  const asset = doc.getRoot().getAsset();
  asset.generator = 'Railwright';
  asset.extras = { board: stamp.board, revision: stamp.revision, units: 'metres', date: stamp.date };
  const buffer = doc.createBuffer();
  const scene = doc.createScene(stampLine(stamp, 'metres'));
  doc.getRoot().setDefaultScene(scene);
  const materials = new Map<PartKind, ReturnType<Document['createMaterial']>>();
  for (const body of bodies) {
    const mesh = shaded(body.mesh);
    if (mesh.indices.length === 0) continue;
    const n = mesh.positions.length;
    const positions = new Float32Array(n);
    const normals = new Float32Array(n);
    for (let i = 0; i < n; i += 3) {
      positions[i] = -mesh.positions[i + 1] / 1000;
      positions[i + 1] = mesh.positions[i + 2] / 1000;
      positions[i + 2] = mesh.positions[i] / 1000;
      normals[i] = -mesh.normals[i + 1];
      normals[i + 1] = mesh.normals[i + 2];
      normals[i + 2] = mesh.normals[i];
    }
    let material = materials.get(body.kind);
    if (!material) {
      material = doc.createMaterial(body.kind).setBaseColorFactor([...COLOURS[body.kind], 1]).setMetallicFactor(0).setRoughnessFactor(0.75);
      materials.set(body.kind, material);
    }
    const attribute = (name: string, values: Float32Array<ArrayBuffer>) =>
      doc.createAccessor(`${body.id} ${name}`).setType(Accessor.Type.VEC3).setArray(values).setBuffer(buffer);
    const primitive = doc.createPrimitive().setMaterial(material)
      .setAttribute('POSITION', attribute('positions', positions))
      .setAttribute('NORMAL', attribute('normals', normals))
      .setIndices(doc.createAccessor(`${body.id} triangles`).setType(Accessor.Type.SCALAR).setArray(reversedTriangles(mesh.indices)).setBuffer(buffer));
    const node = doc.createNode(body.id).setMesh(doc.createMesh(body.id).addPrimitive(primitive));
    node.setExtras({ kind: body.kind, side: body.side, order: body.order });
    scene.addChild(node);
  }
  return new WebIO().writeBinary(doc);
}
