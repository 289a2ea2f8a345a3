/**
 * The page in a real browser: what it loads, how soon the first picture is there, how long it pauses while something large is
 * taken in, and what it holds after a thousand plans. What a hand waits for is measured in drag.ts.
 */
import { readdir, readFile } from 'node:fs/promises';
import { extname, join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { type Browser, type CDPSession, chromium, type Page } from 'playwright-core';
import { startChromium, type Site } from '../browser/site';
import { bigPng, offsetsText } from '../support/large';
import { freshContext, holdPoint, idle, open, PATIENCE, plainChromium, sharedSite } from './browsing';
import { kB, MB, ms, type Section } from './report';
import { quantile, slope } from './timing';

const FIRST_PICTURE = 1000;
const SCRIPT_BUDGET = 350_000;
const COLD_LOADS = 9;
/** Re-plans by dragging over which the page's memory is watched, and how it is judged: less than this left a plan, bytes. */
const REPLANS = 1000;
const LEFT_BEHIND = 2000;

interface Loaded {
  readonly script: number;
  readonly files: number;
  readonly style: number;
}

/** One cold load: milliseconds from the start of the navigation, and the compressed size of what came. */
async function coldLoad(browser: Browser, site: Site): Promise<{ picture: number; card: number; whole: number; paint: number; plan: number; loaded: Loaded }> {
  const context = await freshContext(browser);
  const page = await context.newPage();
  const bodies: Promise<{ url: string; type: string; size: number }>[] = [];
  page.on('response', (response) => {
    const type = response.headers()['content-type'] ?? '';
    const url = response.url();
    bodies.push(response.body().then((body) => ({ url, type, size: gzipSync(body).length }), () => ({ url, type, size: 0 })));
  });
  await page.goto(site.origin, { waitUntil: 'load' });
  await page.locator('canvas[data-drawn]').waitFor();
  // What comes from now on is no part of the first load: of what a thread fetches the page's own list below does not know.
  const first = [...bodies];
  await page.waitForFunction(() => document.querySelector('[data-area="card"]:not([aria-busy])'), undefined, { polling: 'raf' });
  const card = await page.evaluate(() => performance.now());
  await page.waitForFunction(() => window.railwright?.state(), undefined, { polling: 'raf' });
  const whole = await page.evaluate(() => performance.now());
  const { late, ...times } = await page.evaluate(() => ({
    late: performance.getEntriesByType('resource').filter(({ startTime }) => startTime > performance.getEntriesByName('first-picture')[0].startTime).map(({ name }) => name),
    picture: performance.getEntriesByName('first-picture')[0].startTime,
    paint: performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? Number.NaN,
    plan: window.railwright?.state()?.planMs ?? Number.NaN,
  }));
  // What is asked for after the picture is no part of the first load.
  const sizes = (await Promise.all(first)).filter(({ url }) => !late.includes(url));
  await context.close();
  const scripts = sizes.filter(({ type }) => type.includes('javascript'));
  const sum = (list: readonly { size: number }[]) => list.reduce((total, { size }) => total + size, 0);
  return { ...times, card, whole, loaded: { script: sum(scripts), files: scripts.length, style: sum(sizes.filter(({ type }) => type.includes('css'))) } };
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

/** Longest time between two turns of the page's main thread while something large is taken in, ms. */
async function longestPause(browser: Browser, site: Site, tool: string, act: (page: Page) => Promise<void>): Promise<number> {
  const page = await open(browser, site);
  await page.getByRole('navigation', { name: 'Rooms' }).getByRole('button', { name: /^Shape/ }).click();
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
      // As a hand does: the test library's own way of filling a field takes minutes over so many lines.
      await page.context().grantPermissions(['clipboard-read', 'clipboard-write']);
      await page.evaluate((text) => navigator.clipboard.writeText(text), offsetsText(10_000));
      await page.getByLabel('Table of offsets').focus();
      await page.keyboard.press('Control+v');
      await page.locator('[data-offsets="fit"]').waitFor();
    },
  },
  {
    what: 'a picture of 40 megapixels laid under the lines', limit: 3000, tool: 'Picture',
    act: async (page) => {
      await page.getByTestId('tracing-file').setInputFiles({ name: 'large.png', mimeType: 'image/png', buffer: bigPng(8000, 5000) });
      await page.locator('[data-tracing="picture"] image').waitFor();
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
    await page.evaluate(([was, patience]) => new Promise<void>((done, fail) => {
      const until = performance.now() + patience;
      const look = () => {
        const state = window.railwright?.state();
        if (state && state.bevel.max !== was) done();
        else if (performance.now() > until) fail(new Error('a move was not planned'));
        else setTimeout(look, 4);
      };
      look();
    }), [before, PATIENCE] as const);
  }
  await page.mouse.up();
  await page.context().close();
  return counts;
}

export async function pageSection(): Promise<Section> {
  const site = await sharedSite();
  const server = await startChromium();
  // A thousand pictures, for a count of memory only: drawn plainly.
  const quick = await plainChromium();
  try {
    const browser = await chromium.connect(server.wsEndpoint());
    const loads: Awaited<ReturnType<typeof coldLoad>>[] = [];
    for (let i = 0; i < COLD_LOADS; i++) loads.push(await coldLoad(browser, site));
    const { loaded } = loads[0];
    const kinds = await buildSizes(site.folder);
    const pauses = [];
    for (const { what, limit, tool, act } of LARGE) pauses.push({ what, limit, pause: await longestPause(browser, site, tool, act) });
    await browser.close();
    const memory = await pageMemory(await chromium.connect(quick.wsEndpoint()), site);
    const pictures = loads.map(({ picture }) => picture);
    const warm = memory.slice(1);
    const left = slope(warm.map((m) => ({ x: m.plans, y: m.objects })));
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
            ...([['the station card beside it', 'card'], ['all else: keys, notices, statuses, the hand that turns it', 'whole']] as const).map(([what, key]) => [what, ms(quantile(loads.map((l) => l[key])), 0), ms(Math.min(...loads.map((l) => l[key])), 0), ms(Math.max(...loads.map((l) => l[key])), 0)]),
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
      ],
      targets: [
        { what: 'first picture from a cold load', target: `< ${FIRST_PICTURE} ms`, measured: `${ms(quantile(pictures), 0)} median of ${COLD_LOADS}`, met: quantile(pictures) < FIRST_PICTURE },
        { what: 'script of the first load, compressed', target: `< ${kB(SCRIPT_BUDGET)}`, measured: kB(loaded.script), met: loaded.script < SCRIPT_BUDGET },
        ...pauses.map(({ what, limit, pause }) => ({ what: `the page's longest pause: ${what}`, target: `< ${limit} ms`, measured: ms(pause, 0), met: pause < limit })),
        { what: 'the page\'s memory over 1000 re-plans', target: 'flat', measured: `${left.toFixed(0)} bytes a plan by the trend after the first ${REPLANS / 5}`, met: left < LEFT_BEHIND },
      ],
      data: { loads, build: Object.fromEntries(kinds), pauses, memory },
    };
  } finally {
    await server.close();
    await quick.close();
  }
}
