/** Where the focus stands, and whether it can be seen there. */
import type { Page } from 'playwright-core';

/** What the focus stands on, by its name. */
export const focused = (page: Page): Promise<string> => page.evaluate(() => document.activeElement?.getAttribute('aria-label') ?? document.activeElement?.textContent?.trim() ?? '');

/** All that Tab and Shift Tab stand on, round the page and back, that cannot be seen for what lies over it, a line each. Throws where they stand on nothing. */
export async function coveredUnderFocus(page: Page): Promise<string[]> {
  const count = await page.evaluate(() => {
    const [seen, covered] = [new Set<Element>(), new Set<string>()];
    const isSeen = (at: Element): boolean => {
      const { left, top, width, height } = at.getBoundingClientRect();
      return [[0.5, 0.5], [0.1, 0.2], [0.9, 0.2], [0.1, 0.8], [0.9, 0.8]].some(([x, y]) => {
        const hit = document.elementFromPoint(left + x * width, top + y * height);
        if (!hit) return false;
        const drawn = at instanceof SVGElement && hit instanceof SVGElement && at.ownerSVGElement === hit.ownerSVGElement;
        return at.contains(hit) || hit.contains(at) || hit.closest('label')?.control === at || drawn;
      });
    };
    const look = ({ key }: KeyboardEvent) => {
      const at = document.activeElement;
      if (key !== 'Tab' || !at || at === document.body) return;
      seen.add(at);
      if (!isSeen(at)) covered.add(`${at.tagName} ${at.getAttribute('aria-label') ?? at.textContent}`);
    };
    window.addEventListener('keyup', look, { capture: true });
    const focusTrail = () => {
      window.removeEventListener('keyup', look, { capture: true });
      return { seen: seen.size, covered: [...covered] };
    };
    Object.assign(window, { focusTrail });
    return [...document.querySelectorAll('button, input, select, textarea, a[href], summary, [tabindex="0"]')].filter((element) => element.checkVisibility({ visibilityProperty: true })).length;
  });
  for (const key of ['Tab', 'Shift+Tab']) for (let i = 0; i < count + 3; i++) await page.keyboard.press(key);
  const trail = await page.evaluate(() => (window as unknown as { focusTrail: () => { seen: number; covered: string[] } }).focusTrail());
  if (trail.seen < 3) throw new Error(`${trail.seen} places to stand on`);
  return trail.covered;
}
