/** The build scrubber: the order of work on the stage, by slider, buttons, keys and finger. */
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { planBending } from '../../geometry/parts/bending';
import { workSteps } from '../../geometry/parts/work';
import { boardPage, FIRST_BOARD, openPanel, openSeed, PHONE, seedPlan, settle, visitBoard } from './board';
import { expectClean, shareBrowser, type Visit } from './harness';
import { shareChanged, takePicture } from './picture';
import { mmText } from '../support/said';

shareBrowser();

const plan = seedPlan(FIRST_BOARD);
const steps = workSteps(plan, planBending(plan));
const atBoard = boardPage({ pixels: true });
const slider = (page: Page) => page.getByRole('slider', { name: 'Step of the build' });
const title = (page: Page, step: number) => page.getByRole('heading', { name: steps[step - 1].title, exact: true });

/** Undoes by keys: on a phone the button is in a menu. */
async function undo(page: Page): Promise<void> {
  await page.evaluate(() => document.activeElement instanceof HTMLElement && document.activeElement.blur());
  await page.keyboard.press('Control+z');
}

/** The page that the tests share, brought to a step by its address. */
async function atStep(step: number): Promise<Visit> {
  const visit = await atBoard();
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
    await openPanel(page, 'Build');
    await title(page, 1).waitFor();
    const done = (step: number) => page.getByLabel(`Step ${step} is done`);
    await done(1).check();
    await page.getByRole('button', { name: 'Next step' }).click();
    await title(page, 2).waitFor();
    expect(await done(2).isChecked()).toBe(false);
    await done(2).check();
    const first = page.locator('.checks tbody tr').nth(0).getByRole('checkbox');
    await first.check();
    await page.getByRole('button', { name: 'Previous step' }).click();
    expect(await done(1).isChecked()).toBe(true);
    // Undone one by one: the check, then the step.
    await page.getByRole('button', { name: 'step 3' }).waitFor();
    await undo(page);
    await undo(page);
    await page.getByRole('button', { name: 'step 2' }).click();
    await title(page, 2).waitFor();
    expect([await done(2).isChecked(), await first.isChecked()]).toEqual([false, false]);
    await first.check();
    await settle(page);
    // Another panel takes the step out of the address: what was reached is the board's own.
    await openPanel(page, 'As built');
    await page.reload();
    await settle(page);
    await openPanel(page, 'Build');
    await title(page, 2).waitFor();
    expect([await done(2).isChecked(), await first.isChecked()]).toEqual([false, true]);
    expectClean(visit);
  });
});

describe('the build scrubber', () => {
  test('goes through every step with what to check, and each that adds a part changes the stage', async () => {
    const visit = await atStep(1);
    const { page } = visit;
    const stage = page.locator('canvas[data-drawn]');
    let before = await takePicture(stage);
    for (const step of steps) {
      await title(page, step.index).waitFor();
      for (const caution of step.cautions) expect(await page.getByRole('list', { name: 'Cautions' }).textContent()).toContain(caution);
      for (const [i, check] of step.checks.slice(0, 2).entries()) {
        const row = page.locator('.checks tbody tr').nth(i);
        expect(await row.locator('th').textContent()).toBe(mmText(check.what));
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
    const visit = await atBoard();
    const { page } = visit;
    await openSeed(page, seed);
    await openPanel(page, 'Build');
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
    const visit = await atStep(2);
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
    const visit = await atStep(6);
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
    await openPanel(page, 'Build');
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
