/** Every room, opened first on a fresh page, looks as it does when all others were opened before it or after it. */
import type { Page } from 'playwright-core';
import { describe, expect, inject, test } from 'vitest';
import { openRoom } from './board';
import { newVisit, shareBrowser } from './harness';
import { EVERYWHERE, rest } from './rooms';

shareBrowser();

/** What each element looks like, by its place in the room: the value of each property. */
type Looks = Record<string, string[]>;

/** Every sheet there is, as the service worker's list has them. */
async function allSheets(): Promise<string[]> {
  const list = await (await fetch(new URL('offline.js', inject('origin')))).text();
  return [...new Set(list.match(/assets\/[\w-]+\.css/g))];
}

/** The sheets that the page has by now: a room's own come with it. */
const worn = (page: Page): Promise<string[]> => page.evaluate(() =>
  [...document.querySelectorAll<HTMLLinkElement>('link[rel="stylesheet"]')].map(({ href }) => new URL(href).pathname.slice(1)));

/** Puts sheets at the end of those the page has; the place of one that it had already is given up once it is there, so that nothing is bare meanwhile. */
const wear = (page: Page, sheets: readonly string[]): Promise<void> => page.evaluate(async (paths) => {
  const before = [...document.querySelectorAll<HTMLLinkElement>('link[rel="stylesheet"]')];
  await Promise.all(paths.map((path) => new Promise<void>((done, fail) => {
    const link = document.createElement('link');
    link.rel = 'stylesheet';
    link.href = new URL(path, document.baseURI).href;
    link.onload = () => {
      before.find(({ href }) => href === link.href)?.remove();
      done();
    };
    link.onerror = () => fail(new Error(`no sheet ${path}`));
    document.head.append(link);
  })));
}, sheets);

let allProperties: string[] | undefined;

/** Every property that some sheet sets, asked of a page once. */
async function propertiesOnce(page: Page, sheets: readonly string[]): Promise<string[]> {
  if (allProperties) return allProperties;
  await freshPage(page);
  await wear(page, sheets);
  allProperties = await propertiesOf(page);
  return allProperties;
}

/** Every property that some sheet of the page sets. */
const propertiesOf = (page: Page): Promise<string[]> => page.evaluate(() => {
  const names = new Set<string>();
  const note = (rules: CSSRuleList) => {
    for (const rule of rules) {
      if (rule instanceof CSSStyleRule) for (const property of rule.style) names.add(property);
      else if (rule instanceof CSSGroupingRule) note(rule.cssRules);
    }
  };
  for (const sheet of document.styleSheets) note(sheet.cssRules);
  return [...names];
});

/**
 * How everything in the room looks; in `Plan`, whose card is the page's own, the whole page. The first time it is
 * kept in the page under the room's name; later it is compared there. Returns what was looked at and a line for each value that differs.
 */
const look = (page: Page, panel: string, name: string, properties: readonly string[], when?: string): Promise<{ seen: number; wrong: string[] }> =>
  page.evaluate(([of, key, all, later]) => {
    const looks: Looks = {};
    const walk = (element: Element, path: string) => {
      for (const part of ['', '::before', '::after']) {
        const style = getComputedStyle(element, part === '' ? null : part);
        if (part !== '' && style.content === 'none') continue;
        looks[path + part] = all.map((property) => style.getPropertyValue(property));
      }
      [...element.children].forEach((child, i) => walk(child, `${path} ${child.tagName.toLowerCase()}.${child.getAttribute('class') ?? ''}:${i}`));
    };
    for (const room of document.querySelectorAll(of === 'Plan' ? '#root' : `section[aria-label^="${of}"], aside[aria-label$="points and tools"]`)) walk(room, room.getAttribute('aria-label') ?? '');
    const kept = ((window as unknown as { looks?: Record<string, Looks> }).looks ??= {});
    const seen = Object.keys(looks).length;
    if (later === undefined) kept[key] = looks;
    if (later === undefined) return { seen, wrong: [] };
    const first = kept[key] ?? {};
    const wrong = [...new Set([...Object.keys(first), ...Object.keys(looks)])].flatMap((path) => {
      const [was, is] = [first[path], looks[path]];
      const tell = (what: string) => `${key}, ${later}:${path.slice(-120)}: ${what}`;
      if (!was || !is) return [tell(was ? 'gone' : 'not there at first')];
      return all.flatMap((property, n) => (was[n] === is[n] ? [] : [tell(`${property} first ${was[n]}, then ${is[n]}`)]));
    });
    return { seen, wrong };
  }, [panel, name, properties, when] as const);

