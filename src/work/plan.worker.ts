/** Plans and meshes a board off the main thread: a full plan with its meshes can take longer than a frame. */
import { planBoard } from '../../geometry/plan';
import { meshBoard } from '../../geometry/solid/board';
import type { Body } from '../../geometry/types';
import { withTrials } from '../../geometry/wood/trials';
import type { InkedBody } from '../state/jobKinds';
import { inkEdges } from './ink';
import { serve } from './serve';

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

serve({
  plan({ design, trials }, _, lent) {
    const start = performance.now();
    const plan = planBoard(withTrials(design, trials));
    const ms = performance.now() - start;
    const bodies = meshBoard(plan).map(ink);
    for (const { mesh } of bodies) for (const array of [mesh.positions, mesh.normals, mesh.bevel, mesh.run]) if (array) lent.add(array.buffer);
    return { plan, bodies, ms };
  },
});
