/**
 * Runs jobs on other threads and writes their state into the store. A job under way has a thread of its own and
 * is stopped by ending it; a thread that is free is taken by the next job of its program.
 */
import type { Variant } from '../../geometry/search/member';
import type { Failure, Given, JobKey, Progress, Result } from '../state/jobKinds';
import { IDLE, isBusy, type Job, jobNow, useJobs } from '../state/jobs';
import { bodyReceiver, type Hanging } from './bodies';
import { wholePlan } from './draftPlan';
import BenchWorker from './bench.worker?worker';
import PlanWorker from './plan.worker?worker';
import type { Answer, Question, Sent, Told } from './serve';
import { familyShares } from './shares';
import TrialsWorker from './trials.worker?worker';

/** What is not done where boards are tried. */
const PROGRAMS: { readonly [K in JobKey]?: new () => Worker } = {
  plan: PlanWorker, draft: PlanWorker, parts: BenchWorker, paperList: BenchWorker, papers: BenchWorker, pages: BenchWorker,
};
const programOf = (key: JobKey): new () => Worker => PROGRAMS[key] ?? TrialsWorker;

/** Where jobs are done: those of one place in turn, on one thread. */
type Place = JobKey | 'second';

/** A second thread of drafts that broke is not begun again: the first is enough. */
let broken = false;
/** Whether there are cores for a second thread of drafts, beside those of the page and of the first. */
const coresToSpare = (): boolean => navigator.hardwareConcurrency > 2 && !broken;

/**
 * Draft and plan are made in one place: its thread is warm for either. Drafts have a second one where there are cores for it:
 * one that takes longer than a frame, as it does where memory is tidied, does not keep the next move from being planned.
 */
const placesOf = (key: JobKey): readonly Place[] => (key !== 'draft' ? [key] : coresToSpare() ? ['plan', 'second'] : ['plan']);

/** Drafts that a thread makes to be warm when Lines opens (16 cores: 240 moves of 240 shown; warmed at the press 230 to 238, with one thread 202 to 239). */
const WARMING = 12;

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

/** The last answer; null where the thread was ended, or broke and is not missed. */
type Last<K extends JobKey> = { readonly kind: 'done'; readonly result: Result<K> } | { readonly kind: 'failed'; readonly failure: Failure } | null;

interface Run {
  readonly key: JobKey;
  readonly wanted: () => boolean;
  readonly last: Promise<unknown>;
  end(): void;
}

/** Threads that are free, by program; the second one of drafts is kept apart, so that a settled plan always finds the first. */
const free = new Map<(new () => Worker) | 'second', Worker[]>();

function poolOf(place: Place): Worker[] {
  const of = place === 'second' ? place : programOf(place);
  const pool = free.get(of) ?? [];
  free.set(of, pool);
  return pool;
}

/** Begins the thread of a job before there is one to do: it is fetched and compiled meanwhile. */
export function warmThread(key: JobKey): void {
  poolOf(key).push(new (programOf(key))());
}

/** What is under way, by place. */
const runs = new Map<Place, Run>();
/** The newest call of each key, by number: older ones that wait are dropped. */
const turns = new Map<JobKey, number>();
let calls = 0;
/** The newest call of each key that was answered: what comes late to it is dropped. */
const answered = new Map<JobKey, number>();
/** Where a draft was begun last. */
let lately: Place = 'second';

/** A place of this job where nothing is under way; moves take theirs in turn, so that both threads stay warm. */
function freePlace(key: JobKey): Place | undefined {
  const places = placesOf(key).filter((place) => !runs.has(place));
  return places.find((place) => place !== lately) ?? places[0];
}

/** What is under way of this key. */
const underWay = (key: JobKey): Run[] => placesOf(key).flatMap((place) => runs.get(place) ?? []).filter((run) => run.key === key);

const put = <K extends JobKey>(key: K, change: Partial<Job<K>>): void => useJobs.setState((jobs) => ({ [key]: { ...jobs[key], ...change } }));

/** What one thread was asked. */
interface Asked<K extends JobKey> {
  readonly last: Promise<Last<K>>;
  /** Ends the thread, if it is still at work. */
  end(): void;
}

function ask<K extends JobKey>(place: Place, key: K, given: Given<K>, tell: (progress: Told<K>) => void): Asked<K> {
  const pool = poolOf(place);
  const worker = pool.pop() ?? new (programOf(key))();
  let end = () => {};
  const last = new Promise<Last<K>>((resolve) => {
    const over = (answer: Last<K>) => {
      end = () => {};
      resolve(answer);
    };
    end = () => {
      worker.terminate();
      over(null);
    };
    worker.onmessage = ({ data }: MessageEvent<Answer<K>>) => {
      if (data.kind === 'progress') {
        tell(data.progress);
        return;
      }
      pool.push(worker);
      over(data.kind === 'done' ? { kind: 'done', result: taken(key, worker, data.result) } : data);
    };
    worker.onerror = ({ message }) => {
      worker.terminate();
      if (place === 'second') {
        broken = true;
        over(null);
        return;
      }
      // A script that does not load comes as a bare event, without a message.
      over({ kind: 'failed', failure: { message: message ? `The work stopped: ${message}` : 'This part of the program could not be loaded. Is there a network?' } });
    };
  });
  worker.postMessage({ key, given } satisfies Question<K>);
  return { last, end: () => end() };
}

