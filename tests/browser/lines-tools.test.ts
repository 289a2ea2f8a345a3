/** The tools of Lines: fairness, compare, tables of offsets, and pictures traced over. */
import { describe, expect, test } from 'vitest';
import { readDesign } from '../../geometry/design/read';
import { readStl } from '../../src/work/bodyFiles/stl';
import { starterTexts } from '../geometry/boards';
import { oddly, stlOf } from '../support/bodies';
import { bigPng, offsetsText } from '../support/large';
import { openRoom, settle } from './board';
import { expectClean, shareBrowser } from './harness';
import { curve, handle, middle, linesPage, openLines, path, stateOf, tool, type, undo, undoAll } from './linesPage';
import { shareChanged, takePicture } from './picture';

shareBrowser();

const atLines = linesPage();

describe('fairness and compare', () => {
  test('fair this: a bump is taken out, with what moved and how far; refused it is gone, accepted one step', async () => {
    const visit = await atLines();
    const { page } = visit;
    await curve(page, 'Rocker');
    await handle(page, 'rocker-3').focus();
    await page.keyboard.press('Shift+ArrowUp');
    await tool(page, 'Fairness');
    await page.getByLabel('Curvature comb').check();
    expect(await page.locator('.sheet[data-line="rocker"] .comb .inflection').count()).toBeGreaterThan(0);
    const bumped = await path(page, 'rocker');
    await type(page, 'No point moves farther than', '8');
    await page.getByRole('button', { name: 'Try it' }).click();
    expect(await page.locator('[data-fair="moves"]').textContent()).toMatch(/points move, point \d farthest, by [\d.]+ mm\. The curve itself moves at most [\d.]+ mm/);
    expect(await path(page, 'rocker')).not.toBe(bumped);
    await page.getByRole('button', { name: 'Discard' }).click();
    expect(await path(page, 'rocker')).toBe(bumped);
    await page.getByRole('button', { name: 'Try it' }).click();
    await page.getByRole('button', { name: 'Accept' }).click();
    expect(await page.locator('.sheet[data-line="rocker"] .comb .inflection').count()).toBe(0);
    await undo(page).click();
    expect(await path(page, 'rocker')).toBe(bumped);
    expect(await undoAll(page)).toBe(1);
    expectClean(visit);
  });

  test('the earlier board as opened, and the differences in figures', async () => {
    const visit = await atLines();
    const { page } = visit;
    await tool(page, 'Compare');
    await page.getByLabel('Show the earlier board').check();
    const difference = (line: string) => page.locator(`[data-difference="${line}"] td`);
    expect(await difference('outline').first().textContent()).toBe('0.00');
    await handle(page, 'outline-4').focus();
    await page.keyboard.press('Shift+ArrowUp');
    await settle(page);
    await expect.poll(() => difference('outline').first().textContent()).toMatch(/^\+10\.\d\d$/);
    expect(await difference('rocker').first().textContent()).toBe('0.00');
    expect(await page.locator('[data-compare="Width"] td').last().textContent()).toMatch(/^\+(19|2\d)\.\d$/);
    expect(await page.locator('.lines .earlier').count()).toBeGreaterThan(0);
    expectClean(visit);
  });
});

