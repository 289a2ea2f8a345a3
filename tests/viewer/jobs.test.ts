/** How jobs are run, with threads that answer when the test says so. The project's own rules, no outside source. */
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { blankDesign } from '../../geometry/design/defaults';
import type { Variant } from '../../geometry/search/member';
import type { Plan } from '../../geometry/types';
import type { Given, JobKey, Member } from '../../src/state/jobKinds';
import * as state from '../../src/state/jobs';
import type { Answer, Question, Sent } from '../../src/work/serve';

/** A thread that keeps what it was asked. */
class Thread {
  static all: Thread[] = [];
  static get alive(): Thread[] {
    return Thread.all.filter(({ ended }) => !ended);
  }

  readonly asked: Question<JobKey>[] = [];
  ended = false;
  onmessage: (event: { data: Answer<JobKey> }) => void = () => {};
  onerror: (event: { message?: string }) => void = () => {};

  constructor(readonly url: string | URL) {
    Thread.all.push(this);
  }

  postMessage(question: Question<JobKey>): void {
    this.asked.push(question);
  }

  terminate(): void {
    this.ended = true;
  }

  done(result: unknown): void {
    this.onmessage({ data: { kind: 'done', result: result as Sent<JobKey> } });
  }
}

let jobs: typeof import('../../src/work/jobs');
let count = 0;

beforeEach(async () => {
  vi.useFakeTimers();
  vi.stubGlobal('Worker', Thread);
  Thread.all = [];
  state.useJobs.setState(state.useJobs.getInitialState(), true);
  // Each test has a runner of its own, without the threads of the one before.
  jobs = (await import(/* @vite-ignore */ `../../src/work/jobs.ts?${count++}`)) as typeof jobs;
});

afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

/** Lets what waits for a promise go on. */
const turn = () => vi.advanceTimersByTimeAsync(0);
/** What a thread is given goes through untouched here, so a name is enough to tell plans apart. */
const planOf = (name: string) => ({ design: { name } }) as Plan;
/** A plan as its thread sends it, told apart by a name. */
const planned = (of: string) => ({ of, bodies: [] });
const record = { board: 'b', revision: '', readings: [] } as never;

test('a newer job ends the one under way, whose answer never comes', async () => {
  const [a, b] = [planOf('a'), planOf('b')];
  const first = jobs.runJob('parts', { plan: a });
  await turn();
  expect(state.jobNow('parts').status).toBe('working');
  const second = jobs.runJob('parts', { plan: b });
  await turn();
  expect(await first).toBeNull();
  expect(Thread.all.map(({ ended }) => ended)).toEqual([true, false]);
  Thread.all[1].onmessage({ data: { kind: 'progress', progress: { share: 0.5, title: 'Joints' } } });
  expect(state.jobNow('parts').progress).toEqual({ share: 0.5, title: 'Joints' });
  Thread.all[1].done('parts of b');
  expect(await second).toBe('parts of b');
  expect(state.jobNow('parts')).toMatchObject({ status: 'done', result: 'parts of b', of: { plan: b } });
  expect(state.madeOf(state.jobNow('parts'), a)).toBeNull();
  expect(state.madeOf(state.jobNow('parts'), b)).toBe('parts of b');
});

test('a patient job waits for the one under way, and of those that wait only the newest is done', async () => {
  const [a, b, c] = ['a', 'b', 'c'].map((name) => ({ design: { ...blankDesign(), name } }));
  for (const given of [a, b, c]) void jobs.runJob('plan', given, { patient: true });
  await turn();
  // The three came in one turn: none was under way yet.
  expect(Thread.all[0].asked.map(({ given }) => given)).toEqual([c]);
  void jobs.runJob('plan', a, { patient: true });
  const last = jobs.runJob('plan', b, { patient: true });
  await turn();
  expect(state.jobNow('plan').status).toBe('waiting');
  Thread.all[0].done(planned('c'));
  await turn();
  // What was under way is shown, and the thread goes on with the newest.
  expect(state.jobNow('plan')).toMatchObject({ status: 'working', result: planned('c'), of: c, given: b });
  expect(Thread.all).toHaveLength(1);
  expect(Thread.all[0].asked.map(({ given }) => given)).toEqual([c, b]);
  Thread.all[0].done(planned('b'));
  expect(await last).toEqual(planned('b'));
  expect(state.jobNow('plan').status).toBe('done');
});

