/** Every figure in the maker's unit, on every panel and page. */
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { boardPage } from './board';
import { unspoken } from './figures';
import { expectClean, shareBrowser } from './harness';
import { throughRooms } from './rooms';

shareBrowser();

/** Wherever the page says a figure of millimetres: in its text, or in what is heard or shown on pointing. */
const millimetres = (page: Page): Promise<string> => page.locator('.App_page').evaluate((element) => {
  const own = element.cloneNode(true) as HTMLElement;
  // Left out: the choice of unit, the link's text, and names the maker gave.
  for (const gone of own.querySelectorAll('.TopBar_units, textarea, select, .Headline_headline h2, .PrintSheet_head h2')) gone.remove();
  const heard = ['title', 'aria-label', 'aria-valuetext'];
  const labels = [...element.querySelectorAll('[title], [aria-label], [aria-valuetext]')].flatMap((e) => heard.map((name) => e.getAttribute(name) ?? ''));
  return [...(own.textContent?.match(/.{0,60}\d ?mm\b.{0,20}/g) ?? []), ...labels.filter((label) => /\d ?mm\b/.test(label))].join(' | ');
});

/** Fields that count things. */
const COUNTED = /^(Outer skins, layers|Rows at most|Step of the build|Address)|, on hand$/;

describe('units', () => {
  const atBoard = boardPage({ bench: true });

  test.each(['in', 'in ¹⁄₁₆'])('no panel speaks millimetres when they are %s; every figure is heard with its unit', async (unit) => {
    const visit = await atBoard();
    const { page } = visit;
    await page.getByRole('group', { name: 'Unit' }).getByRole('button', { name: unit, exact: true }).click();
    const wrong: string[] = [];
    await throughRooms(page, async (room) => {
      expect(`${room}: ${await millimetres(page)}`).toBe(`${room}: `);
      if (unit === 'in') wrong.push(...(await unspoken(page, COUNTED)).map((fault) => `${room}: ${fault}`));
    });
    expect(wrong).toEqual([]);
    expectClean(visit);
  });
});
