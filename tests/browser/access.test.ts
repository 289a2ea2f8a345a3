/** WCAG 2.2 AA by axe-core (Deque, 4.14), on every panel and page, in both lights, wide and on a phone. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type axe from 'axe-core';
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { PHONE, visitBoard } from './board';
import { shareBrowser } from './harness';
import { throughRooms } from './rooms';

shareBrowser();

const engine = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** What axe-core finds against WCAG 2.0 to 2.2, A and AA, a line each. */
async function violations(page: Page): Promise<string[]> {
  const found = await page.evaluate(async () => {
    const { axe: run } = window as unknown as { axe: typeof axe };
    const { violations: list } = await run.run(document, {
      runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'], resultTypes: ['violations'],
    });
    return list.map(({ id, nodes }) => ({ id, nodes: nodes.map(({ target, any, all }) => `${target.join(' ')} (${[...any, ...all].map((check) => check.message).join('; ')})`) }));
  });
  return found.flatMap(({ id, nodes }) => nodes.slice(0, 6).map((node) => `${id}: ${node}`));
}

describe('WCAG 2.2 AA by axe-core', () => {
  const looks = [
    ['paper', 'light', {}], ['bench', 'dark', {}], ['paper on a phone', 'light', PHONE], ['bench on a phone', 'dark', PHONE],
  ] as const;
  test.each(looks)('no violation on any panel, %s', async (_, colorScheme, options) => {
    // The checker is put into the page as a script, which the page's own policy forbids; all else is as it stands.
    const visit = await visitBoard('', { colorScheme, bypassCSP: true, ...options });
    const { page } = visit;
    await page.addScriptTag({ content: engine });
    const wrong: string[] = [];
    await throughRooms(page, async (room) => {
      wrong.push(...(await violations(page)).map((line) => `${room}: ${line}`));
    });
    expect(wrong).toEqual([]);
  }, 300_000);

  test('no violation in a notice, nor when a board cannot be planned', async () => {
    const visit = await visitBoard('#board=9x', { bypassCSP: true });
    const { page } = visit;
    await page.addScriptTag({ content: engine });
    await page.getByRole('alertdialog').waitFor();
    expect(await violations(page)).toEqual([]);
  });
});
