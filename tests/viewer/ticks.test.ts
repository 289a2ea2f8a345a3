/** What is ticked off step by step: each side for itself, older ticks of both sides kept. The project's own rules. */
import { beforeEach, expect, test, vi } from 'vitest';
import type { WorkStep } from '../../geometry/parts/types';

const step = (id: string, index: number, port: boolean) => ({ id, index, port }) as WorkStep;
const [whole, cap, fair] = [step('stringer-and-ribs', 2, true), step('cap', 7, false), step('fair-the-box-to-the-deck', 11, true)];

/** The store and what writes ticks into it, afresh, as a page without a browser's window has them. */
async function fresh() {
  vi.resetModules();
  const [{ emptyRecord, useDesign }, ticks] = await Promise.all([import('../../src/state/design'), import('../../src/work/ticks')]);
  const { design, note } = useDesign.getState();
  note(emptyRecord(design));
  return { ...ticks, note, record: () => useDesign.getState().record };
}
let page: Awaited<ReturnType<typeof fresh>>;
beforeEach(async () => {
  page = await fresh();
});

test('a step of two sides is done with both, one of the whole board with one tick', () => {
  const { tickStep, isDone, isSided, record } = page;
  expect([whole, cap, fair].map(isSided)).toEqual([false, true, true]);
  tickStep(whole, 'port', true, 18);
  expect([record().ticks, record().step]).toEqual([['stringer-and-ribs'], 3]);
  tickStep(cap, 'starboard', true, 18);
  expect(isDone(cap, record().ticks)).toBe(false);
  tickStep(cap, 'port', true, 18);
  expect(isDone(cap, record().ticks)).toBe(true);
  expect([record().ticks, record().step]).toEqual([['stringer-and-ribs', 'cap/port', 'cap/starboard'], 8]);
  tickStep(cap, 'port', false, 18);
  expect([record().ticks, record().step]).toEqual([['stringer-and-ribs', 'cap/starboard'], 8]);
});

test('a tick without a side is of both, and one side can be taken from it', () => {
  const { tickStep, isDone, isSideDone, note, record } = page;
  note({ ...record(), ticks: ['cap'], step: 8 });
  expect([isDone(cap, record().ticks), isSideDone(cap, 'port', record().ticks)]).toEqual([true, true]);
  tickStep(cap, 'port', false, 18);
  expect(record().ticks).toEqual(['cap/starboard']);
});

test('pieces cut are ticked off beside the steps', () => {
  const { tick, tickCut, record } = page;
  tick('cap: gap', true);
  tickCut('row 1.1/port/1', true);
  tickCut('row 2.1/port/1', true);
  tickCut('row 1.1/port/1', false);
  expect([record().ticks, record().cut]).toEqual([['cap: gap'], ['row 2.1/port/1']]);
  tickCut('row 2.1/port/1', false);
  expect('cut' in record()).toBe(false);
});
