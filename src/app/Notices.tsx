/** What went wrong, and what was noticed: a file that was not opened, a board that cannot be planned. */
import { lazy, Suspense } from 'react';
import { useFile } from '../state/boardFile';
import { useJobs } from '../state/jobs';
import { guarded, useKeep } from '../state/keep';
import { usePlan } from '../state/plan';
import { Said } from '../ui/Said';
import css from './Notices.module.css';

// Seldom needed: each is fetched with its first.
const FileNoticeOpen = lazy(async () => ({ default: (await import('./FileNoticeOpen')).FileNoticeOpen }));

const KeepNoticeOpen = lazy(async () => ({ default: (await import('./KeepNoticeOpen')).KeepNoticeOpen }));

export function FileNotice() {
  const { refused, notes } = useFile();
  return !refused && notes.length === 0 ? null : <Suspense><FileNoticeOpen /></Suspense>;
}

export function KeepNotice() {
  const { status, copyOf, unread } = useKeep();
  return status === 'failed' || unread || copyOf !== null || !guarded() ? <Suspense><KeepNoticeOpen /></Suspense> : null;
}

export function PlanNotice() {
  const failure = useJobs(({ draft, plan }) => draft.failure ?? plan.failure);
  const plan = usePlan();
  if (!failure) return null;
  return (
    <div className={css.failure} role="alert">
      <strong>This board cannot be planned.</strong> <Said text={failure.message} />
      {plan && ' The drawing shows the last board that could be planned.'}
    </div>
  );
}
