/** Two threads of drafts under one hand: which is asked, what is painted, and what comes too late. The project's own rules, no outside source. */
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { answer, askedOf, board, frame, nextFrame, stubPage, Thread, turn } from '../support/threads';

const REST = 150;
let design: typeof import('../../src/state/design').useDesign;
let draft: typeof import('../../src/state/draft');
let jobs: typeof import('../../src/state/jobs');
let planner: typeof import('../../src/work/planner');
let painted: (string | null)[] = [];

/** A page of its own with the board 'rest' planned, on a machine of so many cores. */
async function openPage(cores: number): Promise<void> {
  stubPage(cores);
  vi.resetModules();
  Thread.all = [];
  painted = [];
  draft = await import('../../src/state/draft');
  jobs = await import('../../src/state/jobs');
  design = (await import('../../src/state/design')).useDesign;
  planner = await import('../../src/work/planner');
  draft.eachDraft((now) => painted.push(now?.plan.design.name ?? null));
  design.getState().commit(board('rest'));
  planner.startPlanner();
  await turn();
  await answer();
  Thread.all[0].asked.length = 0;
}

beforeEach(() => openPage(16));
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

const drag = async (name: string) => {
  design.getState().sketch(board(name), true);
  await turn();
};
const settled = () => jobs.jobNow('plan').result?.plan.design.name;
const asked = () => Thread.all.map(askedOf);

test('moves go to the two threads in turn; while both are at work the newest alone waits, and takes the one that is free first', async () => {
  expect(Thread.all).toHaveLength(1);
  for (const name of ['a', 'b', 'c', 'd']) await drag(name);
  expect(asked()).toEqual([['draft a'], ['draft b']]);
  await answer(Thread.all[1]);
  expect(asked()).toEqual([['draft a'], ['draft b', 'draft d']]);
  await answer(Thread.all[1]);
  await drag('e');
  expect(asked()).toEqual([['draft a'], ['draft b', 'draft d', 'draft e']]);
  await answer(Thread.all[0]);
  await answer(Thread.all[1]);
  for (const name of ['f', 'g']) {
    await drag(name);
    for (const thread of Thread.all) if (askedOf(thread).at(-1) === `draft ${name}`) await answer(thread);
  }
  expect(asked()).toEqual([['draft a', 'draft f'], ['draft b', 'draft d', 'draft e', 'draft g']]);
});

test('the draft of an older move that comes after a newer one is dropped, be it made or failed', async () => {
  await drag('a');
  await drag('b');
  await answer(Thread.all[1]);
  await frame();
  expect(jobs.jobNow('draft').status).toBe('done');
  await answer(Thread.all[0]);
  await frame();
  expect(painted).toEqual(['b']);
  expect(jobs.jobNow('draft')).toMatchObject({ status: 'done', of: { design: { name: 'b' } } });
  await drag('c');
  await drag('d');
  await answer(Thread.all[1]);
  Thread.all[0].onmessage({ data: { kind: 'failed', failure: { message: 'no room' } } });
  await turn();
  await frame();
  expect(painted).toEqual(['b', 'd']);
  expect(jobs.jobNow('draft')).toMatchObject({ status: 'done', failure: null, of: { design: { name: 'd' } } });
});

test('a draft that missed its frame is painted before the next one, which waits; after a frame without a draft nothing waits', async () => {
  await drag('a');
  await frame();
  await drag('b');
  await answer(Thread.all[0]);
  await answer(Thread.all[1]);
  await frame();
  expect(painted).toEqual(['a']);
  await drag('c');
  await answer(Thread.all[0]);
  await frame();
  expect(painted).toEqual(['a', 'b']);
  expect(draft.draftStands()).toBe(true);
  await frame();
  expect(painted).toEqual(['a', 'b', 'c']);
  await drag('d');
  await answer(Thread.all[1]);
  await frame();
  expect(painted).toEqual(['a', 'b', 'c', 'd']);
  await frame();
  // At rest no frame is asked for.
  expect(await frame()).toBe(0);
});

test('where moves come faster than frames the newest wins, and nothing is delayed', async () => {
  for (let i = 0; i < 12; i += 2) {
    for (const name of [`${i}`, `${i + 1}`]) await drag(name);
    for (const thread of Thread.all) await answer(thread);
    await frame();
  }
  // The first frame may take the first two for a late one.
  expect(painted).toEqual(['0', '3', '5', '7', '9', '11']);
  await frame();
  expect(painted).toHaveLength(6);
});

