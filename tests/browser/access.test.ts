/** WCAG 2.2 AA on every panel and page of a wide screen, in both lights. */
import { describe, expect, test } from 'vitest';
import { violations, violationsOfRooms, visitWithAxe } from './axe';
import { shareBrowser } from './harness';

shareBrowser();

describe('WCAG 2.2 AA by axe-core', () => {
  test('no violation on any panel, light or dark', async () => {
    expect(await violationsOfRooms({})).toEqual([]);
  });

  test('no violation in a notice, nor when a board cannot be planned', async () => {
    const page = await visitWithAxe('#board=9x');
    await page.getByRole('alertdialog').waitFor();
    expect(await violations(page)).toEqual([]);
  });
});
