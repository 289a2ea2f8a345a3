/** That a board cannot be planned. */
import { useEffect } from 'react';
import { useJobs } from '../state/jobs';
import { usePlan } from '../state/plan';
import { Said } from '../ui/Said';
import { noPicture } from '../work/picture';
import css from './PlanNotice.module.css';

export function PlanNotice() {
  const failure = useJobs(({ draft, plan }) => draft.failure ?? plan.failure);
  const plan = usePlan();
  // Then there is no picture to wait for.
  useEffect(() => {
    if (failure) noPicture();
  }, [failure]);
  if (!failure) return null;
  return (
    <div className={css.failure} role="alert">
      <strong>This board cannot be planned.</strong> <Said text={failure.message} />
      {plan && ' The drawing shows the last board that could be planned.'}
    </div>
  );
}
