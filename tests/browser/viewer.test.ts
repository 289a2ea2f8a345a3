/** The viewer as a maker meets it: stage, bevel map, ribbon, card, sizes and files, in a real browser. */
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { planBoard } from '../../geometry/plan';
import { runAtX, sectionAt, stationAt } from '../../geometry/rail/query';
import { stopsOf } from '../../geometry/rail/laid';
import type { Plan } from '../../geometry/types';
import { bevelColour, bevelScale } from '../../src/say/ramp';
import type { CapPlace, PageState } from '../../src/app/probe';
import { starterTexts } from '../geometry/boards';
import { boardPage, FIRST_BOARD, openRoom, openSeed, PHONE, seedPlan, seedText, settle, typePlace, visitBoard } from './board';
import { expectClean, shareBrowser } from './harness';
import { type Colour, countColours, shareChanged, takePicture } from './picture';

shareBrowser();

const plan = seedPlan(FIRST_BOARD);

/** What most tests here share; where the stage's pixels are looked at, the board's layers are left as they were. */
const atBoard = boardPage();
const atStage = boardPage({ pixels: true });

async function stateOf(page: Page): Promise<PageState> {
  const state = await page.evaluate(() => window.railwright?.state() ?? null);
  if (!state) throw new Error('the page has no plan');
  return state;
}

async function capAt(page: Page, s: number): Promise<CapPlace> {
  const place = await page.evaluate((run) => window.railwright?.capAt(run) ?? null, s);
  if (!place) throw new Error('the page has no stage');
  return place;
}

const chooseView = (page: Page, name: string) => page.getByRole('toolbar', { name: 'Views' }).getByRole('button', { name, exact: true }).click();

async function chooseLayer(page: Page, group: string, choice: string): Promise<void> {
  await page.getByRole('group', { name: group }).getByRole('button', { name: choice, exact: true }).click();
}

async function type(page: Page, label: string, text: string): Promise<void> {
  await typePlace(page, label, text);
  await settle(page);
}

/** What each of the three rooms says of the station: all must be the kernel's answer for one run. */
async function expectOneStation(page: Page, s: number, within: number): Promise<void> {
  const state = await stateOf(page);
  expect(Math.abs(state.s - s)).toBeLessThanOrEqual(within);
  const section = sectionAt(plan, state.s);
  const station = stationAt(plan, state.s);
  expect(state.x).toBeCloseTo(station, 6);

  const slider = page.getByRole('slider', { name: 'Station cursor, along the rail from the tail' });
  expect(Number(await slider.getAttribute('aria-valuenow'))).toBe(Math.round(state.s));

  expect(Number(await page.getByLabel('Along the rail from tail', { exact: true }).inputValue())).toBeCloseTo(state.s, 1);
  expect(Number(await page.getByLabel('Station from nose', { exact: true }).inputValue())).toBeCloseTo(plan.hull.length - station, 1);
  expect(await page.locator('[data-figure="Gap"]').textContent()).toBe(section.gap.toFixed(1));

  const nearer = Math.min(station, plan.hull.length - station);
  expect(await page.locator('[data-anchor="cursor"]').textContent()).toContain(nearer.toFixed(0));
}

const apart = (a: Colour, b: Colour) => Math.max(...a.map((value, channel) => Math.abs(value - b[channel])));

