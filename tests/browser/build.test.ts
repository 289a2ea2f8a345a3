/** The build scrubber: the order of work on the stage, by slider, buttons, keys and finger. */
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { planBending } from '../../geometry/parts/bending';
import { workSteps } from '../../geometry/parts/work';
import { applyReadings, movesBetween, expectedReadings } from '../../geometry/trust/asBuilt';
import type { Reading } from '../../geometry/trust/readings';
import { noReadings } from '../../geometry/trust/emptyRecord';
import { boardPage, FIRST_BOARD, openRoom, openSeed, PHONE, seedPlan, settle, visitBoard } from './board';
import { expectClean, shareBrowser, type Visit } from './harness';
import { shareChanged, takePicture } from './picture';
import { mmText } from '../support/said';

shareBrowser();

const plan = seedPlan(FIRST_BOARD);
const steps = workSteps(plan, planBending(plan));
const atBoard = boardPage();
/** The same where the stage is looked at, on the smallest screen of a desk: what is drawn costs by its size. */
const atStage = boardPage({ pixels: true, viewport: { width: 1280, height: 720 } });
const slider = (page: Page) => page.getByRole('slider', { name: 'Step of the build' });
const title = (page: Page, step: number) => page.getByRole('heading', { name: steps[step - 1].title, exact: true });

/** Undoes by keys: on a phone the button is in a menu. */
async function undo(page: Page): Promise<void> {
  await page.evaluate(() => document.activeElement instanceof HTMLElement && document.activeElement.blur());
  await page.keyboard.press('Control+z');
}

/** The page that the tests share, or another, brought to a step by its address. */
async function atStep(step: number, at = atBoard): Promise<Visit> {
  const visit = await at();
  const { page } = visit;
  await page.evaluate((hash) => {
    location.hash = hash;
  }, `#step=${step}`);
  await title(page, step).waitFor();
  await settle(page);
  return visit;
}

describe('what is done', () => {
  test('is ticked step by step and check by check, undone, and there again after a reload', async () => {
    const visit = await visitBoard('', { ...PHONE });
    const { page } = visit;
    await openRoom(page, 'Build');
    await title(page, 1).waitFor();
    const done = (step: number) => page.getByRole('button', { name: `Step ${step} is done` });
    const isDone = async (step: number) => (await done(step).getAttribute('aria-pressed')) === 'true';
    await done(1).click();
    await page.getByRole('button', { name: 'Next step' }).click();
    await title(page, 2).waitFor();
    expect(await isDone(2)).toBe(false);
    await done(2).click();
    const first = page.locator('.checks tbody tr').nth(0).getByRole('checkbox');
    await first.check();
    await page.getByRole('button', { name: 'Previous step' }).click();
    expect(await isDone(1)).toBe(true);
    // Undone one by one: the check, then the step.
    await page.getByRole('button', { name: 'step 3' }).waitFor();
    await undo(page);
    await undo(page);
    await page.getByRole('button', { name: 'step 2' }).click();
    await title(page, 2).waitFor();
    expect([await isDone(2), await first.isChecked()]).toEqual([false, false]);
    await first.check();
    await settle(page);
    // Another panel takes the step out of the address: what was reached is the board's own.
    await openRoom(page, 'As built');
    await page.reload();
    await settle(page);
    await openRoom(page, 'Build');
    await title(page, 2).waitFor();
    expect([await isDone(2), await first.isChecked()]).toEqual([false, true]);
    expectClean(visit);
  });
});

