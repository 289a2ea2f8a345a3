/** Nothing lost, whatever the browser does: several tabs on one shelf, and every way in which keeping fails. */
import { beforeEach, describe, expect, test } from 'vitest';
import { Browser, type Faults, idOf, noteStep, rest, setWidth, stepOf, type Tab, width } from '../support/tabs';

let browser: Browser;
beforeEach(() => {
  browser = new Browser();
});

/** A tab as the page starts it. */
async function start(given: { session?: Map<string, string>; faults?: Faults; hash?: string } = {}): Promise<Tab> {
  const tab = await browser.open(given);
  const started = tab.startKeeping();
  let done = false;
  void started.then(() => (done = true));
  await rest();
  // What waits for a clock: a tab that does not answer, a database that does not open.
  if (!done) await browser.pass(5000);
  expect(done).toBe(true);
  return tab;
}

const status = (tab: Tab) => tab.useKeep.getState().status;
const textOf = async (tab: Tab, id = idOf(tab)) => (await tab.getBoard(id))?.text;
const widthOf = async (tab: Tab, id = idOf(tab)) => (JSON.parse((await textOf(tab, id)) ?? '{}') as { rail?: { stripWidth: number } }).rail?.stripWidth;

async function change(tab: Tab, mm: number): Promise<void> {
  setWidth(tab, mm);
  await browser.pass(1000);
}

const undo = async (tab: Tab) => {
  tab.useDesign.temporal.getState().undo();
  await browser.pass(1000);
};

const quota = () => {
  throw new DOMException('', 'QuotaExceededError');
};

test('what was not on the shelf when the page went comes back, though what reads it can only be fetched later', async () => {
  const before = await start();
  const id = idOf(before);
  browser.refuse = quota;
  await change(before, 13.5);
  before.leave();
  await rest();
  before.kill();
  browser.refuse = () => undefined;
  let away = true;
  const tab = await start({ session: before.session, faults: { noFiles: () => away } });
  expect(status(tab)).toBe('failed');
  await browser.pass(5000);
  expect(await widthOf(tab, id)).toBe(tab.firstBoard().rail.stripWidth);
  away = false;
  await browser.pass(60_000);
  expect(idOf(tab)).toBe(id);
  expect(width(tab)).toBe(13.5);
  expect(await widthOf(tab, id)).toBe(13.5);
  expect(status(tab)).toBe('kept');
  expect(await tab.listBoards()).toHaveLength(1);
});

describe('history belongs to a board', () => {
  const other = (tab: Tab) => tab.starterDesign(tab.starters[1]);

  test.each<[string, (tab: Tab) => Promise<unknown>]>([
    ['a starter or New', (tab) => tab.beginBoard(other(tab))],
    ['a file', (tab) => tab.openBoard(new File([tab.starters[1].text], 'other.board.json'))],
  ])('undo after %s changes neither the board opened nor the one before', async (_, act) => {
    const tab = await start();
    const first = idOf(tab);
    await change(tab, 13.5);
    await act(tab);
    await browser.pass(1000);
    const second = idOf(tab);
    expect(second).not.toBe(first);
    await undo(tab);
    expect(tab.useDesign.getState().design.name).toBe(other(tab).name);
    expect(await widthOf(tab, first)).toBe(13.5);
    expect(JSON.parse((await textOf(tab, second)) ?? '')).toMatchObject({ name: other(tab).name });
    // Back on the shelf's first board, its own steps are there.
    await tab.openFromShelf(first);
    await undo(tab);
    expect(await widthOf(tab, first)).toBe(tab.firstBoard().rail.stripWidth);
    expect(JSON.parse((await textOf(tab, second)) ?? '')).toMatchObject({ name: other(tab).name });
  });

  test('undo after a link does not write the board before under the name of the one opened', async () => {
    const before = await start();
    await change(before, 13.5);
    const made = before.boardLink(other(before), 0, 'http://localhost/');
    before.kill();
    const tab = await start({ session: before.session, hash: new URL(made.href).hash });
    await tab.startLinks();
    await browser.pass(1000);
    expect(tab.useDesign.getState().design.name).toBe(other(tab).name);
    await undo(tab);
    expect(tab.useDesign.getState().design.name).toBe(other(tab).name);
    expect((await tab.listBoards()).map(({ name }) => name).sort()).toEqual([other(tab).name, before.useDesign.getState().design.name].sort());
  });
});

