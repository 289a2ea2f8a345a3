/** WCAG 2.2 AA on every panel and page of a phone, in both lights; and all of them in windows of all sizes, measured from their boxes. */
import { describe, expect, test } from 'vitest';
import { faultsOfRooms, violations, visitWithAxe } from './axe';
import { openRoom, PHONE } from './board';
import { faultsInWindows, WINDOWS } from './boxes';
import { shareBrowser } from './harness';

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
  });
});
