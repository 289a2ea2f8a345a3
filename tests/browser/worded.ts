/** Labels that carry one of the sixteen words without leading to what it means. */
import type { Page } from 'playwright-core';
import { TERMS } from '../../src/say/terms';

/** What names a figure, a field or a list on the page. */
const LABELS = 'label, [data-label], legend, dt, th, figcaption, caption';

/** The labels that can be seen now and carry a word that no press on them tells, each with the word. A label that is itself an action, that ticks a box or goes to a place, need not. */
export const untoldWords = (page: Page): Promise<string[]> => page.evaluate(([labels, terms]) => [...document.querySelectorAll<HTMLElement>(labels)].flatMap((label) => {
  if (!label.checkVisibility({ visibilityProperty: true }) || label.closest('[data-area="drawer"][aria-label="Words"]')) return [];
  if (label.querySelector('input, button:not([data-term])') || label.closest('button')) return [];
  const text = label.textContent ?? '';
  return terms.flatMap(({ id, name }) => {
    const word = new RegExp(`(^|[^\\w-])${name.replace(/s$/, '')}s?($|[^\\w-])`, 'i');
    // A longer word may hold it: the cap that is left is told as such.
    const longer = terms.filter((other) => other.name.toLowerCase().includes(name.toLowerCase()) && other.id !== id);
    const told = [id, ...longer.map((other) => other.id)].some((one) => label.querySelector(`[data-term="${one}"]`));
    return word.test(text) && !told ? [`“${text.trim()}” does not lead to ${name}`] : [];
  });
}), [LABELS, TERMS] as const);