test('a job begins when it was quiet for its time, from the end of what it waits for', async () => {
  let seen = () => {};
  const after = new Promise<void>((resolve) => {
    seen = resolve;
  });
  void jobs.runJob('parts', { plan: planOf('a') }, { after, quiet: 500 });
  await vi.advanceTimersByTimeAsync(9000);
  expect(Thread.all).toHaveLength(0);
  seen();
  await vi.advanceTimersByTimeAsync(499);
  const b = planOf('b');
  void jobs.runJob('parts', { plan: b }, { after, quiet: 500 });
  await vi.advanceTimersByTimeAsync(499);
  expect(Thread.all).toHaveLength(0);
  expect(state.jobNow('parts').status).toBe('waiting');
  await vi.advanceTimersByTimeAsync(1);
  expect(Thread.all.map(({ asked }) => asked)).toEqual([[{ key: 'parts', given: { plan: b } }]]);
});

test('stopped, a job says so and keeps what was made; asked again, it is done', async () => {
  const [a, b] = [planOf('a'), planOf('b')];
  void jobs.runJob('bands', { plan: a, method: 'estimate' });
  await turn();
  Thread.all[0].done('bands of a');
  await turn();
  void jobs.runJob('bands', { plan: b, method: 'estimate' }, { quiet: 250 });
  jobs.stopJob('bands');
  await vi.advanceTimersByTimeAsync(1000);
  expect(state.jobNow('bands')).toMatchObject({ status: 'stopped', result: 'bands of a', of: { plan: a } });
  expect(Thread.all[0].asked).toHaveLength(1);
  jobs.resumeJob('bands');
  await turn();
  expect(Thread.all[0].asked[1].given).toEqual({ plan: b, method: 'estimate' });
  jobs.stopJob('bands');
  await turn();
  expect(Thread.alive).toHaveLength(0);
  // Nothing is stopped where nothing is under way, and what is dropped is forgotten.
  jobs.dropJob('bands');
  jobs.stopJob('bands');
  expect(state.jobNow('bands')).toBe(state.IDLE);
});

test('what is made of the same already is not made again', async () => {
  const plan = planOf('a');
  void jobs.runJob('bands', { plan, method: 'estimate' });
  await turn();
  Thread.all[0].done('slopes');
  await turn();
  void jobs.runJob('bands', { plan, method: 'trials', runs: 100, seed: 1 });
  await turn();
  expect(await jobs.runJob('bands', { plan, method: 'estimate' })).toBe('slopes');
  await turn();
  expect(Thread.alive).toHaveLength(0);
  expect(state.jobNow('bands')).toMatchObject({ status: 'done', result: 'slopes' });
});

test('a failure carries its message and field, and the next result takes it away; the last result stays until then', async () => {
  const plan = planOf('a');
  const error = { field: 'rail.stripWidth', value: '0', allowed: 'more', message: 'too little' };
  const failing = jobs.runJob('built', { plan, record });
  await turn();
  Thread.all[0].onmessage({ data: { kind: 'failed', failure: { message: 'no rail', error } } });
  expect(await failing).toBeNull();
  expect(state.jobNow('built')).toMatchObject({ status: 'failed', failure: { message: 'no rail', error }, result: null });
  jobs.resumeJob('built');
  await turn();
  // A thread that answered, if with a failure, is taken again.
  expect(Thread.all).toHaveLength(1);
  Thread.all[0].done({});
  await turn();
  expect(state.jobNow('built')).toMatchObject({ status: 'done', failure: null, result: {} });
});

test('a thread that breaks fails its job and is not taken again', async () => {
  for (const [message, text] of [['out of memory', /out of memory/], [undefined, /could not be loaded/]] as const) {
    void jobs.runJob('parts', { plan: planOf('a') });
    await turn();
    Thread.all.at(-1)?.onerror({ message });
    await turn();
    expect(state.jobNow('parts').failure?.message).toMatch(text);
    expect(Thread.alive).toHaveLength(0);
  }
  expect(Thread.all).toHaveLength(2);
});

