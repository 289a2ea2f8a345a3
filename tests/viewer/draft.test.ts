/** The lane of a dragging hand: what is asked, painted and settled, with a thread and frames that come when the test says so. The project's own rules, no outside source. */
import { afterAll, beforeAll, beforeEach, expect, test, vi } from 'vitest';
import { answer, askedOf, board, frame, nextFrame, stubPage, Thread, turn } from '../support/threads';

const REST = 150;
/** What was asked, each by its board's name. */
const asked = () => Thread.all.flatMap(askedOf);
/** The thread answers that the board cannot be planned. */
async function fail(): Promise<void> {
  Thread.all[0].onmessage({ data: { kind: 'failed', failure: { message: 'no room' } } });
  await turn();
}

let design: typeof import('../../src/state/design').useDesign;
let draft: typeof import('../../src/state/draft');
let jobs: typeof import('../../src/state/jobs');
/** What was painted, by the board's name; null where all was painted as it is settled. */
let painted: (string | null)[] = [];
let lift = () => {};
const errors: unknown[] = [];

beforeAll(async () => {
  stubPage(2);
  // Another file of this worker may have used threads before.
  vi.resetModules();
  Thread.all = [];
  vi.stubGlobal('reportError', (error: unknown) => errors.push(error));
  draft = await import('../../src/state/draft');
  jobs = await import('../../src/state/jobs');
  design = (await import('../../src/state/design')).useDesign;
  lift = draft.eachDraft((now) => painted.push(now?.plan.design.name ?? null));
  design.getState().commit(board('first'));
  (await import('../../src/work/planner')).startPlanner();
  await turn();
  await answer();
});

