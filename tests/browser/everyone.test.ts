/** For everyone: words for those who hear the page, the keyboard alone, large targets, and the printed page. */
import { describe, expect, test } from 'vitest';
import { sectionAt, stationAt } from '../../geometry/rail/query';
import { stopsOf } from '../../geometry/rail/laid';
import { stopWhy } from '../../src/say/placeWords';
import { applyReadings, expectedReadings } from '../../geometry/trust/asBuilt';
import type { Reading } from '../../geometry/trust/readings';
import { noReadings } from '../../geometry/trust/emptyRecord';
import { boardPage, cursor, FIRST_BOARD, openRoom, PHONE, ribAtCursor, ROOM_NAMES, seedPlan, settle, stopAtCursor } from './board';
import { coveredUnderFocus, focused } from './focus';
import { expectClean, shareBrowser } from './harness';

shareBrowser();

const plan = seedPlan(FIRST_BOARD);
const atBoard = boardPage();
const atPhone = boardPage(PHONE);

describe('for those who hear the page', () => {
  test('stage and ribbon are told in words and figures', async () => {
    const visit = await atBoard();
    const { page } = visit;
    const board = (await page.locator('#stage-words').textContent()) ?? '';
    for (const word of ['1750 mm long', '528 mm wide', 'litres', 'Bevel', `${plan.rail.ribs.length} ribs`]) expect(board).toContain(word);
    const stage = page.getByRole('img', { name: /in three dimensions/ });
    expect(await stage.getAttribute('aria-describedby')).toBe('stage-words');
    const ribbon = await page.locator('#ribbon-words li').allTextContents();
    expect(ribbon.length).toBe(plan.rail.stretches.length + 2 * plan.rail.rows.length + 1);
    for (const row of plan.rail.rows) expect(ribbon.some((line) => line.includes(`${row.tail.s.toFixed(0)} mm along the rail`))).toBe(true);
    expectClean(visit);
  });

  test('a change of station is told once, where it ends', async () => {
    const visit = await atBoard();
    const { page } = visit;
    const said = page.locator('[data-spoken="station"]');
    expect(await said.textContent()).toBe('');
    await page.evaluate(() => {
      const heard: string[] = [];
      const target = document.querySelector('[data-spoken="station"]');
      if (target) new MutationObserver(() => heard.push(target.textContent ?? '')).observe(target, { childList: true, characterData: true, subtree: true });
      Object.assign(window, { heard });
    });
    for (let i = 0; i < 3; i++) await page.keyboard.press('ArrowUp');
    await expect.poll(() => said.textContent()).not.toBe('');
    const text = (await said.textContent()) ?? '';
    const s = await cursor(page);
    const rib = plan.rail.ribs.find((r) => Math.abs(r.s - s) < 0.5);
    const section = sectionAt(plan, s);
    expect(text).toContain(`Rib ${(rib?.index ?? -9) + 1}`);
    expect(text).toContain(`Gap ${section.gap.toFixed(1)} mm`);
    expect(text).toContain(`${section.rows} of 4 rows`);
    expect(await page.evaluate(() => (window as unknown as { heard: string[] }).heard)).toEqual([text]);
    expectClean(visit);
  });
});

