/** Nothing lost: undo to the byte, a killed tab, two tabs on one board, snapshots. */
import type { Page } from 'playwright-core';
import { expect, inject, test } from 'vitest';
import { openRoom } from './board';
import { expectClean, newVisit, openViewer, shareBrowser } from './harness';

shareBrowser();

const settled = (page: Page) => page.waitForFunction(() => window.railwright?.state()?.busy === false);

/** The board's text as the shelf holds it: what a tab that opens now would find. A shelf that the page has not made yet is not made here. */
const onShelf = (page: Page, name: string): Promise<string[]> =>
  page.evaluate(
    async (wanted) => (await indexedDB.databases()).length === 0 ? [] :
    new Promise<string[]>((resolve, reject) => {
      const open = indexedDB.open('railwright');
      open.onerror = () => reject(open.error);
      open.onsuccess = () => {
        const all = open.result.transaction('boards').objectStore('boards').getAll();
        all.onsuccess = () => {
          resolve((all.result as { name: string; text: string }[]).filter((b) => b.name === wanted).map((b) => b.text));
          open.result.close();
        };
      };
    }),
    name,
  );

const boardName = async (page: Page) => (await page.evaluate(() => window.railwright?.state()?.board)) ?? '';

/** Types into a field of the sizes panel and leaves it. */
async function typeSize(page: Page, label: string, value: string): Promise<void> {
  const field = page.getByRole('textbox', { name: label, exact: true });
  await field.fill(value);
  await field.press('Tab');
}

async function openSizes(page: Page): Promise<void> {
  await openRoom(page, 'Sizes');
}

const keptBytes = async (page: Page, name: string, test: (text: string) => boolean): Promise<string> => {
  let hit: string | undefined;
  await expect.poll(async () => {
    hit = (await onShelf(page, name)).find(test);
    return hit !== undefined;
  }).toBe(true);
  return hit ?? '';
};

test('changes are undone to the byte by keys, and redone (a hundred of them: tests/viewer/keep.test.ts)', async () => {
  const visit = await openViewer('', { reducedMotion: 'reduce' });
  const { page } = visit;
  await settled(page);
  const name = await boardName(page);
  const before = await keptBytes(page, name, () => true);
  await openSizes(page);
  const width = (text: string) => (JSON.parse(text) as { rail: { stripWidth: number } }).rail.stripWidth;
  for (let i = 1; i <= 8; i++) await typeSize(page, 'Strip width', (15 + i / 8).toFixed(3));
  const after = await keptBytes(page, name, (text) => Math.abs(width(text) - 16) < 1e-9);
  expect(after).not.toBe(before);
  // Away from the field, whose own undo the keys would otherwise be.
  await page.getByRole('heading', { name: 'Railwright' }).click();
  for (let i = 0; i < 8; i++) await page.keyboard.press('Control+z');
  await keptBytes(page, name, (text) => text === before);
  expect(await page.getByRole('button', { name: 'Undo' }).isDisabled()).toBe(true);
  for (let i = 0; i < 8; i++) await page.keyboard.press('Control+Shift+z');
  await keptBytes(page, name, (text) => text === after);
  expectClean(visit);
});

test('a board being changed when the page is loaded again or killed comes back, with what was typed and not left', async () => {
  const visit = await openViewer('', { reducedMotion: 'reduce' });
  const { page } = visit;
  await settled(page);
  const name = await boardName(page);
  await openSizes(page);
  await typeSize(page, 'Strip width', '13.7');
  await keptBytes(page, name, (text) => text.includes('"stripWidth":13.7'));
  // Typed and not left yet, and the page is loaded again.
  await page.getByRole('textbox', { name: 'Strip width', exact: true }).fill('13.9');
  await page.reload();
  await settled(page);
  await openSizes(page);
  expect(await page.getByRole('textbox', { name: 'Strip width', exact: true }).inputValue()).toBe('13.9');
  await keptBytes(page, name, (text) => text.includes('"stripWidth":13.9'));
  const context = page.context();
  // No farewell: the page is closed without running its own handlers.
  await page.close({ runBeforeUnload: false });
  const again = await context.newPage();
  await again.goto(page.url());
  await settled(again);
  await openSizes(again);
  expect(await again.getByRole('textbox', { name: 'Strip width', exact: true }).inputValue()).toBe('13.9');
});

