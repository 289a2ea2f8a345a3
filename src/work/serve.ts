/** A worker's side of a job: each message is a job by its key, answered by any `progress` and then one `done` or `failed`. */
import { BuildError, whatOf } from '../../geometry/errors';
import type { Failure, Given, JobKey, Progress, Result } from '../state/jobKinds';
import type { Variant } from '../../geometry/search/member';
import type { SentBody } from './bodies';
import type { LeanPlan } from './draftPlan';

/** What the page asks. */
export interface Question<K extends JobKey> {
  readonly key: K;
  readonly given: Given<K>;
}

/** A result as it is sent: a plan's bodies go over lean, and a draft's plan too; of a family all went over as it was worked out. */
export type Sent<K extends JobKey> = K extends 'plan' ? Omit<Result<K>, 'bodies'> & { readonly bodies: readonly SentBody[] }
  : K extends 'draft' ? Omit<Result<K>, 'bodies' | 'plan'> & { readonly bodies: readonly SentBody[]; readonly lean: LeanPlan } : K extends 'family' ? readonly [] : Result<K>;

/** Progress as it is sent: of a family the next board alone. */
export type Told<K extends JobKey> = K extends 'family' ? Variant : Progress<K>;

/** What a worker says. */
export type Answer<K extends JobKey> =
  | { readonly kind: 'progress'; readonly progress: Told<K> }
  | { readonly kind: 'done'; readonly result: Sent<K> }
  | { readonly kind: 'failed'; readonly failure: Failure };

/** How a job is done. Buffers put in `lent` go over to the page instead of being copied. */
type Doer<K extends JobKey> = (given: Given<K>, tell: (progress: Told<K>) => void, lent: Set<ArrayBufferLike>) => Sent<K> | Promise<Sent<K>>;

const failureOf = (error: unknown): Failure => ({ message: whatOf(error), ...(error instanceof BuildError ? { error: error.fault } : {}) });

/** In a worker: answers every message by the doer of its key. */
export function serve<K extends JobKey>(doers: { readonly [J in K]: Doer<J> }): void {
  self.onmessage = async ({ data: { key, given } }: MessageEvent<Question<K>>) => {
    const lent = new Set<ArrayBufferLike>();
    const answer = (said: Answer<K>) => self.postMessage(said, { transfer: [...lent] as ArrayBuffer[] });
    try {
      const result = await doers[key](given, (progress) => self.postMessage({ kind: 'progress', progress } satisfies Answer<K>), lent);
      answer({ kind: 'done', result });
    } catch (error) {
      self.postMessage({ kind: 'failed', failure: failureOf(error) } satisfies Answer<K>);
    }
  };
}