test('jobs of different keys stand side by side; a free thread is taken by the next of its program, and by no other', async () => {
  const plan = planOf('a');
  void jobs.runJob('bands', { plan, method: 'estimate' });
  void jobs.runJob('built', { plan, record });
  await turn();
  expect(Thread.all).toHaveLength(2);
  Thread.all[0].done('bands');
  await turn();
  void jobs.runJob('parts', { plan });
  void jobs.runJob('offers', { plan, finding: { id: 'f' } as never });
  await turn();
  expect(Thread.all).toHaveLength(3);
  expect(Thread.all.map(({ asked }) => asked.map(({ key }) => key))).toEqual([['bands', 'offers'], ['built'], ['parts']]);
});

/** So many boards of a family, of which the third is worked out already. */
const strip = (count: number): Member[] =>
  Array.from({ length: count }, (_, i) => ({ size: { length: 1500 + i, width: 500, thickness: 60 }, variant: i === 2 ? made(-1) : null }));
const made = (i: number) => ({ ok: false, errors: [], of: i }) as unknown as Variant;
const lengths = ({ given }: Question<JobKey>) => (given as Given<'family'>).boards.map(({ size }) => size.length - 1500);
/** A thread works out its next board. */
function next(thread: Thread, i: number): void {
  thread.onmessage({ data: { kind: 'progress', progress: made(lengths(thread.asked[0])[i]) } });
}
const workedOut = (boards: readonly Member[] | null) => boards?.map(({ variant }) => (variant as unknown as { of: number } | null)?.of ?? null);

test('a family is worked out on several threads, in order again as far as it is, and none is asked for a board that is known', async () => {
  vi.stubGlobal('navigator', { hardwareConcurrency: 3 });
  const family = jobs.runJob('family', { design: blankDesign(), boards: strip(14) });
  await turn();
  expect(Thread.all.map(({ asked: [question] }) => lengths(question))).toEqual([[0, 3, 5, 7, 9, 11, 13], [1, 4, 6, 8, 10, 12]]);
  const [first, second] = Thread.all;
  next(second, 0);
  next(second, 1);
  next(first, 0);
  expect(workedOut(state.jobNow('family').progress)).toEqual([0, 1, -1, null, 4, ...Array.from({ length: 9 }, () => null)]);
  for (let i = 2; i < 6; i++) next(second, i);
  second.done([]);
  await turn();
  expect(state.jobNow('family').status).toBe('working');
  for (let i = 1; i < 7; i++) next(first, i);
  first.done([]);
  expect(workedOut(await family)).toEqual([0, 1, -1, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13]);
  expect(state.jobNow('family').status).toBe('done');
  // Both are free for what comes next, and a few boards are not worth a second one.
  void jobs.runJob('family', { design: blankDesign(), boards: strip(5) });
  await turn();
  expect(Thread.all).toHaveLength(2);
  expect(Thread.all.flatMap(({ asked }) => asked.slice(1)).map(lengths)).toEqual([[0, 1, 3, 4]]);
});

test.each([[2, 2], [4, 3], [64, 4]])('of %d cores a large family takes %d threads', async (cores, threads) => {
  vi.stubGlobal('navigator', { hardwareConcurrency: cores });
  void jobs.runJob('family', { design: blankDesign(), boards: strip(100) });
  await turn();
  expect(Thread.all).toHaveLength(threads);
});

test('a family that is stopped, or one of whose threads fails, ends the threads that are still at work, and keeps the others', async () => {
  vi.stubGlobal('navigator', { hardwareConcurrency: 4 });
  const given = { design: blankDesign(), boards: strip(30) };
  const first = jobs.runJob('family', given);
  await turn();
  next(Thread.all[0], 0);
  Thread.all[1].done([]);
  jobs.stopJob('family');
  expect(await first).toBeNull();
  expect(Thread.all.map(({ ended }) => ended)).toEqual([true, false, true]);
  expect(state.jobNow('family')).toMatchObject({ status: 'stopped', result: null });
  expect(workedOut(state.jobNow('family').progress)?.[0]).toBe(0);
  const second = jobs.runJob('family', given);
  await turn();
  expect(Thread.all).toHaveLength(5);
  Thread.all[3].onerror({ message: 'out of memory' });
  expect(await second).toBeNull();
  await turn();
  expect(state.jobNow('family')).toMatchObject({ status: 'failed', failure: { message: 'The work stopped: out of memory' } });
  expect(Thread.alive).toHaveLength(0);
  jobs.resumeJob('family');
  await turn();
  expect(state.jobNow('family').status).toBe('working');
});
