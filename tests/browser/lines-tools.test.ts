/** The tools of Lines: fairness, compare, tables of offsets, and pictures traced over. */
import { crc32, deflateSync } from 'node:zlib';
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { expectClean, shareBrowser } from './harness';
import { curve, handle, middle, openLines, path, settle, stateOf, tool, type, undo, undoAll } from './linesPage';

shareBrowser();

describe('fairness and compare', () => {
  test('fair this: a bump is taken out, with what moved and how far; refused it is gone, accepted one step', async () => {
    const visit = await openLines();
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
    await page.getByRole('button', { name: 'Refuse' }).click();
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
    const visit = await openLines();
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
    expect(await page.locator('.earlier').count()).toBeGreaterThan(0);
    expectClean(visit);
  });
});

/** Main-thread pauses while something goes on: the longest time between two timer ticks, ms. */
async function watchPauses(page: Page): Promise<() => Promise<number>> {
  await page.evaluate(() => {
    const watch = { worst: 0, last: performance.now() };
    setInterval(() => {
      watch.worst = Math.max(watch.worst, performance.now() - watch.last);
      watch.last = performance.now();
    }, 5);
    Object.assign(window, { pauses: watch });
  });
  return () => page.evaluate(() => (Reflect.get(window, 'pauses') as { worst: number }).worst);
}

