/** A board in a link: shared on one machine, opened on another; broken links leave the open board alone. */
import decodeQR from 'qr/decode.js';
import { PNG } from 'pngjs';
import type { Page } from 'playwright-core';
import { describe, expect, inject, test } from 'vitest';
import { readDesign } from '../../geometry/design/read';
import { writeDesign } from '../../geometry/design/write';
import { planBoard } from '../../geometry/plan';
import { planBending } from '../../geometry/parts/bending';
import { workSteps } from '../../geometry/parts/work';
import { boardLink, readLink } from '../../src/link/boardLink';
import { firstBoard } from '../../src/state/starters';
import { boardName, boardPage, cursor, FIRST_BOARD, openRoom, openSeed, seedDesign, seedText, settle, visitBoard } from './board';
import { expectClean, shareBrowser, type Visit } from './harness';

shareBrowser();

const child = seedDesign('child-155');
const link = (s: number, step?: number) => boardLink(child, s, '', step).href;

const atBoard = boardPage();

/** The page that the tests share, its address then changed to a link. */
async function atLink(hash: string): Promise<Visit> {
  const visit = await atBoard();
  await visit.page.evaluate((to) => {
    location.hash = to;
  }, hash);
  return visit;
}

/** The file of the open board as the shelf holds it. Throws where that cannot be read. */
async function inHand(page: Page): Promise<string> {
  const read = readDesign(await onShelf(page));
  if (!read.ok) throw new Error(JSON.stringify(read.errors));
  return writeDesign(read.design);
}

/** What the shelf holds of the open board. */
const onShelf = (page: Page): Promise<string> =>
  page.evaluate(() => new Promise<string>((resolve, reject) => {
    const open = indexedDB.open('railwright');
    open.onerror = () => reject(open.error);
    open.onsuccess = () => {
      const get = open.result.transaction('boards').objectStore('boards').get(sessionStorage.getItem('railwright-tab') ?? '');
      get.onsuccess = () => {
        resolve((get.result as { text: string }).text);
        open.result.close();
      };
    };
  }));

describe('opening a link', () => {
  test('brings the board, byte for byte, at its station, onto the shelf beside the board before', async () => {
    const visit = await atBoard();
    const { page } = visit;
    const before = await boardName(page);
    await page.goto(new URL(link(412.5), inject('origin')).href);
    await page.waitForFunction((name) => window.railwright?.state()?.board === name, child.name);
    await settle(page);
    expect(await cursor(page)).toBe(412.5);
    expect(await inHand(page)).toBe(seedText('child-155'));
    expect(page.url()).not.toContain('board=');
    await openRoom(page, 'Boards');
    await page.getByRole('button', { name: `Delete ${before}` }).waitFor();
    expectClean(visit);
  });

  test('twice brings the same board to hand again, not a second one; a reload keeps it', async () => {
    const visit = await atLink(link(400));
    const { page } = visit;
    await page.waitForFunction((name) => window.railwright?.state()?.board === name, child.name);
    await openSeed(page, 'long-275');
    await page.evaluate((hash) => {
      location.hash = hash;
    }, link(500));
    await page.waitForFunction((name) => window.railwright?.state()?.board === name, child.name);
    await settle(page);
    expect(await cursor(page)).toBe(500);
    await openRoom(page, 'Boards');
    const list = page.getByRole('group', { name: 'My boards' }).getByRole('listitem');
    await expect.poll(() => list.count()).toBeGreaterThan(1);
    expect(await list.filter({ hasText: child.name }).count()).toBe(1);
    await page.reload();
    await page.waitForFunction((name) => window.railwright?.state()?.board === name, child.name);
    expectClean(visit);
  });

  test('at a step opens the build there', async () => {
    const plan = planBoard(child);
    const step = workSteps(plan, planBending(plan)).find(({ title }) => title === 'Spacer rows');
    const visit = await visitBoard(link(400, step?.index ?? Number.NaN));
    const { page } = visit;
    expect(await boardName(page)).toBe(child.name);
    await page.getByRole('heading', { name: 'Spacer rows' }).waitFor();
    expectClean(visit);
  });
});

