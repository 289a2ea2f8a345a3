/** Keeps the plan up with the design. While one is under way only the newest design waits: older ones are skipped, never queued. */
import { shownDesign, useDesign } from '../state/design';
import { runJob } from './jobs';

/** Plans the shown design by the trial bends of its batch, now and after each change. Call once. */
export function startPlanner(): void {
  const offer = (state: ReturnType<typeof useDesign.getState>) => {
    const { trials } = state.record;
    void runJob('plan', { design: shownDesign(state), ...(trials && trials.length > 0 ? { trials } : {}) }, { patient: true });
  };
  offer(useDesign.getState());
  useDesign.subscribe((state, before) => {
    if (shownDesign(state) !== shownDesign(before) || state.record.trials !== before.record.trials) offer(state);
  });
}