/** A family is worked out on several threads at once: it is over when all are, or when the first fails or is ended, which ends the others. */
function askShares(given: Given<'family'>): Asked<'family'> {
  const { asked, join } = familyShares(given, navigator.hardwareConcurrency);
  const made: Variant[][] = asked.map(() => []);
  const threads = asked.map((share, k) => ask('family', 'family', share, (variant) => {
    made[k].push(variant);
    put('family', { progress: join(made) });
  }));
  const end = () => threads.forEach((thread) => thread.end());
  const each = threads.map(async ({ last }) => {
    const answer = await last;
    if (answer?.kind !== 'done') throw answer;
  });
  const last = Promise.all(each).then((): Last<'family'> => ({ kind: 'done', result: join(made) }), (answer: Last<'family'>) => {
    end();
    return answer;
  });
  return { last, end };
}

function begin<K extends JobKey>(place: Place, key: K, given: Given<K>, wanted: () => boolean): Promise<Last<K>> {
  const { last, end } = key === 'family' ? askShares(given as Given<'family'>) as Asked<JobKey> as Asked<K>
    : ask(place, key, given, (progress) => put(key, { progress: progress as Progress<K> }));
  const over = () => {
    if (runs.get(place) === run) runs.delete(place);
  };
  const run: Run = {
    key, wanted, last: last.then(over),
    end() {
      over();
      end();
    },
  };
  runs.set(place, run);
  return last;
}

const receivers = new WeakMap<Worker, ReturnType<typeof bodyReceiver>>();
/** What came last of each body, from either thread. */
const hangings = new Map<string, Hanging>();

/** A result as the page has it, from one as a thread sent it. Each is taken once, in the order they come, wanted or not: what comes after it relies on it. */
function taken<K extends JobKey>(key: K, worker: Worker, sent: Sent<K>): Result<K> {
  // What a thread sends of a family is put together from its progress.
  if (key !== 'plan' && key !== 'draft') return sent as Result<JobKey> as Result<K>;
  const receive = receivers.get(worker) ?? bodyReceiver(hangings);
  receivers.set(worker, receive);
  const { bodies, ...planned } = sent as Sent<'plan'> | Sent<'draft'>;
  const { lean, ...rest } = { lean: null, ...planned };
  return { ...rest, ...(lean ? { plan: wholePlan(lean) } : {}), bodies: receive(bodies) } as Result<'plan'> as Result<JobKey> as Result<K>;
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
  const turn = ++calls;
  turns.set(key, turn);
  const present = underWay(key);
  if (!patient) for (const run of present) run.end();
  // What is under way will be the result when it is done: then what is made now is not what to show.
  if (!patient || !present.some((run) => run.wanted())) {
    const { of, result } = jobNow(key);
    if (of && sameGiven<K>(of, given)) {
      put(key, { status: 'done', given, progress: null, failure: null });
      return result;
    }
  }
  put(key, { status: 'waiting', given, progress: null });
  await after;
  if (quiet > 0) await new Promise((resolve) => setTimeout(resolve, quiet));
  let place = freePlace(key);
  for (; !place; place = freePlace(key)) await Promise.race(placesOf(key).map((each) => runs.get(each)?.last));
  if (turns.get(key) !== turn) return null;
  if (!wanted()) {
    put(key, { status: 'idle' });
    return null;
  }
  put(key, { status: 'working' });
  if (key === 'draft') lately = place;
  const answer = await begin(place, key, given, wanted);
  if (!answer) {
    if (turns.get(key) === turn) put(key, { status: 'idle' });
    return null;
  }
  // A newer one waits: its status stays, this one's result is shown until then.
  const { status } = turns.get(key) === turn ? { status: answer.kind } : jobNow(key);
  if (!wanted()) {
    if (turns.get(key) === turn && isBusy(jobNow(key))) put(key, { status: 'idle' });
    return null;
  }
  if (turn < (answered.get(key) ?? 0)) return null;
  answered.set(key, turn);
  if (answer.kind === 'failed') {
    put(key, { status, failure: answer.failure });
    return null;
  }
  const { result } = answer;
  put(key, { status, result, of: given, failure: null });
  return result;
}

/**
 * Has every free thread of drafts make some of this board, so that the first move of a hand finds it loaded and its program
 * compiled. Nothing comes of them; the first thread leaves them for any plan that is asked. Where cores are few nothing is done.
 */
export async function warmDrafts(given: Given<'draft'>): Promise<void> {
  if (!coresToSpare()) return;
  const due = (place: Place) => !runs.has(place) && (place === 'second' || ![jobNow('plan'), jobNow('draft')].some(isBusy));
  await Promise.all(placesOf('draft').map(async (place) => {
    for (let i = 0; i < WARMING && due(place); i++) await begin(place, 'draft', given, () => false);
  }));
}

/** Ends what waits or is under way; what was made before stays. */
export function endJob(key: JobKey, status: 'idle' | 'stopped' = 'idle'): void {
  if (!isBusy(jobNow(key))) return;
  turns.delete(key);
  for (const run of underWay(key)) run.end();
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
