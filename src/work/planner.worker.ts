/**
 * Plans and meshes a board off the main thread. One message in, one message out, in order; the sender keeps
 * at most one job under way (see planner.ts), so that the newest design is never queued behind old ones.
 */
import type { Design } from '../../geometry/design/schema';
import type { Body, Plan } from '../../geometry/types';
import { BuildError, whatOf } from '../../geometry/errors';
import { planBoard } from '../../geometry/plan';
import { meshBoard } from '../../geometry/solid/board';
import type { InkedBody, PlanFailure } from '../state/plan';
import { inkEdges } from './ink';

export interface PlanJob {
  readonly id: number;
  readonly design: Design;
}

export type PlanAnswer =
  | { readonly id: number; readonly ok: true; readonly plan: Plan; readonly bodies: InkedBody[]; readonly ms: number }
  | { readonly id: number; readonly ok: false; readonly failure: PlanFailure };

/** Ink lines depend on how a body's triangles hang together, which stays while its array lengths stay. */
const inkOf = new Map<string, { vertices: number; triangles: number; ink: Uint32Array }>();

function ink(body: Body): InkedBody {
  const vertices = body.mesh.positions.length;
  const triangles = body.mesh.indices.length;
  let known = inkOf.get(body.id);
  if (known === undefined || known.vertices !== vertices || known.triangles !== triangles) {
    known = { vertices, triangles, ink: inkEdges(body.mesh) };
    inkOf.set(body.id, known);
  }
  return { ...body, ink: known.ink };
}

const failureOf = (error: unknown): PlanFailure => ({ message: whatOf(error), ...(error instanceof BuildError ? { field: error.fault.field } : {}) });

self.onmessage = ({ data: { id, design } }: MessageEvent<PlanJob>) => {
  try {
    const start = performance.now();
    const plan = planBoard(design);
    const ms = performance.now() - start;
    const bodies = meshBoard(plan).map(ink);
    const buffers = new Set<ArrayBufferLike>();
    for (const { mesh } of bodies) {
      for (const array of [mesh.positions, mesh.normals, mesh.bevel, mesh.run]) if (array) buffers.add(array.buffer);
    }
    const answer: PlanAnswer = { id, ok: true, plan, bodies, ms };
    self.postMessage(answer, { transfer: [...buffers] as ArrayBuffer[] });
  } catch (error) {
    self.postMessage({ id, ok: false, failure: failureOf(error) } satisfies PlanAnswer);
  }
};
