/** WCAG 2.2 AA on every panel and page of a phone, in both lights; and all of them in windows of all sizes, measured from their boxes. */
import { describe, expect, test } from 'vitest';
import { faultsOfRooms, violations, visitWithAxe } from './axe';
import { openRoom, PHONE } from './board';
import { faultsInWindows, WINDOWS } from './boxes';
import { shareBrowser } from './harness';
import { rest } from './rooms';

shareBrowser();

describe('WCAG 2.2 AA by axe-core', () => {
  test('no violation on any panel of a phone, light or dark; no text cut or covered, and nothing scrolls across, in any window', async () => {
    const page = await visitWithAxe('', PHONE);
    expect(await faultsOfRooms(page, 'phone')).toEqual({ violations: [], boxes: [], words: [] });
    // What the rooms' names do not lead to: what the bench goes through, its keys, and the menu.
    await openRoom(page, 'At the bench');
    const wrong: string[] = [];
    const look = async (name: string) => void wrong.push(...await violations(page), ...await faultsInWindows(page, name, WINDOWS.phone.rooms));
    for (const mode of ['Stops', 'Steps', 'Ribs']) {
      await page.getByRole('button', { name: mode, exact: true }).tap();
      await look(mode);
    }
    await page.getByRole('button', { name: 'Measure here' }).tap();
    await look('Keys');
    await page.getByRole('button', { name: 'Leave' }).tap();
    await page.getByRole('button', { name: /^Menu, / }).first().tap();
    await look('Menu');
    expect(wrong).toEqual([]);
    // Plan's first screen has what leads to the next rib or stop, and the whole of the ribbon, however many lines its key takes; its views are large enough for a finger (WCAG 2.2, SC 2.5.5).
    // The menu leads back to the bench, from which it was opened.
    await page.keyboard.press('Escape');
    await openRoom(page, 'Plan');
    for (const { width, height } of WINDOWS.phone.rooms.slice(0, 4)) {
      if (height < width) continue;
      await page.setViewportSize({ width, height });
      await rest(page);
      const boxes = await page.evaluate(() => Object.fromEntries(['.StationCard_steps', '.Ribbon_frame svg', '.Ribbon_ribbon', '.Stage_views button:last-child'].map((one) => [one, document.querySelector(one)?.getBoundingClientRect().toJSON() as DOMRect])));
      expect(boxes['.StationCard_steps'].bottom, `${width} x ${height}`).toBeLessThanOrEqual(height);
      expect(boxes['.Ribbon_frame svg'].bottom, `${width} x ${height}`).toBeLessThanOrEqual(boxes['.Ribbon_ribbon'].bottom);
      expect(boxes['.Stage_views button:last-child'].width, `${width} x ${height}`).toBeGreaterThanOrEqual(44);
    }
  });
});
