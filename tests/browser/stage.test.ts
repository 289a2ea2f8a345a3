/** What the stage draws of the bench's answers and of a size that is tried: the cap as it lies, and the rail as it was. */
import { expect, test } from 'vitest';
import { capBays, LIE_CLASSES, lieClass } from '../../src/say/lies';
import { seedBench } from '../support/papers';
import { openRoom, settle, visitBoard } from './board';
import { expectClean, shareBrowser } from './harness';
import { shareChanged, takePicture } from './picture';
import { rest } from './rooms';

shareBrowser();

/** A board whose last bay lies a millimetre off. */
const BOARD = 'paddle-305';

test('the cap is coloured by how it lies, with its key, and each bay told that lies off; a size that is tried leaves the rail as it was in dashes', async () => {
  const { parts } = await seedBench(BOARD);
  const visit = await visitBoard('', { pixels: true, bench: true }, BOARD);
  const { page } = visit;
  const stage = page.locator('canvas[data-drawn]');
  const picture = async () => {
    await rest(page);
    await settle(page);
    return takePicture(stage);
  };
  await openRoom(page, 'Layers');
  const colour = (name: string) => page.getByRole('group', { name: 'Colour of the cap' }).getByRole('button', { name, exact: true }).click();
  await colour('Timber');
  const timber = await picture();
  await colour('How it lies');
  await page.locator('main').getByText('Pulled to the rib ends alone').waitFor();
  expect(shareChanged(timber, await picture())).toBeGreaterThan(0.002);
  const bays = capBays(parts);
  const off = bays.filter(({ standOff }) => lieClass(standOff) !== LIE_CLASSES[0]);
  expect([bays.length > 4, off.length > 0, off.length < bays.length]).toEqual([true, true, true]);
  expect((await page.locator('[data-anchor^="lie-"]').allTextContents()).sort()).toEqual(off.map(({ standOff }) => `${Math.abs(standOff).toFixed(1)} ${standOff > 0 ? 'inboard' : 'outboard'}`).sort());
  expect(await page.getByRole('figure').locator('li').allInnerTexts()).toEqual(['to 0.1 mm', '0.1 mm to 0.5 mm', '0.5 mm to 1.0 mm', 'over 1.0 mm']);
  await colour('Timber');
  expect(await page.locator('[data-anchor^="lie-"]').count()).toBe(0);
  await colour('Bevel');

  await openRoom(page, 'Sizes');
  const width = page.getByRole('textbox', { name: 'Strip width', exact: true });
  await width.fill('16');
  await width.press('Enter');
  await page.getByRole('region', { name: 'What this does' }).waitFor();
  const tried = await picture();
  await page.getByRole('button', { name: 'Keep', exact: true }).click();
  // The same board: what goes are the dashes.
  const gone = shareChanged(tried, await picture());
  expect(gone).toBeGreaterThan(0.0005);
  expect(gone).toBeLessThan(0.05);
  expectClean(visit);
});
