/**
 * Bodies on their way from the planner's thread to the page. Their corners go as 16 bits, for the card too. How their triangles hang together mostly stays from plan to
 * plan: triangles and ink lines go over once, and again only where they changed, and keep their identity on the page,
 * so that nothing is sent to the card either. Port mirrors starboard: its bodies and halves are neither meshed nor sent, the stage draws starboard's twice.
 */
import type { Body, Mesh } from '../../geometry/types';
import type { DrawnBody, Grid } from '../state/jobKinds';
import { inkEdges } from './ink';

/** What hangs a body's vertices together: triangles, and the vertex pairs of its ink lines. */
export interface Hanging {
  readonly indices: Uint32Array;
  readonly ink: Uint32Array;
}

/** A body as it is sent: without what hangs it together where the page has that already. */
export interface SentBody extends Omit<Body, 'mesh'> {
  readonly mesh: Omit<DrawnBody['mesh'], 'indices'>;
  readonly hanging?: Hanging;
}

/** Steps below none at which the grid's tail is, which the shaders have too; and from its middle to what lies farthest out. */
export const ALONG_FROM = 32000;
const STEPS = 32000;
/** Added before a figure is cut to a whole one, and taken off again: it is rounded then, whatever its sign. */
const WHOLE = 65536;
const HALF = WHOLE + 0.5;

/** The grid on which all bodies of a board lie. */
function gridOf(bodies: readonly Body[]): Grid {
  let [along, across] = [1, 1];
  for (const { mesh: { positions: p, run } } of bodies) {
    for (let i = 0; i < p.length; i += 3) {
      along = Math.max(along, p[i]);
      across = Math.max(across, Math.abs(p[i + 1]), Math.abs(p[i + 2]));
    }
    if (run) along = Math.max(along, run[run.length - 1]);
  }
  return { along: along / (ALONG_FROM + STEPS), across: across / STEPS };
}

/** A mesh as it is drawn: corners to a hundredth or two of a millimetre, normals to half a degree. */
function drawn({ positions: p, run, normals, bevel }: Mesh, grid: Grid): SentBody['mesh'] {
  const n = p.length / 3;
  const corners = new Int16Array(4 * n);
  const [along, across] = [1 / grid.along, 1 / grid.across];
  // Rounded as whole numbers are cut: a draft has twenty thousand corners.
  for (let i = 0, from = 0, to = 0; i < n; i++, from += 3, to += 4) {
    corners[to] = ((p[from] * along + HALF) | 0) - WHOLE - ALONG_FROM;
    corners[to + 1] = ((p[from + 1] * across + HALF) | 0) - WHOLE;
    corners[to + 2] = ((p[from + 2] * across + HALF) | 0) - WHOLE;
    if (run) corners[to + 3] = ((run[i] * along + HALF) | 0) - WHOLE - ALONG_FROM;
  }
  if (!normals) return { grid, corners, ...(bevel ? { bevel } : {}) };
  // Four a corner, the last one none: cards read by four bytes.
  const turned = new Int8Array(4 * n);
  for (let i = 0, from = 0; i < turned.length; i++) if (i % 4 < 3) turned[i] = ((normals[from++] * 127 + HALF) | 0) - WHOLE;
  return { grid, corners, normals: turned };
}

const same = (a: Uint32Array, b: Uint32Array): boolean => {
  if (a === b) return true;
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
};

/**
 * The sender of one thread: keeps what it has sent by the body's id. Ink lines depend on how a body's triangles hang together,
 * and are found again only where that changes.
 */
export function bodySender(): (bodies: readonly Body[]) => SentBody[] {
  const sent = new Map<string, { readonly vertices: number } & Hanging>();
  return (bodies) => {
    const grid = gridOf(bodies);
    return bodies.map((body) => {
      const { mesh: { indices, positions } } = body;
      const lean = { ...body, mesh: drawn(body.mesh, grid) };
      const known = sent.get(body.id);
      const vertices = positions.length;
      if (known?.vertices === vertices && same(known.indices, indices)) return lean;
      // The same number of vertices and triangles, otherwise split: as a rib's face is. Its arrises are where they were.
      const ink = known?.vertices === vertices && known.indices.length === indices.length ? known.ink : inkEdges(body.mesh, body.half);
      sent.set(body.id, { vertices, indices, ink });
      return { ...lean, hanging: { indices, ink } };
    });
  };
}

/**
 * The receiver of one thread's bodies: whole again. `last` holds what came last of each body, from any thread: what two threads
 * send alike is one thing on the page, and moves that they plan in turn send nothing to the card. Throws a RangeError where a
 * body comes of which its thread sent nothing before.
 */
export function bodyReceiver(last = new Map<string, Hanging>()): (bodies: readonly SentBody[]) => DrawnBody[] {
  const got = new Map<string, Hanging>();
  return (bodies) => bodies.map(({ hanging, mesh, ...body }) => {
    if (hanging) {
      const known = last.get(body.id);
      got.set(body.id, known && same(known.indices, hanging.indices) ? known : hanging);
    }
    const here = got.get(body.id);
    if (!here) throw new RangeError(`body ${body.id} came without its triangles`);
    last.set(body.id, here);
    return { ...body, mesh: { ...mesh, indices: here.indices }, ink: here.ink };
  });
}
