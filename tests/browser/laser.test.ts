/** The laser's files as a maker and a shop have them: the test piece's findings, and the shop's own names and colours. */
import { expect, test } from 'vitest';
import { testPieces } from '../../geometry/frame/testPiece';
import { benchPage, downloaded, settleBench as settle, turnTo } from './benchPage';
import { seedDesign, typePlace } from './board';
import { expectClean, shareBrowser } from './harness';

shareBrowser();

const BOARD = 'long-275';
const openBench = benchPage(BOARD);

test('what a test piece tells goes into the board, and the laser’s files are as the shop wants them', async () => {
  const visit = await openBench();
  const { page } = visit;
  await turnTo(page, 'Frames');
  const section = page.getByRole('region', { name: 'Test piece' });
  await typePlace(page, 'The square hole, across', '30,11');
  await typePlace(page, 'The square that fell out, across', '29,69');
  await section.getByText('The kerf is 0.21 mm').waitFor();
  const notch = section.getByLabel(/^Notch that an offcut is pushed into by hand/);
  await notch.selectOption('E');
  const { kerf: entered } = seedDesign(BOARD).frames;
  const [piece] = testPieces(seedDesign(BOARD));
  const fit = (piece.notches.find(({ letter }) => letter === 'E')?.fit ?? Number.NaN) + 30.11 - piece.square;
  await section.getByText(`The half-lap clearance is ${fit.toFixed(2)} mm`).waitFor();
  await section.getByRole('button', { name: 'Take these into the board' }).click();
  await section.getByText('They are in the board.').waitFor();
  await settle(page);
  // Taken once: the fields are empty, and the piece keeps its meaning.
  expect(await section.getByLabel('The square hole, across').inputValue()).toBe('');
  expect(await section.getByRole('button', { name: 'Take these into the board' }).isDisabled()).toBe(true);
  await turnTo(page, 'Buy');
  expect(await page.getByLabel('Laser kerf', { exact: true }).inputValue()).toBe('0.21');
  expect(Number(await page.getByLabel('Half-lap clearance', { exact: true }).inputValue())).toBeCloseTo(fit, 4);
  await page.keyboard.press('Control+z');
  await expect.poll(() => page.getByLabel('Laser kerf', { exact: true }).inputValue()).toBe(String(entered));
  await settle(page);

  await turnTo(page, 'Frames');
  const shop = page.getByRole('region', { name: 'Shop profile' });
  const name = shop.getByLabel('Cut through: layer', { exact: true });
  await name.fill('score');
  await name.press('Enter');
  await expect.poll(() => shop.getByRole('alert').textContent()).toContain('each layer a name of its own');
  await name.fill('through');
  await name.press('Enter');
  await shop.getByLabel('Cut through: colour').selectOption('red');
  await page.getByRole('button', { name: 'All papers' }).click();
  const { bytes } = await downloaded(page, () => page.locator('[data-paper="sheet-1.svg"]').getByRole('button', { name: /^Download / }).click());
  expect(new TextDecoder().decode(bytes)).toMatch(/<g id="through" fill="none" stroke="#ff0000"/);
  await turnTo(page, 'Frames');
  await shop.getByRole('button', { name: 'As it comes' }).click();
  expect(await name.inputValue()).toBe('cut');
  expectClean(visit);
});
