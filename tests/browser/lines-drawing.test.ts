/** A drawing in Shape: curves pointed at and fitted, its size by two known places, one step of undo; and our reading of paths against Chromium's own. */
import { expect, test } from 'vitest';
import { placesOf } from '../../geometry/shape/drawingLines';
import { readSvg } from '../../geometry/shape/drawingSvg';
import { openRoom, PHONE, settle } from './board';
import { expectClean, shareBrowser } from './harness';
import { linesPage, path, stateOf, tool, type, undoAll } from './linesPage';
import { untoldWords } from './worded';

shareBrowser();

const atLines = linesPage();

/** Paths of SVG 2, chapter 9 (from memory), and one of every other command. */
const PATHS = [
  'M300,200 h-150 a150,150 0 1,0 150,-150 z', 'M275,175 v-150 a150,150 0 0,0 -150,150 z',
  'M600,350 l 50,-25 a25,25 -30 0,1 50,-25 l 50,-25 a25,50 -30 0,1 50,-25 l 50,-25 a25,75 -30 0,1 50,-25 l 50,-25 a25,100 -30 0,1 50,-25 l 50,-25',
  'M125,75 a100,50 0 0,0 100,50', 'M125,75 a100,50 0 0,1 100,50', 'M125,75 a100,50 0 1,0 100,50', 'M125,75 a100,50 0 1,1 100,50',
  'M200,300 Q400,50 600,300 T1000,300', 'M100,200 C100,100 250,100 250,200 S400,300 400,200', 'M10 10h30v20H5V-4zm20 5l7 7', 'M0 0A3 9 40 1140 7',
];
/** An outline, a bottom and a deck of our own, in no unit; the board is 100 units long. */
const PLAN = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 120 70">
<path id="plan" d="M10 30C10 20 25 16 55 16C80 16 103 24 110 30C103 36 80 44 55 44C25 44 10 40 10 30Z"/>
<path id="cut" d="M8 5C11 5.1 19.4 5 19.6 3.6C19.6 2.4 12 1.4 8 1.3"/>
<path id="low" d="M10 62C35 65 80 65 110 57"/><path id="high" d="M10 60.6C35 60.4 80 60.4 110 56"/></svg>`;

test('curves of a drawing are pointed at, sized by two known places, and become the board in one step; what cannot be read is named', async () => {
  const visit = await atLines();
  const { page } = visit;
  // Chromium draws each path as we read it: its own places, a hundred along each, lie on ours.
  const theirs = await page.evaluate((paths) => paths.map((d) => {
    const element = document.createElementNS('http://www.w3.org/2000/svg', 'path');
    element.setAttribute('d', d);
    const length = element.getTotalLength();
    return { length, places: Array.from({ length: 101 }, (_, i) => element.getPointAtLength((length * i) / 100)).map(({ x, y }) => ({ x, y })) };
  }), PATHS);
  theirs.forEach(({ length, places }, k) => {
    const read = readSvg(`<svg><path d="${PATHS[k]}"/></svg>`);
    if (!read.ok) throw new Error(PATHS[k]);
    const ours = read.drawing.curves.map((curve) => placesOf(curve, 1e-3, Infinity));
    const own = ours.reduce((sum, walk) => sum + walk.slice(1).reduce((part, p, i) => part + Math.hypot(p.x - walk[i].x, p.y - walk[i].y), 0), 0);
    // Chromium measures along chords of its own, in single precision: 0.03 off where it is most. A wrong flag or centre is off by whole units.
    expect(Math.abs(own - length)).toBeLessThan(1e-3 * length);
    for (const { x, y } of places) {
      const way = Math.min(...ours.flatMap((walk) => walk.slice(1).map((q, i) => {
        const p = walk[i];
        const [dx, dy] = [q.x - p.x, q.y - p.y];
        const t = Math.min(1, Math.max(0, ((x - p.x) * dx + (-y - p.y) * dy) / (dx * dx + dy * dy || 1)));
        return Math.hypot(x - p.x - t * dx, -y - p.y - t * dy);
      })));
      expect(way).toBeLessThan(0.06);
    }
  });

  await tool(page, 'Drawing');
  const file = page.getByTestId('drawing-file');
  const before = await path(page, 'outline');
  await file.setInputFiles({ name: 'broken.dxf', mimeType: 'application/dxf', buffer: Buffer.from('0\nSECTION\n2\nENTITIES\n0\nCIRCLE\n8\nplan\n10\n0\n20\n0\n40\nwide\n0\nENDSEC\n0\nEOF\n') });
  const wrong = page.locator('.tool').getByRole('alert');
  await wrong.waitFor();
  expect(await wrong.textContent()).toMatch(/line 6, CIRCLE on layer “plan”, line 14: wide group 40 is not a number/);
  await file.setInputFiles({ name: 'plan.svg', mimeType: 'image/svg+xml', buffer: Buffer.from(PLAN) });
  const sheet = page.getByRole('group', { name: 'The drawing: 4 curves' });
  await sheet.waitFor();
  expect(await wrong.textContent()).toMatch(/does not say its unit/);
  // By pointer: where the curve is drawn; by key: from the list.
  const curve = page.getByRole('combobox', { name: 'Curve' });
  const role = page.getByRole('combobox', { name: 'This is' });
  const at = await page.locator('[data-curve-of="0"]').evaluate((drawn) => {
    const { x, y } = (drawn as SVGPathElement).getPointAtLength(40);
    const { left, top } = (drawn as SVGPathElement).ownerSVGElement?.getBoundingClientRect() ?? { left: 0, top: 0 };
    return { x: left + x, y: top + y };
  });
  await curve.selectOption({ index: 2 });
  await page.mouse.click(at.x, at.y);
  expect(await curve.inputValue()).toBe('0');
  // Closer: by wheel what lies under the pointer stays there, by key and button about the middle; moved under the hand, which picks nothing; whole again.
  const factor = () => sheet.getAttribute('data-zoomed').then((text) => (text === null ? 1 : Number(text)));
  const under = () => page.locator('[data-curve-of="0"]').evaluate((drawn, from) => {
    const svg = (drawn as SVGPathElement).ownerSVGElement;
    const { left, top } = svg?.getBoundingClientRect() ?? { left: 0, top: 0 };
    // Half its width is the curve's reach.
    (drawn as SVGPathElement).style.strokeWidth = '4';
    return (drawn as SVGPathElement).isPointInStroke(new DOMPoint(from.x - left, from.y - top));
  }, at);
  await sheet.scrollIntoViewIfNeeded();
  const box = await sheet.boundingBox() ?? { x: 0, y: 0, width: 0, height: 0 };
  const spot = await page.locator('[data-curve-of="0"]').evaluate((drawn) => {
    const { x, y } = (drawn as SVGPathElement).getPointAtLength(40);
    return { x, y };
  });
  Object.assign(at, { x: box.x + spot.x, y: box.y + spot.y });
  await page.mouse.move(at.x, at.y);
  await page.mouse.wheel(0, -600);
  await expect.poll(factor).toBeGreaterThan(2.5);
  expect(await under()).toBe(true);
  await curve.selectOption({ index: 2 });
  const closer = await factor();
  await page.mouse.down();
  await page.mouse.move(at.x + 60, at.y, { steps: 3 });
  await page.mouse.up();
  expect([await under(), await curve.inputValue()]).toEqual([false, '2']);
  Object.assign(at, { x: at.x + 60 });
  expect(await under()).toBe(true);
  await page.mouse.click(at.x, at.y);
  expect(await curve.inputValue()).toBe('0');
  await page.getByRole('button', { name: 'Drawing: zoom in' }).press('-');
  await expect.poll(factor).toBeCloseTo(closer / 1.5, 1);
  await page.getByRole('button', { name: 'Drawing: fit' }).click();
  await expect.poll(factor).toBe(1);
  // What is to be said of it has come in sight.
  await curve.selectOption({ index: 0 });
  const seen = await role.evaluate((field) => {
    const { left, top, width, height } = field.getBoundingClientRect();
    return document.elementFromPoint(left + width / 2, top + height / 2) === field;
  });
  expect(seen).toBe(true);
  await role.selectOption('the outline');
  await curve.selectOption({ index: 2 });
  await role.selectOption('the bottom (rocker)');
  await curve.selectOption({ index: 3 });
  await role.selectOption('the deck');
  await curve.selectOption({ index: 1 });
  await role.selectOption('a section');
  await type(page, 'Its station, from tail', '640');
  // A and B begin at the ends of the outline.
  await page.getByRole('combobox', { name: 'Its unit' }).selectOption('two known places');
  const next = page.locator('.tool').getByText(/^Next:/);
  expect(await next.textContent()).toMatch(/move A and B/);
  await type(page, 'From A to B', '1800');
  const fit = page.locator('[data-drawing="fit"]');
  await fit.waitFor();
  const figures = await fit.locator('tbody td:nth-child(3)').allTextContents();
  expect(figures).toHaveLength(4);
  for (const text of figures.slice(0, 3)) expect(Number(text)).toBeLessThanOrEqual(0.25);
  expect(await next.count()).toBe(0);
  expect(await fit.locator('tr').last().textContent()).toMatch(/^4 section–\d\.\d+ ✕640$/);
  expect(await page.locator('[data-worst]').count()).toBe(4);
  await settle(page);
  expect((await stateOf(page)).length).toBeCloseTo(1800, 3);
  // Each word of ours leads to what it means; and on a phone the proposal's answers stay in sight.
  expect(await untoldWords(page)).toEqual([]);
  const desk = page.viewportSize();
  await page.setViewportSize({ width: 390, height: 844 });
  const accept = await page.getByRole('button', { name: 'Accept' }).boundingBox();
  expect((accept?.y ?? Infinity) + (accept?.height ?? 0)).toBeLessThanOrEqual(844);
  if (desk) await page.setViewportSize(desk);
  await settle(page);
  // B nearer to A by the arrow keys: the drawing is larger, another proposal.
  await page.locator('[data-mark="B"]').focus();
  await page.keyboard.press('Shift+ArrowLeft');
  await expect.poll(async () => (await stateOf(page)).length).toBeGreaterThan(1830);
  await page.getByRole('button', { name: 'Accept' }).click();
  expect(await path(page, 'outline')).not.toBe(before);
  expect(await undoAll(page)).toBe(1);
  await settle(page);
  expect(await path(page, 'outline')).toBe(before);
  // Loaded again, the page has the drawing where it was left.
  const asLeft = () => Promise.all([page.locator('.tool .moves li').allTextContents(), fit.locator('tbody tr:nth-child(-n+3)').allTextContents(), page.locator('[data-mark="B"]').getAttribute('transform')]);
  const left = await asLeft();
  expect(left[0]).toHaveLength(4);
  await page.reload();
  await openRoom(page, 'Shape');
  await tool(page, 'Drawing');
  await fit.waitFor();
  expect(await asLeft()).toEqual(left);
  await page.getByRole('button', { name: 'Discard' }).click();
  // On a phone each tool stands under the drawing: it comes in sight as it is opened.
  await page.setViewportSize(PHONE.viewport);
  const tools = page.getByRole('navigation', { name: 'Tools' });
  const names = await tools.getByRole('button').allTextContents();
  expect(names).toHaveLength(7);
  for (const name of names) {
    await page.locator('.sheet.active').evaluate((sheet) => sheet.scrollIntoView({ block: 'end' }));
    await tools.getByRole('button', { name, exact: true }).click();
    const sheet = page.getByRole('group', { name, exact: true });
    await sheet.getByRole('button').or(sheet.getByRole('textbox')).first().waitFor();
    const [{ top, bottom }, focused] = await sheet.evaluate((element) => [element.getBoundingClientRect(), element.contains(document.activeElement)] as const);
    // From its beginning under the tools; where it is short, the whole of it.
    expect(top, name).toBeGreaterThan(0);
    expect(top < 200 || bottom <= PHONE.viewport.height, `${name}: ${top} to ${bottom}`).toBe(true);
    expect(focused, name).toBe(true);
  }
  expectClean(visit);
});