test('a hundred changes are undone to the byte, and redone', async () => {
  const tab = await start();
  const [before, { undo: back, redo }] = [await textOf(tab), tab.useDesign.temporal.getState()];
  for (let i = 1; i <= 100; i++) setWidth(tab, 14 + i / 100);
  await browser.pass(1000);
  const after = await textOf(tab);
  expect(after).not.toBe(before);
  for (let i = 0; i < 100; i++) back();
  await browser.pass(1000);
  expect(await textOf(tab)).toBe(before);
  expect(tab.useDesign.temporal.getState().pastStates).toEqual([]);
  for (let i = 0; i < 100; i++) redo();
  await browser.pass(1000);
  expect(await textOf(tab)).toBe(after);
});

describe('a write that fails', () => {
  test('is told, tried again until it succeeds, and asked about before leaving', async () => {
    const tab = await start();
    expect(tab.leave()).toBe(false);
    browser.refuse = quota;
    await change(tab, 13.5);
    expect(tab.useKeep.getState()).toMatchObject({ status: 'failed', why: 'this browser has no room left.' });
    expect(tab.leave()).toBe(true);
    await browser.pass(60_000);
    expect(status(tab)).toBe('failed');
    browser.refuse = () => undefined;
    await browser.pass(31_000);
    expect(status(tab)).toBe('kept');
    expect(await widthOf(tab)).toBe(13.5);
    expect(tab.leave()).toBe(false);
  });

  test('is tried again at once when the maker asks', async () => {
    const tab = await start();
    browser.refuse = quota;
    await change(tab, 13.5);
    await browser.pass(60_000);
    browser.refuse = () => undefined;
    tab.tryAgain();
    await rest();
    expect(status(tab)).toBe('kept');
    expect(await widthOf(tab)).toBe(13.5);
  });

  test('of a board left for another is made up for, and the board comes back as it was left', async () => {
    const tab = await start();
    const first = idOf(tab);
    browser.refuse = quota;
    await change(tab, 13.5);
    await tab.beginBoard(tab.starterDesign(tab.starters[1]));
    expect(idOf(tab)).not.toBe(first);
    expect(tab.leave()).toBe(true);
    // Back before the shelf takes anything: it stands as it was left, and what is changed since is what is kept.
    expect(await tab.openFromShelf(first)).toBe(true);
    expect(width(tab)).toBe(13.5);
    await change(tab, 13.7);
    await tab.beginBoard(tab.starterDesign(tab.starters[1]));
    expect(await widthOf(tab, first)).toBe(tab.firstBoard().rail.stripWidth);
    browser.refuse = () => undefined;
    await browser.pass(31_000);
    expect(status(tab)).toBe('kept');
    expect(await widthOf(tab, first)).toBe(13.7);
    expect(await widthOf(tab)).toBe(tab.starterDesign(tab.starters[1]).rail.stripWidth);
  });

  test('of readings is told and tried again likewise', async () => {
    const tab = await start();
    browser.refuse = quota;
    noteStep(tab, 3);
    noteStep(tab, 4);
    await rest();
    expect(status(tab)).toBe('failed');
    browser.refuse = () => undefined;
    await browser.pass(5000);
    expect(status(tab)).toBe('kept');
    expect(await stepOf(tab)).toBe(4);
  });

  test('of a snapshot, or removing one or a board, says why', async () => {
    const tab = await start();
    const first = idOf(tab);
    expect(await tab.saveSnapshot('one')).toBe('');
    await tab.beginBoard(tab.starterDesign(tab.starters[1]));
    browser.refuse = quota;
    expect(await tab.saveSnapshot('two')).toBe('this browser has no room left.');
    expect(await tab.deleteBoard(first)).toBe('this browser has no room left.');
    browser.refuse = () => undefined;
    const [one] = await tab.listSnapshots(first);
    expect(one.name).toBe('one');
    expect(await tab.deleteSnapshot(one.id)).toBe('');
    expect(await tab.listSnapshots(first)).toEqual([]);
  });
});

