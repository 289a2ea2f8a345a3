/** WCAG 2.2 AA by axe-core (Deque, 4.14): of the page as it is, and of every panel and page in turn. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type axe from 'axe-core';
import type { BrowserContextOptions, Page } from 'playwright-core';
import { ROOM_NAMES, visitBoard } from './board';
import { faultsInWindows, WINDOWS } from './boxes';
import { throughRooms } from './rooms';
import { untoldWords } from './worded';

const engine = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** The page with the checker in it, put there as a script, which the page's own policy forbids; all else is as it is. */
export async function visitWithAxe(path: string, options: BrowserContextOptions = {}): Promise<Page> {
  const { page } = await visitBoard(path, { bypassCSP: true, bench: true, ...options });
  await page.addScriptTag({ content: engine });
  return page;
}

const WCAG = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];

/** The rules among them that look at colours: alone they hang on the light. */
const OF_COLOURS = ['color-contrast', 'link-in-text-block'];

/** What axe-core finds against WCAG 2.0 to 2.2, A and AA, or against those rules alone, a line each. */
export async function violations(page: Page, rules: readonly string[] = WCAG): Promise<string[]> {
  const found = await page.evaluate(async (runOnly) => {
    const { axe: run } = window as unknown as { axe: typeof axe };
    const { violations: list } = await run.run(document, { runOnly: [...runOnly], resultTypes: ['violations'] });
    return list.map(({ id, nodes }) => ({ id, nodes: nodes.map(({ target, any, all }) => `${target.join(' ')} (${[...any, ...all].map((check) => check.message).join('; ')})`) }));
  }, rules);
  return found.flatMap(({ id, nodes }) => nodes.slice(0, 6).map((node) => `${id}: ${node}`));
}

/** What is found in any room in either light, and in the boxes of any in windows of several sizes, each line begun with the room's name; and each label whose word leads nowhere. A light sets colours and nothing else (held by tests/geometry/looks.test.ts): in the second only they are looked at. */
export async function faultsOfRooms(page: Page, kind: keyof typeof WINDOWS): Promise<{ violations: string[]; boxes: string[]; words: string[] }> {
  const wrong: string[] = [];
  const boxes: string[] = [];
  const words: string[] = [];
  await throughRooms(page, async (room) => {
    for (const theme of ['paper', 'bench']) {
      // All colours of the page hang on this; the buttons for it are in the top bar, and in a phone's menu.
      await page.evaluate((name) => {
        document.documentElement.dataset.theme = name;
      }, theme);
      wrong.push(...(await violations(page, theme === 'paper' ? WCAG : OF_COLOURS)).map((line) => `${room}, ${theme}: ${line}`));
    }
    await page.evaluate(() => {
      document.documentElement.dataset.theme = 'paper';
    });
    words.push(...(await untoldWords(page)).map((line) => `${room}: ${line}`));
    boxes.push(...await faultsInWindows(page, room, ROOM_NAMES.some((name) => name === room) ? WINDOWS[kind].rooms : WINDOWS[kind].over));
  });
  return { violations: wrong, boxes, words };
}
