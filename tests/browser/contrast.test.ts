/** Letters over the picture, hatches and bands, measured in pixels in both lights; and what is chosen, where the system sets the colours. */
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { openRoom, settle, visitBoard } from './board';
import { faintTexts } from './contrast';
import { faintGraphics, IN_PLAN, IN_SHAPE, signsAlike } from './graphics';
import { expectClean, shareBrowser } from './harness';
import { takePicture } from './picture';
import { rest } from './rooms';

shareBrowser();

/** Letters over something: the places of each kind are looked for by name, so that none is passed over. */
const ON_STAGE = { labels: 'main [data-anchor]', legend: '.Legend_legend :is(figcaption, button, span)' } as const;
const BELOW = {
  'rows of the ribbon': '.Stack_row text', 'stops of the ribbon': '.Stack_stop text', 'ribs of the ribbon': '.Stack_tab text', 'pins of the ribbon': '.DecisionPins_pin text',
  'bevels of the ribbon': '.BevelBand_band text', 'axis of the ribbon': '.Axis_axis text', 'axis along the rail': '.Axis_along text', 'sides of the ribbon': '.Ribbon_side', 'cursor of the ribbon': '.Ribbon_cursor text',
  'figures of the section': '.SectionView_dimension text', 'bevel of the section': '.SectionView_bevel text', 'sides of the section': '.SectionView_caption',
} as const;

/** Groups in which what is chosen looks as what is not, by the pixels of its ground and of its foot, and how many there were. */
async function chosenAlike(page: Page): Promise<{ readonly groups: number; readonly alike: string[] }> {
  const pairs = await page.evaluate(() => {
    const boxOf = (element: Element) => {
      const { left, top, right, bottom } = element.getBoundingClientRect();
      return { left, top, right, bottom };
    };
    const isIn = ({ left, top, right, bottom }: ReturnType<typeof boxOf>) => left >= 0 && top >= 0 && right <= innerWidth && bottom <= innerHeight;
    return [...document.querySelectorAll('[aria-pressed="true"], [aria-current="page"], [aria-checked="true"]')].flatMap((element) => {
      const other = [...element.parentElement?.children ?? []].find((one) => one.tagName === element.tagName && one.getAttribute('aria-pressed') !== 'true' && !one.hasAttribute('aria-current'));
      if (!other || !element.checkVisibility({ visibilityProperty: true })) return [];
      const pair = [boxOf(element), boxOf(other)] as const;
      return pair.every(isIn) ? [{ name: element.textContent ?? '', pair }] : [];
    });
  });
  await page.mouse.move(1, 1);
  const picture = await takePicture(page);
  const looks = ({ left, top, right, bottom }: (typeof pairs)[number]['pair'][number]) => {
    const middle = Math.round((left + right) / 2);
    return [picture.at(left + 4, (top + bottom) / 2), ...[1, 2, 3].map((up) => picture.at(middle, bottom - up))].join('; ');
  };
  return { groups: pairs.length, alike: pairs.filter(({ pair: [a, b] }) => looks(a) === looks(b)).map(({ name }) => name) };
}

test('every letter over the picture, the ribbon and the section stands out by 4.5; what is chosen shows in the system\'s colours too', async () => {
  const visit = await visitBoard('', { pixels: true, bypassCSP: true });
  const { page } = visit;
  const wrong: string[] = [];
  for (const light of ['light', 'dark']) {
    for (const view of ['Above', 'End', '3/4']) {
      await page.getByRole('toolbar', { name: 'Views' }).getByRole('button', { name: view, exact: true }).click();
      await settle(page);
      const { faults, judged, unseen } = await faintTexts(page, view === '3/4' ? { ...ON_STAGE, ...BELOW } : ON_STAGE);
      wrong.push(...[...faults, ...unseen.map((text) => `${text}: not seen`)].map((fault) => `${light}, ${view}: ${fault}`));
      for (const [kind, count] of judged) expect(count, `${light}, ${view}: ${kind}`).toBeGreaterThan(0);
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
  // In the system's colours: strokes, hatches and states still stand out, and each sign of a key differs from the others.
  await page.emulateMedia({ forcedColors: 'active', reducedMotion: 'reduce' });
  await openRoom(page, 'Plan');
  await rest(page);
  for (const area of ['ribbon', 'card'] as const) {
    wrong.push(...(await faintGraphics(page.locator(`[data-area="${area}"]`), IN_PLAN[area])).map((fault) => `forced, ${area}: ${fault}`));
  }
  const signs = async (key: string, least: number) => {
    const { count, alike } = await signsAlike(page, key);
    expect(count, key).toBeGreaterThanOrEqual(least);
    wrong.push(...alike.map((pair) => `forced, ${key}: ${pair}`));
  };
  await signs('.Head_key :is(i, svg)', 10);
  await openRoom(page, 'Layers');
  await page.getByRole('button', { name: 'How it lies' }).click();
  await page.locator('.LieKey_key').first().waitFor();
  await signs('.LieKey_key:not([data-in-drawer]) i', 3);
  expect(wrong).toEqual([]);
  expectClean(visit);
});
