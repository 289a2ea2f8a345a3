/**
 * The page in a real browser: what it loads, how soon the first picture is there, and what a frame costs the main
 * thread while a point is dragged and while the station is scrubbed. Frames are drawn by a software renderer in
 * another process; the main thread's share is what the page itself does.
 */
import { readdir, readFile } from 'node:fs/promises';
import { extname, join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { type Browser, type CDPSession, chromium, type Page } from 'playwright-core';
import { boardLink } from '../../src/link/boardLink';
import { serveSite, startChromium, type Site } from '../browser/site';
import { seedDesign } from '../geometry/boards';
import { bigPng, offsetsText } from '../support/large';
import { kB, MB, ms, type Section } from './report';
import { quantile, slope } from './timing';

const FIRST_PICTURE = 1500;
const SCRIPT_BUDGET = 600_000;
/** Main-thread time within which a frame at 60 Hz is not dropped. */
const FRAME = 1000 / 60;
const COLD_LOADS = 9;
/** Moves of the pointer in one gesture. */
const MOVES = 120;
/** Re-plans by dragging over which the page's memory is watched, and how it is judged: less than this left a plan, bytes. */
const REPLANS = 1000;
const LEFT_BEHIND = 2000;

const VIEW = { viewport: { width: 1440, height: 900 }, reducedMotion: 'reduce', colorScheme: 'light', serviceWorkers: 'block' } as const;

async function open(browser: Browser, site: Site): Promise<Page> {
  const context = await browser.newContext(VIEW);
  // What runs this file from TypeScript names functions by a helper of its own, which the page must have too.
  await context.addInitScript({ content: 'globalThis.__name = (f) => f;' });
  const page = await context.newPage();
  await page.goto(site.origin + boardLink(seedDesign('round-tail-175.board.json'), Number.NaN, '').href, { waitUntil: 'load' });
  await page.locator('canvas[data-drawn]').waitFor();
  await idle(page);
  return page;
}

/** Until no plan is under way and two frames have passed. */
async function idle(page: Page): Promise<void> {
  await page.waitForFunction(() => window.railwright?.state()?.busy === false);
  await page.evaluate(() => new Promise<void>((done) => {
    requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(done, 50)));
  }));
}

interface Loaded {
  readonly script: number;
  readonly files: number;
  readonly style: number;
}

/** One cold load: milliseconds from the start of the navigation, and the compressed size of what came. */
async function coldLoad(browser: Browser, site: Site): Promise<{ picture: number; paint: number; plan: number; loaded: Loaded }> {
  const context = await browser.newContext(VIEW);
  const page = await context.newPage();
  const bodies: Promise<{ type: string; size: number }>[] = [];
  page.on('response', (response) => {
    const type = response.headers()['content-type'] ?? '';
    bodies.push(response.body().then((body) => ({ type, size: gzipSync(body).length }), () => ({ type, size: 0 })));
  });
  await page.goto(site.origin, { waitUntil: 'load' });
  await page.locator('canvas[data-drawn]').waitFor();
  const times = await page.evaluate(() => ({
    picture: performance.getEntriesByName('first-picture')[0].startTime,
    paint: performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? Number.NaN,
    plan: window.railwright?.state()?.planMs ?? Number.NaN,
  }));
  const sizes = await Promise.all(bodies);
  await context.close();
  const scripts = sizes.filter(({ type }) => type.includes('javascript'));
  const sum = (list: readonly { size: number }[]) => list.reduce((total, { size }) => total + size, 0);
  return { ...times, loaded: { script: sum(scripts), files: scripts.length, style: sum(sizes.filter(({ type }) => type.includes('css'))) } };
}

/** Compressed size of every file of a build, by kind. */
async function buildSizes(folder: string): Promise<Map<string, { files: number; bytes: number }>> {
  const kinds = new Map<string, { files: number; bytes: number }>();
  for (const entry of await readdir(folder, { recursive: true, withFileTypes: true })) {
    if (!entry.isFile()) continue;
    const kind = extname(entry.name).slice(1);
    const kept = kinds.get(kind) ?? { files: 0, bytes: 0 };
    kinds.set(kind, { files: kept.files + 1, bytes: kept.bytes + gzipSync(await readFile(join(entry.parentPath, entry.name))).length });
  }
  return kinds;
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
}

