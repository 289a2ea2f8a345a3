/** Plans and meshes a board off the main thread: a full plan with its meshes can take longer than a frame. */
import { planBoard } from '../../geometry/plan';
import { meshBoard } from '../../geometry/solid/board';
import { withTrials } from '../../geometry/wood/trials';
import type { Given } from '../state/jobKinds';
import { bodySender } from './bodies';
import { serve } from './serve';

/** Samples of a draft stand so far apart, mm: its stops lie within 1e-5 mm of the settled ones, its bevels within 1e-4 degrees. */
const DRAFT_STEP = 4;

/** Plans of one lane: bodies hang together alike from one to the next. */
function planner(step?: number) {
  const send = bodySender();
  return ({ design, trials }: Given<'plan'>, _: unknown, lent: Set<ArrayBufferLike>) => {
    const start = performance.now();
    const plan = planBoard(withTrials(design, trials), { step });
    const ms = performance.now() - start;
    const bodies = send(meshBoard(plan));
    for (const { mesh } of bodies) for (const array of [mesh.positions, mesh.normals, mesh.bevel, mesh.run]) if (array) lent.add(array.buffer);
    return { plan, bodies, ms };
  };
}

serve({ plan: planner(), draft: planner(DRAFT_STEP) });