describe('offsets', () => {
  test('the board\'s own offsets, fitted back within the tolerance, make the same stops', async () => {
    const visit = await atLines();
    const { page } = visit;
    const before = await stateOf(page);
    await tool(page, 'Offsets');
    await page.getByRole('button', { name: 'Put into the table above' }).click();
    const fit = page.locator('[data-offsets="fit"]');
    await fit.waitFor();
    for (const text of await fit.locator('tbody td:nth-child(3)').allTextContents()) expect(Number(text)).toBeLessThanOrEqual(0.25);
    await settle(page);
    const proposed = await stateOf(page);
    expect(proposed.stops.length).toBe(before.stops.length);
    await page.getByRole('button', { name: 'Accept' }).click();
    expect(await undoAll(page)).toBe(1);
    await settle(page);
    expect((await stateOf(page)).stops).toEqual(before.stops);
    expectClean(visit);
  });

  test('ten thousand pasted rows are read and fitted by another thread', async () => {
    const visit = await atLines();
    const { page } = visit;
    await page.context().grantPermissions(['clipboard-read', 'clipboard-write']);
    await tool(page, 'Offsets');
    await page.getByLabel('Table of offsets').fill('');
    await page.locator('[data-offsets="read"]').waitFor({ state: 'detached' });
    await page.evaluate((text) => navigator.clipboard.writeText(text), offsetsText(10_000));
    // What is asked of other threads is held up: the page must not read the table itself.
    await page.evaluate(() => {
      const { postMessage } = Worker.prototype;
      const asked: (() => void)[] = [];
      Worker.prototype.postMessage = function hold(this: Worker, ...given: unknown[]) {
        asked.push(() => Reflect.apply(postMessage, this, given));
      };
      const letGo = () => {
        Worker.prototype.postMessage = postMessage;
        for (const ask of asked) ask();
      };
      Object.assign(window, { asked, letGo });
    });
    await page.getByLabel('Table of offsets').focus();
    await page.keyboard.press('Control+v');
    await expect.poll(() => page.evaluate(() => (Reflect.get(window, 'asked') as unknown[]).length)).toBe(1);
    expect(await page.locator('[data-offsets="read"]').count()).toBe(0);
    await page.evaluate(() => (Reflect.get(window, 'letGo') as () => void)());
    await page.locator('[data-offsets="fit"]').waitFor();
    expect(await page.locator('[data-offsets="read"]').textContent()).toContain('10000 rows read, board of 1800 mm');
    await page.getByRole('button', { name: 'Accept' }).click();
    await settle(page);
    expect((await stateOf(page)).length).toBeCloseTo(1800, 2);
    await undo(page).click();
    expect(await undo(page).isEnabled()).toBe(false);
    expectClean(visit);
  });

  test('a table with mistakes names row, column and what may stand there, one with unclear commas asks; a file of a hostile name is only a name', async () => {
    const visit = await atLines();
    const { page } = visit;
    let before = await path(page, 'outline');
    await tool(page, 'Offsets');
    await page.getByLabel('Table of offsets').fill('station\thalf-breadth\n0\t0\n500\twide\n1700\t0\n');
    const wrong = page.locator('.offsets-wrong');
    await wrong.waitFor();
    expect(await wrong.textContent()).toMatch(/Row 3, half-breadth: wide is not a length\. Allowed: a length such as 12\.5/);
    expect(await path(page, 'outline')).toBe(before);
    // What was typed outlives a reload, and is read again.
    await page.reload();
    await settle(page);
    await openRoom(page, 'Shape');
    before = await path(page, 'outline');
    await tool(page, 'Offsets');
    expect(await page.getByLabel('Table of offsets').inputValue()).toContain('500\twide');
    await wrong.waitFor();
    // 180,5 or 180 and 5: nothing is fitted before the maker has said which.
    const read = page.locator('[data-offsets="read"]');
    await page.getByLabel('Table of offsets').fill('0, 0,5\n300, 180,5\n900, 200,0\n');
    await page.getByRole('group', { name: 'What are the commas?' }).waitFor();
    expect(await read.count()).toBe(0);
    await page.getByRole('button', { name: 'decimal marks: 0 | 0.5' }).click();
    await read.waitFor();
    expect(await page.getByRole('combobox', { name: 'Commas' }).inputValue()).toBe('decimal');
    expect(await page.getByRole('combobox', { name: /^Column/ }).count()).toBe(2);
    await page.getByRole('combobox', { name: 'Commas' }).selectOption('between columns');
    await expect.poll(() => page.getByRole('combobox', { name: /^Column/ }).count()).toBe(3);
    // Names of another language: the maker says what each column is.
    await page.getByLabel('Table of offsets').fill('Abstand;halbe Breite\n0;80\n500;240,5\n1700;0\n');
    await page.getByRole('combobox', { name: 'Column 1: Abstand (0, …)' }).selectOption('station');
    await page.getByRole('combobox', { name: 'Column 2: halbe Breite (80, …)' }).selectOption('half-breadth');
    await read.waitFor();
    const name = '<img src=x onerror=alert(1)>\u202e..\u2044..csv.csv';
    await page.getByTestId('offsets-file').setInputFiles({ name, mimeType: 'text/csv', buffer: Buffer.from('station;half-breadth\n0;80\n200;190,5\n500;"240,5"\n800;262\n1200;231\n1500;150,25\n1700;0\n') });
    await page.locator('[data-offsets="fit"]').waitFor();
    expect(await page.locator('.tool .file-name').textContent()).toContain('<img src=x onerror');
    expect(await page.locator('.tool img').count()).toBe(0);
    await page.getByRole('button', { name: 'Discard' }).click();
    expect(await path(page, 'outline')).toBe(before);
    expectClean(visit);
  });

  test('offsets out: saved as a file that reads back', async () => {
    const visit = await atLines();
    const { page } = visit;
    await tool(page, 'Offsets');
    await type(page, 'Spacing of stations', '250');
    const [download] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Save CSV' }).click()]);
    expect(download.suggestedFilename()).toBe('reedmere-round-tail-1-75-m-offsets.csv');
    const chunks: Buffer[] = [];
    for await (const chunk of await download.createReadStream()) chunks.push(chunk as Buffer);
    const lines = Buffer.concat(chunks).toString('utf8').trim().split('\r\n');
    expect(lines[0]).toBe('station from tail (mm),half-breadth (mm),rocker (mm),thickness (mm)');
    const at500 = lines.find((line) => line.startsWith('500,'));
    expect(Number(at500?.split(',')[1])).toBeGreaterThan(235);
    expectClean(visit);
  });
});