afterAll(() => {
  lift();
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

/** Each test begins with a board at rest. */
let count = 0;
beforeEach(async () => {
  design.getState().commit(board(`rest ${++count}`));
  await turn();
  await answer();
  await frame();
  for (const thread of Thread.all) thread.asked.length = 0;
  painted = [];
});

const drag = async (name: string) => {
  design.getState().sketch(board(name), true);
  await turn();
};
const settled = () => jobs.jobNow('plan').result?.plan.design.name;

test('each move is asked as a draft, of those that wait the newest alone, and what comes is painted; nothing is settled until the hand rests', async () => {
  for (const name of ['a', 'b', 'c']) await drag(name);
  expect(asked()).toEqual(['draft a']);
  await answer();
  expect(asked()).toEqual(['draft a', 'draft c']);
  expect(painted).toEqual([]);
  await frame();
  expect(painted).toEqual(['a']);
  await answer();
  await frame();
  expect(painted).toEqual(['a', 'c']);
  expect(draft.draftNow()?.plan.design.name).toBe('c');
  await vi.advanceTimersByTimeAsync(REST - 1);
  expect(asked()).toHaveLength(2);
  expect(settled()).toBe(`rest ${count}`);
  expect(jobs.isBusy(jobs.jobNow('plan'))).toBe(true);
  await vi.advanceTimersByTimeAsync(1);
  expect(asked()).toEqual(['draft a', 'draft c', 'plan c']);
  await answer();
  expect(settled()).toBe('c');
  expect(jobs.isBusy(jobs.jobNow('plan'))).toBe(false);
  // React renders the settled plan: nothing was painted between the two.
  expect(draft.draftNow()).toBeNull();
  expect(painted).toEqual(['a', 'c']);
  expect(Thread.all).toHaveLength(1);
});

test('let go, the board is settled at once; a draft that comes late is not painted, and one that waits is not asked', async () => {
  await drag('a');
  await drag('b');
  design.getState().keepDraft();
  await turn();
  await answer();
  expect(painted).toEqual([]);
  expect(asked()).toEqual(['draft a', 'plan b']);
  await answer();
  expect(settled()).toBe('b');
  expect(jobs.jobNow('draft')).toBe(jobs.IDLE);
  await vi.advanceTimersByTimeAsync(10 * REST);
  expect(asked()).toEqual(['draft a', 'plan b']);
});

test('a hand that rested before it let go has its plan already', async () => {
  await drag('a');
  await answer();
  await vi.advanceTimersByTimeAsync(REST);
  await answer();
  design.getState().keepDraft();
  await turn();
  expect(asked()).toEqual(['draft a', 'plan a']);
  expect(jobs.jobNow('plan').status).toBe('done');
});

test('cancelled, all is painted as it was settled, in the same turn and without a plan', async () => {
  const before = jobs.jobNow('plan').result;
  await drag('a');
  await answer();
  await frame();
  await drag('b');
  design.getState().dropDraft();
  await turn();
  expect(painted).toEqual(['a', null]);
  expect(draft.draftNow()).toBeNull();
  await answer();
  await frame();
  await vi.advanceTimersByTimeAsync(10 * REST);
  expect(painted).toEqual(['a', null]);
  expect(asked()).toEqual(['draft a', 'draft b']);
  expect(jobs.jobNow('plan')).toMatchObject({ status: 'done', result: before });
});

test('a plan that a moving hand has left behind is not settled', async () => {
  await drag('a');
  await answer();
  await frame();
  await vi.advanceTimersByTimeAsync(REST);
  expect(asked()).toEqual(['draft a', 'plan a']);
  await drag('b');
  await answer();
  expect(settled()).toBe(`rest ${count}`);
  expect(asked()).toEqual(['draft a', 'plan a', 'draft b']);
  await answer();
  await frame();
  expect(painted).toEqual(['a', 'b']);
});

test('what cannot be planned is told and leaves the last picture; let go there, the last board that could be planned is settled, and the trouble stands', async () => {
  await drag('a');
  await answer();
  await frame();
  await drag('none');
  await fail();
  expect(jobs.jobNow('draft').failure).toEqual({ message: 'no room' });
  expect(draft.draftNow()?.plan.design.name).toBe('a');
  design.getState().keepDraft();
  await turn();
  await fail();
  expect(asked()).toEqual(['draft a', 'draft none', 'plan none', 'plan a']);
  await answer();
  expect(settled()).toBe('a');
  expect(jobs.jobNow('plan')).toMatchObject({ status: 'failed', failure: { message: 'no room' } });
  expect(jobs.jobNow('draft').failure).toBeNull();
  expect(draft.draftNow()).toBeNull();
  // The next that can be planned takes the trouble away.
  await drag('b');
  await answer();
  design.getState().keepDraft();
  await turn();
  await answer();
  expect(jobs.jobNow('plan')).toMatchObject({ status: 'done', failure: null });
});

test('once a frame at most, and then the newest; what draws by frames is asked for the same frame', async () => {
  const drawn: string[] = [];
  const end = draft.beforeDraft(() => nextFrame(() => drawn.push(draft.draftNow()?.plan.design.name ?? '')));
  for (const name of ['a', 'b', 'c']) {
    await drag(name);
    await answer();
  }
  expect([painted, drawn]).toEqual([[], []]);
  await frame();
  expect([painted, drawn]).toEqual([['c'], ['c']]);
  end();
  await frame();
  expect([painted, drawn]).toEqual([['c'], ['c']]);
});

test('cancelled or settled before its frame, a draft is never painted', async () => {
  await drag('a');
  await answer();
  design.getState().dropDraft();
  await turn();
  await frame();
  expect([painted, draft.draftStands()]).toEqual([[], false]);
  await drag('b');
  await answer();
  design.getState().keepDraft();
  await turn();
  await answer();
  await frame();
  expect([painted, draft.draftStands(), settled()]).toEqual([[], false, 'b']);
});

test('a painter that throws does not keep the others from painting', async () => {
  const end = draft.eachDraft(() => {
    throw new Error('no paint');
  });
  const others: unknown[] = [];
  const endOthers = draft.eachDraft((now) => others.push(now?.plan.design.name));
  await drag('a');
  await answer();
  await frame();
  end();
  endOthers();
  await drag('b');
  await answer();
  await frame();
  expect(painted).toEqual(['a', 'b']);
  expect(others).toEqual(['a']);
  expect(errors.splice(0)).toEqual([new Error('no paint')]);
});

test('a draft that no hand holds is planned whole, as a proposal is', async () => {
  design.getState().sketch(board('proposed'));
  await turn();
  await answer();
  expect(asked()).toEqual(['plan proposed']);
  expect(settled()).toBe('proposed');
  design.getState().dropDraft();
  await turn();
  await answer();
  expect(asked()).toEqual(['plan proposed', `plan rest ${count}`]);
});

test('two hundred drags take one thread and leave nothing behind', async () => {
  for (let i = 0; i < 200; i++) {
    await drag(`${i}`);
    await answer();
    design.getState().keepDraft();
    await turn();
    await answer();
    await frame();
  }
  expect(Thread.all).toHaveLength(1);
  await frame();
  expect(await frame()).toBe(0);
  expect(draft.draftNow()).toBeNull();
  expect(jobs.jobNow('draft')).toBe(jobs.IDLE);
  await vi.advanceTimersByTimeAsync(REST);
  expect(vi.getTimerCount()).toBe(0);
});