describe('stage', () => {
  test('shows a board of many colours, and asks nothing of anyone else', async () => {
    const visit = await atStage();
    const picture = await takePicture(visit.page.locator('canvas[data-drawn]'));
    expect(countColours(picture)).toBeGreaterThan(60);
    expectClean(visit);
  });

  test('hiding the deck changes what is seen', async () => {
    const visit = await atStage();
    const { page } = visit;
    const stage = page.locator('canvas[data-drawn]');
    await page.getByRole('button', { name: 'Layers' }).click();
    await chooseLayer(page, 'Deck skin', 'On');
    await settle(page);
    const covered = await takePicture(stage);
    await chooseLayer(page, 'Deck skin', 'Off');
    await settle(page);
    const open = await takePicture(stage);
    expect(shareChanged(covered, open)).toBeGreaterThan(0.04);
    await chooseLayer(page, 'Deck skin', 'On');
    await settle(page);
    expect(shareChanged(covered, await takePicture(stage))).toBeLessThan(0.001);
    await chooseLayer(page, 'Deck skin', 'Faded');
    expectClean(visit);
  });

  test('is drawn again only when something on it changes', async () => {
    const visit = await atStage();
    const { page } = visit;
    const stage = page.locator('canvas[data-drawn]');
    // Narrower than where the sizes are given more.
    await page.setViewportSize({ width: 1400, height: 900 });
    await openRoom(page, 'Spreads');
    await page.getByRole('region', { name: 'Spreads' }).waitFor();
    await settle(page);
    await page.evaluate(() => {
      const { drawElements } = WebGL2RenderingContext.prototype;
      Object.assign(window, { draws: 0 });
      WebGL2RenderingContext.prototype.drawElements = function count(...given) {
        Reflect.set(window, 'draws', Number(Reflect.get(window, 'draws')) + 1);
        return drawElements.apply(this, given);
      };
    });
    const draws = () => page.evaluate(() => Number(Reflect.get(window, 'draws')));
    const place = await stage.boundingBox();
    // Another drawer of the same width leaves the stage as it is; the cursor moved does not.
    await page.getByRole('button', { name: 'Sizes' }).click();
    await page.getByRole('region', { name: 'Sizes' }).waitFor();
    await settle(page);
    expect(await stage.boundingBox()).toEqual(place);
    expect(await draws()).toBe(0);
    await type(page, 'Along the rail from tail', '700');
    expect(await draws()).toBeGreaterThan(0);
    await page.setViewportSize({ width: 1440, height: 900 });
    expectClean(visit);
  });

  test('the bevel map reads against its legend', async () => {
    const visit = await atStage();
    const { page } = visit;
    const scale = bevelScale(plan);
    const legend = await takePicture(page.locator('.Legend_bar canvas'));
    await page.getByRole('button', { name: 'Layers' }).click();
    await page.getByLabel('Labels').uncheck();
    // The layers lie over the picture.
    await page.keyboard.press('Escape');
    let read = 0;
    for (const share of [0.06, 0.15, 0.3, 0.62, 0.8, 0.9, 0.94]) {
      const { s0, s1 } = plan.rail.cap;
      const s = s0 + share * (s1 - s0);
      const { bevel } = sectionAt(plan, s);
      const fromContour = Math.abs(bevel / scale.contour - Math.round(bevel / scale.contour));
      if (fromContour < 0.06) continue;
      // The cursor is a little aside, toward the nose: the close view is cut there, and shows what lies tailward.
      await type(page, 'Along the rail from tail', (s + 50).toFixed(1));
      await chooseView(page, 'Here');
      await settle(page);
      const place = await capAt(page, s);
      expect(place.bevel).toBeCloseTo(bevel, 9);
      const seen = (await takePicture(page)).at(place.x, place.y);
      expect(apart(seen, bevelColour(scale, bevel))).toBeLessThanOrEqual(3);
      const column = ((bevel - scale.low) / (scale.high - scale.low)) * (legend.width - 1);
      expect(apart(seen, legend.at(column, legend.height / 2))).toBeLessThanOrEqual(5);
      read += 1;
    }
    expect(read).toBeGreaterThanOrEqual(4);
    await page.getByRole('button', { name: 'Layers' }).click();
    await page.getByLabel('Labels').check();
    await chooseView(page, '3/4');
    expectClean(visit);
  });
});

