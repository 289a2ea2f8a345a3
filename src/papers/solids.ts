/** Which bodies are solids to print or assemble, and their triangles tidied for files. */
import anyAscii from 'any-ascii';
import { hullMesh, meshBoard } from '../../geometry/solid/board';
import { flatSolid } from '../../geometry/solid/flatSolid';
import type { FramePart } from '../../geometry/frame/types';
import type { Body, Mesh, Plan } from '../../geometry/types';
import type { Stamp } from './stamp';

/** A mesh without triangles that have two corners in one place, and with a unit normal at every vertex. A closed mesh stays closed. */
export function solidMesh(mesh: Mesh): Mesh {
  const { positions: p, indices } = mesh;
  const same = (a: number, b: number): boolean => p[a] === p[b] && p[a + 1] === p[b + 1] && p[a + 2] === p[b + 2];
  const kept: number[] = [];
  const sums = new Float64Array(p.length);
  for (let i = 0; i < indices.length; i += 3) {
    const [a, b, c] = [indices[i] * 3, indices[i + 1] * 3, indices[i + 2] * 3];
    if (same(a, b) || same(b, c) || same(c, a)) continue;
    const ux = p[b] - p[a], uy = p[b + 1] - p[a + 1], uz = p[b + 2] - p[a + 2];
    const vx = p[c] - p[a], vy = p[c + 1] - p[a + 1], vz = p[c + 2] - p[a + 2];
    const n = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
    kept.push(indices[i], indices[i + 1], indices[i + 2]);
    for (const at of [a, b, c]) for (let k = 0; k < 3; k++) sums[at + k] += n[k];
  }
  const normals = new Float32Array(p.length);
  for (let i = 0; i < p.length; i += 3) {
    const size = Math.hypot(sums[i], sums[i + 1], sums[i + 2]);
    if (size > 0) for (let k = 0; k < 3; k++) normals[i + k] = sums[i + k] / size;
    else normals[i + 2] = 1;
  }
  return { ...mesh, normals, indices: Uint32Array.from(kept) };
}

/** What is glued together: every body that is timber. The hollow is air, and the round is a surface of the outer skins. */
export const assembly = (plan: Plan): Body[] => meshBoard(plan).filter(({ kind }) => kind !== 'hollow' && kind !== 'round');

/** A frame part as a flat plate on the bench, as it is cut: turned over, for the STL's axes to turn it back. */
function frameSolid(part: FramePart): Mesh {
  const mesh = flatSolid(part.shape, part.thickness);
  return { ...mesh, positions: mesh.positions.map((v, i) => (i % 3 === 0 ? v : -v)) };
}

/** Every closed solid by name: the finished hull, the timbers in their places, the frame parts flat. */
export function solidIds(plan: Plan, frames: readonly FramePart[]): { id: string; title: string }[] {
  return [
    { id: HULL, title: 'Finished hull' },
    ...timbers(plan).map(({ id }) => ({ id, title: id.replace(/-/g, ' ') })),
    ...frames.map((part) => ({ id: `flat-${part.id}`, title: `${part.label}, flat` })),
  ];
}

/** The mesh of one of `solidIds`. Throws a RangeError for any other name. */
export function solidOf(plan: Plan, frames: readonly FramePart[], id: string): Mesh {
  const frame = frames.find((part) => `flat-${part.id}` === id);
  const mesh = id === HULL ? hullMesh(plan) : frame ? frameSolid(frame) : timbers(plan).find((body) => body.id === id)?.mesh;
  if (!mesh) throw new RangeError(`${id} is not a solid of this board`);
  return mesh;
}

const HULL = 'finished-hull';
const bodies = new WeakMap<Plan, Body[]>();

/** Bodies that are not frames, meshed once a plan: frames are given flat, as they are cut. */
function timbers(plan: Plan): Body[] {
  const kept = bodies.get(plan);
  if (kept) return kept;
  const made = assembly(plan).filter(({ kind }) => kind !== 'rib' && kind !== 'stringer');
  bodies.set(plan, made);
  return made;
}

/**
 * A mesh as binary STL in mm. Right-handed axes with X to the nose, Y to port and Z up: y is turned round,
 * and each triangle with it, so that starboard stays starboard.
 */
export function writeStl(mesh: Mesh, stamp: Stamp): Uint8Array {
  const { positions: p, indices } = solidMesh(mesh);
  const bytes = new Uint8Array(84 + (indices.length / 3) * 50);
  const view = new DataView(bytes.buffer);
  // The format's only text: 80 bytes of ASCII, and not "solid" first, which marks a text STL.
  const said = anyAscii(`mm | ${stamp.date} | rev ${stamp.revision || 'none'} | ${stamp.board}`);
  for (let i = 0; i < 80; i++) bytes[i] = said.charCodeAt(i) || 32;
  view.setUint32(80, indices.length / 3, true);
  let at = 84;
  for (let i = 0; i < indices.length; i += 3) {
    const corners = [indices[i], indices[i + 2], indices[i + 1]].map((k) => [p[3 * k], -p[3 * k + 1], p[3 * k + 2]]);
    const [a, b, c] = corners;
    const u = b.map((v, k) => v - a[k]);
    const v = c.map((w, k) => w - a[k]);
    const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
    const size = Math.hypot(...n) || 1;
    for (const value of [...n.map((w) => w / size), ...a, ...b, ...c]) {
      view.setFloat32(at, value, true);
      at += 4;
    }
    at += 2;
  }
  return bytes;
}