describe('a broken or hostile link', () => {
  const good = link(400);
  const wide = JSON.parse(writeDesign(child));
  wide.rail.stripWidth = 9000;
  const cases: readonly (readonly [string, string, readonly string[]])[] = [
    ['cut short', good.slice(0, 200), ['board', 'copy the whole link']],
    ['of another make', '#board=9AAAA', ['board', 'newer Railwright']],
    ['with script in it', '#board=%3Cimg%20src%3Dx%20onerror%3Dalert(1)%3E', ['board', '<img src=x']],
    ['to no place', `${good.replace('s=400', 's=-7')}`, ['s', '-7', '0 to 20000 mm']],
    ['to a step there is none of', '#step=0', ['step', '1 to 99']],
  ];

  // The first on a page of its own, as one meets it who follows a link; the others while a board is open.
  test.each(cases)('%s shows its error and keeps the board', async (_, hash, says) => {
    const first = hash === cases[0][1];
    const visit = first ? await visitBoard(hash) : await atLink(hash);
    const { page } = visit;
    const notice = page.getByRole('alertdialog');
    await notice.waitFor();
    const told = (await notice.textContent()) ?? '';
    for (const word of says) expect(told).toContain(word);
    expect(await boardName(page)).toBe(first ? firstBoard().name : seedDesign(FIRST_BOARD).name);
    expect(await page.locator('.FileNoticeOpen_notice img').count()).toBe(0);
    await notice.getByRole('button', { name: 'Close', exact: true }).click();
    expectClean(visit);
  });

  test('past the rail or the last step says what there is', async () => {
    const visit = await atLink(link(9000, 77));
    const { page } = visit;
    await page.getByRole('alertdialog').waitFor();
    expect(await page.getByRole('alertdialog').textContent()).toMatch(/9000 mm.*0 to \d+\.\d mm/);
    expect(await page.locator('.build [role="alert"]').textContent()).toMatch(/no step 77: .* 1 to 18/);
    expectClean(visit);
  });
});

describe('the share panel', () => {
  test('shows a code that a reader reads, and copies the link', async () => {
    const visit = await atLink(link(412.5));
    const { page } = visit;
    await page.context().grantPermissions(['clipboard-read', 'clipboard-write']);
    await page.waitForFunction(() => window.railwright?.state()?.s === 412.5);
    await openRoom(page, 'Share');
    const code = page.locator('.share svg');
    const picture = PNG.sync.read(await code.screenshot({ scale: 'css' }));
    const seen = decodeQR({ width: picture.width, height: picture.height, data: picture.data });
    const read = readLink(new URL(seen).hash);
    expect(read.ok && read.s).toBe(412.5);
    expect(read.ok && read.design).toEqual(child);
    await page.getByRole('button', { name: 'Copy link' }).click();
    await page.getByText('Copied.').waitFor();
    expect(await page.evaluate(() => navigator.clipboard.readText())).toBe(seen);
    expectClean(visit);
  });

  test('says when the link is too long for a code, and for a link', async () => {
    const visit = await atBoard();
    const { page } = visit;
    const open = async (timbers: number) => {
      // Letters by a small linear congruence, which do not pack.
      let state = 7;
      const letter = () => {
        state = (state * 1_103_515_245 + 12_345) % 2 ** 31;
        return String.fromCharCode(97 + (Math.floor(state / 65_536) % 26));
      };
      const species = Array.from({ length: timbers }, (_, i) => ({
        id: `own-${i}`, name: `Timber ${i}`, note: Array.from({ length: 390 }, letter).join(''), density: 300 + i, moe: 5000, mor: 40, dryLimit: 0.006, steamLimit: 0.02,
      }));
      const board = JSON.parse(seedText('child-155'));
      board.timber.species = species;
      await openRoom(page, 'Boards');
      await page.getByTestId('board-file').setInputFiles({ name: 'long.board.json', mimeType: 'application/json', buffer: Buffer.from(JSON.stringify(board)) });
      await settle(page);
      await openRoom(page, 'Share');
    };
    await open(12);
    await page.getByText(/No code: the link has \d+ characters, and a QR code holds 2953/).waitFor();
    await page.getByRole('button', { name: 'Copy link' }).waitFor();
    await open(40);
    await page.getByText(/No link: it would have \d+ characters, and only 8000/).waitFor();
    expect(await page.getByRole('button', { name: 'Copy link' }).count()).toBe(0);
    expectClean(visit);
  });

  test('takes an address for the phone, refuses what is none, and keeps it', async () => {
    const visit = await atBoard();
    const { page } = visit;
    await openRoom(page, 'Share');
    const field = page.getByLabel('Address of this page');
    await page.getByText('Only this machine knows this name').waitFor();
    await field.fill('javascript:alert(1)');
    await field.press('Enter');
    expect(await page.locator('.share [role="alert"]').textContent()).toContain('http:// or https://');
    await field.fill('https://boats.example/rail/');
    await field.press('Enter');
    expect(await page.getByLabel('The link').inputValue()).toMatch(/^https:\/\/boats\.example\/rail\/#board=2/);
    await page.reload();
    await settle(page);
    await openRoom(page, 'Share');
    expect(await field.inputValue()).toBe('https://boats.example/rail/');
    expectClean(visit);
  });
});