describe('a browser that lacks or refuses something', () => {
  test.each<[string, Faults]>([
    ['plain http', { noLocks: true, noRandomUUID: true }],
    ['no channel between tabs', { noChannels: true }],
    ['locks that are refused', { locksRefused: true }],
    ['storage that throws', { noStorage: true }],
  ])('%s: boards are kept all the same, and others begun', async (_, faults) => {
    const tab = await start({ faults });
    await change(tab, 13.5);
    const first = idOf(tab);
    expect(first).toMatch(/^[0-9a-f-]{32,36}$/);
    expect(status(tab)).toBe('kept');
    await tab.beginBoard(tab.starterDesign(tab.starters[1]));
    expect(idOf(tab)).not.toBe(first);
    expect((await tab.listBoards()).map(({ id }) => id).sort()).toEqual([first, idOf(tab)].sort());
    expect(tab.guarded()).toBe(faults.noLocks !== true && faults.locksRefused !== true);
    // In the small storage what cannot be kept lasts as long as the page.
    tab.local.setItem('a', 'b');
    expect(tab.local.getItem('a')).toBe('b');
    tab.local.removeItem('a');
    expect(tab.local.getItem('a')).toBeNull();
  });

  test('no database: the page opens, says so, works, and asks before it goes', async () => {
    const tab = await start({ faults: { noDatabase: true } });
    await change(tab, 13.5);
    expect(status(tab)).toBe('failed');
    expect(tab.useKeep.getState().why).not.toBe('');
    await tab.beginBoard(tab.starterDesign(tab.starters[1]));
    expect(tab.useDesign.getState().design.name).toBe(tab.starters[1].name);
    expect(tab.leave()).toBe(true);
    // A reload finds what no shelf ever had, as the board it was.
    tab.kill();
    const again = await start({ session: tab.session, faults: { noDatabase: true } });
    expect(idOf(again)).toBe(idOf(tab));
    expect(again.useDesign.getState().design.name).toBe(tab.starters[1].name);
  });

  test('a database that another page holds: the page opens without, and with its board once it is let go', async () => {
    // An earlier version of the page, which does not let go for this one.
    const held = await browser.shelf(1, (db) => {
      db.createObjectStore('boards', { keyPath: 'id' }).createIndex('at', 'at');
      db.createObjectStore('snapshots', { keyPath: 'id' }).createIndex('board', 'board');
    });
    const { starters } = await browser.open();
    held.transaction('boards', 'readwrite').objectStore('boards').put({ id: 'older', name: starters[1].name, text: starters[1].text, at: 1 });
    browser.local.set('railwright-last', 'older');
    const tab = await start();
    expect(tab.useKeep.getState()).toMatchObject({ status: 'failed', why: 'another tab of this page holds the boards.' });
    expect(tab.useDesign.getState().design.name).not.toBe(starters[1].name);
    await browser.pass(20_000);
    expect(status(tab)).toBe('failed');
    held.close();
    await browser.pass(31_000);
    expect(status(tab)).toBe('kept');
    expect([idOf(tab), tab.useDesign.getState().design.name]).toEqual(['older', starters[1].name]);
    expect(await tab.listBoards()).toHaveLength(1);
  });

  test('a database of a newer page says what to do', async () => {
    (await browser.shelf(9, (db) => db.createObjectStore('boards'))).close();
    const tab = await start();
    expect(tab.useKeep.getState()).toMatchObject({ status: 'failed', why: 'a newer Railwright keeps the boards now: load this page again.' });
    // Once there is none of a newer page, it keeps its board.
    await browser.clear();
    await browser.pass(31_000);
    expect(status(tab)).toBe('kept');
  });
});