describe('the keyboard alone', () => {
  test('reaches every room and sees where it is', async () => {
    const visit = await atBoard();
    const { page } = visit;
    // Tab goes on from where the focus was last: here, from before all else.
    await page.evaluate(() => {
      const start = document.createElement('button');
      document.body.prepend(start);
      start.focus();
      start.remove();
    });
    const reached: string[] = [];
    for (let i = 0; i < 90; i++) {
      await page.keyboard.press('Tab');
      const now = await page.evaluate(() => {
        const at = document.activeElement;
        if (!(at instanceof HTMLElement || at instanceof SVGElement) || at === document.body) return null;
        const { outlineStyle, outlineWidth } = getComputedStyle(at);
        return { name: at.getAttribute('aria-label') ?? at.textContent ?? '', seen: outlineStyle !== 'none' && Number.parseFloat(outlineWidth) >= 2 };
      });
      if (!now) break;
      expect(`${now.name}: ${now.seen}`).toBe(`${now.name}: true`);
      reached.push(now.name);
    }
    for (const room of ROOM_NAMES) expect(reached.some((name) => name.startsWith(room))).toBe(true);
    expect(reached.some((name) => name.startsWith('Board: '))).toBe(true);
    for (const name of ['Sizes', 'Layers', 'Dark colours', '3/4', 'Along the rail from tail']) expect(reached).toContain(name);
    for (const step of ['Next rib', 'Next stop']) expect(reached.some((name) => name.startsWith(`${step}: `))).toBe(true);
    expectClean(visit);
  });

  test('never stands on what lies under a cover, and goes back to what opened it', async () => {
    const desk = await atBoard();
    await openRoom(desk.page, 'Boards');
    await desk.page.locator('[data-area="drawer"]').waitFor();
    await desk.page.keyboard.press('Escape');
    await expect.poll(() => focused(desk.page)).toMatch(/^Board: /);
    await desk.page.keyboard.press('Enter');
    await desk.page.locator('[data-area="drawer"]').waitFor();
    expect(await coveredUnderFocus(desk.page), 'Boards').toEqual([]);
    // A notice takes the focus when it comes, as what must be answered does.
    await desk.page.getByTestId('board-file').setInputFiles({ name: 'empty.board.json', mimeType: 'application/json', buffer: Buffer.from('{}') });
    const notice = desk.page.getByRole('alertdialog');
    await notice.waitFor();
    expect(await notice.evaluate((element) => element === document.activeElement)).toBe(true);
    expect(await coveredUnderFocus(desk.page), 'a notice').toEqual([]);
    await notice.getByRole('button', { name: 'Close' }).click();

    const hand = await atPhone();
    await openRoom(hand.page, 'Plan');
    await hand.page.getByRole('button', { name: /^Menu, / }).first().tap();
    await hand.page.getByRole('region', { name: 'Menu' }).waitFor();
    expect(await coveredUnderFocus(hand.page), 'Menu').toEqual([]);
    await openRoom(hand.page, 'Words');
    await hand.page.locator('[data-area="drawer"]').waitFor();
    expect(await coveredUnderFocus(hand.page), 'Words').toEqual([]);
    // Opened from the menu, which is gone: back to what opened that.
    await openRoom(hand.page, 'Words');
    await hand.page.locator('[data-area="drawer"]').waitFor();
    await hand.page.keyboard.press('Escape');
    await expect.poll(() => focused(hand.page)).toMatch(/^Menu, /);
    await openRoom(hand.page, 'At the bench');
    await hand.page.getByRole('button', { name: 'Measure here' }).tap();
    expect(await coveredUnderFocus(hand.page), 'the keys').toEqual([]);
    await hand.page.getByRole('button', { name: 'Leave' }).tap();
    expectClean(desk);
    expectClean(hand);
  });

  test('moves the cursor from the ribbon', async () => {
    const visit = await atBoard();
    const { page } = visit;
    const slider = page.getByRole('slider', { name: 'Station cursor, along the rail from the tail' });
    await slider.focus();
    await page.keyboard.press('Home');
    await settle(page);
    expect(await cursor(page)).toBe(0);
    await page.keyboard.press('PageUp');
    await page.keyboard.press('ArrowRight');
    await settle(page);
    expect(await cursor(page)).toBeCloseTo(51, 6);
    expect(await slider.getAttribute('aria-valuetext')).toContain('51.0 mm along the rail');
    expectClean(visit);
  });
});

