/** What is typed is never guessed. */
import { expect, test } from 'vitest';
import { planBoard } from '../../geometry/plan';
import { stopsOf } from '../../geometry/rail/laid';
import { cursor, FIRST_BOARD, openRoom, seedDesign, settle, visitBoard } from './board';
import { expectClean, shareBrowser } from './harness';

shareBrowser();

test('a comma with three digits behind it is asked about, in every kind of field', async () => {
  const visit = await visitBoard();
  const { page } = visit;
  const station = page.getByLabel('Station from tail', { exact: true });
  const before = await cursor(page);
  await station.fill('1,234');
  await station.press('Enter');
  await page.getByText('“1,234” can be read two ways.').waitFor();
  expect(await cursor(page)).toBe(before);
  await page.getByRole('button', { name: '1234', exact: true }).click();
  expect(await station.inputValue()).toBe('1234.0');
  expect(await page.locator('[data-comma]').count()).toBe(0);
  // A comma with fewer or more digits behind it is a decimal sign.
  await station.fill('1000,5');
  await station.press('Enter');
  expect(await station.inputValue()).toBe('1000.5');

  await openRoom(page, 'Sizes');
  const width = page.getByRole('textbox', { name: 'Strip width', exact: true });
  await width.fill('12,500');
  await width.press('Tab');
  await page.getByText('“12,500” can be read two ways.').waitFor();
  expect(await width.inputValue()).toBe('12,500');
  await page.getByRole('button', { name: '12.500', exact: true }).click();
  await settle(page);
  expect(await width.inputValue()).toBe('12.5');

  // A size is shown as it is typed, with the earlier rail behind it; Escape gives it up, and no step is made until Enter.
  const undo = page.getByRole('button', { name: 'Undo' });
  const stops = () => page.evaluate(() => window.railwright?.state()?.stops ?? []);
  const height = page.getByRole('textbox', { name: 'Spacer height', exact: true });
  const [kept, steps] = [await stops(), await undo.getAttribute('title')];
  // Since the drawer opened the strips have become wider.
  const first = seedDesign(FIRST_BOARD);
  const [was, then] = [first, { ...first, rail: { ...first.rail, stripWidth: 12.5, spacerHeight: 7 } }].map((one) => stopsOf(planBoard(one).rail));
  await height.fill('7');
  await settle(page);
  await expect.poll(stops).toEqual(then.map(({ s }) => expect.closeTo(s, 3)));
  const moved = was.filter((stop) => then.every(({ row, end, s }) => row !== stop.row || end !== stop.end || Math.abs(s - stop.s) > 0.5));
  expect(await page.locator('[data-earlier]').getAttribute('data-earlier')).toBe(String(moved.length));
  expect(moved.length).toBeGreaterThan(2);
  expect(await undo.getAttribute('title')).toBe(steps);
  await height.press('Escape');
  await settle(page);
  await expect.poll(stops).toEqual(kept);

  await openRoom(page, 'As built');
  const depth = page.getByLabel('Depth', { exact: true });
  await depth.fill('27,125');
  await depth.press('Enter');
  // One way is out of range, which is told as ever; Escape gives up.
  await page.getByRole('button', { name: '27125', exact: true }).click();
  await page.getByText(/is not a size for this/).waitFor();
  expect(await depth.inputValue()).toBe('27125');
  await depth.press('Escape');
  expect(await depth.inputValue()).toBe('');
  expectClean(visit);
});
