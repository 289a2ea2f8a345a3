/** A job as the maker sees it: what is under way and how far, the way to stop it, and why, where there is no result. */
import { useEffect, useState } from 'react';
import type { JobKey, StageOfWork } from '../state/jobKinds';
import { isBusy, type Job, useJob } from '../state/jobs';
import { resumeJob, stopJob } from '../work/jobs';
import { Said } from './Said';
import css from './Working.module.css';

/** Work shorter than this needs no bar, ms. */
const MOMENT = 300;

/** What is under way in words, and how far it is, 0 to 1, where that is known. */
interface Told {
  readonly text: string;
  readonly share?: number;
}

interface WorkingProps<K extends JobKey> {
  readonly job: K;
  readonly tell: (job: Job<K>) => Told;
  /** Shown where it was stopped. */
  readonly stopped?: string;
  /** Shown before the reason where it failed. */
  readonly failed?: string;
  /** Begins it again, where more than its result is waited for. */
  readonly again?: () => void;
}

function Bar({ text, share, onStop }: Told & { readonly onStop: () => void }) {
  const [shown, setShown] = useState(false);
  useEffect(() => {
    const timer = setTimeout(() => setShown(true), MOMENT);
    return () => clearTimeout(timer);
  }, []);
  if (!shown) return null;
  return (
    <div className={css.working}>
      <progress value={share} max={share === undefined ? undefined : 1} aria-label={text} />
      <span role="status">{text}</span>
      <button type="button" className="ruled" onClick={onStop}>Stop</button>
    </div>
  );
}

/** For work of several parts: what is made, and which part of it now. */
export const stagesOf = (what: string) => ({ progress }: { readonly progress: StageOfWork | null }): Told =>
  ({ text: progress?.title ? `${what}: ${progress.title}` : what, share: progress?.share ?? 0 });

export function Working<K extends JobKey>({ job: key, tell, stopped = 'Stopped.', failed, again = () => resumeJob(key) }: WorkingProps<K>) {
  const job = useJob(key);
  if (isBusy(job)) return <Bar {...tell(job)} onStop={() => stopJob(key)} />;
  if (job.status === 'stopped') return <p className="hint" role="status">{stopped} <button type="button" className="go" onClick={() => again()}>Continue</button></p>;
  if (job.status !== 'failed' || !job.failure) return null;
  return (
    <p className="field-error" role="alert">
      {failed && <b>{failed} </b>}<Said text={job.failure.message} />{/* What it was given stays at fault however often it is tried. */}
      {!job.failure.error && <> <button type="button" className="go" onClick={() => again()}>Try again</button></>}
    </p>
  );
}
