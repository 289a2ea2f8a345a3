/** What other engines do differently, as far as this one can act it. */
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { PHONE, visitBoard } from './board';
import { expectClean, shareBrowser } from './harness';
import { throughRooms } from './rooms';

shareBrowser();

/** Fields to type in whose text is under 16 px: a phone zooms into those, and not back. */
const small = (page: Page): Promise<string[]> => page.locator('input, select, textarea').evaluateAll((fields) => fields
  .filter((field) => !/^(checkbox|radio|range|file|color|button|submit)$/.test(field.getAttribute('type') ?? ''))
  .filter((field) => Number.parseFloat(getComputedStyle(field).fontSize) < 16)
  .map((field) => `${field.getAttribute('aria-label') ?? field.closest('label')?.textContent ?? field.id}: ${getComputedStyle(field).fontSize}`));

/** Tabs of the page and of the room whose middle belongs to a line of a list. */
const covered = (page: Page): Promise<string[]> => page.locator('nav[aria-label="Panels"] button, .bench-pages button').evaluateAll((tabs) => tabs.flatMap((tab) => {
  const { left, right, top, bottom } = tab.getBoundingClientRect();
  const [x, y] = [(left + right) / 2, (top + bottom) / 2];
  const hit = document.elementFromPoint(x, y)?.closest('.list');
  return hit ? [`${tab.textContent} is under ${hit.ariaLabel}`] : [];
}));

test('no field to type in is under 16 px for a finger, and no line of a list reaches over the tabs where a row cannot be positioned', { timeout: 240_000 }, async () => {
  const visit = await visitBoard('', { ...PHONE, bench: true });
  const { page } = visit;
  expect(await page.evaluate(() => matchMedia('(pointer: coarse)').matches)).toBe(true);
  // As WebKit has it: `position: relative` of a table row counts as static.
  await page.addStyleTag({ content: 'tr { position: static !important }' });
  let lists = 0;
  await throughRooms(page, async (room) => {
    expect(`${room}: ${(await small(page)).join(', ')}`).toBe(`${room}: `);
    if (room === 'At the bench') return;
    expect(`${room}: ${(await covered(page)).join(', ')}`).toBe(`${room}: `);
    lists += await page.locator('tr.leads').count();
  });
  expect(lists).toBeGreaterThan(0);
  expectClean(visit);
});