interface Frames {
  /** From one frame's callbacks to the next's, ms: processor time of the main thread, time its tasks took, and all. */
  readonly work: readonly number[];
  readonly held: readonly number[];
  readonly gaps: readonly number[];
}

/** What the page's main thread did by frames, from a trace of its tasks. */
function framesOf(events: readonly TraceEvent[]): Frames {
  const ticks = events.filter((e) => e.name === 'FireAnimationFrame');
  const threadOf = (e: TraceEvent) => `${e.pid}/${e.tid}`;
  const count = new Map<string, number>();
  for (const e of ticks) count.set(threadOf(e), (count.get(threadOf(e)) ?? 0) + 1);
  const [main] = [...count].sort((a, b) => b[1] - a[1])[0] ?? [];
  const tasks = events.filter((e) => threadOf(e) === main && e.ph === 'X' && e.name.endsWith('::RunTask')).sort((a, b) => a.ts - b.ts);
  // Callbacks of one frame run in one task: a frame starts with the task that holds its first.
  const starts = new Set<TraceEvent>();
  for (const { ts } of ticks.filter((e) => threadOf(e) === main)) {
    const task = tasks.findLast((t) => t.ts <= ts);
    if (task) starts.add(task);
  }
  const frames = [...starts].sort((a, b) => a.ts - b.ts);
  if (frames.length < 10) throw new Error(`the trace holds ${frames.length} frames`);
  const [work, held, gaps]: number[][] = [[], [], []];
  for (let i = 0; i + 1 < frames.length; i++) {
    const inside = tasks.filter((t) => t.ts >= frames[i].ts && t.ts < frames[i + 1].ts);
    work.push(inside.reduce((sum, t) => sum + (t.tdur ?? 0), 0) / 1000);
    held.push(inside.reduce((sum, t) => sum + (t.dur ?? 0), 0) / 1000);
    gaps.push((frames[i + 1].ts - frames[i].ts) / 1000);
  }
  if (!work.some((w) => w > 0)) throw new Error('the trace tells no processor time');
  return { work, held, gaps };
}

interface Gesture {
  readonly what: string;
  readonly frames: Frames;
  /** Pointer moves that the page was sent, and plans or stations it showed for them. */
  readonly sent: number;
  readonly shown: number;
}

/** Runs a gesture under a trace. A frame is asked for all the while, so that frames are counted whether drawn or not. */
async function traced(browser: Browser, page: Page, act: () => Promise<void>): Promise<Frames> {
  await page.evaluate(() => {
    const tick = () => {
      if (Reflect.get(window, 'benchTicks')) requestAnimationFrame(tick);
    };
    Reflect.set(window, 'benchTicks', true);
    requestAnimationFrame(tick);
  });
  await browser.startTracing(page, { categories: ['toplevel', 'devtools.timeline'] });
  await act();
  const trace = await browser.stopTracing();
  await page.evaluate(() => Reflect.set(window, 'benchTicks', false));
  const { traceEvents } = JSON.parse(trace.toString('utf8')) as { traceEvents: TraceEvent[] };
  return framesOf(traceEvents);
}

/** Counts the different bevels (one a plan) or stations the page shows, a look a frame. */
async function watch(page: Page, of: 'plan' | 'station'): Promise<() => Promise<number>> {
  await page.evaluate((what) => {
    const seen = new Set<number>();
    Reflect.set(window, 'benchSeen', seen);
    const look = () => {
      const state = window.railwright?.state();
      if (state) seen.add(what === 'plan' ? state.bevel.max + state.bevel.min : state.s);
      if (Reflect.get(window, 'benchSeen') === seen) requestAnimationFrame(look);
    };
    requestAnimationFrame(look);
  }, of);
  return () => page.evaluate(() => {
    const seen = Reflect.get(window, 'benchSeen') as Set<number>;
    Reflect.set(window, 'benchSeen', undefined);
    return seen.size;
  });
}