/** A page without a stage, which is most of what a page costs. */
async function barePage(bench: boolean): Promise<Page> {
  const { page } = await newVisit({ bench, viewport: { width: 1440, height: 900 }, reducedMotion: 'reduce', colorScheme: 'light' });
  await page.addInitScript(() => {
    const own = HTMLCanvasElement.prototype.getContext;
    HTMLCanvasElement.prototype.getContext = function context(this: HTMLCanvasElement, kind: string, ...more: unknown[]) {
      return /webgl/.test(kind) ? null : Reflect.apply(own, this, [kind, ...more]);
    } as typeof own;
  });
  return page;
}

async function freshPage(page: Page): Promise<void> {
  await page.goto('about:blank');
  await page.goto(inject('origin'), { waitUntil: 'load' });
  await page.waitForFunction(() => window.railwright?.state()?.busy === false);
}

/** Opens a room and waits until it rests; the parts come only where the bench answers. */
async function open(page: Page, panel: string): Promise<void> {
  await openRoom(page, panel);
  await page.locator(`section[aria-label^="${panel === 'Plan' ? 'Station card' : panel}"]`).first().waitFor();
  await rest(page, panel === 'Bench' ? [] : ['parts']);
}

describe('a room opened first on a fresh page', () => {
  test('looks as it does when all others were opened before it, and after it', async () => {
    const sheets = await allSheets();
    expect(sheets.length).toBeGreaterThan(10);
    const page = await barePage(false);
    const panels = EVERYWHERE.filter((panel) => panel !== 'Bench');
    const properties = await propertiesOnce(page, sheets);
    const wrong: string[] = [];
    for (const panel of panels) {
      await freshPage(page);
      const common = await worn(page);
      await open(page, panel);
      if (panel === 'As built') {
        // At a rib with a stop beside it: a reading acts there.
        await page.locator('.rib-step').getByRole('button', { name: 'Previous rib' }).click();
        await page.locator('.rib-step', { hasText: 'Rib 3' }).waitFor();
        const depth = page.locator('[data-reading="depth"] input');
        await depth.fill((Number(await depth.getAttribute('placeholder')) + 0.9).toFixed(2));
        await depth.press('Enter');
        await page.locator('[data-corrected]').first().waitFor();
        await rest(page, ['parts']);
      }
      const first = await look(page, panel, panel, properties);
      const own = (await worn(page)).filter((sheet) => !common.includes(sheet));
      await wear(page, sheets.filter((sheet) => !common.includes(sheet) && !own.includes(sheet)));
      wrong.push(...(await look(page, panel, panel, properties, 'others after it')).wrong);
      await wear(page, own.toReversed());
      wrong.push(...(await look(page, panel, panel, properties, 'others before it')).wrong);
      expect(first.seen, panel).toBeGreaterThan(8);
    }
    expect(wrong).toEqual([]);
  });

  test('looks so on every page of the bench', async () => {
    const sheets = await allSheets();
    const page = await barePage(true);
    const properties = await propertiesOnce(page, sheets);
    await freshPage(page);
    const common = await worn(page);
    await open(page, 'Bench');
    const tabs = [...await page.getByRole('navigation', { name: 'Pages of the bench' }).getByRole('button').allTextContents(), 'All papers'];
    expect(tabs.length).toBe(5);
    const turn = async (tab: string, when?: string) => {
      await page.locator('.bench-bar').getByRole('button', { name: tab, exact: true }).click();
      await rest(page);
      return look(page, 'Bench', `Bench, ${tab}`, properties, when);
    };
    for (const tab of tabs) expect((await turn(tab)).seen, tab).toBeGreaterThan(8);
    const own = (await worn(page)).filter((sheet) => !common.includes(sheet));
    const wrong: string[] = [];
    for (const [when, last] of [['others after it', sheets.filter((sheet) => !common.includes(sheet) && !own.includes(sheet))], ['others before it', own.toReversed()]] as const) {
      await wear(page, last);
      for (const tab of tabs) wrong.push(...(await turn(tab, when)).wrong);
    }
    expect(wrong).toEqual([]);
  });
});
