/** Through every room of the page: each panel and each of its pages, with its figures made. */
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { DRAWER_NAMES, openRoom, ROOM_NAMES } from './board';

/** How long a page has to stay as it is, and how long that may take to come about, ms. */
const STILL = 150;
const LONGEST = 300_000;

/**
 * Until the page rests: no plan or other work under way, the bench's page there, nothing moving, and no change of
 * the document for a while in which two pictures were drawn. Throws, naming what keeps on, when that does not come. Work that is unanswered is not waited for.
 */
export async function rest(page: Page, unanswered: readonly string[] = []): Promise<void> {
  const restless = await page.evaluate(([still, longest, never]) => new Promise<string | null>((done) => {
    const begun = performance.now();
    let last = begun;
    let pictures = 0;
    const moved = () => {
      last = performance.now();
      pictures = 0;
    };
    const watch = new MutationObserver(moved);
    watch.observe(document, { subtree: true, childList: true, characterData: true, attributes: true });
    const goesOn = (): string | null => {
      const working = window.railwright?.state()?.working ?? ['the first plan'];
      for (const key of working) if (!never.includes(key)) return key;
      if (document.querySelector('.bench-page:empty')) return 'the bench has no page';
      if (document.getAnimations().some(({ playState }) => playState === 'running')) return 'motion';
      return null;
    };
    const look = () => {
      const now = performance.now();
      const why = goesOn();
      if (why !== null) moved();
      const over = now - begun > longest;
      if ((now - last < still || pictures < 2) && !over) return void setTimeout(look, 25);
      watch.disconnect();
      drawing = false;
      done(over ? why ?? 'changes of the document' : null);
    };
    let drawing = true;
    const count = () => {
      pictures++;
      if (drawing) requestAnimationFrame(count);
    };
    requestAnimationFrame(count);
    look();
  }), [STILL, LONGEST, unanswered] as const);
  if (restless !== null) throw new Error(`the page does not come to rest: ${restless}`);
}

/** Every room and every drawer: what a maker can open. */
export const EVERYWHERE: readonly string[] = [...ROOM_NAMES, ...DRAWER_NAMES];

/** Opens every room and drawer, and every page of those that have pages, and looks at each with its name. */
export async function throughRooms(page: Page, look: (name: string) => Promise<void>): Promise<void> {
  for (const name of EVERYWHERE) {
    await openRoom(page, name);
    // A room's own code is loaded when it is first opened.
    await page.locator(`section[aria-label^="${name === 'Plan' ? 'Station card' : name}"]`).first().waitFor();
    await rest(page);
    await look(name);
    for (const tab of await page.locator('.tool-tabs button, .bench-pages button, .bench-files [aria-pressed]').all()) {
      // Another drawer may lie over them.
      if (!(await tab.isVisible())) continue;
      await tab.click();
      expect(await tab.getAttribute('aria-pressed')).toBe('true');
      await rest(page);
      await look(`${name}, ${await tab.textContent()}`);
    }
    if (await page.getByRole('alertdialog').count()) await page.getByRole('button', { name: 'Close', exact: true }).click();
  }
  await page.keyboard.press('Escape');
}