test('two tabs on one board do not write over each other', async () => {
  const visit = await openViewer('', { reducedMotion: 'reduce' });
  const { page } = visit;
  await settled(page);
  const name = await boardName(page);
  await keptBytes(page, name, () => true);
  await openRoom(page, 'As built');
  await page.getByLabel('Sole', { exact: true }).fill('5.2');
  await page.getByLabel('Sole', { exact: true }).press('Enter');
  await page.getByText('1 reading used, at 1 rib.').waitFor();
  const other = await page.context().newPage();
  await other.goto(page.url());
  await settled(other);
  await other.getByText('This tab works on a copy of its own, readings included.').waitFor();
  await openRoom(other, 'As built');
  await other.getByText('1 reading used, at 1 rib.').waitFor();
  await openRoom(other, 'Boards');
  // The board that the first tab has open cannot be deleted from here.
  other.on('dialog', (dialog) => void dialog.accept());
  await other.getByRole('button', { name: `Delete ${name}` }).click();
  await other.getByText(`${name} was not deleted: it is open in another tab.`).waitFor();
  await openSizes(other);
  await typeSize(other, 'Strip width', '14.1');
  await openSizes(page);
  await typeSize(page, 'Strip width', '10.9');
  await keptBytes(page, name, (text) => text.includes('"stripWidth":14.1'));
  await keptBytes(page, name, (text) => text.includes('"stripWidth":10.9'));
  expect(await onShelf(page, name)).toHaveLength(2);
  // Cleared under both, the shelf gets both boards and both records of readings again.
  await page.evaluate(() => new Promise((done, fail) => Object.assign(indexedDB.deleteDatabase('railwright'), { onsuccess: done, onerror: fail })));
  await keptBytes(page, name, (text) => text.includes('"stripWidth":14.1'));
  await keptBytes(page, name, (text) => text.includes('"stripWidth":10.9'));
  await expect.poll(() => page.evaluate(() => new Promise((done) => {
    const open = indexedDB.open('railwright');
    open.onsuccess = () => {
      const count = open.result.transaction('readings').objectStore('readings').count();
      count.onsuccess = () => {
        done(count.result);
        open.result.close();
      };
    };
  }))).toBe(2);
});

