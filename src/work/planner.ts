/**
 * Keeps the plan up with the design. While one is under way only the newest design waits: older ones are skipped, never
 * queued. Under a dragging hand each move has a draft of its own, and the plan is settled when the hand lets go or rests.
 */
import { shownDesign, useDesign } from '../state/design';
import { draftStands, putDraft } from '../state/draft';
import type { Given } from '../state/jobKinds';
import { IDLE, jobNow, useJobs } from '../state/jobs';
import { keepDrawing } from '../state/station';
import { useView } from '../state/view';
import { runJob, warmDrafts } from './jobs';

/** A hand that has not moved for so long rests, ms. */
const REST = 150;

/** Moves of dragging hands and drags that ended, so far: what was asked before is not wanted after. */
let moves = 0;
let drags = 0;
/** The last move whose plan is settled. */
let settled = 0;
/** Plans asked for so far. */
let asked = 0;

async function follow(given: Given<'plan'>): Promise<void> {
  const [move, drag] = [moves, drags];
  const made = await runJob('draft', { ...given, cursor: useView.getState().s }, { patient: true, wanted: () => drag === drags && move > settled });
  if (!made) return;
  keepDrawing(made.plan, made.drawn);
  putDraft(made);
}

async function settle(given: Given<'plan'>, quiet: number): Promise<void> {
  const [move, turn] = [moves, ++asked];
  const how = { patient: true, quiet, wanted: () => move === moves };
  const before = jobNow('plan').result;
  const made = await runJob('plan', given, how);
  if (turn !== asked) return;
  settled = move;
  const { status, failure } = jobNow('plan');
  const { of } = jobNow('draft');
  if (status === 'failed' && draftStands() && of) {
    // The last board that could be planned is the one that the hand dragged to, not the one before the drag.
    const { cursor: _, ...good } = of;
    await runJob('plan', good, how);
    if (turn !== asked) return;
    useJobs.setState(({ plan }) => ({ plan: { ...plan, status, given, failure } }));
  }
  if (made && made === before) putDraft(null);
  // Forgotten, not ended: the thread goes on with what is asked next.
  useJobs.setState({ draft: IDLE });
}

/** The shown design and the trial bends of its batch. */
function shownGiven(state = useDesign.getState()): Given<'plan'> {
  const { trials } = state.record;
  return { design: shownDesign(state), ...(trials && trials.length > 0 ? { trials } : {}) };
}

/** A hand is about to drag: what makes drafts is begun and warmed. */
export const expectDrag = (): void => void warmDrafts({ ...shownGiven(), cursor: useView.getState().s });

/** Plans the shown design by the trial bends of its batch, now and after each change. Call once. */
export function startPlanner(): void {
  const offer = (state: ReturnType<typeof useDesign.getState>) => {
    const given = shownGiven(state);
    if (state.held) {
      moves++;
      void follow(given);
      void settle(given, REST);
    } else {
      drags++;
      void settle(given, 0);
    }
  };
  offer(useDesign.getState());
  useDesign.subscribe((state, before) => {
    if (shownDesign(state) !== shownDesign(before) || state.held !== before.held || state.record.trials !== before.record.trials) offer(state);
  });
}
