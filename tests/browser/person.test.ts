/** What a maker comes for, from start to paper, by three means: pointer, keys alone, and a finger on a phone. Figures against the kernel. */
import type { Locator, Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { runOfPlace, sectionAt } from '../../geometry/rail/query';
import { stopsOf } from '../../geometry/rail/laid';
import { applyReadings, expectedReadings } from '../../geometry/trust/asBuilt';
import { noReadings } from '../../geometry/trust/emptyRecord';
import { angleText } from '../../src/say/units';
import { stopWhy } from '../../src/say/placeWords';
import { boardName, FIRST_BOARD, PHONE, ribAtCursor, seedPlan, settle, stopAtCursor, visitBoard } from './board';
import { expectClean, shareBrowser } from './harness';
import { rest } from './rooms';

shareBrowser();

const plan = seedPlan(FIRST_BOARD);

/** How a hand does what it does. */
interface Hand {
  readonly page: Page;
  press(what: Locator): Promise<void>;
  /** Types into a field and takes it. */
  type(field: Locator, text: string): Promise<void>;
}

const pointer = (page: Page): Hand => ({
  page,
  press: (what) => what.click(),
  type: async (field, text) => {
    await field.click();
    await page.keyboard.type(text);
    await page.keyboard.press('Enter');
  },
});

const finger = (page: Page): Hand => ({
  page,
  press: (what) => what.tap(),
  type: async (field, text) => {
    await field.tap();
    await field.fill(text);
    await page.keyboard.press('Enter');
  },
});

/** Goes on by Tab until something has the focus, from where that is now and round the page once. */
async function tabTo(page: Page, what: Locator): Promise<void> {
  await what.waitFor();
  for (let presses = 0; presses < 400; presses++) {
    await page.keyboard.press('Tab');
    if (await what.evaluate((element) => element === document.activeElement)) return;
  }
  throw new Error(`Tab does not lead to ${String(what)}`);
}

const keys = (page: Page): Hand => ({
  page,
  press: async (what) => {
    await tabTo(page, what);
    await page.keyboard.press((await what.evaluate((element) => element instanceof HTMLInputElement)) ? 'Space' : 'Enter');
  },
  type: async (field, text) => {
    await tabTo(page, field);
    await page.keyboard.type(text);
    await page.keyboard.press('Enter');
  },
});

const roomButton = (page: Page, name: string) => page.getByRole('navigation', { name: 'Rooms' }).getByRole('button', { name: new RegExp(`^${name}`) });

/** Goes to a room; on a phone by the menu. */
async function go({ page, press }: Hand, room: string): Promise<void> {
  const menu = page.getByRole('button', { name: /^Menu, / }).first();
  if (await menu.isVisible()) await press(menu);
  await press(roomButton(page, room));
}

/** The bevel 400 mm from the nose, typed with a decimal comma. */
async function bevelFromNose(hand: Hand): Promise<void> {
  const { page } = hand;
  await hand.type(page.getByLabel('Station from nose', { exact: true }), '400,0');
  await settle(page);
  const { bevel } = sectionAt(plan, runOfPlace(plan, { x: plan.hull.length - 400 }));
  expect(await page.locator('[data-area="card"] [data-figure="Bevel"]').textContent()).toBe(angleText(bevel));
}

/** A decision taken, which changes what is to decide or the board, and undone by its name. */
async function decide(hand: Hand): Promise<void> {
  const { page, press } = hand;
  const count = () => page.locator('.Headline_headline button').textContent();
  const standing = async () => [await count(), await page.evaluate(() => {
    const { length, run, rows, stops, stations, bevel } = window.railwright?.state() ?? {};
    return { length, run, rows, stops, stations, bevel };
  })];
  // What the rooms say stays until it is known again, marked as busy meanwhile.
  const rooms = page.locator('nav[aria-label="Rooms"]').first();
  const busy = rooms.locator('[aria-busy="true"]');
  await busy.first().waitFor({ state: 'detached', timeout: 60_000 });
  const before = await standing();
  const said = await rooms.evaluateHandle((nav) => {
    const texts: string[] = [];
    new MutationObserver(() => texts.push(`${nav.textContent}${nav.querySelector('[aria-busy="true"]') ? ' busy' : ''}`))
      .observe(nav, { subtree: true, childList: true, characterData: true, attributes: true });
    return texts;
  });
  await press(page.locator('.Headline_headline button'));
  const drawer = page.getByRole('region', { name: 'Decisions' });
  const way = drawer.getByRole('radio').first();
  await way.waitFor();
  await press(way);
  await settle(page);
  await press(drawer.getByRole('button', { name: /^(Do it|Settle)/ }));
  await settle(page);
  const undo = drawer.getByRole('button', { name: /^Undo: / });
  await undo.waitFor();
  await expect.poll(standing, { timeout: 20_000 }).not.toEqual(before);
  await busy.first().waitFor({ state: 'detached', timeout: 60_000 });
  const texts = await said.jsonValue();
  expect(texts.filter((text) => text.includes('…'))).toEqual([]);
  expect(texts.some((text) => text.endsWith(' busy'))).toBe(true);
  if (!(await undo.evaluate((element) => element === document.activeElement))) await press(undo);
  else await page.keyboard.press('Enter');
  await settle(page);
  await press(drawer.getByRole('button', { name: 'Close decisions' }));
  await expect.poll(standing).toEqual(before);
}

/** One paper made: a PDF comes. */
async function paper(hand: Hand): Promise<void> {
  const { page, press } = hand;
  await go(hand, 'Bench');
  await rest(page);
  await press(page.getByRole('button', { name: 'Bench sheet', exact: true }));
  await page.getByRole('img', { name: 'Page 1: Bench sheet' }).waitFor();
  const [file] = await Promise.all([page.waitForEvent('download'), press(page.getByRole('button', { name: 'Save the PDF' }))]);
  expect(file.suggestedFilename()).toMatch(/\.pdf$/);
}

/** A board of one's own: begun, changed by `draw`, there again when the page is reloaded, and again from the board menu after another was open. */
async function ownBoard(hand: Hand, boards: () => Promise<void>, draw: (third: Locator) => Promise<void>): Promise<void> {
  const { page, press } = hand;
  await boards();
  await press(page.getByRole('button', { name: 'New board' }));
  await page.waitForFunction(() => window.railwright?.state()?.board === 'New board');
  await settle(page);
  const third = page.getByLabel('Point 3 half-breadth', { exact: true });
  const was = await third.inputValue();
  await draw(third);
  await settle(page);
  const is = await third.inputValue();
  expect(is).not.toBe(was);
  await page.evaluate(() => history.replaceState(null, '', location.pathname));
  await page.reload();
  await settle(page);
  expect(await boardName(page)).toBe('New board');
  // Another, and back to it by its name.
  await boards();
  await press(page.getByRole('button', { name: /^Begin with / }).last());
  await page.waitForFunction(() => window.railwright?.state()?.board !== 'New board');
  await boards();
  await press(page.getByRole('button', { name: /^Open New board/ }));
  await page.waitForFunction(() => window.railwright?.state()?.board === 'New board');
  await go(hand, 'Shape');
  await third.waitFor();
  expect(await third.inputValue()).toBe(is);
}

/** The stop under the cursor, and the reason for it on the card. */
async function stopAndReason(page: Page): Promise<void> {
  await settle(page);
  const stop = await stopAtCursor(page, plan);
  expect(await page.locator('[data-area="card"]').textContent()).toContain(`Row ${stop.row} stops: ${stopWhy(plan, stop, 'mm')}`);
}

describe('a maker', () => {
  test('with a pointer', async () => {
    const visit = await visitBoard('', { bench: true });
    const { page } = visit;
    const hand = pointer(page);
    await hand.press(page.getByRole('button', { name: /^Next stop: / }));
    await stopAndReason(page);
    await bevelFromNose(hand);
    await decide(hand);
    await paper(hand);
    expectClean(visit);
    // Boards of one's own need nothing that the bench works out.
    const own = await visitBoard('');
    await ownBoard(pointer(own.page), () => own.page.getByRole('button', { name: /^Board: / }).click(), async () => {
      const { page: drawing } = own;
      const box = await drawing.locator('[data-handle="outline-2"]').boundingBox();
      if (!box) throw new Error('no handle');
      await drawing.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
      await drawing.mouse.down();
      await drawing.mouse.move(box.x + box.width / 2, box.y + box.height / 2 - 12, { steps: 4 });
      await drawing.mouse.up();
    });
    expectClean(own);
  });

  test('with keys alone', async () => {
    const visit = await visitBoard('', { bench: true });
    const { page } = visit;
    const hand = keys(page);
    await page.keyboard.press('Shift+ArrowUp');
    await stopAndReason(page);
    await bevelFromNose(hand);
    await decide(hand);
    await paper(hand);
    expectClean(visit);
    const own = await visitBoard('');
    const mine = keys(own.page);
    await ownBoard(mine, () => mine.press(own.page.getByRole('button', { name: /^Board: / })), async () => {
      await tabTo(own.page, own.page.locator('[data-handle="outline-2"]'));
      await own.page.keyboard.press('Shift+ArrowUp');
    });
    expectClean(own);
  });

  test('with a finger, at the bench', async () => {
    const visit = await visitBoard('', { ...PHONE, bench: true });
    const { page } = visit;
    const hand = finger(page);
    const { press } = hand;
    const face = page.getByRole('region', { name: 'At the bench' });
    const thumb = face.getByRole('navigation', { name: 'Before and next' }).getByRole('button');
    await press(face.getByRole('button', { name: 'Stops', exact: true }));
    const told = async () => ({ name: await face.locator('.name').textContent(), station: await face.locator('[data-figure="Station"]').textContent() });
    await settle(page);
    const stop = await stopAtCursor(page, plan);
    expect(await face.locator('.bench-place b').textContent()).toBe(stopWhy(plan, stop, 'mm'));

    // Readings at two ribs, and the stops that they correct.
    await press(face.getByRole('button', { name: 'Ribs', exact: true }));
    await settle(page);
    await press(face.getByRole('button', { name: 'Measure here' }));
    const pad = page.getByRole('region', { name: 'Measure', exact: true });
    const record = noReadings(plan.design.name, plan.design.revision);
    for (let k = 0; k < 2; k++) {
      const rib = await ribAtCursor(page, plan);
      const figure = (expectedReadings(plan, rib).tab - 0.7).toFixed(1);
      for (const key of figure) await press(pad.getByRole('button', { name: key === '.' ? 'comma' : key, exact: true }));
      record.readings.push({ of: 'rib', rib: rib.index + 1, side: 'starboard', tab: Number(figure) });
      await press(pad.getByRole('button', { name: /^Next: rib/ }));
      // Before the first of its kind it is asked whether all ribs are so.
      if (k === 0) await press(pad.getByRole('group', { name: 'What it is of' }).getByRole('button', { name: `Rib ${rib.index + 1} alone, starboard` }));
      await settle(page);
    }
    await press(pad.getByRole('button', { name: 'Leave' }));
    await press(face.getByRole('button', { name: 'Stops', exact: true }));
    const built = applyReadings(plan, record, 'starboard').plan;
    const nearer = (of: typeof plan) => stopsOf(of.rail).map(({ row, x }) => `Row ${row} ${Math.min(x, plan.hull.length - x).toFixed(1)}`);
    const shown: string[] = [];
    await rest(page);
    while (await thumb.first().isEnabled()) await press(thumb.first());
    for (;;) {
      await settle(page);
      const { name, station } = await told();
      if (/^Row \d$/.test(name ?? '')) shown.push(`${name} ${station}`);
      if (!(await thumb.last().isEnabled())) break;
      await press(thumb.last());
    }
    expect(shown.length).toBeGreaterThan(2);
    for (const one of shown) expect(nearer(built)).toContain(one);
    expect(shown.some((one) => !nearer(plan).includes(one))).toBe(true);

    await go(hand, 'Plan');
    await decide(hand);
    await paper(hand);
    expectClean(visit);
    const own = await visitBoard('', PHONE);
    const mine = finger(own.page);
    await ownBoard(mine, async () => {
      await mine.press(own.page.getByRole('button', { name: /^Menu, / }).first());
      await mine.press(own.page.getByRole('region', { name: 'Menu' }).getByRole('button', { name: /^Another board/ }));
    }, (third) => mine.type(third, '270,5'));
    expectClean(own);
  });
});