/** Opens Lines, takes hold of the outline's middle point and returns its place on the page. */
async function holdPoint(page: Page): Promise<{ x: number; y: number }> {
  await page.getByRole('navigation', { name: 'Panels' }).getByRole('button', { name: /^Lines/ }).click();
  await page.locator('[data-curve="outline"]').waitFor();
  await idle(page);
  const box = await page.locator('[data-handle="outline-3"] .knob').boundingBox();
  if (!box) throw new Error('the point is not drawn');
  const at = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
  await page.mouse.move(at.x, at.y);
  await page.mouse.down();
  return at;
}

async function dragPoint(browser: Browser, site: Site): Promise<Gesture> {
  const page = await open(browser, site);
  const at = await holdPoint(page);
  await page.mouse.move(at.x, at.y - 4);
  await idle(page);
  const seen = await watch(page, 'plan');
  const frames = await traced(browser, page, async () => {
    for (let i = 1; i <= MOVES; i++) await page.mouse.move(at.x, at.y - 6 - 12 * Math.abs(Math.sin(i / 9)) - i / 40);
  });
  const shown = await seen();
  await page.mouse.up();
  await page.context().close();
  return { what: 'a point of the outline dragged, board and ribbon following', frames, sent: MOVES, shown };
}

async function scrubRibbon(browser: Browser, site: Site): Promise<Gesture> {
  const page = await open(browser, site);
  const box = await page.locator('.Ribbon_frame').boundingBox();
  if (!box) throw new Error('the ribbon is not drawn');
  const y = box.y + box.height / 2;
  const x = (i: number) => box.x + box.width * (0.3 + (0.4 * i) / MOVES);
  await page.mouse.move(x(0), y);
  await page.mouse.down();
  const seen = await watch(page, 'station');
  const frames = await traced(browser, page, async () => {
    for (let i = 1; i <= MOVES; i++) await page.mouse.move(x(i), y);
  });
  const shown = await seen();
  await page.mouse.up();
  await page.context().close();
  return { what: 'the station scrubbed along the ribbon', frames, sent: MOVES, shown };
}

/** Longest time between two turns of the page's main thread while something large is taken in, ms. */
async function longestPause(browser: Browser, site: Site, tool: string, act: (page: Page) => Promise<void>): Promise<number> {
  const page = await open(browser, site);
  await page.getByRole('navigation', { name: 'Panels' }).getByRole('button', { name: /^Lines/ }).click();
  await page.getByRole('navigation', { name: 'Tools' }).getByRole('button', { name: tool, exact: true }).click();
  await page.evaluate(() => {
    const pauses = { worst: 0, last: performance.now() };
    setInterval(() => {
      pauses.worst = Math.max(pauses.worst, performance.now() - pauses.last);
      pauses.last = performance.now();
    }, 5);
    Object.assign(window, { pauses });
  });
  await act(page);
  const worst = await page.evaluate(() => (Reflect.get(window, 'pauses') as { worst: number }).worst);
  await page.context().close();
  return worst;
}

/** What may be taken in, and the longest pause it is allowed, ms. */
const LARGE: readonly { readonly what: string; readonly limit: number; readonly tool: string; readonly act: (page: Page) => Promise<void> }[] = [
  {
    what: '10 000 rows of offsets pasted and fitted', limit: 1500, tool: 'Offsets',
    act: async (page) => {
      await page.getByLabel('Table of offsets').fill(offsetsText(10_000));
      await page.locator('[data-offsets="fit"]').waitFor({ timeout: 60_000 });
    },
  },
  {
    what: 'a picture of 40 megapixels laid under the lines', limit: 3000, tool: 'Tracing',
    act: async (page) => {
      await page.getByTestId('tracing-file').setInputFiles({ name: 'large.png', mimeType: 'image/png', buffer: bigPng(8000, 5000) });
      await page.locator('[data-tracing="picture"] image').waitFor({ timeout: 30_000 });
    },
  },
];

interface Held {
  readonly plans: number;
  /** What the main thread's script holds, compiled code apart, bytes. */
  readonly objects: number;
  readonly code: number;
  readonly nodes: number;
  readonly listeners: number;
}

