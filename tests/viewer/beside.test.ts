/** What lies beside a board is kept, undone and sent with it: in tabs of a browser without one. The project's own rules. */
import { beforeEach, describe, expect, test } from 'vitest';
import { Browser, idOf, noteStep, rest, setWidth, stepOf, type Tab, width } from '../support/tabs';

let browser: Browser;
beforeEach(() => {
  browser = new Browser();
});

/** A tab as the page starts it. */
async function start(given: { session?: Map<string, string>; hash?: string } = {}): Promise<Tab> {
  const tab = await browser.open(given);
  const started = tab.startKeeping();
  await rest();
  await started;
  return tab;
}

async function change(tab: Tab, mm: number): Promise<void> {
  setWidth(tab, mm);
  await browser.pass(1000);
}

const undo = async (tab: Tab) => {
  tab.useDesign.temporal.getState().undo();
  await browser.pass(1000);
};

describe('what lies beside a board', () => {
  const other = (tab: Tab) => tab.starterDesign(tab.starters[1]);
  const readings = [{ of: 'rib' as const, rib: 1, side: 'port' as const, cap: 6.1 }];
  const record = (tab: Tab) => tab.useDesign.getState().record;

  test('is kept with it, comes back with it, and is undone in one history with it', async () => {
    const tab = await start();
    const first = idOf(tab);
    noteStep(tab, 2);
    await change(tab, 13.5);
    noteStep(tab, 3);
    await browser.pass(1000);
    expect(await stepOf(tab)).toBe(3);
    await undo(tab);
    expect([await stepOf(tab), width(tab)]).toEqual([2, 13.5]);
    await undo(tab);
    expect([await stepOf(tab), width(tab)]).toEqual([2, tab.firstBoard().rail.stripWidth]);
    await undo(tab);
    expect(record(tab).step).toBeUndefined();
    expect(await stepOf(tab)).toBeUndefined();
    tab.useDesign.temporal.getState().redo(3);
    await browser.pass(1000);
    await tab.beginBoard(other(tab));
    expect(record(tab).step).toBeUndefined();
    await undo(tab);
    expect(await stepOf(tab, first)).toBe(3);
    await tab.openFromShelf(first);
    expect(record(tab).step).toBe(3);
    tab.kill();
    const again = await start({ session: tab.session });
    expect(record(again).step).toBe(3);
    await undo(again);
    expect(record(again).step).toBe(3);
  });

  test('goes with a snapshot; one from before that leaves it as it is', async () => {
    const tab = await start();
    noteStep(tab, 2);
    await tab.saveSnapshot('two');
    await tab.putSnapshot({ id: 'old', board: idOf(tab), name: 'old', text: tab.starters[1].text, at: 1 });
    noteStep(tab, 7);
    const [two] = (await tab.listSnapshots(idOf(tab))).filter(({ name }) => name === 'two');
    expect(await tab.restoreSnapshot(two)).toBe(true);
    await browser.pass(1000);
    expect([record(tab).step, await stepOf(tab)]).toEqual([2, 2]);
    await undo(tab);
    expect(await stepOf(tab)).toBe(7);
    expect(await tab.restoreSnapshot({ id: 'old', board: idOf(tab), name: 'old', text: tab.starters[1].text, at: 1 })).toBe(true);
    expect([record(tab).step, tab.useDesign.getState().design.name]).toEqual([7, other(tab).name]);
    expect(await tab.restoreSnapshot({ ...two, readings: '{' })).toBe(false);
    expect(tab.useKeep.getState().unread?.errors).toHaveLength(1);
    expect(record(tab).step).toBe(7);
  });

  test('a record of version 1 opens; one that cannot be read is told, and stays until it is changed', async () => {
    const before = await start();
    const head = { format: 'railwright-readings', board: 'A', revision: '' };
    await before.putReadings({ board: idOf(before), text: JSON.stringify({ ...head, version: 1, readings: [{ rib: 1, side: 'port', cap: 6.1 }] }), at: 1 });
    before.kill();
    const tab = await start({ session: before.session });
    expect(record(tab)).toEqual({ ...head, version: 2, readings });
    await tab.putReadings({ board: idOf(tab), text: 'no record', at: 1 });
    tab.kill();
    const broken = await start({ session: tab.session });
    expect(broken.useKeep.getState().recordTrouble).toMatchObject({ say: expect.stringContaining('cannot be read') });
    await change(broken, 13.5);
    expect((await broken.getReadings(idOf(broken)))?.text).toBe('no record');
    noteStep(broken, 2);
    await browser.pass(1000);
    expect([await stepOf(broken), broken.useKeep.getState().recordTrouble]).toEqual([2, null]);
  });

  test('a link brings it, to the same board where that has nothing else, to another where it has', async () => {
    const before = await start();
    const mine = { ...record(before), readings, step: 4 };
    const made = (step: number) => before.boardLink(other(before), Number.NaN, 'http://localhost/', undefined, { ...mine, step });
    const open = async (tab: Tab, step: number) => {
      tab.kill();
      const next = await start({ session: tab.session, hash: new URL(made(step).href).hash });
      await next.startLinks();
      await browser.pass(1000);
      return next;
    };
    const first = await open(before, 4);
    const board = idOf(first);
    expect(record(first)).toEqual(mine);
    expect(await stepOf(first)).toBe(4);
    // Further on by now: the older link opens the same board and takes nothing back.
    noteStep(first, 6);
    await browser.pass(1000);
    const same = await open(first, 4);
    expect([idOf(same), record(same).step]).toEqual([board, 6]);
    // Measured again since: the link's readings are another board's.
    same.useDesign.getState().note({ ...record(same), readings: [{ ...readings[0], cap: 6.4 }] });
    await browser.pass(1000);
    const apart = await open(same, 4);
    expect(idOf(apart)).not.toBe(board);
    expect(record(apart).readings).toEqual(readings);
    expect((await apart.getReadings(board))?.text).toContain('6.4');
  });
});