test('what draws by frames is asked for the frame in which a draft that waited is painted', async () => {
  const drawn: (string | undefined)[] = [];
  draft.beforeDraft(() => nextFrame(() => drawn.push(draft.draftNow()?.plan.design.name)));
  await drag('a');
  await drag('b');
  await answer(Thread.all[0]);
  await answer(Thread.all[1]);
  for (let i = 0; i < 3; i++) await frame();
  expect(new Set(drawn)).toEqual(new Set(['a', 'b']));
});

test('cancelled with two drafts under way or one that waits for its frame, none is painted and no thread is ended', async () => {
  await drag('a');
  await drag('b');
  await answer(Thread.all[0]);
  await answer(Thread.all[1]);
  await frame();
  await drag('c');
  await drag('d');
  design.getState().dropDraft();
  await turn();
  expect(painted).toEqual(['a', null]);
  for (const thread of Thread.all) await answer(thread);
  await frame();
  await vi.advanceTimersByTimeAsync(10 * REST);
  expect(painted).toEqual(['a', null]);
  expect([draft.draftStands(), jobs.jobNow('draft'), settled()]).toEqual([false, jobs.IDLE, 'rest']);
  expect(Thread.all.map(({ ended }) => ended)).toEqual([false, false]);
});

test('the settled plan is made on the first thread, and a draft that the second one finishes after it is dropped', async () => {
  await drag('a');
  await answer(Thread.all[0]);
  await drag('b');
  design.getState().keepDraft();
  await turn();
  expect(asked()).toEqual([['draft a', 'plan b'], ['draft b']]);
  await answer(Thread.all[0]);
  await answer(Thread.all[1]);
  await frame();
  expect([settled(), draft.draftStands(), jobs.jobNow('draft')]).toEqual(['b', false, jobs.IDLE]);
  // The same where the hand only rests.
  await drag('c');
  await answer(Thread.all[0]);
  await drag('d');
  await vi.advanceTimersByTimeAsync(REST);
  await answer(Thread.all[0]);
  expect(settled()).toBe('d');
  await answer(Thread.all[1]);
  await frame();
  expect([painted, draft.draftStands(), jobs.jobNow('draft')]).toEqual([[], false, jobs.IDLE]);
});

test('a second thread that breaks is not missed: its move goes without a plan, and the first makes all that follow', async () => {
  await drag('a');
  await drag('b');
  Thread.all[1].onerror({ message: 'out of memory' });
  await turn();
  await answer(Thread.all[0]);
  await frame();
  expect(painted).toEqual(['a']);
  expect(jobs.jobNow('draft').failure).toBeNull();
  await drag('c');
  await drag('d');
  expect(asked()).toEqual([['draft a', 'draft c'], ['draft b']]);
  await answer(Thread.all[0]);
  await answer(Thread.all[0]);
  await vi.advanceTimersByTimeAsync(REST);
  await answer(Thread.all[0]);
  expect([settled(), Thread.all.length, Thread.all[1].ended]).toEqual(['d', 2, true]);
});

test('a first thread that breaks fails its move, as ever; the second goes on, and a new first one is begun', async () => {
  await drag('a');
  await drag('b');
  Thread.all[0].onerror({ message: 'out of memory' });
  await turn();
  expect(jobs.jobNow('draft')).toMatchObject({ status: 'working', failure: { message: 'The work stopped: out of memory' } });
  await answer(Thread.all[1]);
  expect(jobs.jobNow('draft').failure).toBeNull();
  await drag('c');
  expect(asked()).toEqual([['draft a'], ['draft b'], ['draft c']]);
});

test('before a drag both threads are warmed with drafts of which nothing comes; moves do not wait for that', async () => {
  planner.expectDrag();
  await turn();
  expect(asked()).toEqual([['draft rest'], ['draft rest']]);
  await answer(Thread.all[0]);
  expect(asked()[0]).toHaveLength(2);
  await drag('a');
  await answer(Thread.all[0]);
  await answer(Thread.all[0]);
  await frame();
  expect(asked()).toEqual([['draft rest', 'draft rest', 'draft a'], ['draft rest']]);
  expect(painted).toEqual(['a']);
  // The second one goes on warming itself, and ends.
  while (asked()[1].length < 100) {
    const before = asked()[1].length;
    await answer(Thread.all[1]);
    if (asked()[1].length === before) break;
  }
  expect(asked()[1].length).toBeLessThan(30);
  expect(painted).toEqual(['a']);
  await drag('b');
  expect(asked()[1].at(-1)).toBe('draft b');
});

test('with two cores there is one thread, and nothing is made before the first move', async () => {
  vi.unstubAllGlobals();
  await openPage(2);
  planner.expectDrag();
  await turn();
  expect(asked()).toEqual([[]]);
  for (const name of ['a', 'b']) await drag(name);
  expect(asked()).toEqual([['draft a']]);
});