describe('the phone at the bench', () => {
  test('opens there, goes from rib to rib by thumb and by swipe, on one screen, and comes back to rib, side and mode', async () => {
    const visit = await atPhone();
    const { page } = visit;
    await openRoom(page, 'At the bench');
    const face = page.getByRole('region', { name: 'At the bench' });
    const ribs = plan.rail.ribs.map((rib) => rib.s).sort((a, b) => a - b);
    const nameAt = (s: number) => `Rib ${(plan.rail.ribs.find((rib) => rib.s === s)?.index ?? Number.NaN) + 1}`;
    // It stands at a rib from the first.
    await expect.poll(async () => ribs.includes(await cursor(page))).toBe(true);
    const start = ribs.indexOf(await cursor(page));
    await face.getByRole('button', { name: nameAt(ribs[start + 1]), exact: false }).tap();
    await settle(page);
    expect(await cursor(page)).toBe(ribs[start + 1]);
    expect(await face.locator('.name').textContent()).toBe(nameAt(ribs[start + 1]));
    const swipe = (from: number, to: number) => page.locator('.bench-face').evaluate((element, [x0, x1]) => {
      const send = (type: string, clientX: number) => element.dispatchEvent(new PointerEvent(type, { bubbles: true, pointerId: 5, pointerType: 'touch', clientX, clientY: 300 }));
      send('pointerdown', x0);
      send('pointerup', x1);
    }, [from, to] as const);
    await swipe(300, 120);
    await settle(page);
    expect(await cursor(page)).toBe(ribs[start + 2]);
    await swipe(120, 300);
    await swipe(200, 180);
    await settle(page);
    expect(await cursor(page)).toBe(ribs[start + 1]);
    const x = stationAt(plan, ribs[start + 1]);
    expect(await face.locator('[data-figure="Station"]').textContent()).toBe(Math.min(x, plan.hull.length - x).toFixed(1));
    for (const { width, height } of [{ width: 390, height: 844 }, { width: 390, height: 664 }, { width: 844, height: 390 }, { width: 360, height: 640 }]) {
      await page.setViewportSize({ width, height });
      for (const button of await face.getByRole('button').all()) {
        const box = await button.boundingBox();
        if (!box) continue;
        expect(Math.min(box.width, box.height), `${await button.textContent()} at ${width} x ${height}`).toBeGreaterThanOrEqual(44);
        expect(box.y + box.height, `${await button.textContent()} at ${width} x ${height}`).toBeLessThanOrEqual(height);
      }
      const over = await page.locator('.bench-face').evaluate((element) => element.scrollHeight - element.clientHeight);
      expect(over, `scrolled at ${width} x ${height}`).toBeLessThanOrEqual(0);
      // Hit where they stand: nothing lies over them.
      for (const mode of ['Steps', 'Stops', 'Ribs']) {
        const button = face.getByRole('button', { name: mode, exact: true });
        await button.tap();
        expect(await button.getAttribute('aria-pressed'), `${mode} at ${width} x ${height}`).toBe('true');
      }
    }
    await page.setViewportSize(PHONE.viewport);
    await face.getByRole('button', { name: 'Port', exact: true }).tap();
    await face.getByRole('button', { name: 'Stops', exact: true }).tap();
    const stops = stopsOf(plan.rail).map(({ s }) => s);
    await expect.poll(async () => stops.includes(await cursor(page))).toBe(true);
    const at = await cursor(page);
    const stop = await stopAtCursor(page, plan);
    expect(await face.locator('.name').textContent()).toBe(`Row ${stop.row}`);
    // The reason is the card's, to the letter; and the menu leads back to the bench.
    expect(await face.locator('.bench-place b').textContent()).toBe(stopWhy(plan, stop, 'mm'));
    // Every stop is reached by the thumb, several at one place included.
    const ahead = [...new Set(stops.filter((run) => run > at + 0.01))].sort((a, b) => a - b);
    for (const run of ahead) {
      await face.getByRole('navigation', { name: 'Before and next' }).getByRole('button').last().tap();
      await expect.poll(async () => Math.abs((await cursor(page)) - run)).toBeLessThan(0.02);
    }
    for (const _ of ahead) await face.getByRole('navigation', { name: 'Before and next' }).getByRole('button').first().tap();
    await expect.poll(() => cursor(page)).toBe(at);
    await face.getByRole('button', { name: /^Menu, / }).tap();
    await page.getByRole('button', { name: 'Close menu' }).tap();
    await face.waitFor();
    await page.reload();
    await settle(page);
    await face.waitFor();
    expect(await cursor(page)).toBe(at);
    for (const name of ['Port', 'Stops']) expect(await face.getByRole('button', { name, exact: true }).getAttribute('aria-pressed')).toBe('true');
    await face.getByRole('button', { name: 'Starboard', exact: true }).tap();
    await face.getByRole('button', { name: 'Ribs', exact: true }).tap();
    expectClean(visit);
  });

  test('takes a reading by its own keys, says what it should read, and undo names it', async () => {
    const visit = await atPhone();
    const { page } = visit;
    await openRoom(page, 'At the bench');
    await page.getByRole('button', { name: 'Measure here' }).tap();
    const pad = page.getByRole('region', { name: 'Measure', exact: true });
    const rib = await ribAtCursor(page, plan);
    const drawn = expectedReadings(plan, rib).tab;
    expect(await pad.locator('[data-figure="should read"]').textContent()).toBe(drawn.toFixed(1));
    const figure = (drawn - 0.7).toFixed(1);
    for (const key of figure) await pad.getByRole('button', { name: key === '.' ? 'comma' : key, exact: true }).tap();
    expect(await pad.locator('output').textContent()).toContain(figure.replace('.', ','));
    expect(await pad.locator('[data-off]').textContent()).toMatch(/under$/);
    await pad.getByRole('button', { name: /^Next: rib/ }).tap();
    // Of the whole batch it would move stops far off: asked once, each answer with the stop it moves most, the first under the focus.
    const off = Number((Number(figure) - drawn).toFixed(2));
    const far = (reading: Reading) => Math.max(0, ...applyReadings(plan, { ...noReadings(plan.design.name, plan.design.revision), readings: [reading] }).changes
      .map(({ what, was = 0, is = 0 }) => (what === 'stop' ? Math.abs(is - was) : 0)));
    const answers = pad.getByRole('group', { name: 'What it is of' }).getByRole('button');
    await answers.first().waitFor();
    expect(await answers.evaluateAll((buttons) => buttons.indexOf(document.activeElement as HTMLButtonElement))).toBe(0);
    expect(await answers.nth(1).textContent()).toContain(`by ${far({ of: 'batch', tabOff: off }).toFixed(1)} mm`);
    const own = far({ of: 'rib', rib: rib.index + 1, side: 'starboard', tab: Number(figure) });
    expect(await answers.nth(0).textContent()).toContain(own === 0 ? 'moves no stop' : `by ${own.toFixed(1)} mm`);
    await answers.nth(0).tap();
    await settle(page);
    expect(await cursor(page)).toBeGreaterThan(rib.s);
    // Out of range: told with the range, and nothing taken.
    for (const key of '9999') await pad.getByRole('button', { name: key, exact: true }).tap();
    await pad.getByRole('button', { name: /^Next: rib/ }).tap();
    expect(await pad.getByRole('alert').textContent()).toMatch(/out of range; 0 to 400 mm/);
    for (let i = 0; i < 4; i++) await pad.getByRole('button', { name: 'Delete the last figure' }).tap();
    await pad.getByRole('button', { name: 'Leave' }).tap();
    const undo = page.getByRole('button', { name: /undo/ });
    expect(await undo.textContent()).toContain(figure);
    // In inches too a reading can be deleted where it was typed.
    await page.evaluate((run) => {
      location.hash = `#s=${run}`;
    }, rib.s);
    await expect.poll(() => cursor(page)).toBeCloseTo(rib.s, 3);
    await openRoom(page, 'At the bench');
    await page.getByRole('button', { name: /^Menu, / }).first().tap();
    await page.getByRole('group', { name: 'Unit' }).getByRole('button', { name: 'in', exact: true }).tap();
    await page.getByRole('button', { name: 'Close menu' }).tap();
    await page.getByRole('button', { name: 'Measure here' }).tap();
    await pad.getByRole('button', { name: 'Delete it' }).tap();
    expect(await pad.locator('output i').textContent()).toBe('');
    await pad.getByRole('button', { name: 'Leave' }).tap();
    await undo.tap();
    await page.getByRole('button', { name: /^Menu, / }).first().tap();
    await page.getByRole('group', { name: 'Unit' }).getByRole('button', { name: 'mm', exact: true }).tap();
    await page.getByRole('button', { name: 'Close menu' }).tap();
    await undo.tap();
    await expect.poll(() => undo.isDisabled()).toBe(true);
    expectClean(visit);
  });

  test('keeps the screen awake unless told not to, and says when it will sleep', async () => {
    const visit = await atPhone();
    const { page } = visit;
    await openRoom(page, 'Plan');
    await page.evaluate(() => {
      const held: string[] = [];
      Object.assign(window, { held });
      navigator.wakeLock.request = async (type) => {
        held.push(`took ${type}`);
        return Object.assign(new EventTarget(), { released: false, type: 'screen' as const, onrelease: null, release: async () => void held.push('let go') });
      };
    });
    const held = () => page.evaluate(() => (window as unknown as { held: string[] }).held);
    await openRoom(page, 'At the bench');
    await expect.poll(held).toEqual(['took screen']);
    await page.getByRole('button', { name: /^Menu, / }).first().tap();
    await page.getByLabel('Keep the screen awake at the bench').uncheck();
    await page.getByRole('region', { name: 'Menu' }).getByRole('button', { name: 'At the bench' }).tap();
    await page.getByText('screen will sleep').waitFor();
    expect(await held()).toEqual(['took screen', 'let go']);
    await page.evaluate(() => {
      navigator.wakeLock.request = () => Promise.reject(new DOMException('battery', 'NotAllowedError'));
    });
    await page.getByRole('button', { name: /^Menu, / }).first().tap();
    await page.getByLabel('Keep the screen awake at the bench').check();
    await page.getByRole('region', { name: 'Menu' }).getByRole('button', { name: 'At the bench' }).tap();
    await page.getByText('screen will sleep').waitFor();
    expectClean(visit);
  });
});

