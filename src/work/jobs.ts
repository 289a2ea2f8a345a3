/**
 * Runs jobs on other threads and writes their state into the store. A job under way has a thread of its own and
 * is stopped by ending it; a thread that is free is taken by the next job of its program.
 */
import type { Given, JobKey, Result } from '../state/jobKinds';
import { IDLE, isBusy, type Job, jobNow, useJobs } from '../state/jobs';
import { bodyReceiver } from './bodies';
import BenchWorker from './bench.worker?worker';
import PlanWorker from './plan.worker?worker';
import type { Answer, Question, Sent } from './serve';
import TrialsWorker from './trials.worker?worker';

const PROGRAMS: Readonly<Record<JobKey, new () => Worker>> = {
  plan: PlanWorker, draft: PlanWorker, parts: BenchWorker, paperList: BenchWorker, papers: BenchWorker, bands: TrialsWorker, built: TrialsWorker,
  family: TrialsWorker, targets: TrialsWorker, offers: TrialsWorker, offsets: TrialsWorker,
};

/** Draft and plan are made by one thread in turn: it is warm for either, and what is sent once (bodies.ts) is sent to one. */
const threadOf = (key: JobKey): JobKey => (key === 'draft' ? 'plan' : key);

/** What a job waits for before it begins. */
interface Wait {
  readonly after?: Promise<unknown>;
  /** Time without a newer one of its key, from then on, ms. */
  readonly quiet?: number;
  /** One under way is not stopped but waited for, so that results come however fast they are asked for. */
  readonly patient?: boolean;
  /** Asked before it begins and when it is done: what is no longer wanted is not begun, and its result is dropped. */
  readonly wanted?: () => boolean;
}

/** The last answer; null where the thread was ended. */
type Last<K extends JobKey> = Exclude<Answer<K>, { kind: 'progress' }> | null;

interface Run {
  readonly key: JobKey;
  readonly wanted: () => boolean;
  readonly last: Promise<unknown>;
  end(): void;
}

const free = new Map<new () => Worker, Worker[]>();
/** Begins the thread of a job before there is one to do: it is fetched and compiled meanwhile. */
export function warmThread(key: JobKey): void {
  const program = PROGRAMS[key];
  free.set(program, [...free.get(program) ?? [], new program()]);
}

/** What is under way, by thread. */
const runs = new Map<JobKey, Run>();
/** The newest call of each key: older ones that wait are dropped. */
const turns = new Map<JobKey, object>();

const put = <K extends JobKey>(key: K, change: Partial<Job<K>>): void => useJobs.setState((jobs) => ({ [key]: { ...jobs[key], ...change } }));

function begin<K extends JobKey>(key: K, given: Given<K>, wanted: () => boolean): Promise<Last<K>> {
  const program = PROGRAMS[key];
  const pool = free.get(program) ?? [];
  free.set(program, pool);
  const worker = pool.pop() ?? new program();
  let end = () => {};
  const last = new Promise<Last<K>>((resolve) => {
    const over = (answer: Last<K>) => {
      runs.delete(threadOf(key));
      resolve(answer);
    };
    end = () => {
      worker.terminate();
      over(null);
    };
    worker.onmessage = ({ data }: MessageEvent<Answer<K>>) => {
      if (data.kind === 'progress') {
        put(key, { progress: data.progress });
        return;
      }
      pool.push(worker);
      over(data);
    };
    worker.onerror = ({ message }) => {
      worker.terminate();
      // A script that does not load comes as a bare event, without a message.
      over({ kind: 'failed', failure: { message: message ? `The work stopped: ${message}` : 'This part of the program could not be loaded. Is there a network?' } });
    };
  });
  runs.set(threadOf(key), { key, wanted, last, end });
  worker.postMessage({ key, given } satisfies Question<K>);
  return last;
}

const receive = bodyReceiver();

/** A result as the page has it, from one as it was sent. Each is taken once, in the order they come. */
function taken<K extends JobKey>(key: K, sent: Sent<K>): Result<K> {
  if (threadOf(key) !== 'plan') return sent as Result<K>;
  const { bodies, ...planned } = sent as Sent<'plan'>;
  return { ...planned, bodies: receive(bodies) } satisfies Result<'plan'> as Result<JobKey> as Result<K>;
}

/** Whether two jobs are given the same things. */
export function sameGiven<K extends JobKey>(a: Given<K>, b: Given<K>): boolean {
  const [left, right] = [new Map(Object.entries(a)), new Map(Object.entries(b))];
  return [...left.keys(), ...right.keys()].every((name) => Object.is(left.get(name), right.get(name)));
}

/**
 * Does a job, in the place of any of its key that waits or is under way; what is made of the same already is not made
 * again. Resolves with the result, or with null where it failed, was stopped, or a newer one took its place: the store says which.
 */
export async function runJob<K extends JobKey>(key: K, given: Given<K>, { after, quiet = 0, patient = false, wanted = () => true }: Wait = {}): Promise<Result<K> | null> {
  const turn = {};
  turns.set(key, turn);
  const thread = threadOf(key);
  const present = runs.get(thread);
  if (!patient) present?.end();
  // What is under way will be the result when it is done: then what is made now is not what to show.
  if (!patient || present?.key !== key || !present.wanted()) {
    const { of, result } = jobNow(key);
    if (of && sameGiven<K>(of, given)) {
      put(key, { status: 'done', given, progress: null, failure: null });
      return result;
    }
  }
  put(key, { status: 'waiting', given, progress: null });
  await after;
  if (quiet > 0) await new Promise((resolve) => setTimeout(resolve, quiet));
  for (let run = runs.get(thread); run; run = runs.get(thread)) await run.last;
  if (turns.get(key) !== turn) return null;
  if (!wanted()) {
    put(key, { status: 'idle' });
    return null;
  }
  put(key, { status: 'working' });
  const answer = await begin(key, given, wanted);
  if (!answer) return null;
  // A newer one waits: its status stays, this one's result is shown until then.
  const { status } = turns.get(key) === turn ? { status: answer.kind } : jobNow(key);
  // Taken even where it is not wanted: what comes after it relies on it.
  const result = answer.kind === 'done' ? taken(key, answer.result) : null;
  if (!wanted()) {
    if (turns.get(key) === turn) put(key, { status: 'idle' });
    return null;
  }
  if (answer.kind === 'failed') {
    put(key, { status, failure: answer.failure });
    return null;
  }
  put(key, { status, result, of: given, failure: null });
  return result;
}

/** Ends what waits or is under way; what was made before stays. */
export function endJob(key: JobKey, status: 'idle' | 'stopped' = 'idle'): void {
  if (!isBusy(jobNow(key))) return;
  turns.delete(key);
  if (runs.get(threadOf(key))?.key === key) runs.get(threadOf(key))?.end();
  put(key, { status });
}

/** The maker stops a job. */
export const stopJob = (key: JobKey): void => endJob(key, 'stopped');

/** Ends a job and drops what it made. */
export function dropJob(key: JobKey): void {
  endJob(key);
  if (jobNow(key) !== IDLE) useJobs.setState({ [key]: IDLE });
}

/** Begins again what was stopped or failed. */
export function resumeJob<K extends JobKey>(key: K): void {
  const { given } = jobNow(key);
  if (given) void runJob<K>(key, given);
}
