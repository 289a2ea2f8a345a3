/**
 * A maker's hour in a browser that fails: changes, undo, other boards, reloads, killed tabs, a full disk, a shelf that is
 * closed or cleared, a second tab. What is told as kept is on the shelf, and at the end all is kept.
 */
import { withSize } from '../../src/state/edits';
import { Browser, rest, type Tab } from '../support/tabs';
import type { Dice } from './dice';

const widthOf = (text: string | undefined) => (JSON.parse(text ?? '{}') as { rail?: { stripWidth: number } }).rail?.stripWidth;

/** What went wrong in `steps` random steps; empty where nothing did. */
export async function keepingFaults(d: Dice, steps: number): Promise<string[]> {
  const browser = new Browser();
  const log: string[] = [];
  const start = async (session?: Map<string, string>): Promise<Tab> => {
    const tab = await browser.open({ session });
    void tab.startKeeping();
    await browser.pass(6000);
    return tab;
  };
  const here = (tab: Tab) => ({ id: tab.useKeep.getState().id, width: tab.useDesign.getState().design.rail.stripWidth, status: tab.useKeep.getState().status });
  const quota = () => {
    throw new DOMException('', 'QuotaExceededError');
  };
  const healthy = () => undefined;
  let full = false;
  let tab = await start();
  /** Boards told as kept, and how wide their strips were; a clearing takes all but the open one. */
  const kept = new Map<string, number>();
  const acts: Record<string, () => Promise<unknown>> = {
    change: async () => {
      const next = withSize(tab.useDesign.getState().design, 'rail.stripWidth', Math.round(d.real(10, 15) * 1000) / 1000);
      if (next.ok) tab.useDesign.getState().commit(next.design);
    },
    undo: async () => tab.useDesign.temporal.getState().undo(),
    redo: async () => tab.useDesign.temporal.getState().redo(),
    begin: async () => tab.beginBoard(tab.starterDesign(d.pick(tab.starters))),
    another: async () => {
      const list = await tab.listBoards().catch(() => []);
      if (list.length > 0) await tab.openFromShelf(d.pick(list).id);
    },
    disk: async () => {
      full = !full;
      browser.refuse = full ? quota : healthy;
    },
    terminate: async () => browser.terminate(tab, d.chance(0.5)),
    clear: async () => {
      await browser.clear().then(() => kept.clear(), () => undefined);
      // Nobody tells a page whose database was closed before that it was cleared: it learns so as it writes.
      await acts.change();
    },
    reload: async () => {
      const before = here(tab);
      const asked = tab.leave();
      await browser.pass(500);
      if (asked) return;
      tab.kill();
      tab = await start(tab.session);
      const after = here(tab);
      if (after.id !== before.id || after.width !== before.width) throw new Error(`a reload that asked nothing brought ${JSON.stringify(after)} for ${JSON.stringify(before)}`);
    },
    crash: async () => {
      await browser.pass(2000);
      const before = here(tab);
      tab.kill();
      tab = await start(tab.session);
      // What was told as not kept may go with the tab.
      if (before.status !== 'kept') kept.clear();
      else if (here(tab).width !== before.width) throw new Error(`a killed tab brought ${here(tab).width} for ${before.width}, told as kept`);
    },
    beside: async () => {
      const other = await start();
      const next = withSize(other.useDesign.getState().design, 'rail.stripWidth', 11.11);
      if (next.ok) other.useDesign.getState().commit(next.design);
      await browser.pass(1000);
      other.kill();
    },
  };
  const names = [...Object.keys(acts), 'change', 'change', 'change', 'undo'];
  try {
    for (let i = 0; i < steps; i++) {
      const name = d.pick(names);
      log.push(name);
      const before = here(tab);
      await acts[name]();
      // A board that is left for another keeps its last change.
      if (here(tab).id !== before.id && kept.has(before.id)) kept.set(before.id, before.width);
      const wait = d.pick([0, 300, 3000, 40_000]);
      await browser.pass(wait);
      await rest();
      const now = here(tab);
      // Just after a change it waits for the next.
      if (wait < 1000 || now.status !== 'kept') continue;
      const shelf = widthOf((await tab.getBoard(now.id))?.text);
      if (shelf !== now.width) throw new Error(`told as kept: ${now.width}, on the shelf: ${shelf}`);
      kept.set(now.id, now.width);
    }
    browser.refuse = healthy;
    await browser.pass(200_000);
    const end = here(tab);
    const shelf = widthOf((await tab.getBoard(end.id))?.text);
    if (end.status !== 'kept' || shelf !== end.width) throw new Error(`at the end ${end.status}: ${end.width}, on the shelf: ${shelf}`);
    for (const [id, width] of kept) {
      const was = widthOf((await tab.getBoard(id))?.text);
      if (id !== end.id && was !== width) throw new Error(`board ${id} was kept with ${width} and now has ${was}`);
    }
    return [];
  } catch (error) {
    return [`after ${log.join(', ')}: ${error instanceof Error ? error.message : String(error)}`];
  } finally {
    tab.kill();
  }
}
