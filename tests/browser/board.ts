/** What many browser tests do with a board: open the page at a link, wait until it is planned and drawn, open a panel. */
import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { readDesign } from '../../geometry/design/read';
import type { Design } from '../../geometry/design/schema';
import { writeDesign } from '../../geometry/design/write';
import { planBoard } from '../../geometry/plan';
import { ribAt, stopsAt } from '../../geometry/rail/query';
import type { Plan, RibAtRail, Stop } from '../../geometry/types';
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
  // On a phone it lies under the bench.
  await visit.page.locator('canvas[data-drawn]').waitFor({ state: 'attached' });
  await settle(visit.page);
  return visit;
}

/** The room of each drawer, and what opens it there; a drawer of no room is opened from the top bar, on a phone from its menu. */
const DRAWERS: Readonly<Record<string, { readonly room?: string; readonly buttons: readonly (string | RegExp)[]; readonly menu?: readonly (string | RegExp)[] }>> = {
  Sizes: { room: 'Plan', buttons: ['Sizes'] }, Decisions: { room: 'Plan', buttons: [/decisions?\.$|to decide\.$/] }, Spreads: { room: 'Plan', buttons: ['Spreads'] }, Layers: { room: 'Plan', buttons: ['Layers'] }, Measure: { room: 'Plan', buttons: ['Measure'] },
  'At the bench': { room: 'Plan', buttons: ['At the bench'], menu: ['At the bench'] },
  'Scale it': { room: 'Shape', buttons: ['Scale it'] }, Targets: { room: 'Shape', buttons: ['Targets'] }, 'As built': { room: 'Build', buttons: ['All readings'] },
  Words: { buttons: ['Words'], menu: ['Words'] }, Boards: { buttons: [/^Board: /], menu: [/^Another board/] }, Share: { buttons: [/^Board: /, 'Share a link'], menu: ['Share a link'] },
};

/** Every room, and every drawer, by the names that `openRoom` takes. */
export const ROOM_NAMES = ['Shape', 'Plan', 'Bench', 'Build'] as const;
export const DRAWER_NAMES: readonly string[] = Object.keys(DRAWERS);

/** Opens a room by its name, or a drawer in its room. What lies over the page is closed first. */
export async function openRoom(page: Page, name: string): Promise<void> {
  await page.keyboard.press('Escape');
  const { room = undefined, buttons = [], menu } = DRAWERS[name] ?? { room: name };
  const phone = page.locator('[data-area="top"]').getByRole('button', { name: /^Menu, / });
  const inHand = await phone.isVisible();
  const press = (button: string | RegExp) => page.getByRole('button', { name: button, ...(typeof button === 'string' ? { exact: true } : {}) }).click();
  if (inHand && (menu || room)) await phone.click();
  if (inHand && menu) {
    for (const button of menu) await page.getByRole('region', { name: 'Menu' }).getByRole('button', { name: button }).click();
    return;
  }
  if (room) await page.getByRole('navigation', { name: 'Rooms' }).getByRole('button', { name: new RegExp(`^${room}`) }).click();
  for (const button of buttons) await press(button);
}

/** Types a distance into the station card's field of that name; those asked for less stand under More. */
export async function typePlace(page: Page, name: string, text: string): Promise<void> {
  const field = page.getByLabel(name, { exact: true });
  if (!(await field.isVisible())) await page.getByRole('button', { name: /^More/ }).click();
  await field.fill(text);
  await field.press('Enter');
}

export const cursor = (page: Page): Promise<number> => page.evaluate(() => window.railwright?.state()?.s ?? Number.NaN);

/** The stop that the cursor stands at, of several the first, and the rib likewise. Both throw where it stands at none. */
export async function stopAtCursor(page: Page, plan: Plan): Promise<Stop> {
  const [stop] = stopsAt(plan, await cursor(page));
  if (!stop) throw new Error('the cursor stands at no stop');
  return stop;
}
export async function ribAtCursor(page: Page, plan: Plan): Promise<RibAtRail> {
  const rib = ribAt(plan, await cursor(page));
  if (!rib) throw new Error('the cursor stands at no rib');
  return rib;
}

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
  await openRoom(page, 'Boards');
  const buffer = Buffer.from(writeDesign(seedDesign(seed)));
  await page.getByTestId('board-file').setInputFiles({ name: `${seed}.board.json`, mimeType: 'application/json', buffer });
  await page.waitForFunction((name) => window.railwright?.state()?.board === name, seedDesign(seed).name);
  await settle(page);
}

/** Brings a page back to where it began: its board with nothing to undo, no panel open, the cursor at its place. The view and its layers stay. */
async function goHome({ page, seed, name, s }: Home): Promise<void> {
  await openRoom(page, 'Plan');
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
