/** What a browser test needs: a page on the built viewer that notes every error and every stray request. */
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect, inject, onTestFailed } from 'vitest';

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
  /** The stage's pixels are looked at: else all is prepared for them, and nothing drawn. */
  readonly pixels?: boolean;
  /** What the bench's thread makes is looked at: else it never answers, as on a very slow machine. */
  readonly bench?: boolean;
}

/** After this a page hangs, ms: far past what any takes on a busy machine, and less than a test's own limit, so that it is told what was waited for. */
const HANGS = 300_000;

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

/** In the page: drawing calls that do nothing. Shaders, buffers, camera and frames are as ever. */
function drawNothing(): void {
  const none = () => undefined;
  Object.assign(WebGL2RenderingContext.prototype, { drawElements: none, drawArrays: none, drawElementsInstanced: none, drawArraysInstanced: none });
}

/** In the page: a stand-in for the bench's thread. */
function benchUnanswered(): void {
  const silent = () => Object.assign(new EventTarget(), { postMessage: () => undefined, terminate: () => undefined });
  window.Worker = new Proxy(Worker, { construct: (thread, given: [string | URL]) => (/bench\.worker/.test(String(given[0])) ? silent() : Reflect.construct(thread, given)) });
}

/** A fresh page with its own storage, not yet at any address. */
export async function newVisit({ pixels = false, bench = false, ...options }: VisitOptions = {}): Promise<Visit> {
  if (!browser) throw new Error('shareBrowser() must be called at the top of the test file');
  const origin = new URL(inject('origin')).origin;
  // Without service workers, whose requests no page hears of; the offline test asks for them.
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 }, serviceWorkers: 'block', ...options });
  const errors: string[] = [];
  const strays: string[] = [];
  context.on('request', (request) => {
    const url = new URL(request.url());
    if (url.origin !== origin && url.protocol !== 'data:' && url.protocol !== 'blob:') strays.push(request.url());
  });
  if (!pixels) await context.addInitScript(drawNothing);
  if (!bench) await context.addInitScript(benchUnanswered);
  const page = await context.newPage();
  page.on('console', (message) => {
    if (message.type() === 'error') errors.push(message.text());
  });
  page.on('pageerror', (error) => errors.push(`uncaught: ${error.message}`));
  page.setDefaultTimeout(HANGS);
  onTestFailed(() => tell(errors));
  const visit: Visit = {
    page, errors, strays,
    close: async () => {
      open.delete(visit);
      await context.close();
    },
  };
  open.add(visit);
  return visit;
}

/** A fresh page on the built viewer (`path` is relative to its address), loaded. */
export async function openViewer(path = '', options: VisitOptions = {}): Promise<Visit> {
  const visit = await newVisit(options);
  await visit.page.goto(new URL(path, inject('origin')).href, { waitUntil: 'load' });
  return visit;
}

/** Fails when the visit has seen an error in the console or a request off the page's own origin. */
export function expectClean(visit: Visit): void {
  expect(visit.errors).toEqual([]);
  expect(visit.strays).toEqual([]);
}