describe('tracing', () => {
  test('a picture of forty megapixels is shown small, placed on the board by two places, and removed', async () => {
    const visit = await atLines();
    const { page } = visit;
    await tool(page, 'Picture');
    await page.getByTestId('tracing-file').setInputFiles({ name: '"><script>alert(1)</script>\u202egnp.png', mimeType: 'image/png', buffer: bigPng(8000, 5000) });
    const image = page.locator('[data-tracing="picture"] image');
    await image.waitFor();
    expect(await image.getAttribute('href')).toMatch(/^blob:/);
    expect(Number(await image.getAttribute('width'))).toBe(2400);
    expect(Number(await image.getAttribute('height'))).toBe(1500);
    expect(await page.locator('[data-tracing="name"]').textContent()).toContain('"><script>alert(1)</script> gnp.png, 8000 × 5000, shown at 2400 × 1500');

    // A onto the tail, B 1000 mm up the board: afterwards each mark lies where it was said to be.
    await type(page, 'Place B station', '1000');
    const mark = page.locator('[data-mark="B"] path');
    const box = await mark.boundingBox();
    if (!box) throw new Error('no mark');
    await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
    await page.mouse.down();
    await page.mouse.move(box.x + box.width / 2 - 60, box.y + box.height / 2 + 25, { steps: 4 });
    await page.mouse.up();
    await page.getByRole('button', { name: 'Place', exact: true }).click();
    const place = async (which: string) => {
      const b = await page.locator(`[data-mark="${which}"] path`).boundingBox();
      if (!b) throw new Error('no mark');
      return { x: b.x + b.width / 2, y: b.y + b.height / 2 };
    };
    const [a, b] = [await place('A'), await place('B')];
    const [tail, nose] = [await middle(handle(page, 'outline-0')), await middle(handle(page, 'outline-8'))];
    expect(Math.hypot(a.x - tail.x, a.y - tail.y)).toBeLessThan(1.5);
    expect(Math.abs(b.x - (tail.x + (nose.x - tail.x) / 1.75))).toBeLessThan(1.5);
    await type(page, 'Place B station', '0');
    await page.getByRole('button', { name: 'Place', exact: true }).click();
    expect(await page.locator('.tool').getByRole('alert').textContent()).toMatch(/two known points on the board coincide/);
    await page.getByRole('button', { name: 'Remove' }).click();
    expect(await image.count()).toBe(0);
    expect(await undo(page).isEnabled()).toBe(false);
    expectClean(visit);
  });

  test('what is no picture is refused with a reason', async () => {
    const visit = await atLines();
    const { page } = visit;
    await tool(page, 'Picture');
    const refused = page.locator('.tool').getByRole('alert');
    await page.getByTestId('tracing-file').setInputFiles({ name: 'plan.svg', mimeType: 'image/svg+xml', buffer: Buffer.from('<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>') });
    expect(await refused.textContent()).toMatch(/“plan.svg” was not placed.*PNG, JPEG/);
    await page.getByTestId('tracing-file').setInputFiles({ name: 'plan.png', mimeType: 'image/png', buffer: Buffer.from('no picture at all') });
    await expect.poll(() => refused.textContent()).toMatch(/“plan.png” was not placed.*cannot be read as a picture/);
    expect(await page.locator('[data-tracing="picture"] image').count()).toBe(0);
    expectClean(visit);
  });
});

