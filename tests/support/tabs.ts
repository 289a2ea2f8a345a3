/**
 * Tabs of a browser without one: the page's own keeping (src/state, and how links open), bundled once; each tab runs
 * it with globals of its own over one database, one set of locks and one clock, which a test turns.
 */
import { withSize } from '../../src/state/edits';
import { forceCloseDatabase, IDBFactory, IDBCursor, IDBCursorWithValue, IDBDatabase, IDBIndex, IDBKeyRange, IDBObjectStore, IDBOpenDBRequest, IDBRequest, IDBTransaction, IDBVersionChangeEvent } from 'fake-indexeddb';
import { fileURLToPath } from 'node:url';
import { build, type Plugin } from 'vite';

const top = fileURLToPath(new URL('../../', import.meta.url));
const MODULES = ['state/keep', 'state/database', 'state/design', 'state/boardFile', 'state/starters', 'rooms/boards/starters', 'state/storage', 'rooms/share/open', 'link/boardLink'] as const;

type Page = typeof import('../../src/state/keep') & typeof import('../../src/state/database') & typeof import('../../src/state/design')
  & typeof import('../../src/state/boardFile') & typeof import('../../src/state/starters') & typeof import('../../src/rooms/boards/starters') & typeof import('../../src/state/storage')
  & typeof import('../../src/rooms/share/open') & typeof import('../../src/link/boardLink');

let made: Promise<(...values: unknown[]) => Page> | undefined;

/** The page's code as a function of what is global to a tab. */
const bundle = (names: readonly string[]) => made ??= (async () => {
  const entry: Plugin = {
    name: 'entry', enforce: 'pre',
    resolveId: (id) => (id.endsWith('tab-page') ? 'tab-page' : undefined),
    load: (id) => (id === 'tab-page' ? MODULES.map((file) => `export * from '${top}src/${file}';`).join('\n') : undefined),
    transform: (code, id) => (id.endsWith('src/state/files.ts') ? code.replace('async function fetched() {', 'async function fetched() { if (filesUnreachable()) throw new TypeError("Failed to fetch");') : undefined),
  };
  const result = await build({
    configFile: false, logLevel: 'silent', publicDir: false, plugins: [entry],
    build: { write: false, minify: false, lib: { entry: 'tab-page', formats: ['iife'], name: 'page' } },
  });
  const [output] = Array.isArray(result) ? result : [result];
  if (!('output' in output)) throw new Error('nothing was bundled');
  return new Function(...names, `${output.output[0].code}\nreturn page;`) as (...values: unknown[]) => Page;
})();

/** Lets everything that waits for a database, a lock or another tab come to rest. */
export async function rest(): Promise<void> {
  for (let i = 0; i < 60; i++) await new Promise(setImmediate);
}

/** What is wrong with the browser a tab runs in. */
export interface Faults {
  readonly noLocks?: boolean;
  readonly noRandomUUID?: boolean;
  readonly noChannels?: boolean;
  /** Every touch of localStorage and sessionStorage throws, as where cookies are blocked. */
  readonly noStorage?: boolean;
  /** Opening the database throws, as in some private windows. */
  readonly noDatabase?: boolean;
  /** Asking for a lock is refused, as where cookies are blocked. */
  readonly locksRefused?: boolean;
  /** Whether what reads files cannot be fetched now, as without a network. */
  readonly noFiles?: () => boolean;
}

export interface Tab extends Page {
  /** What sessionStorage holds: pass it on to reload the tab. */
  readonly session: Map<string, string>;
  /** Tells the page that it goes, as a reload does; whether it asked to stay. */
  leave(): boolean;
  /** The tab stops to answer, and holds what it holds. */
  freeze(): void;
  /** The tab dies: its locks and its database are let go, and nothing of it runs any more. */
  kill(): void;
}

type Held = { readonly name: string; readonly tab: object };
type Timer = { readonly at: number; readonly act: () => void; readonly tab: object };

