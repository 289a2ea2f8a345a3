/** What a browser test needs: a page on the built viewer that notes every error and every stray request. */
import { type Browser, type BrowserContextOptions, chromium, type ConsoleMessage, type Page, type Request } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect, inject, onTestFailed } from 'vitest';
import { drawBlind } from './blind';

export interface Visit {
  readonly page: Page;
  /** Console errors and uncaught exceptions so far. */
  readonly errors: readonly string[];
  /** Requests to any other origin so far; none can get there (`SEALED` in global.ts). */
  readonly strays: readonly string[];
  readonly close: () => Promise<void>;
}

/** Context options as the test library has them, and what a page does without unless a test looks at it: half of what a visit costs. */
export interface VisitOptions extends BrowserContextOptions {
  /** The stage's pixels are looked at: else nothing is drawn (see blind.ts). */
  readonly pixels?: boolean;
  /** What the bench's thread makes is looked at: else it never answers, as on a very slow machine. */
  readonly bench?: boolean;
}

/** After this a page hangs, ms: far past what any takes on a busy machine, and less than a test's own limit, so that it is told what was waited for. */
const HANGS = 300_000;

const VIEWPORT = { width: 1280, height: 800 };

/** One for each worker, kept for all its files; global.ts ends it. */
let browser: Browser | undefined;
const open = new Set<Visit>();

/** Call once at the top of a test file: connects to the worker's Chromium, closes every page after each test. */
export function shareBrowser(): void {
  beforeAll(async () => {
    browser ??= await chromium.connect(inject('chromiums')[Number(process.env.VITEST_POOL_ID) - 1].address);
  });
  afterEach(async () => {
    for (const visit of open) await visit.close();
  });
}

/**
 * One page for those tests of a file that bring it themselves to where they begin: opened by the first that asks
 * for it, opened again after one that failed, closed after the last.
 */
export function onePage(visit: () => Promise<Visit>): () => Promise<Visit> {
  let kept: Visit | undefined;
  const drop = async () => {
    await kept?.close();
    kept = undefined;
  };
  afterAll(drop);
  return async () => {
    kept ??= await visit();
    open.delete(kept);
    const { errors } = kept;
    onTestFailed(async () => {
      tell(errors);
      await drop();
    });
    return kept;
  };
}

const tell = (errors: readonly string[]) => {
  for (const error of errors) console.error(`the page said: ${error}`);
};

/** In the page: a stand-in for the bench's thread. */
function benchUnanswered(): void {
  const silent = () => Object.assign(new EventTarget(), { postMessage: () => undefined, terminate: () => undefined });
  window.Worker = new Proxy(Worker, { construct: (thread, given: [string | URL]) => (/bench\.worker/.test(String(given[0])) ? silent() : Reflect.construct(thread, given)) });
}

/** Listens to a page, and closes it as `close` says. */
function visitOf(page: Page, close: () => Promise<void>): Visit {
  const origin = new URL(inject('origin')).origin;
  const errors: string[] = [];
  const strays: string[] = [];
  const context = page.context();
  const asked = (request: Request) => {
    const url = new URL(request.url());
    if (url.origin !== origin && url.protocol !== 'data:' && url.protocol !== 'blob:') strays.push(request.url());
  };
  const said = (message: ConsoleMessage) => {
    if (message.type() === 'error') errors.push(message.text());
  };
  const threw = (error: Error) => void errors.push(`uncaught: ${error.message}`);
  context.on('request', asked);
  page.on('console', said).on('pageerror', threw);
  onTestFailed(() => tell(errors));
  const visit: Visit = {
    page, errors, strays,
    close: async () => {
      open.delete(visit);
      context.off('request', asked);
      page.off('console', said).off('pageerror', threw);
      await close();
    },
  };
  open.add(visit);
  return visit;
}

/** A page in a context of its own, which does without what no test looks at. */
async function newPage({ pixels = false, bench = false, ...options }: VisitOptions): Promise<Page> {
  if (!browser) throw new Error('shareBrowser() must be called at the top of the test file');
  // Without service workers, whose requests no page hears of; the offline test asks for them.
  const context = await browser.newContext({ viewport: VIEWPORT, serviceWorkers: 'block', ...options });
  if (!pixels) await context.addInitScript(drawBlind);
  if (!bench) await context.addInitScript(benchUnanswered);
  const page = await context.newPage();
  page.setDefaultTimeout(HANGS);
  return page;
}

/** A fresh page with its own storage, not yet at any address. */
export async function newVisit(options: VisitOptions = {}): Promise<Visit> {
  const page = await newPage(options);
  return visitOf(page, () => page.context().close());
}

/**
 * Pages that `openViewer` was done with, by what it was asked for, the last used last: emptied of all that is kept, and
 * taken for the next visit that asks for the same. Scripts compiled before serve again, a third of what a visit costs.
 */
const idle: { readonly asked: string; readonly page: Page }[] = [];
const MOST_IDLE = 4;

/** Leaves a page as a new one is, but for its process: one tab, no permission, nothing kept. */
async function empty(page: Page): Promise<void> {
  const context = page.context();
  for (const other of context.pages()) if (other !== page) await other.close();
  await context.clearPermissions();
  await page.unrouteAll({ behavior: 'ignoreErrors' });
  // A text of the same origin: no script of the page's runs there, and its storage can be reached.
  await page.goto(new URL('notices.txt', inject('origin')).href);
  await page.mouse.move(-9, -9);
  await page.evaluate(async () => {
    localStorage.clear();
    sessionStorage.clear();
    for (const { name = '' } of await indexedDB.databases()) {
      await new Promise((done, fail) => Object.assign(indexedDB.deleteDatabase(name), { onsuccess: done, onerror: fail }));
    }
  });
}

async function giveBack(asked: string, page: Page): Promise<void> {
  // Closed by the test, or with a worker's caches: not to be used again.
  if (page.isClosed() || /serviceWorkers/.test(asked)) return page.context().close();
  await empty(page);
  idle.push({ asked, page });
  if (idle.length > MOST_IDLE) await idle.shift()?.page.context().close();
}

/** A page with nothing kept on the built viewer (`path` is relative to its address), loaded. */
export async function openViewer(path = '', options: VisitOptions = {}): Promise<Visit> {
  const asked = JSON.stringify(options);
  const at = idle.findIndex((one) => one.asked === asked);
  const page = at < 0 ? await newPage(options) : idle.splice(at, 1)[0].page;
  if (at >= 0) await page.setViewportSize(options.viewport ?? VIEWPORT);
  const visit = visitOf(page, () => giveBack(asked, page));
  await page.goto(new URL(path, inject('origin')).href, { waitUntil: 'load' });
  return visit;
}

/** Fails when the visit has seen an error in the console or a request off the page's own origin. */
export function expectClean(visit: Visit): void {
  expect(visit.errors).toEqual([]);
  expect(visit.strays).toEqual([]);
}