describe('a whole board from a file', () => {
  test('turned and in inches it is laid, fitted on another thread, mapped on the stage, and taken as one step; one that ends too soon changes nothing', async () => {
    const visit = await openLines({ pixels: true });
    const { page } = visit;
    const before = await stateOf(page);
    const board = readDesign(starterTexts[3][1]);
    if (!board.ok) throw new Error('the starter does not read');
    const stl = Buffer.from(stlOf(board.design, 80));
    await tool(page, 'Body');
    const given = (name: string, buffer: Buffer) => page.getByTestId('hull-file').setInputFiles({ name, mimeType: 'model/stl', buffer });
    await given('short.stl', stl.subarray(0, 5000));
    await expect.poll(() => page.locator('.tool').getByRole('alert').textContent()).toMatch(/Your board is unchanged.*STL file: the file ends too soon/);
    // Trying again would come to the same.
    expect(await page.locator('.tool').getByRole('button', { name: 'Try again' }).count()).toBe(0);
    const obj = oddly(readStl(stl), 1 / 25.4);
    const vertices = Array.from({ length: obj.positions.length / 3 }, (_, i) => `v ${obj.positions.slice(3 * i, 3 * i + 3).join(' ')}`);
    const faces = Array.from({ length: obj.indices.length / 3 }, (_, i) => `f ${3 * i + 1} ${3 * i + 2} ${3 * i + 3}`);
    await given('board.obj', Buffer.from([...vertices, ...faces].join('\n')));
    await page.locator('[data-hull="size"]').waitFor();
    expect(await page.locator('.tool').getByRole('alert').count()).toBe(0);
    expect(await page.getByLabel('Unit of the file').inputValue()).toBe('inch');
    expect(await page.locator('[data-hull="size"]').textContent()).toMatch(/184\d\.\d mm long, 514\.\d mm wide/);
    expect(await page.locator('.tool').getByText(/^Next:/).textContent()).toMatch(/fit the lines/);
    // Held up until Stop was pressed: what was under way comes to nothing, and is begun again from there.
    await page.evaluate(() => {
      const { postMessage } = Worker.prototype;
      Worker.prototype.postMessage = () => {
        Worker.prototype.postMessage = postMessage;
      };
    });
    await page.getByRole('button', { name: 'Fit the lines' }).click();
    const side = page.locator('.tool');
    await side.getByRole('button', { name: 'Stop' }).click();
    expect(await side.getByText('Stopped.').textContent()).toContain('Continue');
    expect(await page.getByRole('button', { name: 'Accept' }).count()).toBe(0);
    await side.getByRole('button', { name: 'Continue' }).click();
    await page.locator('[data-hull="fit"]').waitFor();
    expect(Number(await page.locator('[data-hull="greatest"]').textContent())).toBeLessThan(0.3);
    await settle(page);
    expect((await stateOf(page)).length).toBeCloseTo(1841, -1);
    const stage = page.locator('canvas[data-drawn]');
    expect(await page.locator('.tool').getByText(/^Next:/).count()).toBe(0);
    await page.getByLabel('Show them on the board').uncheck();
    await settle(page);
    const plain = await takePicture(stage);
    await page.getByLabel('Show them on the board').check();
    await expect.poll(async () => shareChanged(plain, await takePicture(stage))).toBeGreaterThan(0.02);
    await page.getByRole('button', { name: 'Accept' }).click();
    expect(await undoAll(page)).toBe(1);
    await settle(page);
    expect((await stateOf(page)).stops).toEqual(before.stops);
    expectClean(visit);
  });
});
