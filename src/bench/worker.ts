/** The bench's other thread, from the page's side: one job at a time, stopped by ending the thread. */
import type { BenchJob, JobAnswer, JobFailure, JobResult, Progress } from './parts.worker';
import PartsWorker from './parts.worker?worker';

/** The job was stopped before it was done. */
export class JobStopped extends Error {
  constructor() {
    super('Stopped');
    this.name = 'JobStopped';
  }
}

/** The job could not be done; `field` names a paper option that is at fault. */
export class JobFailed extends Error {
  readonly field: string | undefined;
  constructor({ message, field }: JobFailure) {
    super(message);
    this.name = 'JobFailed';
    this.field = field;
  }
}

export interface BenchThread {
  /** Does a job; one still under way is stopped first. Rejects with JobStopped or JobFailed. */
  run<K extends keyof JobResult>(job: Extract<BenchJob, { kind: K }>, onProgress?: (progress: Progress) => void): Promise<JobResult[K]>;
  /** Stops the job under way, if there is one, at once. */
  stop(): void;
}

/** A thread that starts with its first job and stays for the next. */
export function benchThread(): BenchThread {
  let worker: Worker | null = null;
  let giveUp: ((error: Error) => void) | null = null;
  const stop = () => {
    if (!giveUp) return;
    worker?.terminate();
    worker = null;
    giveUp(new JobStopped());
    giveUp = null;
  };
  return {
    stop,
    run<K extends keyof JobResult>(job: Extract<BenchJob, { kind: K }>, onProgress?: (progress: Progress) => void) {
      stop();
      const thread = (worker ??= new PartsWorker());
      return new Promise<JobResult[K]>((resolve, reject) => {
        giveUp = reject;
        const fail = (failure: JobFailure) => {
          giveUp = null;
          reject(new JobFailed(failure));
        };
        thread.onmessage = ({ data }: MessageEvent<JobAnswer>) => {
          if (data.kind === 'progress') onProgress?.(data.progress);
          else if (data.kind === 'failed') fail(data.failure);
          else {
            giveUp = null;
            // The worker answers a job of kind K with K's result.
            resolve(data.result as JobResult[K]);
          }
        };
        thread.onerror = (event) => {
          worker = null;
          thread.terminate();
          fail({ message: `The bench's thread stopped: ${event.message}` });
        };
        thread.postMessage(job);
      });
    },
  };
}
