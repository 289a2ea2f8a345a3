/** Nothing lost: undo to the byte, a killed tab, two tabs on one board, snapshots. */
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { expectClean, openViewer, shareBrowser } from './harness';

shareBrowser();

const settled = (page: Page) => page.waitForFunction(() => window.railwright?.state()?.busy === false);

/** The board's text as the shelf holds it: what a tab that opens now would find. */
const onShelf = (page: Page, name: string): Promise<string[]> =>
  page.evaluate(
    (wanted) =>
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
  await page.getByRole('button', { name: 'Sizes', exact: true }).click();
}

const keptBytes = async (page: Page, name: string, test: (text: string) => boolean): Promise<string> => {
  let hit: string | undefined;
  await expect.poll(async () => {
    hit = (await onShelf(page, name)).find(test);
    return hit !== undefined;
  }).toBe(true);
  return hit ?? '';
};

test('a hundred changes are undone to the byte, and redone', async () => {
  // A small page: three hundred pictures by software are drawn here.
  const visit = await openViewer('', { reducedMotion: 'reduce', viewport: { width: 1024, height: 420 } });
  const { page } = visit;
  await settled(page);
  const name = await boardName(page);
  const before = await keptBytes(page, name, () => true);
  await openSizes(page);
  const width = (text: string) => (JSON.parse(text) as { rail: { stripWidth: number } }).rail.stripWidth;
  for (let i = 1; i <= 100; i++) await typeSize(page, 'Strip width', (12 + i / 100).toFixed(2));
  const after = await keptBytes(page, name, (text) => Math.abs(width(text) - 13) < 1e-9);
  expect(after).not.toBe(before);
  // Away from the field, whose own undo the keys would otherwise be.
  await page.getByRole('heading', { name: 'Railwright' }).click();
  for (let i = 0; i < 100; i++) await page.keyboard.press('Control+z');
  await keptBytes(page, name, (text) => text === before);
  expect(await page.getByRole('button', { name: 'Undo' }).isDisabled()).toBe(true);
  for (let i = 0; i < 100; i++) await page.keyboard.press('Control+Shift+z');
  await keptBytes(page, name, (text) => text === after);
  expectClean(visit);
});

test('a board being changed when the page is killed comes back', async () => {
  const visit = await openViewer('', { reducedMotion: 'reduce' });
  const { page } = visit;
  await settled(page);
  const name = await boardName(page);
  await openSizes(page);
  await typeSize(page, 'Strip width', '13.7');
  await keptBytes(page, name, (text) => text.includes('"stripWidth": 13.7'));
  const context = page.context();
  // No farewell: the page is closed without running its own handlers.
  await page.close({ runBeforeUnload: false });
  const again = await context.newPage();
  await again.goto(page.url());
  await settled(again);
  await openSizes(again);
  expect(await again.getByRole('textbox', { name: 'Strip width', exact: true }).inputValue()).toBe('13.7');
});

test('two tabs on one board do not write over each other', async () => {
  const visit = await openViewer('', { reducedMotion: 'reduce' });
  const { page } = visit;
  await settled(page);
  const name = await boardName(page);
  await keptBytes(page, name, () => true);
  const other = await page.context().newPage();
  await other.goto(page.url());
  await settled(other);
  await other.getByRole('button', { name: 'Shelf', exact: true }).click();
  await other.getByText('open in another tab').waitFor();
  await openSizes(other);
  await typeSize(other, 'Strip width', '14.1');
  await openSizes(page);
  await typeSize(page, 'Strip width', '10.9');
  await keptBytes(page, name, (text) => text.includes('"stripWidth": 14.1'));
  await keptBytes(page, name, (text) => text.includes('"stripWidth": 10.9'));
  expect(await onShelf(page, name)).toHaveLength(2);
});

test('a snapshot brings the board back as it was, and can be undone', async () => {
  const visit = await openViewer('', { reducedMotion: 'reduce' });
  const { page } = visit;
  await settled(page);
  const name = await boardName(page);
  const before = await keptBytes(page, name, () => true);
  await page.getByRole('button', { name: 'Shelf', exact: true }).click();
  await page.getByRole('textbox', { name: 'Name of the snapshot' }).fill('first thoughts');
  await page.getByRole('button', { name: 'Save snapshot' }).click();
  await page.getByText('first thoughts').waitFor();
  await openSizes(page);
  await typeSize(page, 'Strip width', '13');
  const changed = await keptBytes(page, name, (text) => text !== before);
  await page.getByRole('button', { name: 'Shelf', exact: true }).click();
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
  await keptBytes(page, first, (text) => text.includes('"stripWidth": 12.6'));
  const starters = page.getByRole('combobox', { name: 'Board' });
  const names = await starters.locator('option').allTextContents();
  const second = names.find((n) => n !== first);
  if (second === undefined) throw new Error('only one board to choose');
  await starters.selectOption({ label: second });
  await page.waitForFunction((wanted) => window.railwright?.state()?.board === wanted, second);
  expect((await onShelf(page, first))[0]).toContain('"stripWidth": 12.6');
  await page.getByRole('button', { name: 'Shelf', exact: true }).click();
  await page.getByRole('button', { name: `Open ${first}`, exact: true }).click();
  await page.waitForFunction((wanted) => window.railwright?.state()?.board === wanted, first);
  await openSizes(page);
  expect(await page.getByRole('textbox', { name: 'Strip width', exact: true }).inputValue()).toBe('12.6');
  expectClean(visit);
});