describe('a finger', () => {
  test('that goes up or down on ribbon and drawing scrolls the page and moves nothing; along the ribbon it moves the cursor, on a handle the point', async () => {
    const visit = await atPhone();
    const { page } = visit;
    await openRoom(page, 'Plan');
    await page.setViewportSize({ width: 390, height: 664 });
    const hand = await page.context().newCDPSession(page);
    const touch = (type: 'touchStart' | 'touchMove' | 'touchEnd', points: readonly (readonly [number, number])[]) =>
      hand.send('Input.dispatchTouchEvent', { type, touchPoints: points.map(([x, y]) => ({ x, y, id: 1 })) });
    const scrolled = () => page.locator('.App_page').evaluate((element) => element.scrollTop);
    /** A finger put down in the middle of something and drawn over the page, as the browser itself takes it: its own scrolling included. */
    const draw = async (of: string, [dx, dy]: readonly [number, number]) => {
      const box = await page.locator(of).first().boundingBox();
      if (!box) throw new Error(`nothing to be seen of ${of}`);
      const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
      await touch('touchStart', [[x, y]]);
      for (let i = 1; i <= 12; i++) await touch('touchMove', [[x + (dx * i) / 12, y + (dy * i) / 12]]);
      await touch('touchEnd', []);
      // A page that was pushed glides on for a while.
      for (let was = Number.NaN, now = await scrolled(); now !== was; [was, now] = [now, await scrolled()]) await settle(page);
    };
    const ribbon = '[data-area="ribbon"] svg[viewBox]';
    const before = await cursor(page);
    // Straight, and aslant as a thumb goes.
    for (const way of [[0, -120], [-40, -120], [0, 90], [30, 90]] as const) {
      const from = await scrolled();
      await draw(ribbon, way);
      await expect.poll(async () => Math.sign((await scrolled()) - from), { message: `${way} on the ribbon` }).toBe(-Math.sign(way[1]));
      expect(await cursor(page), `${way} on the ribbon`).toBe(before);
    }
    await page.locator('.App_page').evaluate((element) => element.scrollTo(0, 0));
    const there = await scrolled();
    await draw(ribbon, [90, 12]);
    await expect.poll(() => cursor(page)).toBeGreaterThan(before + 50);
    expect(await scrolled()).toBe(there);
    await openRoom(page, 'Shape');
    const points = () => page.evaluate(() => [...document.querySelectorAll('[data-handle]')].map((handle) => handle.getAttribute('aria-label')));
    await page.locator('[data-drawing="outline"] [data-handle]').first().waitFor();
    const asDrawn = await points();
    const top = await scrolled();
    await draw('[data-drawing="outline"] .ruler', [0, -110]);
    await expect.poll(scrolled).toBeGreaterThan(top);
    expect(await points()).toEqual(asDrawn);
    const held = await scrolled();
    await draw('[data-drawing="outline"] [data-handle]:nth-of-type(4)', [0, -40]);
    await expect.poll(points).not.toEqual(asDrawn);
    expect(await scrolled()).toBe(held);
    await page.keyboard.press('Control+z');
    await page.setViewportSize(PHONE.viewport);
    await hand.detach();
    expectClean(visit);
  });
});

