/** WCAG 2.2 AA on every panel and page of a phone, in both lights. */
import { describe, expect, test } from 'vitest';
import { violationsOfRooms } from './axe';
import { PHONE } from './board';
import { shareBrowser } from './harness';

shareBrowser();

describe('WCAG 2.2 AA by axe-core', () => {
  test.each([['paper', 'light'], ['bench', 'dark']] as const)('no violation on any panel, %s on a phone', async (_, colorScheme) => {
    expect(await violationsOfRooms({ colorScheme, ...PHONE })).toEqual([]);
  });
});
