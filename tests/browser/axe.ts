/** WCAG 2.2 AA by axe-core (Deque, 4.14): of the page as it is, and of every panel and page in turn. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type axe from 'axe-core';
import type { BrowserContextOptions, Page } from 'playwright-core';
import { expect } from 'vitest';
import { visitBoard } from './board';
import { throughRooms } from './rooms';

const engine = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** The page with the checker in it, put there as a script, which the page's own policy forbids; all else is as it is. */
export async function visitWithAxe(path: string, options: BrowserContextOptions = {}): Promise<Page> {
  const { page } = await visitBoard(path, { bypassCSP: true, bench: true, ...options });
  await page.addScriptTag({ content: engine });
  return page;
}

/** What axe-core finds against WCAG 2.0 to 2.2, A and AA, a line each. */
export async function violations(page: Page): Promise<string[]> {
  const found = await page.evaluate(async () => {
    const { axe: run } = window as unknown as { axe: typeof axe };
    const { violations: list } = await run.run(document, {
      runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'], resultTypes: ['violations'],
    });
    return list.map(({ id, nodes }) => ({ id, nodes: nodes.map(({ target, any, all }) => `${target.join(' ')} (${[...any, ...all].map((check) => check.message).join('; ')})`) }));
  });
  return found.flatMap(({ id, nodes }) => nodes.slice(0, 6).map((node) => `${id}: ${node}`));
}

/** What is found in any room in either light, each line begun with the room's name and the light's. */
export async function violationsOfRooms(options: BrowserContextOptions): Promise<string[]> {
  const page = await visitWithAxe('', options);
  const wrong: string[] = [];
  // Of a phone the large figures take all, and have a button of their own.
  const light = page.getByRole('button', { name: /^(Dark|Light) colours$/ }).filter({ visible: true }).last();
  await throughRooms(page, async (room) => {
    for (const theme of ['paper', 'bench']) {
      expect(await page.locator('html').getAttribute('data-theme')).toBe(theme);
      wrong.push(...(await violations(page)).map((line) => `${room}, ${theme}: ${line}`));
      await light.click();
    }
  });
  return wrong;
}
