/** Lines as a maker uses them: drawn by mouse, finger and key, and typed; and undone. */
import type { CDPSession, Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { graphRange } from '../../geometry/curves/range';
import { planBoard } from '../../geometry/plan';
import { stopsOf } from '../../geometry/rail/laid';
import { scaleBoard } from '../../geometry/search/family';
import { nearerEnd } from '../../src/say/words';
import { FIRST_BOARD, openRoom, PHONE, seedDesign, settle } from './board';
import { expectClean, shareBrowser } from './harness';
import { curve, field, figure, handle, middle, linesPage, openLines, path, redo, rowsOf, stateOf, type, undo, undoAll } from './linesPage';

shareBrowser();

const atLines = linesPage();

/** The stations of the stops that are painted, the stage's labels of them, and the words over the stage, as they stand in one turn of the page. */
const painted = (page: Page) => page.evaluate(() => ({
  stops: window.railwright?.state()?.stations ?? [],
  length: window.railwright?.state()?.length ?? Number.NaN,
  labels: [...document.querySelectorAll('[data-anchor][data-kind="stop"]')].map(({ textContent }) => textContent?.replace(/^rows? [\d, ]+ · /, '')),
  words: document.querySelector('.Headline_headline p')?.textContent,
}));

describe('drawing', () => {
  test('a point dragged with the mouse: the plan follows while it moves, and it is one step', async () => {
    const visit = await atLines();
    const { page } = visit;
    const before = await stateOf(page);
    const curveBefore = await path(page, 'outline');
    const at = await middle(handle(page, 'outline-3'));
    await page.evaluate(() => {
      const gaps: number[] = [];
      let last = performance.now();
      const tick = (now: number) => {
        gaps.push(now - last);
        last = now;
        requestAnimationFrame(tick);
      };
      requestAnimationFrame(tick);
      Object.assign(window, { frameGaps: gaps });
    });
    await page.mouse.move(at.x, at.y);
    await page.mouse.down();
    for (let i = 1; i <= 12; i++) await page.mouse.move(at.x, at.y - i * 1.25);
    // Still held: stage and ribbon must still follow.
    await page.waitForFunction((bevel) => Math.abs((window.railwright?.state()?.bevel.max ?? bevel) - bevel) > 1e-9, before.bevel.max);
    expect(await path(page, 'outline')).not.toBe(curveBefore);
    // What is painted agrees with the plan that is painted, in the same turn: labels on the stage and the words over it.
    const { stops, labels, words, length } = await painted(page);
    expect(stops).not.toEqual(before.stops);
    // Rows that stop at one place share a label.
    expect([...new Set(labels)]).toEqual([...new Set(stops.map((x) => Math.min(x, length - x).toFixed(0)))]);
    expect(words).toContain(`row 1 stops ${Math.min(...stops).toFixed(0)} mm from the tail`);
    expect(await undo(page).isEnabled()).toBe(false);
    await settle(page);
    const during = await stateOf(page);
    expect(during.stops).not.toEqual(before.stops);
    const gaps = await page.evaluate(() => Reflect.get(window, 'frameGaps') as number[]);
    const sorted = [...gaps].sort((a, b) => a - b);
    console.info(`dragging: ${sorted.length} frames, median ${sorted[Math.floor(sorted.length / 2)].toFixed(1)} ms, 95 % ${sorted[Math.floor(sorted.length * 0.95)].toFixed(1)} ms, worst ${sorted[sorted.length - 1].toFixed(1)} ms; plan ${during.planMs.toFixed(1)} ms`);
    await page.mouse.up();
    const moved = await figure(page, 'Point 4 half-breadth');
    expect(moved).toBeGreaterThan(245);
    expect(await figure(page, 'Point 4 station')).toBeCloseTo(460, 6);
    await undo(page).click();
    expect(await figure(page, 'Point 4 half-breadth')).toBe(235.8);
    expect(await path(page, 'outline')).toBe(curveBefore);
    expect(await undo(page).isEnabled()).toBe(false);
    await redo(page).click();
    expect(await figure(page, 'Point 4 half-breadth')).toBe(moved);
    expect(await redo(page).isEnabled()).toBe(false);
    expectClean(visit);
  });

  test('Escape gives a drag up, and nothing is remembered of it', async () => {
    const visit = await atLines();
    const { page } = visit;
    const before = await path(page, 'rocker');
    const asSettled = await painted(page);
    const bevel = JSON.stringify((await stateOf(page)).bevel);
    const at = await middle(handle(page, 'rocker-3'));
    await page.mouse.move(at.x, at.y);
    await page.mouse.down();
    await page.mouse.move(at.x + 10, at.y - 20, { steps: 4 });
    expect(await path(page, 'rocker')).not.toBe(before);
    await page.waitForFunction((was) => JSON.stringify(window.railwright?.state()?.bevel) !== was, bevel);
    await page.keyboard.press('Escape');
    expect(await path(page, 'rocker')).toBe(before);
    await settle(page);
    expect(await painted(page)).toEqual(asSettled);
    await page.mouse.move(at.x + 30, at.y - 40, { steps: 3 });
    await page.mouse.up();
    expect(await path(page, 'rocker')).toBe(before);
    expect(await undo(page).isEnabled()).toBe(false);
    expect(await page.locator('.lines').isVisible()).toBe(true);
    expectClean(visit);
  });

  test('a drag moves drawing, figures and ribbon before it is released; Escape puts all back', async () => {
    const visit = await atLines();
    const { page } = visit;
    const drawn = () => page.evaluate(() => ({
      sheet: [...document.querySelectorAll('[data-drawing="outline"] :is([data-curve], [data-handle])')].map((e) => e.getAttribute('d') ?? e.getAttribute('transform')),
      section: [...document.querySelectorAll('[data-station] dd')].map((e) => e.textContent),
      ribbon: [...document.querySelectorAll('[data-area="ribbon"] :is(path, rect, line, text, title)')].map((e) => ['d', 'x', 'x1', 'width'].map((name) => e.getAttribute(name)).join() + e.textContent),
      settled: [...document.querySelectorAll('[data-area="ribbon"] [data-settled]')].map((e) => getComputedStyle(e).visibility),
    }));
    const before = await drawn();
    expect(before.settled).toEqual(['visible', 'visible']);
    // Asked before the drag: once a draft is painted, the state is the draft's.
    const run = String(Math.round((await stateOf(page)).run));
    const at = await middle(handle(page, 'outline-3'));
    await page.mouse.move(at.x, at.y);
    await page.mouse.down();
    await page.mouse.move(at.x + 10, at.y - 20, { steps: 4 });
    await page.waitForFunction((was) => document.querySelector('[data-area="ribbon"] [role="slider"]')?.getAttribute('aria-valuemax') !== was, run);
    // The draft of the first step may change no figure by its last digit; those of the next do.
    for (const part of ['sheet', 'section', 'ribbon'] as const) await expect.poll(async () => (await drawn())[part]).not.toEqual(before[part]);
    expect(await figure(page, 'Point 4 half-breadth')).toBeGreaterThan(240);
    await page.keyboard.press('Escape');
    expect((await drawn()).sheet).toEqual(before.sheet);
    await page.mouse.move(at.x + 30, at.y - 40, { steps: 3 });
    await page.mouse.up();
    await settle(page);
    await expect.poll(drawn).toEqual(before);
    expect(await figure(page, 'Point 4 half-breadth')).toBe(235.8);
    expect(await undo(page).isEnabled()).toBe(false);
    expectClean(visit);
  });

  test('a drag to where no board can be says why and leaves the last good one', async () => {
    const visit = await atLines();
    const { page } = visit;
    const at = await middle(handle(page, 'outline-3'));
    const next = await middle(handle(page, 'outline-4'));
    await page.mouse.move(at.x, at.y);
    await page.mouse.down();
    await page.mouse.move(next.x + 60, at.y, { steps: 8 });
    const note = page.locator('.sheet[data-line="outline"]').getByRole('alert');
    expect(await note.textContent()).toMatch(/Outline, point 5, station: 850 mm must lie .*Allowed: [89]\d\d.* mm or more.*board is unchanged/);
    await page.mouse.up();
    const station = await figure(page, 'Point 4 station');
    expect(station).toBeGreaterThan(460);
    expect(station).toBeLessThan(850);
    expect(await undoAll(page)).toBe(1);
    expectClean(visit);
  });

  test('a finger drags from anywhere within its own width, and two fingers enlarge', async () => {
    const visit = await openLines({ viewport: PHONE.viewport, hasTouch: true });
    const { page } = visit;
    const client: CDPSession = await page.context().newCDPSession(page);
    const touch = (kind: 'touchStart' | 'touchMove' | 'touchEnd', points: readonly { x: number; y: number; id?: number }[]) =>
      client.send('Input.dispatchTouchEvent', { type: kind, touchPoints: [...points] });
    const at = await middle(handle(page, 'outline-4'));
    const reach = await handle(page, 'outline-4').locator('.reach').boundingBox();
    expect(reach?.width).toBeGreaterThanOrEqual(44);
    const from = { x: at.x + 12, y: at.y + 12 };
    await touch('touchStart', [from]);
    for (let i = 1; i <= 8; i++) await touch('touchMove', [{ x: from.x, y: from.y + 3 * i }]);
    await touch('touchEnd', []);
    await settle(page);
    expect(await figure(page, 'Point 5 half-breadth')).toBeLessThan(258);
    const changed = await figure(page, 'Point 5 half-breadth');
    await page.keyboard.press('Control+z');
    expect(await figure(page, 'Point 5 half-breadth')).toBe(264);
    await page.keyboard.press('Control+Shift+z');
    expect(await figure(page, 'Point 5 half-breadth')).toBe(changed);

    const [low, high] = [await middle(handle(page, 'outline-2')), await middle(handle(page, 'outline-6'))];
    const ground = at.y + 110;
    await touch('touchStart', [{ x: 150, y: ground, id: 1 }]);
    await touch('touchStart', [{ x: 150, y: ground, id: 1 }, { x: 230, y: ground, id: 2 }]);
    for (let i = 1; i <= 6; i++) await touch('touchMove', [{ x: 150 - 8 * i, y: ground, id: 1 }, { x: 230 + 8 * i, y: ground, id: 2 }]);
    await touch('touchEnd', []);
    const [low2, high2] = [await middle(handle(page, 'outline-2')), await middle(handle(page, 'outline-6'))];
    expect((high2.x - low2.x) / (high.x - low.x)).toBeGreaterThan(1.8);
    expectClean(visit);
  });

  test('keys: Tab finds the points, arrows nudge them plain, coarse and fine, each press one step', async () => {
    const visit = await atLines();
    const { page } = visit;
    await handle(page, 'outline-3').focus();
    await page.keyboard.press('Tab');
    expect(await page.evaluate(() => document.activeElement?.getAttribute('data-handle'))).toBe('outline-4');
    await page.keyboard.press('ArrowUp');
    expect(await figure(page, 'Point 5 half-breadth')).toBe(265);
    await page.keyboard.press('Shift+ArrowUp');
    expect(await figure(page, 'Point 5 half-breadth')).toBe(275);
    await page.keyboard.press('Alt+ArrowDown');
    expect(await figure(page, 'Point 5 half-breadth')).toBe(274.9);
    await page.keyboard.press('ArrowLeft');
    expect(await figure(page, 'Point 5 station')).toBe(849);
    expect(await handle(page, 'outline-4').getAttribute('aria-label')).toBe('Outline point 5 of 9: station 849.0 mm from tail, half-breadth 274.9 mm');
    await page.keyboard.press('Control+z');
    expect(await figure(page, 'Point 5 station')).toBe(850);
    expect(await undoAll(page)).toBe(3);
    expect(await figure(page, 'Point 5 half-breadth')).toBe(264);
    expectClean(visit);
  });

  test('points are added by double click, button and key, made corners, and taken out', async () => {
    const visit = await atLines();
    const { page } = visit;
    await curve(page, 'Rocker');
    const here = page.locator('[data-here="rocker"]');
    const before = await here.textContent();
    await expect.poll(() => rowsOf(page)).toBe(6);
    const [a, b] = [await middle(handle(page, 'rocker-2')), await middle(handle(page, 'rocker-3'))];
    await page.mouse.dblclick((a.x + b.x) / 2, (a.y + b.y) / 2 - 30);
    await expect.poll(() => rowsOf(page)).toBe(7);
    // A point on a cubic spline adds nothing to its shape.
    expect(await here.textContent()).toBe(before);
    await page.locator('.tool').getByRole('button', { name: /^Add a point at/ }).click();
    await expect.poll(() => rowsOf(page)).toBe(8);
    expect(await here.textContent()).toBe(before);
    await handle(page, 'rocker-1').focus();
    await page.keyboard.press('Insert');
    await expect.poll(() => rowsOf(page)).toBe(9);
    await expect.poll(() => page.evaluate(() => document.activeElement?.getAttribute('data-handle'))).toBe('rocker-2');
    await page.keyboard.press('c');
    expect(await field(page, 'Point 3 is a corner').isChecked()).toBe(true);
    expect(await handle(page, 'rocker-2').getAttribute('aria-label')).toMatch(/, corner$/);
    await page.keyboard.press('Delete');
    await expect.poll(() => rowsOf(page)).toBe(8);
    await page.getByRole('button', { name: 'Remove point 2' }).click();
    await expect.poll(() => rowsOf(page)).toBe(7);
    expect(await undoAll(page)).toBe(6);
    await expect.poll(() => rowsOf(page)).toBe(6);
    expectClean(visit);
  });

  test('figures are typed; what cannot be is said at the field and the board stays', async () => {
    const visit = await atLines();
    const { page } = visit;
    const curveBefore = await path(page, 'outline');
    for (const [text, why] of [['broad', /is not a number.*0 to 1000 mm/], ['1200', /too large.*0 to 1000 mm/], ['-5', /too small.*0 to 1000 mm/], ['1e309', /is not a number/], ['', /is not a number/]] as const) {
      await type(page, 'Point 4 half-breadth', text);
      expect(await page.locator('.tool').getByRole('alert').textContent()).toMatch(why);
      expect(await path(page, 'outline')).toBe(curveBefore);
      await field(page, 'Point 4 half-breadth').press('Escape');
      expect(await figure(page, 'Point 4 half-breadth')).toBe(235.8);
    }
    expect(await undo(page).isEnabled()).toBe(false);
    await type(page, 'Point 4 half-breadth', '9 1/2 in');
    expect(await figure(page, 'Point 4 half-breadth')).toBe(241.3);
    await type(page, 'Point 4 station', '455,5');
    expect(await figure(page, 'Point 4 station')).toBe(455.5);
    await page.getByRole('button', { name: 'in', exact: true }).click();
    expect(await figure(page, 'Point 4 half-breadth')).toBe(9.5);
    await page.getByRole('button', { name: 'mm', exact: true }).click();
    expect(await undoAll(page)).toBe(2);
    expectClean(visit);
  });

  test('ends are made square, round and pointed; a lever turns them; a longer nose takes all lines along', async () => {
    const visit = await atLines();
    const { page } = visit;
    const tail = page.getByLabel('Shape of the tail');
    await tail.selectOption('square');
    expect(await figure(page, 'Point 1 half-breadth')).toBeGreaterThan(20);
    await tail.selectOption('round');
    expect(await figure(page, 'Point 1 half-breadth')).toBe(0);
    expect(await figure(page, 'Tail angle')).toBe(90);
    await tail.selectOption('pointed');
    expect(await figure(page, 'Tail angle')).toBe(35);
    const lever = await middle(handle(page, 'outline-tail'));
    await page.mouse.move(lever.x, lever.y);
    await page.mouse.down();
    await page.mouse.move(lever.x + 14, lever.y + 20, { steps: 5 });
    await page.mouse.up();
    const turned = await figure(page, 'Tail angle');
    expect(turned).toBeGreaterThan(45);
    await page.keyboard.press('Shift+ArrowUp');
    expect(await figure(page, 'Tail angle')).toBeCloseTo(turned + 5, 6);
    await type(page, 'Point 9 station', '1800');
    await settle(page);
    expect((await stateOf(page)).length).toBeCloseTo(1800, 6);
    await curve(page, 'Thickness');
    expect(await page.locator('.tool .points tbody tr').last().locator('.still').textContent()).toBe('1800.0');
    expect(await undoAll(page)).toBe(6);
    expectClean(visit);
  });

  test('crown and the rest along the length: ratio, and what it makes in mm at the station', async () => {
    const visit = await atLines();
    const { page } = visit;
    for (const name of ['concave', 'vee', 'apex', 'fullness', 'tuck', 'turn', 'crown']) {
      await page.getByLabel('Along the length').selectOption(name);
      await page.locator(`[data-curve="${name}"]`).waitFor({ state: 'attached' });
    }
    const crown = await page.locator('[data-here="crown"]').textContent();
    const [, ratio, rise] = /^at .* (\d\.\d+) = ([\d.]+) mm deck rise/.exec(crown ?? '') ?? [];
    const breadth = Number(await page.locator('[data-station="Half-breadth"] dd').textContent());
    expect(Math.abs(Number(rise) - Number(ratio) * breadth)).toBeLessThan(0.2);
    const before = await stateOf(page);
    await handle(page, 'crown-2').focus();
    await page.keyboard.press('Shift+ArrowUp');
    await settle(page);
    expect(await figure(page, 'Point 3 crown')).toBeCloseTo(0.125, 9);
    expect((await stateOf(page)).bevel.max).toBeGreaterThan(before.bevel.max + 0.01);
    expectClean(visit);
  });

  test('the ruler moves the station that stage, ribbon and drawings share', async () => {
    const visit = await atLines();
    const { page } = visit;
    const drawing = page.locator('[data-drawing="thickness"]');
    const box = await drawing.boundingBox();
    if (!box) throw new Error('no drawing');
    await page.mouse.move(box.x + box.width / 2, box.y + box.height - 8);
    await page.mouse.down();
    await page.mouse.move(box.x + box.width * 0.7, box.y + box.height - 8, { steps: 5 });
    await page.mouse.up();
    const state = await stateOf(page);
    expect(state.x).toBeGreaterThan(1100);
    const slider = page.getByRole('slider', { name: 'Station cursor, along the rail from the tail' });
    expect(Number(await slider.getAttribute('aria-valuenow'))).toBe(Math.round(state.s));
    expect(await page.locator('[data-here="outline"]').textContent()).toContain(`at ${(state.length - state.x).toFixed(0)} from nose`);
    expectClean(visit);
  });
});

describe('overall sizes', () => {
  test('length, width and thickness scale what they name, in one step each; what cannot be is told its range', async () => {
    const visit = await atLines();
    const { page } = visit;
    const asked = seedDesign(FIRST_BOARD);
    for (const [label, typed, value] of [['Length', '1800', 1800], ['Width', '540,5', 540.5], ['Thickness', '70', 70]] as const) {
      await type(page, label, typed);
      await settle(page);
      const scaled = scaleBoard(asked, { [label.toLowerCase()]: value });
      if (!scaled.ok) throw new Error('the scaled board does not read');
      const { hull, rail } = planBoard(scaled.design);
      const is = { Length: hull.length, Width: 2 * hull.widest.halfBreadth, Thickness: graphRange(hull.lines.thickness).max };
      expect(Math.abs(is[label] - value)).toBeLessThan(0.05);
      const state = await stateOf(page);
      expect([state.length, state.stops.length]).toEqual([hull.length, stopsOf(rail).length]);
      state.stops.forEach((s, i) => expect(s).toBeCloseTo(stopsOf(rail)[i].s, 6));
      expect(await figure(page, label)).toBe(value);
      expect(await page.locator(`[data-size="${label.toLowerCase()}"] .place`).allTextContents()).toEqual(label === 'Length' ? [] : [`at ${nearerEnd({ hull }, label === 'Width' ? hull.widest.x : graphRange(hull.lines.thickness).xMax, 'mm')}`]);
      expect(await undoAll(page)).toBe(1);
      await settle(page);
    }
    const thickness = await figure(page, 'Thickness');
    await type(page, 'Thickness', '9');
    expect(await page.locator('[data-size="thickness"]').getByRole('alert').textContent()).toMatch(/9 mm is out of range.*10 to 300 mm.*board is unchanged/);
    await field(page, 'Thickness').press('Escape');
    expect(await figure(page, 'Thickness')).toBe(thickness);
    expect(await undo(page).isEnabled()).toBe(false);
    expectClean(visit);
  });

  test('a volume is proposed by thickness: what changes stands now and then under the drawings, accepted as one step', async () => {
    const visit = await atLines();
    const { page } = visit;
    const { hull } = planBoard(seedDesign(FIRST_BOARD));
    const litres = (hull.volume / 1e6).toFixed(1);
    await expect.poll(() => field(page, 'Volume').inputValue()).toBe(litres);
    await type(page, 'Volume', '38,2');
    const answer = page.getByRole('region', { name: 'Proposal' });
    await answer.getByRole('heading', { name: '38.2 litres, by thickness' }).waitFor();
    await settle(page);
    const change = (label: string) => answer.locator(`[data-change="${label}"]`).textContent();
    expect(await change('volume')).toMatch(new RegExp(`^volume ${litres} → 38\\.[123] litres$`));
    const [, was, is] = /^thickness ([\d.]+) → ([\d.]+)$/.exec((await change('thickness')) ?? '') ?? [];
    expect(Number(was)).toBeCloseTo(graphRange(hull.lines.thickness).max, 1);
    expect(Number(is)).toBeGreaterThan(Number(was));
    expect(await answer.locator('[data-change="width"]').count()).toBe(0);
    expect(await page.locator('.lines .before').count()).toBe(1);
    expect(await page.locator('[data-line="thickness"] .before').count()).toBe(1);
    await answer.getByRole('button', { name: 'Accept' }).click();
    await settle(page);
    expect(await figure(page, 'Thickness')).toBe(Number(is));
    expect(await undoAll(page)).toBe(1);
    // The figure changes under the maker who has come to it: what is typed still takes its place, and is not put behind it.
    await type(page, 'Length', '1800');
    await field(page, 'Volume').focus();
    await expect.poll(() => field(page, 'Volume').inputValue()).not.toBe(litres);
    await page.keyboard.insertText('0');
    await field(page, 'Volume').press('Enter');
    expect(await page.locator('[data-size="volume"]').getByRole('alert').textContent()).toMatch(/0 is out of range.*1 to 1000 litres/);
    await field(page, 'Volume').press('Escape');
    expect(await undoAll(page)).toBe(1);
    expectClean(visit);
  });

  test('sheets and ribbon stand on one axis, and one cursor runs through them', async () => {
    const visit = await atLines();
    const { page } = visit;
    await page.getByLabel('Along the length').selectOption('crown');
    const places = () => page.evaluate(() => [...document.querySelectorAll('.station-line line')].map((line) => line.getBoundingClientRect().x));
    await expect.poll(async () => (await places()).length).toBe(4);
    const xs = await places();
    expect(Math.max(...xs) - Math.min(...xs)).toBeLessThan(0.1);
    expect(await page.locator('[data-line="outline"] .sheet-scale').textContent()).toMatch(/^half width/);
    await curve(page, 'Outline');
    expectClean(visit);
  });

  test('a line is made fair at a point: its neighbours move, the rest stays', async () => {
    const visit = await atLines();
    const { page } = visit;
    await curve(page, 'Thickness');
    await handle(page, 'thickness-2').focus();
    await page.keyboard.press('ArrowUp');
    await page.keyboard.press('ArrowUp');
    const rows = await rowsOf(page);
    const values = () => Promise.all(Array.from({ length: rows }, (_, i) => figure(page, `Point ${i + 1} thickness`)));
    const before = await values();
    await page.getByRole('button', { name: 'Make it fair here' }).click();
    await page.getByRole('heading', { name: 'Thickness made fair at point 3' }).waitFor();
    const after = await values();
    expect(after.flatMap((v, i) => (v === before[i] ? [] : [i])).every((i) => i >= 1 && i <= 3)).toBe(true);
    expect(after).not.toEqual(before);
    await page.getByRole('button', { name: 'Discard' }).click();
    expect(await values()).toEqual(before);
    expectClean(visit);
  });
});

describe('a new board', () => {
  test('is drawn from a blank one, and the lines stand ready', async () => {
    const visit = await atLines();
    const { page } = visit;
    await openRoom(page, 'Plan');
    await openRoom(page, 'Boards');
    await page.getByRole('button', { name: 'New board' }).click();
    await page.locator('[data-curve="outline"]').waitFor();
    await page.waitForFunction(() => window.railwright?.state()?.board === 'New board');
    await settle(page);
    expect((await stateOf(page)).length).toBe(1800);
    await handle(page, 'outline-2').focus();
    await page.keyboard.press('Shift+ArrowUp');
    await settle(page);
    expect(await figure(page, 'Point 3 half-breadth')).toBe(270);
    await undo(page).click();
    expect(await figure(page, 'Point 3 half-breadth')).toBe(260);
    await type(page, 'Name', 'Heron');
    await settle(page);
    expect((await stateOf(page)).board).toBe('Heron');
    await type(page, 'Name', '');
    expect(await page.locator('.fields_text').first().getByRole('alert').textContent()).toMatch(/too short a text.*1 to 80 visible characters/);
    await field(page, 'Name').press('Escape');
    expect(await field(page, 'Name').inputValue()).toBe('Heron');
    expectClean(visit);
  });
});
