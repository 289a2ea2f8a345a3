/** What many browser tests do with a board: open the page at a link, wait until it is planned and drawn, open a panel. */
import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { readDesign } from '../../geometry/design/read';
import type { Design } from '../../geometry/design/schema';
import { writeDesign } from '../../geometry/design/write';
import { planBoard } from '../../geometry/plan';
import type { Plan } from '../../geometry/types';
import { boardLink } from '../../src/link/boardLink';
import { onePage, openViewer, type Visit, type VisitOptions } from './harness';

/** A phone, as the test library describes one. */
export const PHONE = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true } as const;

/** The board of the tests that a page opens with, unless asked for another. */
export const FIRST_BOARD = 'round-tail-175';

/** The file of a board of the tests. */
export const seedText = (id: string): string => readFileSync(new URL(`../boards/${id}.board.json`, import.meta.url), 'utf8');

/** A board of the tests, read. Throws where it does not read. */
export function seedDesign(id: string): Design {
  const read = readDesign(seedText(id));
  if (!read.ok) throw new Error(`seed ${id} does not read`);
  return read.design;
}

export const seedPlan = (id: string): Plan => planBoard(seedDesign(id));

/** Until no plan is under way and two frames have been drawn since. */
export async function settle(page: Page): Promise<void> {
  await page.waitForFunction(() => window.railwright?.state()?.busy === false);
  await page.evaluate(
    () => new Promise<void>((done) => requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(done, 60)))),
  );
}

/** The page with a board of the tests in its address, unless the address part (`#step=3`) has one; its first picture drawn, without motion unless asked for. */
export async function visitBoard(path = '', options: VisitOptions = {}, seed = FIRST_BOARD): Promise<Visit> {
  const address = path.includes('board=') ? path : boardLink(seedDesign(seed), Number.NaN, '').href + path.replace('#', '&');
  const visit = await openViewer(address, { viewport: { width: 1440, height: 900 }, reducedMotion: 'reduce', colorScheme: 'light', ...options });
  await visit.page.locator('canvas[data-drawn]').waitFor();
  await settle(visit.page);
  return visit;
}

/** Opens a panel by its tab. */
export const openPanel = (page: Page, name: string): Promise<void> =>
  page.getByRole('navigation', { name: 'Panels' }).getByRole('button', { name: new RegExp(`^${name}`) }).click();

export const cursor = (page: Page): Promise<number> => page.evaluate(() => window.railwright?.state()?.s ?? Number.NaN);
export const boardName = (page: Page): Promise<string> => page.evaluate(() => window.railwright?.state()?.board ?? '');

/** Where a page began. */
interface Home {
  readonly page: Page;
  readonly seed: string;
  readonly name: string;
  readonly s: number;
}

/** Opens a board of the tests from its file, as a board of its own. */
export async function openSeed(page: Page, seed: string): Promise<void> {
  const buffer = Buffer.from(writeDesign(seedDesign(seed)));
  await page.getByTestId('board-file').setInputFiles({ name: `${seed}.board.json`, mimeType: 'application/json', buffer });
  await page.waitForFunction((name) => window.railwright?.state()?.board === name, seedDesign(seed).name);
  await settle(page);
}

/** Brings a page back to where it began: its board with nothing to undo, no panel open, the cursor at its place. The view and its layers stay. */
async function goHome({ page, seed, name, s }: Home): Promise<void> {
  await openPanel(page, 'Station');
  // By key: a phone has no button to see.
  while (await page.locator('[aria-label="Undo"]').isEnabled()) await page.keyboard.press('Control+z');
  if ((await boardName(page)) !== name) await openSeed(page, seed);
  await page.evaluate((hash) => {
    location.hash = hash;
  }, `#s=${s}`);
  await page.waitForFunction((run) => window.railwright?.state()?.s === run, s);
  await page.evaluate(() => history.replaceState(null, '', location.pathname));
  await settle(page);
}

/** A board of the tests on one page for those tests of a file that change nothing but what `goHome` puts back: see `onePage`. */
export function boardPage(options: VisitOptions = {}, seed = FIRST_BOARD): () => Promise<Visit> {
  let home: Home | undefined;
  const page = onePage(() => visitBoard('', options, seed));
  return async () => {
    const visit = await page();
    if (home?.page === visit.page) await goHome(home);
    else home = { page: visit.page, seed, name: await boardName(visit.page), s: await cursor(visit.page) };
    return visit;
  };
}