describe('one station in three places', () => {
  test('a drag along the ribbon', async () => {
    const visit = await atBoard();
    const { page } = visit;
    const box = await page.locator('.Ribbon_frame svg').boundingBox();
    if (!box) throw new Error('no ribbon');
    const y = box.y + box.height * 0.75;
    await page.mouse.move(box.x + box.width * 0.5, y);
    await page.mouse.down();
    await page.mouse.move(box.x + box.width * 0.4, y, { steps: 4 });
    const to = box.x + box.width * 0.27;
    await page.mouse.move(to, y, { steps: 4 });
    await page.mouse.up();
    await settle(page);
    const line = await page.locator('.Ribbon_cursor line:not([data-casing])').boundingBox();
    expect(Math.abs((line?.x ?? 0) + (line?.width ?? 0) / 2 - to)).toBeLessThan(1.5);
    await expectOneStation(page, (await stateOf(page)).s, 0);
    expectClean(visit);
  });

  test('the scale under the ribbon measures what its stops tell', async () => {
    const visit = await atBoard();
    const { page } = visit;
    const figures = (list: SVGElement[]) => list.flatMap((g) => {
      const [line, text] = [g.querySelector('line'), g.querySelector('text')];
      return line && text ? [{ px: Number(line.getAttribute('x1')), mm: Number(text.textContent) }] : [];
    });
    const ticks = (await page.locator('.Axis_axis > g').evaluateAll(figures)).sort((a, b) => a.px - b.px);
    const stops = await page.locator('.Stack_stop').evaluateAll(figures);
    expect(stops.length).toBeGreaterThan(3);
    let read = 0;
    for (const { px, mm } of stops) {
      const i = ticks.findIndex((tick) => tick.px > px);
      if (i < 1) continue;
      const [a, b] = [ticks[i - 1], ticks[i]];
      read += 1;
      // Half a millimetre is rounded off, and a tenth of a px.
      expect(Math.abs(a.mm + ((b.mm - a.mm) * (px - a.px)) / (b.px - a.px) - mm), `${mm} mm`).toBeLessThan(0.8);
    }
    expect(read).toBeGreaterThan(3);
    expectClean(visit);
  });

  test('a click on the board', async () => {
    const visit = await atBoard();
    const { page } = visit;
    await chooseView(page, 'Above');
    await settle(page);
    const place = await capAt(page, 430);
    await page.mouse.click(place.x, place.y);
    await settle(page);
    await expectOneStation(page, 430, 4);
    expectClean(visit);
  });

  test('keys: fine steps, and rib by rib', async () => {
    const visit = await atBoard();
    const { page } = visit;
    await type(page, 'Along the rail from tail', '700');
    await page.locator('.StationCard_card h2').click();
    await page.keyboard.press('Escape');
    await page.evaluate(() => document.activeElement instanceof HTMLElement && document.activeElement.blur());
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('ArrowLeft');
    await settle(page);
    await expectOneStation(page, 701, 1e-6);
    const runs = plan.rail.ribs.map((rib) => rib.s).sort((a, b) => a - b);
    await page.keyboard.press('Shift+ArrowRight');
    await settle(page);
    await expectOneStation(page, runs.find((s) => s > 701) ?? Number.NaN, 1e-6);
    await page.keyboard.press('ArrowDown');
    await settle(page);
    await expectOneStation(page, runs.filter((s) => s < 701).at(-1) ?? Number.NaN, 1e-6);
    expectClean(visit);
  });

  test('a stop is stepped to, with its reason as a sum; all but More stands at 1280 x 720', async () => {
    const visit = await atBoard();
    const { page } = visit;
    const own = plan.design.rail;
    const ahead = stopsOf(plan.rail).filter(({ cause, end }) => cause === 'gap' && end === 'tail').sort((a, b) => a.s - b.s);
    await type(page, 'Along the rail from tail', (ahead[0].s - 5).toFixed(1));
    const card = page.locator('.StationCard_card');
    const figure = (name: string) => card.locator(`[data-figure="${name}"]`).innerText();
    expect(ahead.length).toBeGreaterThan(1);
    for (const stop of ahead.slice(0, 2)) {
      await page.getByRole('button', { name: 'Next stop' }).click();
      await settle(page);
      await expectOneStation(page, stop.s, 1e-6);
      expect(await card.getByRole('heading', { level: 2 }).innerText()).toBe(`stop of row ${stop.row}`);
      const gap = Number((stop.row * own.spacerHeight + own.clearance).toFixed(2));
      expect(await card.innerText()).toContain(`Row ${stop.row} stops: gap ${gap} = ${stop.row} × ${own.spacerHeight} + ${own.clearance}`);
      expect([await figure('Rows to tail'), await figure('Rows to nose')]).toEqual([stop.row - 1, stop.row].map(String));
    }
    await page.keyboard.press('Shift+ArrowDown');
    await settle(page);
    await expectOneStation(page, ahead[0].s, 1e-6);
    await page.setViewportSize({ width: 1280, height: 720 });
    await settle(page);
    const more = await card.getByRole('button', { name: /^More/ }).boundingBox();
    const check = await card.locator('[data-figure="Cap left"]').boundingBox();
    expect((more?.y ?? Infinity) + (more?.height ?? 0)).toBeLessThanOrEqual(720);
    expect((check?.y ?? Infinity) + (check?.height ?? 0)).toBeLessThanOrEqual(more?.y ?? 0);
    expect(await card.evaluate((e) => [e.scrollHeight - e.clientHeight, e.scrollWidth - e.clientWidth])).toEqual([0, 0]);
    await page.setViewportSize({ width: 1440, height: 900 });
    expectClean(visit);
  });

  test('a distance typed, and one that is off the board', async () => {
    const visit = await atBoard();
    const { page } = visit;
    await type(page, 'Station from nose', '500');
    const there = runAtX(plan, plan.hull.length - 500);
    await expectOneStation(page, there, 1e-6);
    await type(page, 'Station from tail', '4000');
    expect(await page.locator('.StationCard_card [role="alert"]').textContent()).toContain(`0 to ${plan.hull.length.toFixed(1)} mm`);
    expect((await stateOf(page)).s).toBeCloseTo(there, 6);
    expectClean(visit);
  });
});

