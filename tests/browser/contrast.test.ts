/** Letters over the picture, hatches and bands, measured in pixels in both lights; and what is chosen, where the system sets the colours. */
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { openRoom, settle, visitBoard } from './board';
import { faintTexts } from './contrast';
import { faintGraphics, IN_PLAN, IN_SHAPE } from './graphics';
import { expectClean, shareBrowser } from './harness';
import { rest } from './rooms';

shareBrowser();

const OVER = 'main [data-anchor], [data-area="ribbon"] svg text, [data-section] text';

/** Groups in which what is chosen looks as what is not, and how many there were. */
const chosenAlike = (page: Page): Promise<{ groups: number; alike: string[] }> => page.evaluate(() => {
  const chosen = [...document.querySelectorAll('[aria-pressed="true"], [aria-current="page"], [aria-checked="true"]')].filter((element) => element.checkVisibility({ visibilityProperty: true }));
  const looks = (element: Element) => {
    const style = getComputedStyle(element);
    return ['background-color', 'border-bottom-color', 'border-bottom-width', 'border-top-color', 'color', 'font-weight', 'outline-style', 'box-shadow'].map((name) => style.getPropertyValue(name)).join();
  };
  const pairs = chosen.flatMap((element) => {
    const other = [...element.parentElement?.children ?? []].find((one) => one.tagName === element.tagName && one.getAttribute('aria-pressed') !== 'true' && !one.hasAttribute('aria-current'));
    return other ? [[element, other] as const] : [];
  });
  return { groups: pairs.length, alike: pairs.filter(([a, b]) => looks(a) === looks(b)).map(([a]) => a.textContent ?? '') };
});

test('every letter over the picture, the ribbon and the section stands out by 4.5; what is chosen shows in the system\'s colours too', async () => {
  const visit = await visitBoard('', { pixels: true, bypassCSP: true });
  const { page } = visit;
  const wrong: string[] = [];
  for (const light of ['light', 'dark']) {
    for (const view of ['Above', 'End', '3/4']) {
      await page.getByRole('toolbar', { name: 'Views' }).getByRole('button', { name: view, exact: true }).click();
      await settle(page);
      wrong.push(...(await faintTexts(page, view === '3/4' ? OVER : 'main [data-anchor]')).map((fault) => `${light}, ${view}: ${fault}`));
    }
    if (light === 'light') await page.getByRole('button', { name: 'Dark colours' }).click();
  }
  expect(wrong).toEqual([]);
  await page.emulateMedia({ forcedColors: 'active', reducedMotion: 'reduce' });
  for (const room of ['Layers', 'Shape', 'Build']) {
    await openRoom(page, room);
    await settle(page);
    const { groups, alike } = await chosenAlike(page);
    expect(groups, room).toBeGreaterThan(2);
    expect(alike, room).toEqual([]);
  }
  expectClean(visit);
});

test('what is drawn stands out by 3 from what is next to it', async () => {
  const visit = await visitBoard('', { bench: true }, 'long-275');
  const { page } = visit;
  await page.locator('.PartsLayer_zone').first().waitFor();
  const wrong: string[] = [];
  for (const light of ['light', 'dark']) {
    for (const [room, areas] of Object.entries({ Plan: IN_PLAN, Shape: IN_SHAPE })) {
      await openRoom(page, room);
      await rest(page);
      for (const [area, graphics] of Object.entries(areas)) {
        wrong.push(...(await faintGraphics(page.locator(`[data-area="${area}"]`), graphics)).map((fault) => `${light}, ${area}: ${fault}`));
      }
    }
    if (light === 'light') await page.getByRole('button', { name: 'Dark colours' }).click();
  }
  expect(wrong).toEqual([]);
  expectClean(visit);
});
