/** The plan on the screen: the last that could be made of a shown design. */
import type { Plan } from '../../geometry/types';
import { jobNow, useJobs } from './jobs';

/** The plan of the shown design; null until the first. */
export const usePlan = (): Plan | null => useJobs(({ plan }) => plan.result?.plan ?? null);

/** The plan as it stands now. */
export const planNow = (): Plan | null => jobNow('plan').result?.plan ?? null;

/** Calls with the plan there is and with every new one. */
export function eachPlan(then: (plan: Plan) => void): void {
  const now = planNow();
  if (now) then(now);
  useJobs.subscribe(({ plan: { result } }, { plan: before }) => {
    if (result && result.plan !== before.result?.plan) then(result.plan);
  });
}