const areaOf = (texts: Map<string, string>) => ({
  getItem: (name: string) => texts.get(name) ?? null,
  setItem: (name: string, text: string) => void texts.set(name, text),
  removeItem: (name: string) => void texts.delete(name),
});

export class Browser {
  readonly indexedDB = new IDBFactory();
  /** What localStorage holds. */
  readonly local = new Map<string, string>();
  /** Called before each write of the database: throws for a write that fails. */
  refuse: () => void = () => undefined;
  private now = 0;
  private readonly timers = new Map<number, Timer>();
  private readonly locks = new Set<Held>();
  private readonly channels = new Set<{ tab: object; name: string; onmessage: ((event: { data: unknown }) => void) | null }>();
  private readonly databases = new Map<object, IDBDatabase[]>();

  /** Turns the clock, each timer at its moment. */
  async pass(ms: number): Promise<void> {
    const until = this.now + ms;
    for (;;) {
      await rest();
      const due = [...this.timers].filter(([, { at }]) => at <= until).sort(([i, a], [k, b]) => a.at - b.at || i - k)[0];
      if (!due) break;
      this.timers.delete(due[0]);
      this.now = due[1].at;
      due[1].act();
    }
    this.now = until;
  }

  /** Closes the databases of a tab under it, as a browser does when the disk fails; `quietly` without telling the tab. */
  terminate(tab: Tab, quietly = false): void {
    for (const db of this.databases.get(tab.session) ?? []) {
      if (quietly) db.close();
      else forceCloseDatabase(db as never);
    }
  }

  /** The shelf of a page that is not a tab of this test, at a version; `make` makes its stores. It lets go of it only when closed. */
  async shelf(version: number, make: (db: IDBDatabase) => void): Promise<IDBDatabase> {
    const asked = this.indexedDB.open('railwright', version);
    asked.addEventListener('upgradeneeded', () => make(asked.result));
    await new Promise((done) => asked.addEventListener('success', done));
    return asked.result;
  }

  /** Deletes the database, as clearing the site's data does. Rejects where a tab does not let go of it. */
  async clear(): Promise<void> {
    const asked = this.indexedDB.deleteDatabase('railwright');
    await new Promise((done, fail) => {
      asked.addEventListener('success', done);
      asked.addEventListener('blocked', () => fail(new Error('a tab does not let go of its database')));
    });
  }

