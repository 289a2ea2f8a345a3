/**
 * Bodies on their way from the planner's thread to the page. How their triangles hang together mostly stays from plan to
 * plan: triangles and ink lines go over once, and again only where they changed, and keep their identity on the page,
 * so that nothing is sent to the card either. Port mirrors starboard: its bodies and halves are neither meshed nor sent, the stage draws starboard's twice.
 */
import type { Body, Mesh } from '../../geometry/types';
import type { InkedBody } from '../state/jobKinds';
import { inkEdges } from './ink';

/** What hangs a body's vertices together: triangles, and the vertex pairs of its ink lines. */
export interface Hanging {
  readonly indices: Uint32Array;
  readonly ink: Uint32Array;
}

/** A body as it is sent: without what hangs it together where the page has that already. */
export interface SentBody extends Omit<Body, 'mesh'> {
  readonly mesh: Omit<Mesh, 'indices'>;
  readonly hanging?: Hanging;
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
  return (bodies) => bodies.map((body) => {
    const { mesh: { indices, ...mesh } } = body;
    const vertices = mesh.positions.length;
    const known = sent.get(body.id);
    if (known?.vertices === vertices && same(known.indices, indices)) return { ...body, mesh };
    // The same number of vertices and triangles, otherwise split: as a rib's face is. Its arrises are where they were.
    const ink = known?.vertices === vertices && known.indices.length === indices.length ? known.ink : inkEdges(body.mesh, body.half);
    sent.set(body.id, { vertices, indices, ink });
    return { ...body, mesh, hanging: { indices, ink } };
  });
}

/**
 * The receiver of one thread's bodies: whole again. `last` holds what came last of each body, from any thread: what two threads
 * send alike is one thing on the page, and moves that they plan in turn send nothing to the card. Throws a RangeError where a
 * body comes of which its thread sent nothing before.
 */
export function bodyReceiver(last = new Map<string, Hanging>()): (bodies: readonly SentBody[]) => InkedBody[] {
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
