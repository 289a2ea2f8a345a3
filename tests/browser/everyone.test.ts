/** For everyone: words for those who hear the page, the keyboard alone, large targets, and the printed page. */
import { describe, expect, test } from 'vitest';
import { sectionAt, stationAt } from '../../geometry/rail/query';
import { boardPage, cursor, FIRST_BOARD, openPanel, PHONE, seedPlan, settle } from './board';
import { expectClean, shareBrowser } from './harness';
import { panelsOf } from './rooms';

shareBrowser();

const plan = seedPlan(FIRST_BOARD);
const atBoard = boardPage();
const atPhone = boardPage(PHONE);

describe('for those who hear the page', () => {
  test('stage and ribbon are told in words and figures', async () => {
    const visit = await atBoard();
    const { page } = visit;
    const board = (await page.locator('#stage-words').textContent()) ?? '';
    for (const word of ['1750 mm long', '528 mm wide', 'litres', 'Bevel', `${plan.rail.ribs.length} ribs`]) expect(board).toContain(word);
    const stage = page.getByRole('img', { name: /in three dimensions/ });
    expect(await stage.getAttribute('aria-describedby')).toBe('stage-words');
    const ribbon = await page.locator('#ribbon-words li').allTextContents();
    expect(ribbon.length).toBe(plan.rail.stretches.length + 2 * plan.rail.rows.length + 1);
    for (const row of plan.rail.rows) expect(ribbon.some((line) => line.includes(`${row.tail.s.toFixed(0)} mm along the rail`))).toBe(true);
    expectClean(visit);
  });

  test('a change of station is told once, where it ends', async () => {
    const visit = await atBoard();
    const { page } = visit;
    const said = page.locator('[data-spoken="station"]');
    expect(await said.textContent()).toBe('');
    await page.evaluate(() => {
      const heard: string[] = [];
      const target = document.querySelector('[data-spoken="station"]');
      if (target) new MutationObserver(() => heard.push(target.textContent ?? '')).observe(target, { childList: true, characterData: true, subtree: true });
      Object.assign(window, { heard });
    });
    for (let i = 0; i < 3; i++) await page.keyboard.press('ArrowUp');
    await expect.poll(() => said.textContent()).not.toBe('');
    const text = (await said.textContent()) ?? '';
    const s = await cursor(page);
    const rib = plan.rail.ribs.find((r) => Math.abs(r.s - s) < 0.5);
    const section = sectionAt(plan, s);
    expect(text).toContain(`Rib ${(rib?.index ?? -9) + 1}`);
    expect(text).toContain(`Gap ${section.gap.toFixed(1)} mm`);
    expect(text).toContain(`${section.rows} of 4 rows`);
    expect(await page.evaluate(() => (window as unknown as { heard: string[] }).heard)).toEqual([text]);
    expectClean(visit);
  });
});

describe('the keyboard alone', () => {
  test('reaches every panel and sees where it is', async () => {
    const visit = await atBoard();
    const { page } = visit;
    // Tab goes on from where the focus was last: here, from before all else.
    await page.evaluate(() => {
      const start = document.createElement('button');
      document.body.prepend(start);
      start.focus();
      start.remove();
    });
    const reached: string[] = [];
    for (let i = 0; i < 90; i++) {
      await page.keyboard.press('Tab');
      const now = await page.evaluate(() => {
        const at = document.activeElement;
        if (!(at instanceof HTMLElement || at instanceof SVGElement) || at === document.body) return null;
        const { outlineStyle, outlineWidth } = getComputedStyle(at);
        return { name: at.getAttribute('aria-label') ?? at.textContent ?? '', seen: outlineStyle !== 'none' && Number.parseFloat(outlineWidth) >= 2 };
      });
      if (!now) break;
      expect(`${now.name}: ${now.seen}`).toBe(`${now.name}: true`);
      reached.push(now.name);
    }
    for (const panel of await panelsOf(page)) expect(reached.some((name) => name.startsWith(panel))).toBe(true);
    for (const name of ['Board', 'New', 'Save', 'Dark colours', '3/4', 'Along the rail from tail', 'Next rib']) expect(reached).toContain(name);
    expectClean(visit);
  });

  test('moves the cursor from the ribbon', async () => {
    const visit = await atBoard();
    const { page } = visit;
    const slider = page.getByRole('slider', { name: 'Station cursor, along the rail from the tail' });
    await slider.focus();
    await page.keyboard.press('Home');
    await settle(page);
    expect(await cursor(page)).toBe(0);
    await page.keyboard.press('PageUp');
    await page.keyboard.press('ArrowRight');
    await settle(page);
    expect(await cursor(page)).toBeCloseTo(51, 6);
    expect(await slider.getAttribute('aria-valuetext')).toContain('51.0 mm along the rail');
    expectClean(visit);
  });
});

