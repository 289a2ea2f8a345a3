/**
 * Another thread, from the page's side: one job at a time, progress told, stopped by ending the thread. The
 * worker answers each message with any number of `progress` and then one `done` or `failed` (see `serve`).
 */
import { SaidError, whatOf } from '../../geometry/errors';
import type { Said } from '../../geometry/said';

/** What a worker says. */
export type Answer =
  | { readonly kind: 'progress'; readonly progress: unknown }
  | { readonly kind: 'done'; readonly result: unknown }
  | { readonly kind: 'failed'; readonly what: Said; readonly field?: string };

/** A kind of job: what the worker is given, what it tells on the way, and what it answers. */
interface Kind {
  readonly job: object;
  readonly progress: unknown;
  readonly result: unknown;
}
/** The kinds of job a worker knows, by name. */
type Kinds<J> = { readonly [K in keyof J]: Kind };

/** The job could not be done; `field` names what it was given that is at fault. */
export class Failed extends SaidError {
  constructor(what: Said, readonly field?: string) {
    super(what);
    this.name = 'Failed';
  }
}

/** The job was stopped before it was done. */
export class Stopped extends Error {
  constructor() {
    super('Stopped');
    this.name = 'Stopped';
  }
}

export interface Thread<J extends Kinds<J>> {
  /** Does a job; one still under way is stopped first. Rejects with `Stopped` or `Failed`. */
  run<K extends keyof J & string>(kind: K, job: J[K]['job'], onProgress?: (progress: J[K]['progress']) => void): Promise<J[K]['result']>;
  /** Stops the job under way, if there is one, at once. */
  stop(): void;
}

/** A thread that starts with its first job and stays for the next. */
export function makeThread<J extends Kinds<J>>(start: () => Worker): Thread<J> {
  let worker: Worker | null = null;
  let giveUp: ((error: Error) => void) | null = null;
  const end = (error: Error) => {
    worker?.terminate();
    worker = null;
    giveUp?.(error);
    giveUp = null;
  };
  const stop = () => {
    if (giveUp) end(new Stopped());
  };
  return {
    stop,
    run<K extends keyof J & string>(kind: K, job: J[K]['job'], onProgress?: (progress: J[K]['progress']) => void) {
      stop();
      const thread = (worker ??= start());
      return new Promise<J[K]['result']>((resolve, reject) => {
        giveUp = reject;
        thread.onmessage = ({ data }: MessageEvent<Answer>) => {
          // The worker answers a job of kind K with K's own progress and result.
          if (data.kind === 'progress') onProgress?.(data.progress as J[K]['progress']);
          else {
            giveUp = null;
            if (data.kind === 'failed') reject(new Failed(data.what, data.field));
            else resolve(data.result as J[K]['result']);
          }
        };
        // A script that does not load comes as a bare event, without a message.
        thread.onerror = (event) => end(new Failed(event.message ? `The other thread stopped: ${event.message}` : 'The program for this could not be loaded. Is there a network?'));
        thread.postMessage({ kind, job });
      });
    },
  };
}

/** How a worker does one kind of job. */
type Doer<J extends Kinds<J>, K extends keyof J> =
  (job: J[K]['job'], tell: (progress: J[K]['progress']) => void) => J[K]['result'] | Promise<J[K]['result']>;

/** In a worker: answers every message by the doer of its kind. */
export function serve<J extends Kinds<J>>(doers: { readonly [K in keyof J]: Doer<J, K> }): void {
  self.onmessage = async ({ data: { kind, job } }: MessageEvent<{ kind: keyof J & string; job: object }>) => {
    const answer = (message: Answer) => self.postMessage(message);
    try {
      answer({ kind: 'done', result: await doers[kind](job, (progress) => answer({ kind: 'progress', progress })) });
    } catch (error) {
      const field = error instanceof Error && 'field' in error && typeof error.field === 'string' ? error.field : undefined;
      answer({ kind: 'failed', what: whatOf(error), field });
    }
  };
}