describe('at the step', () => {
  const index = (id: string) => steps.find((step) => step.id === id)?.index ?? Number.NaN;
  const record = noReadings(plan.design.name, plan.design.revision);

  test('each side is ticked for itself; a step is done with both', async () => {
    const visit = await atStep(index('cap'));
    const { page } = visit;
    const count = page.getByRole('navigation', { name: 'Order of work' }).getByRole('status');
    const box = (side: string) => page.getByRole('checkbox', { name: `Cap: ${side} is done` });
    expect(await count.textContent()).toBe(`0 of ${steps.length}`);
    await page.getByRole('button', { name: 'Starboard is done' }).click();
    expect([await box('starboard').isChecked(), await box('port').isChecked()]).toEqual([true, false]);
    expect(await count.textContent()).toBe(`0 of ${steps.length}`);
    await box('port').check();
    await expect.poll(() => count.textContent()).toBe(`1 of ${steps.length}`);
    await box('starboard').uncheck();
    await expect.poll(() => count.textContent()).toBe(`0 of ${steps.length}`);
    expect(await page.getByRole('button', { name: 'Starboard is done' }).getAttribute('aria-pressed')).toBe('false');
    expectClean(visit);
  });

  test('a reading is asked about before it is taken: this rib or the batch, each with the stop it moves most; then what it changes later', async () => {
    const visit = await atStep(index('cap'));
    const { page } = visit;
    // Row 4 stops beside it.
    const rib = plan.rail.ribs[1];
    const cap = Number((plan.design.rail.capThickness + 0.7).toFixed(2));
    /** How far the stop that moves most goes, mm. */
    const farthest = (reading: Reading) => Math.max(...movesBetween(plan.rail, applyReadings(plan, { ...record, readings: [reading] }).plan.rail)
      .map(({ what, was = 0, is = 0 }) => (what === 'stop' ? Math.abs(is - was) : 0)));
    const [alone, batch] = [farthest({ of: 'rib', rib: rib.index + 1, side: 'starboard', cap }), farthest({ of: 'batch', cap })];
    expect(batch - alone).toBeGreaterThan(5);
    await page.getByRole('group', { name: 'What is measured' }).getByRole('button', { name: 'Cap' }).click();
    const field = page.getByLabel(`Cap at rib ${rib.index + 1}, starboard`);
    await field.fill(String(cap));
    await field.press('Enter');
    const asked = page.getByRole('group', { name: `Rib ${rib.index + 1} reads` });
    await expect.poll(() => asked.locator('[data-moves="rib"]').textContent()).toContain(`by ${alone.toFixed(1)} mm`);
    expect(await asked.locator('[data-moves="batch"]').textContent()).toContain(`by ${batch.toFixed(1)} mm`);
    // Nothing is taken until it is answered.
    expect(await page.locator('.later').count()).toBe(0);
    await asked.getByRole('button', { name: 'Cancel' }).click();
    expect(await field.inputValue()).toBe('');

    await field.fill(String(cap));
    await field.press('Enter');
    await asked.getByRole('button', { name: 'The whole batch' }).click();
    await page.getByRole('region', { name: `What rib ${rib.index + 1} changes later` }).waitFor();
    const later = applyReadings(plan, { ...record, readings: [{ of: 'batch', cap }] }).plan.rail.ribs.find(({ index: own }) => own === rib.index);
    const planing = Math.abs((later?.section.planing ?? 0) - rib.section.planing) >= 0.05;
    expect(await page.locator('[data-later="planing"]').count()).toBe(planing ? 1 : 0);
    if (planing) expect(await page.locator('[data-later="planing"] b').textContent()).toBe(later?.section.planing.toFixed(1));
    await page.getByRole('button', { name: `Undo ${cap.toFixed(1)}, the batch` }).click();
    await expect.poll(() => page.locator('.later').count()).toBe(0);

    // A tab is this rib's own, on the side that is read, or says how far all are off the drawn ones.
    await page.getByRole('group', { name: 'Side' }).getByRole('button', { name: 'Port' }).click();
    await page.getByRole('group', { name: 'What is measured' }).getByRole('button', { name: 'Tab' }).click();
    const tab = expectedReadings(plan, rib).tab - 0.5;
    await page.getByLabel(`Tab at rib ${rib.index + 1}, port`).fill(tab.toFixed(2));
    await page.getByLabel(`Tab at rib ${rib.index + 1}, port`).press('Enter');
    await page.getByRole('button', { name: 'The whole batch' }).click();
    await page.getByRole('button', { name: 'Undo −0.5, the batch' }).waitFor();
    expect(await page.getByLabel(`Tab at rib ${rib.index + 2}, port`).getAttribute('placeholder')).toBe(`batch ${Number((expectedReadings(plan, plan.rail.ribs[2]).tab - 0.5).toFixed(2))}`);
    await undo(page);
    await page.getByLabel(`Tab at rib ${rib.index + 1}, port`).fill(tab.toFixed(2));
    await page.getByLabel(`Tab at rib ${rib.index + 1}, port`).press('Enter');
    await page.getByRole('button', { name: 'This rib' }).click();
    const own = applyReadings(plan, { ...record, readings: [{ of: 'rib', rib: rib.index + 1, side: 'port', tab: Number(tab.toFixed(2)) }] }, 'port').plan.rail.ribs
      .find(({ index: each }) => each === rib.index);
    await expect.poll(() => page.locator('[data-later="planing"] b').textContent()).toBe(own?.section.planing.toFixed(1));
    expect(own?.section.planing.toFixed(1)).not.toBe(rib.section.planing.toFixed(1));
    await undo(page);
    expectClean(visit);
  });
});

