/** What a browser test needs: a page on the built viewer that notes every error and every stray request. */
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect, inject, onTestFailed } from 'vitest';

export interface Visit {
  readonly page: Page;
  /** Console errors and uncaught exceptions so far. */
  readonly errors: readonly string[];
  /** Requests to any other origin so far; each was refused. */
  readonly strays: readonly string[];
}

/** Context options as the test library has them. */
export interface VisitOptions extends BrowserContextOptions {
  /**
   * For tests that look neither at the stage's pixels nor at what the bench's thread makes, which is most of what a
   * page costs: all is prepared for drawing and nothing drawn, and that thread never answers, as on a very slow machine.
   */
  readonly lean?: boolean;
}

let browser: Browser | undefined;
const closers = new Set<() => Promise<void>>();

/** Call once at the top of a test file: connects to the worker's Chromium, closes every page after each test. */
export function shareBrowser(): void {
  beforeAll(async () => {
    browser = await chromium.connect(inject('chromiums')[Number(process.env.VITEST_POOL_ID) - 1].address);
  });
  afterEach(async () => {
    for (const close of closers) await close();
    closers.clear();
  });
  afterAll(async () => {
    await browser?.close();
  });
}

/** Runs in the page before its own scripts: see `lean`. */
function beLean(): void {
  const none = () => undefined;
  Object.assign(WebGL2RenderingContext.prototype, { drawElements: none, drawArrays: none, drawElementsInstanced: none, drawArraysInstanced: none });
  const silent = () => Object.assign(new EventTarget(), { postMessage: none, terminate: none });
  window.Worker = new Proxy(Worker, { construct: (thread, given: [string | URL]) => (/bench\.worker/.test(String(given[0])) ? silent() : Reflect.construct(thread, given)) });
}

/** A fresh page with its own storage, not yet at any address. */
export async function newVisit({ lean = false, ...options }: VisitOptions = {}): Promise<Visit> {
  if (!browser) throw new Error('shareBrowser() must be called at the top of the test file');
  const origin = new URL(inject('origin')).origin;
  // Without service workers, whose requests pass by the route below; the offline test asks for them.
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 }, serviceWorkers: 'block', ...options });
  const errors: string[] = [];
  const strays: string[] = [];
  await context.route(
    (url) => url.origin !== origin && url.protocol !== 'data:' && url.protocol !== 'blob:',
    async (route) => {
      strays.push(route.request().url());
      await route.abort();
    },
  );
  if (lean) await context.addInitScript(beLean);
  const page = await context.newPage();
  page.on('console', (message) => {
    if (message.type() === 'error') errors.push(message.text());
  });
  page.on('pageerror', (error) => errors.push(`uncaught: ${error.message}`));
  page.setDefaultTimeout(60_000);
  onTestFailed(() => {
    for (const error of errors) console.error(`the page said: ${error}`);
  });
  closers.add(() => context.close());
  return { page, errors, strays };
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
