/** Keeps the plan up with the design. While one is under way only the newest design waits: older ones are skipped, never queued. */
import type { Design } from '../../geometry/design/schema';
import { shownDesign, useDesign } from '../state/design';
import { runJob } from './jobs';

/** Plans the shown design, now and after each change. Call once. */
export function startPlanner(): void {
  const offer = (design: Design) => void runJob('plan', { design }, { patient: true });
  offer(shownDesign(useDesign.getState()));
  useDesign.subscribe((state, before) => {
    if (shownDesign(state) !== shownDesign(before)) offer(shownDesign(state));
  });
}