describe('the build scrubber', () => {
  test('goes through every step with what to check, and each that adds a part changes the stage', async () => {
    const visit = await atStep(1, atStage);
    const { page } = visit;
    const stage = page.locator('canvas[data-drawn]');
    let before = await takePicture(stage);
    for (const step of steps) {
      await title(page, step.index).waitFor();
      for (const caution of step.cautions) expect(await page.locator('.cautions').textContent()).toContain(caution);
      const measures = await page.locator('.checks tbody th').allTextContents();
      expect(new Set(measures).size, step.title).toBe(step.checks.length);
      for (const [i, check] of step.checks.slice(0, 2).entries()) {
        const row = page.locator('.checks tbody tr').nth(i);
        expect((await row.locator('th').textContent())?.startsWith(mmText(check.what))).toBe(true);
        const shown = Number((await row.locator('td').textContent())?.replace('−', '-').replace('°', ''));
        expect(shown).toBeCloseTo(check.unit === 'rad' ? (check.value * 180) / Math.PI : check.value, 0);
      }
      await settle(page);
      const now = await takePicture(stage);
      const added = step.places.length > (steps[step.index - 2]?.places.length ?? 0);
      if (step.index > 1 && added) expect(shareChanged(before, now)).toBeGreaterThan(0.001);
      before = now;
      if (step.index < steps.length) await page.getByRole('button', { name: 'Next step' }).click();
    }
    expect(await page.getByRole('button', { name: 'Next step' }).isDisabled()).toBe(true);
    expectClean(visit);
  });

  test.each([['child-155', 'Nose and tail blocks'], ['round-tail-175', 'Nose and tail blocks']])('%s: %s arrive on the stage, at the board\'s ends', async (seed, name) => {
    const own = seedPlan(seed);
    const step = workSteps(own, planBending(own)).find((each) => each.title === name);
    if (!step) throw new Error(`${seed} has no step ${name}`);
    const visit = await atStage();
    const { page } = visit;
    await openSeed(page, seed);
    await openRoom(page, 'Build');
    await slider(page).fill(String(step.index - 1));
    await page.getByText(`step ${step.index - 1} of`).waitFor();
    await settle(page);
    const stage = page.locator('canvas[data-drawn]');
    const before = await takePicture(stage);
    await page.getByRole('button', { name: 'Next step' }).click();
    await page.getByText('Added now: blocks.').waitFor();
    await settle(page);
    // The blocks are small: they fill about a five-hundredth of the stage.
    expect(shareChanged(before, await takePicture(stage))).toBeGreaterThan(0.001);
    expectClean(visit);
  });

  test('shows bare frames at the second step and a closed board at the last', async () => {
    const visit = await atStep(2, atStage);
    const { page } = visit;
    const stage = page.locator('canvas[data-drawn]');
    const frames = await takePicture(stage);
    await slider(page).press('End');
    await title(page, steps.length).waitFor();
    await settle(page);
    expect(shareChanged(frames, await takePicture(stage))).toBeGreaterThan(0.08);
    // Backward again, to the same picture.
    await slider(page).press('Home');
    await slider(page).press('ArrowRight');
    await title(page, 2).waitFor();
    await settle(page);
    expect(shareChanged(frames, await takePicture(stage))).toBeLessThan(0.002);
    expectClean(visit);
  });

  test('builds starboard first, then port', async () => {
    const visit = await atStep(6, atStage);
    const { page } = visit;
    const port = await page.evaluate(() => window.railwright?.onPage(850, -250, 20) ?? null);
    if (!port) throw new Error('no stage');
    await page.getByText('Added now: sole, starboard.').waitFor();
    const around = { x: port.x - 60, y: port.y - 40, width: 120, height: 60 };
    const clip = async () => (await page.screenshot({ clip: around })).toString('base64');
    const sole = await clip();
    for (let step = 7; step <= 9; step++) await page.getByRole('button', { name: 'Next step' }).click();
    await title(page, 9).waitFor();
    await settle(page);
    expect(await clip()).toBe(sole);
    await page.getByRole('button', { name: 'Next step' }).click();
    await page.getByText('Added now: sole, cap, spacer rows, port.').waitFor();
    await settle(page);
    expect(await clip()).not.toBe(sole);
    expectClean(visit);
  });

  test('goes by keys, says where it is, and leads to the place of a measure', async () => {
    const visit = await atStep(1);
    const { page } = visit;
    for (let step = 2; step <= 7; step++) await page.keyboard.press('PageDown');
    await title(page, 7).waitFor();
    await page.keyboard.press('PageUp');
    await title(page, 6).waitFor();
    expect(new URL(page.url()).hash).toBe('#step=6');
    expect(await slider(page).getAttribute('aria-valuetext')).toBe(`6 of ${steps.length}: ${steps[5].title}`);
    const place = steps[5].checks[2].place;
    await page.locator('.checks button').nth(2).click();
    await settle(page);
    expect(await page.evaluate(() => window.railwright?.state()?.s)).toBeCloseTo(place?.s ?? Number.NaN, 6);
    await openRoom(page, 'Plan');
    expect(new URL(page.url()).hash).toBe('');
    expectClean(visit);
  });

  test('goes by finger, with targets a thumb can hit', async () => {
    const visit = await visitBoard('#step=3', PHONE);
    const { page } = visit;
    for (const name of ['Previous step', 'Next step']) {
      const box = await page.getByRole('button', { name }).boundingBox();
      expect(Math.min(box?.width ?? 0, box?.height ?? 0)).toBeGreaterThanOrEqual(44);
    }
    await page.getByRole('button', { name: 'Next step' }).tap();
    await title(page, 4).waitFor();
    const box = await slider(page).boundingBox();
    if (!box) throw new Error('no slider');
    await page.touchscreen.tap(box.x + box.width - 6, box.y + box.height / 2);
    await title(page, steps.length).waitFor();
    expectClean(visit);
  });

  test('a part comes in with motion, and is there at once where motion is not wanted', async () => {
    /** How many different pictures the stage draws after a part is called for, until it rests: a second's worth of frames that bring no new one. */
    const pictures = async (reducedMotion: 'reduce' | 'no-preference') => {
      // Small, since every frame is read.
      const visit = await visitBoard('#step=5', { pixels: true, reducedMotion, viewport: { width: 640, height: 480 } });
      const { page } = visit;
      type Watched = { watch: { readonly seen: Set<string>; still: number } };
      await page.evaluate(() => {
        const canvas = document.querySelector<HTMLCanvasElement>('canvas[data-drawn]');
        const watch = { seen: new Set<string>(), still: 0 };
        // Asked for after the frame, so that the stage draws first in the next one and its picture is still there.
        const look = () => {
          const before = watch.seen.size;
          if (canvas) watch.seen.add(canvas.toDataURL());
          watch.still = watch.seen.size > before ? 0 : watch.still + 1;
          setTimeout(() => requestAnimationFrame(look));
        };
        requestAnimationFrame(look);
        Object.assign(window, { watch });
      });
      const rest = () => page.waitForFunction(() => (window as unknown as Watched).watch.still > 60);
      const restart = () => page.evaluate(() => (window as unknown as Watched).watch.seen.clear());
      // What arrives with the page itself is at rest first.
      await rest();
      await restart();
      await page.getByRole('button', { name: 'Next step' }).click();
      await title(page, 6).waitFor();
      await page.evaluate(() => {
        (window as unknown as Watched).watch.still = 0;
      });
      await rest();
      expectClean(visit);
      return page.evaluate(() => (window as unknown as Watched).watch.seen.size);
    };
    // A frame moves a part by a seventh of its way at most; the empty picture between frames counts for one.
    expect(await pictures('no-preference')).toBeGreaterThanOrEqual(6);
    expect(await pictures('reduce')).toBeLessThanOrEqual(4);
  });
});