describe('offsets', () => {
  test('the board\'s own offsets, fitted back within the tolerance, make the same stops', async () => {
    const visit = await openLines();
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

  test('ten thousand pasted rows are fitted while the page stays awake', async () => {
    const visit = await openLines();
    const { page } = visit;
    await page.context().grantPermissions(['clipboard-read', 'clipboard-write']);
    await tool(page, 'Offsets');
    const rows = Array.from({ length: 10_000 }, (_, i) => {
      const x = (1800 * i) / 9999;
      const t = x / 1800;
      return [x, 250 * Math.sqrt(Math.max(0, 1 - (2 * t - 1) ** 2)), 90 * (2 * t - 1) ** 2, 20 + 45 * Math.sin(Math.PI * t)].map((v) => v.toFixed(3)).join('\t');
    });
    await page.evaluate((text) => navigator.clipboard.writeText(text), `station (mm)\thalf-breadth\trocker\tthickness\n${rows.join('\n')}`);
    const worst = await watchPauses(page);
    await page.getByLabel('Table of offsets').focus();
    await page.keyboard.press('Control+v');
    await page.locator('[data-offsets="read"]').waitFor();
    expect(await page.locator('[data-offsets="read"]').textContent()).toContain('10000 rows read, board of 1800 mm');
    await page.locator('[data-offsets="fit"]').waitFor({ timeout: 60_000 });
    const pause = await worst();
    console.info(`10 000 rows: longest pause of the page ${pause.toFixed(0)} ms`);
    expect(pause).toBeLessThan(1500);
    await page.getByRole('button', { name: 'Accept' }).click();
    await settle(page);
    expect((await stateOf(page)).length).toBeCloseTo(1800, 2);
    await undo(page).click();
    expect(await undo(page).isEnabled()).toBe(false);
    expectClean(visit);
  });

  test('a table with mistakes names row, column and what may stand there; a file of a hostile name is only a name', async () => {
    const visit = await openLines();
    const { page } = visit;
    const before = await path(page, 'outline');
    await tool(page, 'Offsets');
    await page.getByLabel('Table of offsets').fill('station\thalf-breadth\n0\t0\n500\twide\n1700\t0\n');
    const wrong = page.locator('.offsets-wrong');
    await wrong.waitFor();
    expect(await wrong.textContent()).toMatch(/Row 3, half-breadth: wide is not a length\. Allowed: a length such as 12\.5/);
    const name = '<img src=x onerror=alert(1)>\u202e..\u2044..csv.csv';
    await page.getByTestId('offsets-file').setInputFiles({ name, mimeType: 'text/csv', buffer: Buffer.from('station;half-breadth\n0;80\n200;190,5\n500;"240,5"\n800;262\n1200;231\n1500;150,25\n1700;0\n') });
    await page.locator('[data-offsets="fit"]').waitFor();
    expect(await page.locator('.tool .file-name').textContent()).toContain('<img src=x onerror');
    expect(await page.locator('.tool img').count()).toBe(0);
    await page.getByRole('button', { name: 'Refuse' }).click();
    expect(await path(page, 'outline')).toBe(before);
    expectClean(visit);
  });

  test('offsets out: saved as a file that reads back', async () => {
    const visit = await openLines();
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

/** A grey PNG of any size in few bytes: one bit a pixel, rows alike but for a black bar. */
function bigPng(width: number, height: number): Buffer {
  const row = Buffer.alloc(1 + Math.ceil(width / 8), 0xff);
  row[0] = 0;
  row.fill(0, 1, 1 + Math.floor(width / 80));
  const chunk = (kind: string, data: Buffer) => {
    const body = Buffer.concat([Buffer.from(kind, 'latin1'), data]);
    const out = Buffer.alloc(body.length + 8);
    out.writeUInt32BE(data.length, 0);
    body.copy(out, 4);
    out.writeUInt32BE(crc32(body), body.length + 4);
    return out;
  };
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  head[8] = 1;
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]), chunk('IHDR', head),
    chunk('IDAT', deflateSync(Buffer.concat(Array.from({ length: height }, () => row)))), chunk('IEND', Buffer.alloc(0)),
  ]);
}

describe('tracing', () => {
  test('a picture of forty megapixels is laid small, brought onto the board by two places, and taken away', async () => {
    const visit = await openLines();
    const { page } = visit;
    await tool(page, 'Tracing');
    const worst = await watchPauses(page);
    await page.getByTestId('tracing-file').setInputFiles({ name: '"><script>alert(1)</script>\u202egnp.png', mimeType: 'image/png', buffer: bigPng(8000, 5000) });
    const image = page.locator('.tracing image');
    await image.waitFor({ timeout: 30_000 });
    const pause = await worst();
    console.info(`40 megapixels: longest pause of the page ${pause.toFixed(0)} ms`);
    expect(pause).toBeLessThan(3000);
    expect(await image.getAttribute('href')).toMatch(/^blob:/);
    expect(Number(await image.getAttribute('width'))).toBe(2400);
    expect(Number(await image.getAttribute('height'))).toBe(1500);
    expect(await page.locator('[data-tracing="name"]').textContent()).toContain('"><script>alert(1)</script> gnp.png, 8000 × 5000, laid at 2400 × 1500');

    // A onto the tail, B 1000 mm up the board: afterwards each mark lies where it was said to be.
    await type(page, 'Place B station', '1000');
    const mark = page.locator('[data-mark="B"] circle:not(.reach)');
    const box = await mark.boundingBox();
    if (!box) throw new Error('no mark');
    await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
    await page.mouse.down();
    await page.mouse.move(box.x + box.width / 2 - 60, box.y + box.height / 2 + 25, { steps: 4 });
    await page.mouse.up();
    await page.getByRole('button', { name: 'Place' }).click();
    const place = async (which: string) => {
      const b = await page.locator(`[data-mark="${which}"] circle:not(.reach)`).boundingBox();
      if (!b) throw new Error('no mark');
      return { x: b.x + b.width / 2, y: b.y + b.height / 2 };
    };
    const [a, b] = [await place('A'), await place('B')];
    const [tail, nose] = [await middle(handle(page, 'outline-0')), await middle(handle(page, 'outline-8'))];
    expect(Math.hypot(a.x - tail.x, a.y - tail.y)).toBeLessThan(1.5);
    expect(Math.abs(b.x - (tail.x + (nose.x - tail.x) / 1.75))).toBeLessThan(1.5);
    await type(page, 'Place B station', '0');
    await page.getByRole('button', { name: 'Place' }).click();
    expect(await page.locator('.tool').getByRole('alert').textContent()).toMatch(/two known points on the board coincide/);
    await page.getByRole('button', { name: 'Remove' }).click();
    expect(await image.count()).toBe(0);
    expect(await undo(page).isEnabled()).toBe(false);
    expectClean(visit);
  });

  test('what is no picture is refused with a reason', async () => {
    const visit = await openLines();
    const { page } = visit;
    await tool(page, 'Tracing');
    const refused = page.locator('.tool').getByRole('alert');
    await page.getByTestId('tracing-file').setInputFiles({ name: 'plan.svg', mimeType: 'image/svg+xml', buffer: Buffer.from('<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>') });
    expect(await refused.textContent()).toMatch(/“plan.svg” was not placed.*PNG, JPEG/);
    await page.getByTestId('tracing-file').setInputFiles({ name: 'plan.png', mimeType: 'image/png', buffer: Buffer.from('no picture at all') });
    await expect.poll(() => refused.textContent()).toMatch(/“plan.png” was not placed.*cannot be read as a picture/);
    expect(await page.locator('.tracing image').count()).toBe(0);
    expectClean(visit);
  });
});