describe('sizes', () => {
  test('a slider plans live, and one drag is one step back', async () => {
    const visit = await atBoard();
    const { page } = visit;
    const before = await stateOf(page);
    await page.getByRole('button', { name: 'Sizes' }).click();
    const slider = page.getByLabel('Spacer height, slider');
    const box = await slider.boundingBox();
    if (!box) throw new Error('no slider');
    await page.mouse.move(box.x + box.width * 0.24, box.y + box.height / 2);
    await page.mouse.down();
    for (const share of [0.3, 0.36, 0.42, 0.5]) await page.mouse.move(box.x + box.width * share, box.y + box.height / 2);
    await settle(page);
    const during = await stateOf(page);
    expect(during.stops).not.toEqual(before.stops);
    await page.mouse.up();
    await settle(page);
    expect((await stateOf(page)).stops).toEqual(during.stops);
    // What it does stands beside, now and then.
    const row = page.getByRole('region', { name: 'What this does' }).locator('[data-figure="Row 4"] td');
    const stopsOfRow = ({ rail: { rows }, hull }: Plan) => rows.filter(({ row: nth }) => nth === 4).map(({ tail, nose }) => `${tail.x.toFixed(0)} / ${(hull.length - nose.x).toFixed(0)}`)[0] ?? 'none';
    const height = Number(await page.getByRole('textbox', { name: 'Spacer height', exact: true }).inputValue());
    expect(await row.allInnerTexts()).toEqual([stopsOfRow(plan), stopsOfRow(planBoard({ ...plan.design, rail: { ...plan.design.rail, spacerHeight: height } }))]);
    await page.getByRole('button', { name: 'Undo' }).click();
    await settle(page);
    expect((await stateOf(page)).stops).toEqual(before.stops);
    expect(await page.getByRole('button', { name: 'Undo' }).isDisabled()).toBe(true);
    expectClean(visit);
  });

  test('a size that cannot be is told beside its field, and the board is unchanged', async () => {
    const visit = await atBoard();
    const { page } = visit;
    const before = await stateOf(page);
    await page.getByRole('button', { name: 'Sizes' }).click();
    for (const text of ['-3', '1e9', 'wide', '']) {
      await type(page, 'Strip width', text);
      expect(await page.locator('.panel [role="alert"]').textContent()).toContain('3 to 80 mm');
      expect((await stateOf(page)).stops).toEqual(before.stops);
    }
    await type(page, 'Strip width', '14');
    expect(await page.locator('.panel [role="alert"]').count()).toBe(0);
    expect((await stateOf(page)).stops).not.toEqual(before.stops);
    expectClean(visit);
  });
});