/** Bytes in a heap snapshot (taken after a collection), compiled code apart. */
async function heapOf(session: CDPSession): Promise<{ objects: number; code: number }> {
  const chunks: string[] = [];
  const hear = ({ chunk }: { chunk: string }) => void chunks.push(chunk);
  session.on('HeapProfiler.addHeapSnapshotChunk', hear);
  await session.send('HeapProfiler.takeHeapSnapshot', { reportProgress: false });
  session.off('HeapProfiler.addHeapSnapshotChunk', hear);
  const { snapshot, nodes } = JSON.parse(chunks.join('')) as {
    snapshot: { meta: { node_fields: string[]; node_types: [string[]] } }; nodes: number[];
  };
  const { node_fields: fields, node_types: [types] } = snapshot.meta;
  const [type, size] = [fields.indexOf('type'), fields.indexOf('self_size')];
  const sums = { objects: 0, code: 0 };
  for (let i = 0; i < nodes.length; i += fields.length) sums[types[nodes[i + type]] === 'code' ? 'code' : 'objects'] += nodes[i + size];
  return sums;
}

/** What the page's main thread holds over a thousand re-plans by dragging. */
async function pageMemory(browser: Browser, site: Site): Promise<Held[]> {
  const page = await open(browser, site);
  const session = await page.context().newCDPSession(page);
  const at = await holdPoint(page);
  const counts: Held[] = [];
  const count = async (plans: number) => {
    await idle(page);
    await session.send('HeapProfiler.collectGarbage');
    const held = await heapOf(session);
    const { nodes, jsEventListeners } = await session.send('Memory.getDOMCounters');
    counts.push({ plans, ...held, nodes, listeners: jsEventListeners });
  };
  for (let i = 0; i <= REPLANS; i++) {
    if (i % (REPLANS / 5) === 0) await count(i);
    if (i === REPLANS) break;
    const before = await page.evaluate(() => window.railwright?.state()?.bevel.max);
    await page.mouse.move(at.x, at.y - 6 - ((i * 7) % 12));
    // Each move must have been planned and shown before the next: a thousand plans, none skipped. Waited for in the
    // page and without a handle to anything in it, which would stay in its memory.
    await page.evaluate((was) => new Promise<void>((done, fail) => {
      const until = performance.now() + 20_000;
      const look = () => {
        const state = window.railwright?.state();
        if (state && !state.busy && state.bevel.max !== was) done();
        else if (performance.now() > until) fail(new Error('a move was not planned'));
        else setTimeout(look, 4);
      };
      look();
    }), before);
  }
  await page.mouse.up();
  await page.context().close();
  return counts;
}

