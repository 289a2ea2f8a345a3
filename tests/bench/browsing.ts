/** The page in a real browser as the bench uses it: opened on one board, its gestures paced by the clock, and its trace read. */
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { boardLink } from '../../src/link/boardLink';
import { serveSite, startChromium, type Site } from '../browser/site';
import { seedDesign } from '../geometry/boards';

/** The board that all gestures are measured on. */
const BOARD = 'round-tail-175.board.json';
export interface Size {
  readonly width: number;
  readonly height: number;
}
export const DESK: Size = { width: 1440, height: 900 };

let served: Promise<Site> | undefined;

/** The built page, served once for all parts of the bench; `closeSite` ends it. */
export const sharedSite = (): Promise<Site> => (served ??= serveSite());

export async function closeSite(): Promise<void> {
  await (await served?.catch(() => undefined))?.close();
}

/** A browser that draws plainly: for what the page's own threads do, which its pictures on the same cores would only slow. */
export const plainChromium = () => startChromium(['--disable-gpu-compositing', '--webgl-antialiasing-mode=none']);

/** How long the bench waits for the page to do something on a busy machine before it gives the part up, ms. */
export const PATIENCE = 240_000;

/** A fresh context of the browser. */
export async function freshContext(browser: Browser, viewport = DESK): Promise<BrowserContext> {
  const context = await browser.newContext({ viewport, reducedMotion: 'reduce', colorScheme: 'light', serviceWorkers: 'block' });
  context.setDefaultTimeout(PATIENCE);
  return context;
}

/** A fresh page with the board open and drawn; `script` runs in it before its own. */
export async function open(browser: Browser, site: Site, { size = DESK, script = '' }: { readonly size?: Size; readonly script?: string } = {}): Promise<Page> {
  const context = await freshContext(browser, size);
  // What runs this file from TypeScript names functions by a helper of its own, which the page must have too.
  await context.addInitScript({ content: `globalThis.__name = (f) => f;${script}` });
  const page = await context.newPage();
  await page.goto(site.origin + boardLink(seedDesign(BOARD), Number.NaN, '').href, { waitUntil: 'load' });
  await page.locator('canvas[data-drawn]').waitFor();
  await idle(page);
  return page;
}

/** Until no plan is under way and two frames have passed. */
export async function idle(page: Page): Promise<void> {
  await page.waitForFunction(() => window.railwright?.state()?.busy === false);
  await page.evaluate(() => new Promise<void>((done) => {
    requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(done, 50)));
  }));
}

export interface Place {
  readonly x: number;
  readonly y: number;
}

/** Opens Shape, takes hold of the outline's middle point and returns its place on the page. */
export async function holdPoint(page: Page): Promise<Place> {
  await page.getByRole('navigation', { name: 'Rooms' }).getByRole('button', { name: /^Shape/ }).click();
  await page.locator('[data-curve="outline"]').waitFor();
  await idle(page);
  const box = await page.locator('[data-handle="outline-3"] .knob').boundingBox();
  if (!box) throw new Error('the point is not drawn');
  const at = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
  await page.mouse.move(at.x, at.y);
  await page.mouse.down();
  return at;
}

/** Moves of the hand one way before it turns, and px of each: more than a drag's own step of 0.1 mm, so that no move asks for the plan of the one before. */
const SWING = { moves: 40, px: 0.35 } as const;

/** The i-th place of a hand that moves the held point to and fro. */
export function dragged({ x, y }: Place, i: number): Place {
  const turn = i % (2 * SWING.moves);
  return { x, y: y - 6 - SWING.px * Math.min(turn, 2 * SWING.moves - turn) };
}

/** Fewest moves that are sent, however busy the machine. */
const FEWEST = 12;

/**
 * Moves the pointer by the clock, `rate` a second, for so many seconds at most. Each move is sent when its time has come and the
 * browser has taken the one before; for what the page makes of it nobody waits. Returns how many were sent.
 */
export async function paced(page: Page, rate: number, places: readonly Place[], longest: number): Promise<number> {
  const start = performance.now();
  for (const [i, { x, y }] of places.entries()) {
    if (i >= FEWEST && performance.now() - start > 1000 * longest) return i;
    await page.mouse.move(x, y);
    const left = start + ((i + 1) * 1000) / rate - performance.now();
    if (left > 0) await new Promise((done) => setTimeout(done, left));
  }
  return places.length;
}

/** Notes each change of the bevels (one a plan) or of the station that the page shows, a look a frame, from now until the returned call: page ms. */
export async function watch(page: Page, of: 'plan' | 'station'): Promise<() => Promise<readonly number[]>> {
  await page.evaluate((what) => {
    const seen = { last: Number.NaN, at: [] as number[] };
    Reflect.set(window, 'benchSeen', seen);
    const look = (now: number) => {
      const state = window.railwright?.state();
      const one = state && (what === 'plan' ? state.bevel.max + state.bevel.min : state.s);
      if (typeof one === 'number' && one !== seen.last) {
        seen.last = one;
        seen.at.push(now);
      }
      if (Reflect.get(window, 'benchSeen') === seen) requestAnimationFrame(look);
    };
    requestAnimationFrame(look);
  }, of);
  return () => page.evaluate(() => {
    const { at } = Reflect.get(window, 'benchSeen') as { at: number[] };
    Reflect.set(window, 'benchSeen', undefined);
    // The first was there before the hand moved.
    return at.slice(1);
  });
}