describe('a shelf that changes under the page', () => {
  test.each([['terminated', false], ['closed without a word', true]])('%s: it is opened again, and the next change is kept', async (_, quietly) => {
    const tab = await start();
    browser.terminate(tab, quietly);
    await change(tab, 13.5);
    expect(status(tab)).toBe('kept');
    expect(await widthOf(tab)).toBe(13.5);
  });

  test.each([
    ['cleared', async () => browser.clear()],
    ['closed and then cleared', async (tab: Tab) => {
      browser.terminate(tab);
      await browser.clear();
    }],
  ])('%s: the board is written again without a change', async (_, act) => {
    const tab = await start();
    await change(tab, 13.5);
    await act(tab);
    await browser.pass(5000);
    expect(status(tab)).toBe('kept');
    // Read by another tab: asking this one would make it look.
    expect(await widthOf(await browser.open(), idOf(tab))).toBe(13.5);
  });

  test('a record that cannot be read is told and stays as it is; another board is begun beside it', async () => {
    const before = await start();
    await change(before, 13.5);
    // What was typed last comes back, but not over the record.
    browser.refuse = quota;
    setWidth(before, 13.8);
    before.leave();
    before.kill();
    await rest();
    browser.refuse = () => undefined;
    const [id, broken] = [idOf(before), '{ "kind": "board", "rail": '];
    await (await browser.open()).putBoard({ id, name: 'Spoilt', text: broken, at: 1 });
    const tab = await start({ session: before.session });
    expect(tab.useKeep.getState().unread).toMatchObject({ name: 'Spoilt', text: broken });
    expect(idOf(tab)).not.toBe(id);
    expect(width(tab)).toBe(13.8);
    await change(tab, 14);
    expect(await textOf(tab, id)).toBe(broken);
    expect(await tab.openFromShelf(id)).toBe(false);
    expect(width(tab)).toBe(14);
    await change(tab, 14.5);
    expect(await widthOf(tab)).toBe(14.5);
    expect(await textOf(tab, id)).toBe(broken);
  });
});

describe('several tabs', () => {
  test('a second one works on a copy of the board as it is now, readings included', async () => {
    const one = await start();
    noteStep(one, 5);
    await rest();
    // Still on its way to the shelf when the other tab opens.
    setWidth(one, 13);
    setWidth(one, 13.5);
    const two = await start();
    expect(two.useKeep.getState().copyOf).toBe(one.useDesign.getState().design.name);
    expect(width(two)).toBe(13.5);
    expect([await stepOf(two), two.useDesign.getState().record.step]).toEqual([5, 5]);
    await change(two, 14);
    expect([await widthOf(two, idOf(one)), await widthOf(two)]).toEqual([13.5, 14]);
  });

  test('a board open in another tab is not deleted; closed there, it is', async () => {
    const one = await start();
    await one.saveSnapshot('kept');
    const two = await start();
    expect(await two.deleteBoard(idOf(one))).toBe('it is open in another tab. Close it there first.');
    expect(await textOf(two, idOf(one))).toBeDefined();
    one.kill();
    expect(await two.deleteBoard(idOf(one))).toBe('');
    expect(await textOf(two, idOf(one))).toBeUndefined();
    expect(await two.listSnapshots(idOf(one))).toEqual([]);
  });

  test('one that does not answer is waited for, but not for long', async () => {
    const one = await start();
    await change(one, 13.5);
    one.freeze();
    const two = await start();
    expect(width(two)).toBe(13.5);
  });
});

describe('the page goes', () => {
  test('what the shelf had no time for comes back with the tab', async () => {
    const tab = await start();
    setWidth(tab, 13);
    setWidth(tab, 13.5);
    browser.refuse = quota;
    tab.leave();
    tab.kill();
    await rest();
    browser.refuse = () => undefined;
    const again = await start({ session: tab.session });
    expect([idOf(again), width(again)]).toEqual([idOf(tab), 13.5]);
    await browser.pass(1000);
    expect(await widthOf(again)).toBe(13.5);
    // And only once: what was kept since is not undone by it.
    await change(again, 15);
    again.kill();
    expect(width(await start({ session: tab.session }))).toBe(15);
  });
});

test('no faults in a row lose a board', async () => {
  // Each fault alone, then the board as a tab that opens afterwards finds it.
  const faults: ((tab: Tab) => Promise<void> | void)[] = [
    (tab) => browser.terminate(tab),
    () => browser.clear(),
    () => {
      browser.refuse = quota;
    },
  ];
  let tab = await start();
  let mm = 12;
  for (const fault of [...faults, ...faults.toReversed()]) {
    await fault(tab);
    await change(tab, (mm += 0.25));
    browser.refuse = () => undefined;
    await browser.pass(31_000);
    expect(status(tab)).toBe('kept');
    tab.kill();
    tab = await start({ session: tab.session });
    expect(width(tab)).toBe(mm);
  }
});