describe('the printed page', () => {
  test.each(['Plan', 'Build', 'At the bench', 'Sizes'])('from %s shows ribbon, station card and the rail at every rib', async (panel) => {
    const visit = await atBoard();
    const { page } = visit;
    await openRoom(page, panel);
    await page.emulateMedia({ media: 'print', colorScheme: 'dark', reducedMotion: 'reduce' });
    for (const shown of ['.PrintSheet_head', '.Ribbon_ribbon', '.StationCard_card', '.PrintSheet_ribs']) expect(await page.locator(shown).isVisible()).toBe(true);
    for (const gone of ['.TopBar_topbar', '.App_stage']) expect(await page.locator(gone).isVisible()).toBe(false);
    expect(await page.locator('.PrintSheet_ribs tbody tr').count()).toBe(plan.rail.ribs.length);
    const rib = plan.rail.ribs[3];
    const row = await page.locator('.PrintSheet_ribs tbody tr').nth(3).locator('td').allTextContents();
    expect(row.slice(0, 3)).toEqual([rib.x, plan.hull.length - rib.x, rib.s].map((mm) => mm.toFixed(1)));
    expect(row[3]).toBe(rib.gap.toFixed(1));
    const ground = await page.evaluate(() => getComputedStyle(document.body).backgroundColor);
    expect(ground).toBe('rgb(255, 255, 255)');
    const pdf = await page.pdf({ format: 'A4' });
    // One sheet: card, ribbon and table belong together.
    expect(pdf.toString('latin1').match(/\/Type\s*\/Page\b(?!s)/g)?.length).toBe(1);
    await page.emulateMedia({ media: 'screen', colorScheme: 'light', reducedMotion: 'reduce' });
    await page.keyboard.press('Escape');
    expectClean(visit);
  });
});