export async function pageSection(): Promise<Section> {
  const site = await serveSite();
  const server = await startChromium();
  // A thousand pictures, for a count of memory only: drawn plainly.
  const quick = await startChromium(['--disable-gpu-compositing', '--webgl-antialiasing-mode=none']);
  try {
    const browser = await chromium.connect(server.wsEndpoint());
    const loads = [];
    for (let i = 0; i < COLD_LOADS; i++) loads.push(await coldLoad(browser, site));
    const { loaded } = loads[0];
    const kinds = await buildSizes(site.folder);
    const gestures = [await dragPoint(browser, site), await scrubRibbon(browser, site)];
    const pauses = [];
    for (const { what, limit, tool, act } of LARGE) pauses.push({ what, limit, pause: await longestPause(browser, site, tool, act) });
    await browser.close();
    const memory = await pageMemory(await chromium.connect(quick.wsEndpoint()), site);
    const pictures = loads.map(({ picture }) => picture);
    const [drag, scrub] = gestures;
    const warm = memory.slice(1);
    const left = slope(warm.map((m) => ({ x: m.plans, y: m.objects })));
    const workShown = (g: Gesture) => g.frames.work.reduce((sum, w) => sum + w, 0) / g.shown;
    return {
      title: 'The page',
      tables: [
        {
          title: `From nothing to the first picture, ${COLD_LOADS} cold loads, a software renderer`,
          head: ['', 'median', 'least', 'greatest'],
          rows: [
            ['words on the screen', ms(quantile(loads.map((l) => l.paint)), 0), ms(Math.min(...loads.map((l) => l.paint)), 0), ms(Math.max(...loads.map((l) => l.paint)), 0)],
            ['the board drawn', ms(quantile(pictures), 0), ms(Math.min(...pictures), 0), ms(Math.max(...pictures), 0)],
            ['of it the first plan, in a worker', ms(quantile(loads.map((l) => l.plan)), 0), ms(Math.min(...loads.map((l) => l.plan)), 0), ms(Math.max(...loads.map((l) => l.plan)), 0)],
          ],
        },
        {
          title: 'What is loaded, compressed',
          head: ['', 'files', 'bytes'],
          rows: [
            ['script of the first load', String(loaded.files), kB(loaded.script)],
            ['style of the first load', '', kB(loaded.style)],
            ...[...kinds].sort((a, b) => b[1].bytes - a[1].bytes).map(([kind, k]) => [`the whole build, ${kind}`, String(k.files), kB(k.bytes)]),
          ],
        },
        {
          title: `The main thread while a gesture goes on, ${MOVES} moves of the pointer, by frames`,
          head: ['gesture', 'frames', 'work, median', '95 %', 'held, median', '95 %', 'frame to frame, median', 'moves', 'shown', 'work a move shown'],
          rows: gestures.map((g) => [
            g.what, String(g.frames.work.length), ms(quantile(g.frames.work), 1), ms(quantile(g.frames.work, 0.95), 1), ms(quantile(g.frames.held), 1),
            ms(quantile(g.frames.held, 0.95), 1), ms(quantile(g.frames.gaps), 1), String(g.sent), String(g.shown), ms(workShown(g), 1),
          ]),
        },
        {
          title: 'Longest pause of the page while something large is taken in',
          head: ['', 'pause'],
          rows: pauses.map(({ what, pause }) => [what, ms(pause, 0)]),
        },
        {
          title: 'Memory of the page after a collection, a thousand re-plans by dragging, none skipped',
          head: ['plans', 'objects and buffers', 'compiled code', 'nodes', 'listeners'],
          rows: memory.map((m) => [String(m.plans), MB(m.objects), MB(m.code), String(m.nodes), String(m.listeners)]),
        },
      ],
      remarks: [
        'Plans and meshes are made in a worker; only the newest design waits for it, so that moves in between are skipped, not queued.',
        'Work is processor time of the page\'s main thread; held is the time its tasks took, waiting for a core or for the renderer',
        'included. Pictures are drawn by a software renderer on the same cores as page and worker: held and frame to frame tell of',
        'the renderer, work of the page.',
      ],
      targets: [
        { what: 'first picture from a cold load', target: `< ${FIRST_PICTURE} ms`, measured: `${ms(quantile(pictures), 0)} median of ${COLD_LOADS}`, met: quantile(pictures) < FIRST_PICTURE },
        { what: 'script of the first load, compressed', target: `< ${kB(SCRIPT_BUDGET)}`, measured: kB(loaded.script), met: loaded.script < SCRIPT_BUDGET },
        { what: 'main-thread work for a frame, dragging a point', target: `< ${FRAME.toFixed(1)} ms`, measured: `${ms(workShown(drag), 1)} a plan shown`, met: workShown(drag) < FRAME },
        { what: 'main-thread work for a frame, scrubbing the station', target: `< ${FRAME.toFixed(1)} ms`, measured: `${ms(workShown(scrub), 1)} a station shown`, met: workShown(scrub) < FRAME },
        ...pauses.map(({ what, limit, pause }) => ({ what: `the page's longest pause: ${what}`, target: `< ${limit} ms`, measured: ms(pause, 0), met: pause < limit })),
        { what: 'the page\'s memory over 1000 re-plans', target: 'flat', measured: `${left.toFixed(0)} bytes a plan by the trend after the first ${REPLANS / 5}`, met: left < LEFT_BEHIND },
      ],
      data: { loads, build: Object.fromEntries(kinds), gestures, pauses, memory },
    };
  } finally {
    await server.close();
    await quick.close();
    await site.close();
  }
}
