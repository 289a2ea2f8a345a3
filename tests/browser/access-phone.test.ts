/** WCAG 2.2 AA on every panel and page of a phone, in both lights. */
import { describe, expect, test } from 'vitest';
import { violationsOfRooms } from './axe';
import { PHONE } from './board';
import { shareBrowser } from './harness';

shareBrowser();

describe('WCAG 2.2 AA by axe-core', () => {
  test('no violation on any panel of a phone, light or dark', async () => {
    expect(await violationsOfRooms(PHONE)).toEqual([]);
  });
});