  /** Opens a tab; `session` is what a tab before it, of which this is the reload, had. It is kept once `startKeeping` is done. */
  async open({ session = new Map<string, string>(), faults = {}, hash = '' }: { session?: Map<string, string>; faults?: Faults; hash?: string } = {}): Promise<Tab> {
    const own = this.databases.set(session, []).get(session) ?? [];
    const [window, document] = [Object.assign(new EventTarget(), { matchMedia: () => ({ matches: false }) }), Object.assign(new EventTarget(), { activeElement: null, visibilityState: 'visible' })];
    const later = (act: () => void, ms = 0) => {
      const id = Math.random();
      this.timers.set(id, { at: this.now + ms, act, tab: session });
      return id;
    };
    const request = async (name: string, _: object, then: (lock: object | null) => unknown) => {
      if (faults.locksRefused) throw new DOMException('Locks are not available here.', 'SecurityError');
      await Promise.resolve();
      const free = [...this.locks].every((lock) => lock.name !== name);
      const lock = { name, tab: session };
      if (free) this.locks.add(lock);
      try {
        return await then(free ? lock : null);
      } finally {
        this.locks.delete(lock);
      }
    };
    const { channels } = this;
    class Channel {
      readonly #entry: { tab: object; name: string; onmessage: ((event: { data: unknown }) => void) | null };
      constructor(name: string) {
        this.#entry = { tab: session, name, onmessage: null };
        channels.add(this.#entry);
      }
      set onmessage(act: (event: { data: unknown }) => void) {
        this.#entry.onmessage = act;
      }
      postMessage(data: unknown) {
        for (const channel of channels) if (channel !== this.#entry && channel.name === this.#entry.name) setImmediate(() => channel.onmessage?.({ data }));
      }
      close() {
        channels.delete(this.#entry);
      }
    }
    const blocked = new Proxy({}, { get: () => { throw new DOMException('The operation is insecure.', 'SecurityError'); } });
    const indexedDB = {
      open: (name: string, version?: number) => {
        if (faults.noDatabase) throw new DOMException('A mutation operation was attempted on a database that did not allow mutations.', 'InvalidStateError');
        const asked = this.indexedDB.open(name, version);
        asked.addEventListener('success', () => {
          const db = asked.result;
          own.push(db);
          const { transaction } = db;
          db.transaction = (stores: never, mode?: IDBTransactionMode) => {
            if (mode === 'readwrite') this.refuse();
            return transaction.call(db, stores, mode);
          };
        });
        return asked;
      },
    };
    const { randomUUID, ...noUuid } = { randomUUID: () => crypto.randomUUID(), getRandomValues: <T extends ArrayBufferView>(bytes: T) => crypto.getRandomValues(bytes as never) as T };
    const globals: Record<string, unknown> = {
      window, document, indexedDB, IDBCursor, IDBCursorWithValue, IDBDatabase, IDBIndex, IDBKeyRange, IDBObjectStore, IDBOpenDBRequest, IDBRequest, IDBTransaction, IDBVersionChangeEvent,
      navigator: faults.noLocks ? {} : { locks: { request } },
      crypto: faults.noRandomUUID ? noUuid : { randomUUID, ...noUuid },
      BroadcastChannel: faults.noChannels ? undefined : Channel,
      localStorage: faults.noStorage ? blocked : areaOf(this.local), sessionStorage: faults.noStorage ? blocked : areaOf(session),
      setTimeout: later, clearTimeout: (id: number) => void this.timers.delete(id),
      filesUnreachable: () => faults.noFiles?.() ?? false,
      location: { hash, pathname: '/', search: '', href: 'http://localhost/' }, history: { replaceState: () => undefined }, HTMLElement: class {},
    };
    const freeze = () => {
      for (const channel of channels) if (channel.tab === session) channels.delete(channel);
      for (const [id, timer] of this.timers) if (timer.tab === session) this.timers.delete(id);
    };
    const page = (await bundle(Object.keys(globals)))(...Object.values(globals));
    return {
      ...page, session,
      leave: () => {
        const event = new Event('beforeunload', { cancelable: true });
        window.dispatchEvent(event);
        window.dispatchEvent(new Event('pagehide'));
        return event.defaultPrevented;
      },
      freeze,
      kill: () => {
        freeze();
        for (const lock of this.locks) if (lock.tab === session) this.locks.delete(lock);
        for (const db of own) db.close();
      },
    };
  }
}

/** What tests in tabs do with a board: the width of its strips, its id on the shelf. */
export const width = (tab: Tab): number => tab.useDesign.getState().design.rail.stripWidth;
export const idOf = (tab: Tab) => tab.useKeep.getState().id;

/** Changes the board as the page does, without waiting for the shelf. */
export function setWidth(tab: Tab, mm: number): void {
  const next = withSize(tab.useDesign.getState().design, 'rail.stripWidth', mm);
  if (!next.ok) throw new Error('not a width');
  tab.useDesign.getState().commit(next.design);
}

/** Changes the record beside the board, and reads it back off the shelf. */
export const noteStep = (tab: Tab, step: number): void => tab.useDesign.getState().note({ ...tab.useDesign.getState().record, step });
export const stepOf = async (tab: Tab, id = idOf(tab)): Promise<number | undefined> => (JSON.parse((await tab.getReadings(id))?.text ?? '{}') as { step?: number }).step;
