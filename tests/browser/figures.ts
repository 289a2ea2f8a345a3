/** The page's fields for figures: what is heard of each. */
import type { Page } from 'playwright-core';

const FIELDS = 'input[inputmode]:visible, input[type="range"]:visible';
/** What a figure may be of: a unit, a currency, or a plain number of things. */
const UNIT = /(^|[\s,])(mm|in|l|litres|kg|kg\/m3|g\/m2|MPa|N|minutes|degrees|times|EUR)(?=$|[\s,.;:])|[°%€]/;

/** Fields whose figure is heard without what it is of, but for those counted; a line each. */
export const unspoken = (page: Page, counted: RegExp): Promise<string[]> => page.locator(FIELDS).evaluateAll((fields, [unit, plain]) => fields.flatMap((field) => {
  if (!(field instanceof HTMLInputElement) || !/\d/.test(field.value + field.placeholder)) return [];
  const of = (name: string) => field.getAttribute(name) ?? '';
  const ids = (name: string) => of(name).split(/\s+/).map((id) => document.getElementById(id)?.textContent ?? '').join(' ');
  const name = [of('aria-label'), ids('aria-labelledby'), ...[...(field.labels ?? [])].map((label) => label.textContent ?? '')].join(' ').trim();
  const heard = [name, of('aria-description'), ids('aria-describedby'), of('aria-valuetext')].join(' ');
  return new RegExp(unit).test(heard) || new RegExp(plain).test(name) ? [] : [`${name || 'a field without a name'}: “${field.value}”`];
}), [UNIT.source, counted.source] as const);
