/** Plans and meshes a board off the main thread: a full plan with its meshes can take longer than a frame. */
import { DRAFT_STEP, planBoard } from '../../geometry/plan';
import { heldRun, sectionDrawing } from '../../geometry/rail/query';
import { meshStarboard } from '../../geometry/solid/board';
import type { PlateMemo } from '../../geometry/solid/mesh';
import { withTrials } from '../../geometry/wood/trials';
import type { Given } from '../state/jobKinds';
import { bodySender } from './bodies';
import { serve } from './serve';

/** One sender for both lanes: a draft's bodies hang together as a settled plan's do. */
const send = bodySender();
const plates: PlateMemo = new Map();

/** Plans of one lane. */
function planner(step?: number) {
  return ({ design, trials }: Given<'plan'>, _: unknown, lent: Set<ArrayBufferLike>) => {
    const start = performance.now();
    const plan = planBoard(withTrials(design, trials), { step });
    const ms = performance.now() - start;
    const bodies = send(meshStarboard(plan, plates));
    // All fields of the samples lie in one block.
    lent.add(plan.rail.samples.s.buffer);
    for (const { mesh } of bodies) for (const array of [mesh.positions, mesh.normals, mesh.bevel, mesh.run]) if (array) lent.add(array.buffer);
    return { plan, bodies, ms };
  };
}

const draft = planner(DRAFT_STEP);

serve({
  plan: planner(),
  draft(given, _, lent) {
    const planned = draft(given, _, lent);
    const s = heldRun(planned.plan, given.cursor);
    return { ...planned, drawn: { s, drawing: sectionDrawing(planned.plan, s) } };
  },
});
