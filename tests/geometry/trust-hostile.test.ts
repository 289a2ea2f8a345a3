/** Files meant to hang, hide or surprise: refused by field and limit, and the language left as it was. The project's own rules. */
import { expect, it } from 'vitest';
import { checkDesign, readDesign } from '../../geometry/design/read';
import { hostileFiles } from '../fuzz/hostile';
import { seedDesign, seedText } from './boards';
import { mmError } from '../support/said';

const name = 'child-155.board.json';
const cases = hostileFiles(seedDesign(name), seedText(name));

it.each(cases.map((c) => [c.name, c] as const))('%s is refused by field and limit', (_, { text, value, field, allowed }) => {
  const read = text === undefined ? checkDesign(value) : readDesign(text);
  if (read.ok) throw new Error('taken as sound');
  const errors = read.errors.map(mmError);
  const hit = errors.find((e) => field.test(e.field) && allowed.test(e.allowed));
  expect(errors.slice(0, 3).map((e) => `${e.field.slice(0, 60)}: ${e.allowed.slice(0, 80)}`).join(' | ')).not.toBe('');
  expect(hit, errors.slice(0, 3).map((e) => `${e.field.slice(0, 60)}: ${e.allowed.slice(0, 80)}`).join(' | ')).toBeDefined();
  // Messages stay short whatever they speak of.
  for (const e of errors) expect(e.field.length + e.value.length + e.allowed.length + e.message.length).toBeLessThan(1500);
  expect(Reflect.get({}, 'polluted')).toBeUndefined();
  expect(Object.keys(Object.prototype)).toEqual([]);
});
