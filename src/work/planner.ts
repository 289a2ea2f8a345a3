/**
 * Keeps the plan up with the design. A full plan with its meshes can take longer than a frame, so it is made
 * in a worker. While one is under way only the newest design waits: older ones are skipped, never queued.
 */
import type { Design } from '../../geometry/design/schema';
import { usePlan } from '../state/plan';
import type { PlanAnswer, PlanJob } from './planner.worker';
import { shownDesign, useDesign } from '../state/design';
import PlannerWorker from './planner.worker?worker';

/** Starts planning, now and after each change of the design. Returns the call that stops it. */
export function startPlanner(): () => void {
  const worker = new PlannerWorker();
  let lastId = 0;
  let waiting: Design | null = null;
  let working = false;

  const send = (design: Design) => {
    working = true;
    const job: PlanJob = { id: ++lastId, design };
    worker.postMessage(job);
    usePlan.setState({ busy: true });
  };
  const offer = (design: Design) => {
    if (working) waiting = design;
    else send(design);
  };
  worker.onmessage = ({ data }: MessageEvent<PlanAnswer>) => {
    working = false;
    const next = waiting;
    waiting = null;
    if (data.ok) {
      usePlan.setState({ plan: data.plan, bodies: data.bodies, failure: null, ms: data.ms, busy: next !== null });
    } else {
      usePlan.setState({ failure: data.failure, busy: next !== null });
    }
    if (next) send(next);
  };
  worker.onerror = (event) => {
    working = false;
    usePlan.setState({ failure: { message: `The planner stopped: ${event.message}` }, busy: false });
  };

  offer(shownDesign(useDesign.getState()));
  const stop = useDesign.subscribe((state, before) => {
    if (shownDesign(state) !== shownDesign(before)) offer(shownDesign(state));
  });
  return () => {
    stop();
    worker.terminate();
  };
}