test('a browser that refuses nearly everything: the page opens, says what is not kept, and keeps what it can', async () => {
  const visit = await newVisit({ reducedMotion: 'reduce' });
  const { page } = visit;
  // As over plain http and with cookies blocked; and a disk that is full when the test says so.
  await page.addInitScript(() => {
    const refuse = () => {
      throw new DOMException('The operation is insecure.', 'SecurityError');
    };
    Object.defineProperty(window, 'localStorage', { get: refuse });
    Object.defineProperty(window, 'sessionStorage', { get: refuse });
    Object.defineProperty(Crypto.prototype, 'randomUUID', { value: undefined });
    Reflect.deleteProperty(Navigator.prototype, 'locks');
    const { put } = IDBObjectStore.prototype;
    IDBObjectStore.prototype.put = function full(this: IDBObjectStore, ...given) {
      if (Reflect.get(window, 'full')) throw new DOMException('', 'QuotaExceededError');
      return put.apply(this, given);
    };
  });
  await page.goto(inject('origin'));
  await settled(page);
  await page.getByText('This page cannot tell two tabs apart here').waitFor();
  await page.getByRole('button', { name: 'Close', exact: true }).click();
  const name = await boardName(page);
  await openSizes(page);
  await typeSize(page, 'Strip width', '13.2');
  await keptBytes(page, name, (text) => text.includes('"stripWidth":13.2'));

  await page.evaluate(() => Object.assign(window, { full: true }));
  await typeSize(page, 'Strip width', '13.3');
  const alert = page.getByRole('alert').filter({ hasText: 'Your changes are not being kept: this browser has no room left.' });
  await alert.waitFor();
  // Asked before it leaves; it stays.
  const asked = page.waitForEvent('dialog');
  await page.close({ runBeforeUnload: true });
  const dialog = await asked;
  expect(dialog.type()).toBe('beforeunload');
  await dialog.dismiss();
  const download = page.waitForEvent('download');
  await page.evaluate(() => Reflect.deleteProperty(window, 'showSaveFilePicker'));
  await alert.getByRole('button', { name: 'Save to a file' }).click();
  expect((await download).suggestedFilename()).toMatch(/\.board\.json$/);
  // In one go: the page tries again by itself too, and then the button is gone before a slow hand gets there.
  await alert.getByRole('button', { name: 'Try again' }).evaluate((button: HTMLButtonElement) => {
    Object.assign(window, { full: false });
    button.click();
  });
  await alert.waitFor({ state: 'detached' });
  await keptBytes(page, name, (text) => text.includes('"stripWidth":13.3'));

  // A room whose script does not come leaves the page and the other rooms as they are.
  await page.route(/BenchRoom/, (route) => route.abort());
  await openRoom(page, 'Bench');
  const gone = page.getByRole('alert', { name: 'This room is not there' });
  await gone.waitFor();
  expect(await gone.innerText()).toMatch(/This room cannot be shown: its script could not be fetched\..*Your board is kept\./s);
  await openSizes(page);
  expect(await page.getByRole('textbox', { name: 'Strip width', exact: true }).inputValue()).toBe('13.3');
  await openRoom(page, 'Bench');
  await page.unroute(/BenchRoom/);
  await gone.getByRole('button', { name: 'Load the page again' }).click();
  await settled(page);
  await openRoom(page, 'Bench');
  await page.getByRole('region', { name: /^Bench/ }).waitFor();
  // What was not to be fetched is in the console; nothing went uncaught.
  expect(visit.errors.filter((error) => error.startsWith('uncaught'))).toEqual([]);
  expect(visit.strays).toEqual([]);
});

test('a snapshot brings the board back as it was, and can be undone', async () => {
  const visit = await openViewer('', { reducedMotion: 'reduce' });
  const { page } = visit;
  await settled(page);
  const name = await boardName(page);
  const before = await keptBytes(page, name, () => true);
  await openRoom(page, 'Boards');
  await page.getByRole('textbox', { name: 'Name of the snapshot' }).fill('first thoughts');
  await page.getByRole('button', { name: 'Take a snapshot' }).click();
  await page.getByText('first thoughts').waitFor();
  await openSizes(page);
  await typeSize(page, 'Strip width', '14');
  const changed = await keptBytes(page, name, (text) => text !== before);
  await openRoom(page, 'Boards');
  await page.getByRole('button', { name: 'Restore' }).click();
  await keptBytes(page, name, (text) => text === before);
  await page.getByRole('button', { name: 'Undo' }).click();
  await keptBytes(page, name, (text) => text === changed);
  expectClean(visit);
});

test('another board begun leaves the first on the shelf, and it can be opened again', async () => {
  const visit = await openViewer('', { reducedMotion: 'reduce' });
  const { page } = visit;
  await settled(page);
  const first = await boardName(page);
  await openSizes(page);
  await typeSize(page, 'Strip width', '12.6');
  await keptBytes(page, first, (text) => text.includes('"stripWidth":12.6'));
  await openRoom(page, 'Boards');
  await page.getByRole('group', { name: 'Starters' }).waitFor();
  const names = await page.getByRole('group', { name: 'Starters' }).locator('b').allTextContents();
  const second = names.find((n) => n !== first);
  if (second === undefined) throw new Error('only one board to choose');
  await page.getByRole('button', { name: `Begin with ${second}` }).click();
  await page.waitForFunction((wanted) => window.railwright?.state()?.board === wanted, second);
  expect((await onShelf(page, first))[0]).toContain('"stripWidth":12.6');
  await openRoom(page, 'Boards');
  await page.getByRole('button', { name: `Open ${first}` }).click();
  await page.waitForFunction((wanted) => window.railwright?.state()?.board === wanted, first);
  await openSizes(page);
  expect(await page.getByRole('textbox', { name: 'Strip width', exact: true }).inputValue()).toBe('12.6');
  expectClean(visit);
});
