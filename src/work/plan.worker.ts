/** Plans and meshes a board off the main thread: a full plan with its meshes can take longer than a frame. */
import { DRAFT_STEP, planBoard } from '../../geometry/plan';
import { heldRun, sectionDrawing } from '../../geometry/rail/query';
import { meshStarboard } from '../../geometry/solid/board';
import type { PlateMemo } from '../../geometry/solid/mesh';
import { withTrials } from '../../geometry/wood/trials';
import type { Given } from '../state/jobKinds';
import { bodySender } from './bodies';
import { leanPlan, wholePlan } from './draftPlan';
import { serve } from './serve';

/** One sender for both lanes: a draft's bodies hang together as a settled plan's do. */
const send = bodySender();
const plates: PlateMemo = new Map();

/** A plan and its bodies, as both lanes make them. */
function planned({ design, trials }: Given<'plan'>, lent: Set<ArrayBufferLike>, step?: number) {
  const start = performance.now();
  const plan = planBoard(withTrials(design, trials), { step });
  const ms = performance.now() - start;
  const bodies = send(meshStarboard(plan, plates));
  for (const { mesh } of bodies) for (const array of [mesh.corners, mesh.normals, mesh.bevel]) if (array) lent.add(array.buffer);
  return { plan, bodies, ms };
}

serve({
  plan(given, _, lent) {
    const made = planned(given, lent);
    // All fields of the samples lie in one block.
    lent.add(made.plan.rail.samples.s.buffer);
    return made;
  },
  draft(given, _, lent) {
    const { plan, ...made } = planned(given, lent, DRAFT_STEP);
    const lean = leanPlan(plan);
    lent.add(lean.rail.samples.sent.buffer);
    // As the page will ask for it, of the samples that it has.
    const s = heldRun(wholePlan(lean), given.cursor);
    return { ...made, lean, drawn: { s, drawing: sectionDrawing(plan, s) } };
  },
});