interface TraceEvent {
  readonly name: string;
  readonly ph: string;
  readonly pid: number;
  readonly tid: number;
  /** Microseconds: start, duration, and processor time of the thread within it. */
  readonly ts: number;
  readonly dur?: number;
  readonly tdur?: number;
  readonly args?: { readonly name?: string; readonly data?: { readonly type?: string } };
}

/** Runs a gesture under a trace. A frame is asked for all the while, so that frames are counted whether drawn or not. */
export async function traced<T>(browser: Browser, page: Page, act: () => Promise<T>): Promise<{ events: TraceEvent[]; made: T }> {
  await page.evaluate(() => {
    const tick = () => {
      if (Reflect.get(window, 'benchTicks')) requestAnimationFrame(tick);
    };
    Reflect.set(window, 'benchTicks', true);
    requestAnimationFrame(tick);
  });
  await browser.startTracing(page, { categories: ['toplevel', 'devtools.timeline'] });
  const made = await act();
  const trace = await browser.stopTracing();
  await page.evaluate(() => Reflect.set(window, 'benchTicks', false));
  const { traceEvents } = JSON.parse(trace.toString('utf8')) as { traceEvents: TraceEvent[] };
  return { events: traceEvents, made };
}

const threadOf = (e: TraceEvent): string => `${e.pid}/${e.tid}`;
const isTask = (e: TraceEvent): boolean => e.ph === 'X' && e.name.endsWith('::RunTask');
const cpu = (e: TraceEvent): number => (e.tdur ?? 0) / 1000;

/** The thread that runs the page's frames. */
function mainThread(events: readonly TraceEvent[]): string | undefined {
  const count = new Map<string, number>();
  for (const e of events) if (e.name === 'FireAnimationFrame') count.set(threadOf(e), (count.get(threadOf(e)) ?? 0) + 1);
  return [...count].sort((a, b) => b[1] - a[1])[0]?.[0];
}

/** Stages of the main thread, by what the browser calls them; an event's own time goes to the innermost that is named. */
const STAGES: readonly (readonly [stage: string, is: (e: TraceEvent) => boolean])[] = [
  ['a move of the pointer', (e) => e.name === 'EventDispatch' && /^(pointer|mouse)/.test(e.args?.data?.type ?? '')],
  ['an answer of the planner', (e) => e.name === 'EventDispatch' && e.args?.data?.type === 'message' || e.name === 'HandlePostMessage'],
  ['callbacks of a frame', (e) => e.name === 'FireAnimationFrame'],
  ['other script', (e) => ['FunctionCall', 'TimerFire', 'RunMicrotasks', 'EventDispatch', 'EvaluateScript'].includes(e.name)],
  ['style', (e) => e.name === 'UpdateLayoutTree' || e.name === 'RecalculateStyles'],
  ['layout', (e) => e.name === 'Layout'],
  ['paint', (e) => ['PrePaint', 'Paint', 'Layerize', 'Commit', 'UpdateLayer', 'CompositeLayers'].includes(e.name)],
  ['collecting garbage', (e) => /GC|Collect/.test(e.name)],
];

/**
 * Processor time of the page's main thread by stage, and of the threads beside it, ms, from a trace. Throws an Error where the
 * trace tells none.
 */
export function stagesOf(events: readonly TraceEvent[]): { main: number; worker: number; stages: ReadonlyMap<string, number> } {
  const main = mainThread(events);
  const pid = main?.split('/')[0];
  const name = new Map(events.filter((e) => e.ph === 'M' && e.name === 'thread_name').map((e) => [threadOf(e), e.args?.name ?? '']));
  const stages = new Map<string, number>(STAGES.map(([stage]) => [stage, 0]));
  const add = (stage: string, by: number) => stages.set(stage, (stages.get(stage) ?? 0) + by);
  let all = 0;
  // Inner events follow the outer ones that hold them: what stands open is a stack.
  const open: { end: number; stage: string }[] = [];
  const own = events.filter((e) => threadOf(e) === main && e.ph === 'X').sort((a, b) => a.ts - b.ts || (b.dur ?? 0) - (a.dur ?? 0));
  for (const e of own) {
    while (open.length > 0 && open[open.length - 1].end <= e.ts) open.pop();
    const outer = open[open.length - 1];
    const stage = STAGES.find(([, is]) => is(e))?.[0];
    if (isTask(e) && !outer) {
      all += cpu(e);
      add('the rest', cpu(e));
      open.push({ end: e.ts + (e.dur ?? 0), stage: 'the rest' });
    } else if (stage !== undefined && outer && stage !== outer.stage) {
      add(stage, cpu(e));
      add(outer.stage, -cpu(e));
      open.push({ end: e.ts + (e.dur ?? 0), stage });
    }
  }
  if (!(all > 0)) throw new Error('the trace tells no processor time');
  const workers = events.filter((e) => isTask(e) && String(e.pid) === pid && /DedicatedWorker/.test(name.get(threadOf(e)) ?? ''));
  return { main: all, worker: workers.reduce((sum, e) => sum + cpu(e), 0), stages };
}