describe('words', () => {
  test('a figure leads to its word on the Words page, and Escape back', async () => {
    const visit = await atBoard();
    const { page } = visit;
    const [label, words] = [page.locator('.StationCard_card').getByRole('button', { name: 'gap', exact: true }), page.getByRole('region', { name: 'Words' })];
    await label.click();
    await words.waitFor();
    expect(await words.locator('[data-on] dd').innerText()).toBe('clear height between sole and cap; rows fill it, and what they leave is the slot');
    expect(await words.locator('.words-terms dt').count()).toBe(16);
    // Every number stands on the drawing or on the sketch under it, inside the frame and apart from the others.
    const numbers = await words.locator('.words-callout text').evaluateAll((all) => all.map((e) => ({ text: e.textContent, box: e.getBoundingClientRect().toJSON() as DOMRect })));
    expect(numbers.map(({ text }) => Number(text)).sort((a, b) => a - b)).toEqual(Array.from({ length: 16 }, (_, i) => i + 1));
    for (const [i, { box: a }] of numbers.entries()) for (const { box: b } of numbers.slice(i + 1)) expect(Math.hypot(a.x - b.x, a.y - b.y)).toBeGreaterThan(20);
    // Nothing under it can be reached.
    expect(await label.isVisible()).toBe(false);
    await page.keyboard.press('Escape');
    await words.waitFor({ state: 'detached' });
    expect(await label.evaluate((e) => e === document.activeElement)).toBe(true);
    await page.getByRole('button', { name: 'Words', exact: true }).click();
    await page.getByRole('button', { name: 'Back to Plan' }).click();
    await words.waitFor({ state: 'detached' });
    // A field's label leads there too, and back to its drawer; the rest of it to the field.
    await openRoom(page, 'Sizes');
    const sizes = page.getByRole('region', { name: 'Sizes' });
    const sole = sizes.getByRole('button', { name: 'Sole', exact: true });
    await sole.click();
    await words.waitFor();
    expect(await words.locator('[data-on] dd').innerText()).toContain('under the tabs');
    expect(await sizes.isVisible()).toBe(false);
    // What is under it is laid out as it was.
    expect(await page.locator('[data-words]').getAttribute('data-drawer')).toBe('sizes');
    await page.keyboard.press('Escape');
    await words.waitFor({ state: 'detached' });
    expect(await sole.evaluate((e) => e === document.activeElement)).toBe(true);
    // Another drawer opened from there leads back to the room, not to the first one.
    await page.getByRole('button', { name: 'Words', exact: true }).click();
    await page.getByRole('button', { name: /^Board: / }).click();
    await page.getByRole('region', { name: 'Boards' }).waitFor();
    await page.keyboard.press('Escape');
    expect(await page.locator('[data-drawer], [data-words]').count()).toBe(0);
    await openRoom(page, 'Sizes');
    await sizes.locator('label[for="rail.soleThickness"]').click();
    expect(await sizes.getByRole('textbox', { name: 'Sole thickness', exact: true }).evaluate((e) => e === document.activeElement)).toBe(true);
    expectClean(visit);
  });
});
