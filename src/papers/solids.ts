/** Which bodies are solids to print or assemble, and their triangles tidied for files. */
import anyAscii from 'any-ascii';
import { hullMesh, meshBoard } from '../../geometry/solid/board';
import { flatSolid } from '../../geometry/solid/flatSolid';
import type { FramePart } from '../../geometry/frame/types';
import type { Body, Mesh, Plan } from '../../geometry/types';
import type { Stamp } from './stamp';

/** Triangles of a mesh less those that have two corners in one place. A closed mesh stays closed. */
export function properTriangles({ positions: p, indices }: Mesh): Uint32Array {
  const kept = new Uint32Array(indices.length);
  let n = 0;
  for (let i = 0; i < indices.length; i += 3) {
    const a = indices[i] * 3, b = indices[i + 1] * 3, c = indices[i + 2] * 3;
    if (p[a] === p[b] && p[a + 1] === p[b + 1] && p[a + 2] === p[b + 2]) continue;
    if (p[b] === p[c] && p[b + 1] === p[c + 1] && p[b + 2] === p[c + 2]) continue;
    if (p[c] === p[a] && p[c + 1] === p[a + 1] && p[c + 2] === p[a + 2]) continue;
    kept[n++] = indices[i];
    kept[n++] = indices[i + 1];
    kept[n++] = indices[i + 2];
  }
  return kept.slice(0, n);
}

const bodies = new WeakMap<Plan, Body[]>();

/** What is glued together: every body that is timber, meshed once a plan. The hollow is air, and the round is a surface of the outer skins. */
export function assembly(plan: Plan): readonly Body[] {
  const kept = bodies.get(plan);
  if (kept) return kept;
  const made = meshBoard(plan).filter(({ kind }) => kind !== 'hollow' && kind !== 'round');
  bodies.set(plan, made);
  return made;
}

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
/** Bodies that are not frames: those are given flat, as they are cut. */
const timbers = (plan: Plan): Body[] => assembly(plan).filter(({ kind }) => kind !== 'rib' && kind !== 'stringer');

/**
 * A mesh as binary STL in mm. Right-handed axes with X to the nose, Y to port and Z up: y is turned round,
 * and each triangle with it, so that starboard stays starboard.
 */
export function writeStl(mesh: Mesh, stamp: Stamp): Uint8Array {
  const { positions: p } = mesh;
  const indices = properTriangles(mesh);
  const bytes = new Uint8Array(84 + (indices.length / 3) * 50);
  const view = new DataView(bytes.buffer);
  // The format's only text: 80 bytes of ASCII, and not "solid" first, which marks a text STL.
  const said = anyAscii(`mm | ${stamp.date} | rev ${stamp.revision || 'none'} | ${stamp.board}`);
  for (let i = 0; i < 80; i++) bytes[i] = said.charCodeAt(i) || 32;
  view.setUint32(80, indices.length / 3, true);
  let at = 84;
  const put = (x: number, y: number, z: number) => {
    view.setFloat32(at, x, true);
    view.setFloat32(at + 4, y, true);
    view.setFloat32(at + 8, z, true);
    at += 12;
  };
  for (let i = 0; i < indices.length; i += 3) {
    const a = 3 * indices[i], b = 3 * indices[i + 2], c = 3 * indices[i + 1];
    const ax = p[a], ay = -p[a + 1], az = p[a + 2];
    const ux = p[b] - ax, uy = -p[b + 1] - ay, uz = p[b + 2] - az;
    const vx = p[c] - ax, vy = -p[c + 1] - ay, vz = p[c + 2] - az;
    const nx = uy * vz - uz * vy, ny = uz * vx - ux * vz, nz = ux * vy - uy * vx;
    const size = Math.hypot(nx, ny, nz) || 1;
    put(nx / size, ny / size, nz / size);
    put(ax, ay, az);
    put(p[b], -p[b + 1], p[b + 2]);
    put(p[c], -p[c + 1], p[c + 2]);
    at += 2;
  }
  return bytes;
}