describe('large figures at the bench', () => {
  test('go from rib to rib by thumb and by swipe', async () => {
    const visit = await atPhone();
    const { page } = visit;
    await openPanel(page, 'Large');
    const ribs = plan.rail.ribs.map((rib) => rib.s).sort((a, b) => a - b);
    const start = await cursor(page);
    await page.getByRole('button', { name: 'Next rib' }).tap();
    await settle(page);
    const next = ribs.find((s) => s > start) ?? Number.NaN;
    expect(await cursor(page)).toBeCloseTo(next, 6);
    expect(await page.locator('.large h2').textContent()).toBe(`Rib ${(plan.rail.ribs.find((rib) => rib.s === next)?.index ?? Number.NaN) + 1}`);
    const swipe = (from: number, to: number) => page.locator('.large-body').evaluate((element, [x0, x1]) => {
      const send = (type: string, clientX: number) => element.dispatchEvent(new PointerEvent(type, { bubbles: true, pointerId: 5, pointerType: 'touch', clientX, clientY: 300 }));
      send('pointerdown', x0);
      send('pointerup', x1);
    }, [from, to] as const);
    await swipe(300, 120);
    await settle(page);
    expect(await cursor(page)).toBeCloseTo(ribs[ribs.indexOf(next) + 1], 6);
    await swipe(120, 300);
    await swipe(200, 180);
    await settle(page);
    expect(await cursor(page)).toBeCloseTo(next, 6);
    const x = stationAt(plan, next);
    expect(await page.locator('.large-place strong').textContent()).toBe(Math.min(x, plan.hull.length - x).toFixed(1));
    for (const button of await page.locator('.large button').all()) {
      const box = await button.boundingBox();
      expect(Math.min(box?.width ?? 0, box?.height ?? 0)).toBeGreaterThanOrEqual(44);
    }
    const size = await page.locator('.large-place strong').evaluate((element) => Number.parseFloat(getComputedStyle(element).fontSize));
    expect(size).toBeGreaterThanOrEqual(48);
    await page.getByRole('button', { name: 'Close', exact: true }).tap();
    await page.locator('.StationCard_card').waitFor();
    expectClean(visit);
  });

  test('keep the screen awake, or say that they cannot', async () => {
    const visit = await atPhone();
    const { page } = visit;
    await openPanel(page, 'Large');
    const wake = page.getByRole('button', { name: 'Keep awake' });
    await page.evaluate(() => {
      const held: string[] = [];
      Object.assign(window, { held });
      navigator.wakeLock.request = async (type) => {
        held.push(`took ${type}`);
        return Object.assign(new EventTarget(), { released: false, type: 'screen' as const, onrelease: null, release: async () => void held.push('let go') });
      };
    });
    await wake.tap();
    await page.getByText('Screen stays awake').waitFor();
    await wake.tap();
    await page.getByText('Screen sleeps as usual').waitFor();
    expect(await page.evaluate(() => (window as unknown as { held: string[] }).held)).toEqual(['took screen', 'let go']);
    await page.evaluate(() => {
      navigator.wakeLock.request = () => Promise.reject(new DOMException('battery', 'NotAllowedError'));
    });
    await wake.tap();
    await page.getByText('This browser lets the screen sleep').waitFor();
    expectClean(visit);
  });
});

describe('the printed page', () => {
  test.each(['Station', 'Build', 'Large', 'Sizes'])('from %s shows ribbon, station card and the rail at every rib', async (panel) => {
    const visit = await atBoard();
    const { page } = visit;
    await openPanel(page, panel);
    await page.emulateMedia({ media: 'print', colorScheme: 'dark', reducedMotion: 'reduce' });
    for (const shown of ['.PrintSheet_head', '.Ribbon_ribbon', '.StationCard_card', '.PrintSheet_ribs']) expect(await page.locator(shown).isVisible()).toBe(true);
    for (const gone of ['.TopBar_topbar', '.App_stage']) expect(await page.locator(gone).isVisible()).toBe(false);
    expect(await page.locator('.PrintSheet_ribs tbody tr').count()).toBe(plan.rail.ribs.length);
    const rib = plan.rail.ribs[3];
    const row = await page.locator('.PrintSheet_ribs tbody tr').nth(3).locator('td').allTextContents();
    expect(row.slice(0, 3)).toEqual([rib.x, plan.hull.length - rib.x, rib.s].map((mm) => mm.toFixed(1)));
    expect(row[3]).toBe(rib.gap.toFixed(1));
    const ground = await page.evaluate(() => getComputedStyle(document.body).backgroundColor);
    expect(ground).toBe('rgb(255, 255, 255)');
    const pdf = await page.pdf({ format: 'A4' });
    // One sheet: card, ribbon and table belong together.
    expect(pdf.toString('latin1').match(/\/Type\s*\/Page\b(?!s)/g)?.length).toBe(1);
    await page.emulateMedia({ media: 'screen', colorScheme: 'light', reducedMotion: 'reduce' });
    if (panel === 'Large') await page.getByRole('button', { name: 'Close', exact: true }).click();
    expectClean(visit);
  });
});
