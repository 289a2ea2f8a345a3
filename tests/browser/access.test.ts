/** WCAG 2.2 AA on every panel and page of a wide screen, in both lights; and all of them in windows of all sizes, measured from their boxes. */
import { describe, expect, test } from 'vitest';
import { faultsOfRooms, violations, visitWithAxe } from './axe';
import { openRoom } from './board';
import { shareBrowser } from './harness';

shareBrowser();

describe('WCAG 2.2 AA by axe-core', () => {
  test('no violation on any panel, light or dark; no text cut or covered, and nothing scrolls across, in any window', async () => {
    const page = await visitWithAxe('');
    expect(await faultsOfRooms(page, 'desk')).toEqual({ violations: [], boxes: [], words: [] });
    // All of the card but what is asked for less stands in the first screen.
    for (const [width, height] of [[1440, 900], [1280, 720]] as const) {
      await page.setViewportSize({ width, height });
      await openRoom(page, 'Plan');
      const more = await page.getByRole('button', { name: /^More/ }).boundingBox();
      expect(more && more.y + more.height, `${width} x ${height}`).toBeLessThanOrEqual(height);
    }
  });

  test('no violation in a notice, nor when a board cannot be planned', async () => {
    const page = await visitWithAxe('#board=9x');
    await page.getByRole('alertdialog').waitFor();
    expect(await violations(page)).toEqual([]);
  });
});