describe('board files', () => {
  const broken: readonly { readonly text: string; readonly says: readonly string[] }[] = [
    { text: seedText(FIRST_BOARD).slice(0, 900), says: ['was not opened'] },
    { text: seedText(FIRST_BOARD).replace('"version": 2', '"version": 99'), says: ['version', '99'] },
    { text: seedText(FIRST_BOARD).replace('"stripWidth": 12', '"stripWidth": "wide"'), says: ['rail.stripWidth', '"wide"', '3 to 80 mm'] },
    { text: seedText(FIRST_BOARD).replace('"stripWidth": 12', '"stripWidth": 12000'), says: ['rail.stripWidth', '12000', '3 to 80 mm'] },
  ];

  test('a broken file says what is wrong and leaves the board', async () => {
    const visit = await atStage();
    const { page } = visit;
    const before = await stateOf(page);
    for (const { text, says } of broken) {
      expect(text).not.toBe(seedText(FIRST_BOARD));
      await openRoom(page, 'Boards');
      await page.getByTestId('board-file').setInputFiles({ name: 'mine.board.json', mimeType: 'application/json', buffer: Buffer.from(text) });
      const notice = page.getByRole('alertdialog');
      await notice.waitFor();
      const told = (await notice.textContent()) ?? '';
      for (const word of says) expect(told).toContain(word);
      await notice.getByRole('button', { name: 'Close', exact: true }).click();
      // The bench's parts may have come in meanwhile.
      expect({ ...(await stateOf(page)), parts: before.parts }).toEqual(before);
    }
    expect(countColours(await takePicture(page.locator('canvas[data-drawn]')))).toBeGreaterThan(60);
    expectClean(visit);
  });

  test('a board dropped on the page opens, and saving gives the same bytes back', async () => {
    const visit = await atBoard();
    const { page } = visit;
    const text = seedText('child-155');
    const files = await page.evaluateHandle((content) => {
      const transfer = new DataTransfer();
      transfer.items.add(new File([content], 'child.board.json', { type: 'application/json' }));
      return transfer;
    }, text);
    await page.locator('main').dispatchEvent('drop', { dataTransfer: files });
    await page.waitForFunction(() => window.railwright?.state()?.length === 1550);
    await settle(page);
    // The browser's own file chooser cannot be answered by a test; without it a save is a download.
    await page.evaluate(() => Reflect.deleteProperty(window, 'showSaveFilePicker'));
    await openRoom(page, 'Boards');
    const [download] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Save to a file' }).click()]);
    const parts: Buffer[] = [];
    for await (const part of await download.createReadStream()) parts.push(Buffer.from(part));
    expect(Buffer.concat(parts).toString('utf8')).toBe(text);
    expectClean(visit);
  });

  test('a board that reads but can carry no rail says so, and the last one stays drawn', async () => {
    const visit = await atStage();
    const { page } = visit;
    const before = await stateOf(page);
    const board = JSON.parse(seedText(FIRST_BOARD));
    board.rail.soleThickness = 36;
    const open = async () => {
      const buffer = Buffer.from(JSON.stringify(board));
      await openRoom(page, 'Boards');
      await page.getByTestId('board-file').setInputFiles({ name: 'mine.board.json', mimeType: 'application/json', buffer });
    };
    // The sole alone is nearly as high as the board is deep: there is a plan, with nothing in the box, and findings that say so.
    await open();
    await page.waitForFunction(() => window.railwright?.state()?.rows === 0);
    await settle(page);
    await openRoom(page, 'Decisions');
    expect(await page.locator('.findings [data-level="cannot"]').first().textContent()).toContain('no hollow');
    expect(countColours(await takePicture(page.locator('canvas[data-drawn]')))).toBeGreaterThan(60);

    // Thinner still, and there is no plan at all.
    for (const point of board.lines.thickness.points) point.v *= 0.55;
    await open();
    const alert = page.locator('.PlanNotice_failure');
    await alert.waitFor();
    expect(await alert.textContent()).toContain('lines.thickness');
    expect(await alert.textContent()).toContain('the last board that could be');
    expect((await stateOf(page)).rows).toBe(0);
    // Undo goes through a board's own steps, and never puts one board under another's name.
    expect(await page.getByRole('button', { name: 'Undo' }).isDisabled()).toBe(true);
    await openSeed(page, FIRST_BOARD);
    await alert.waitFor({ state: 'detached' });
    await settle(page);
    expect((await stateOf(page)).stops).toEqual(before.stops);
    expectClean(visit);
  });

  test('every starter board opens, on a phone too', async () => {
    const visit = await visitBoard('', { viewport: PHONE.viewport, pixels: true });
    const { page } = visit;
    for (const [, text] of starterTexts) {
      await openRoom(page, 'Boards');
      await page.getByRole('button', { name: `Begin with ${JSON.parse(text).name}` }).click();
      await page.waitForFunction((name) => window.railwright?.state()?.board === name, JSON.parse(text).name);
      await settle(page);
      expect(countColours(await takePicture(page.locator('canvas[data-drawn]')), 2)).toBeGreaterThan(40);
    }
    const overflow = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
    expect(overflow).toBe(0);
    expectClean(visit);
  });
});
