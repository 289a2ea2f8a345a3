/**
 * The shelf: boards, their snapshots and their readings in the browser's own database. Texts are board files and
 * readings files, read back with the same checks as any file from outside.
 */
import { type DBSchema, type IDBPDatabase, openDB } from 'idb';

/** A board that is kept: its last file text. */
export interface KeptBoard {
  readonly id: string;
  readonly name: string;
  readonly text: string;
  /** Milliseconds since 1970. */
  readonly at: number;
}

/** A board's text saved under a name. */
export interface Snapshot {
  readonly id: string;
  readonly board: string;
  readonly name: string;
  readonly text: string;
  /** Text of the readings file as it was then; absent in snapshots from before it was saved with them. */
  readonly readings?: string;
  readonly at: number;
}

/** What was measured on a board: the text of its readings file. */
export interface KeptReadings {
  readonly board: string;
  readonly text: string;
  readonly at: number;
}

interface Shelf extends DBSchema {
  boards: { key: string; value: KeptBoard; indexes: { at: number } };
  snapshots: { key: string; value: Snapshot; indexes: { board: string } };
  readings: { key: string; value: KeptReadings };
}

/** How long the browser may take to open the database before the page goes on without it, ms. */
const PATIENCE = 3000;

let opened: Promise<IDBPDatabase<Shelf>> | undefined;
let ready: IDBPDatabase<Shelf> | undefined;
const losers = new Set<() => void>();

/** Calls back whenever the database was closed or cleared under the page: what was written may be gone. */
export function onShelfLost(act: () => void): void {
  losers.add(act);
}

function lose(): void {
  opened = ready = undefined;
  for (const act of losers) act();
}

const open = () => openDB<Shelf>('railwright', 2, {
  upgrade(db, from) {
    if (from < 1) {
      db.createObjectStore('boards', { keyPath: 'id' }).createIndex('at', 'at');
      db.createObjectStore('snapshots', { keyPath: 'id' }).createIndex('board', 'board');
    }
    if (from < 2) db.createObjectStore('readings', { keyPath: 'board' });
  },
  // A newer page in another tab wants the database, or somebody clears it: let go, and open it again when it is next asked for.
  blocking(_current, _blocked, event) {
    (event.target as IDBDatabase).close();
    lose();
  },
  terminated: lose,
});

/** The database, opened once. Rejects where the browser keeps nothing, or while another tab holds it; a later call tries again. */
function shelf(): Promise<IDBPDatabase<Shelf>> {
  if (ready) return Promise.resolve(ready);
  opened ??= open().then((db) => (ready = db), (error: unknown) => {
    opened = undefined;
    throw error instanceof DOMException && error.name === 'VersionError' ? new Error('a newer Railwright keeps the boards now: load this page again.') : error;
  });
  const late = new Promise<never>((_, reject) => {
    setTimeout(() => reject(new Error('another tab of this page holds the boards.')), PATIENCE);
  });
  return Promise.race([opened, late]);
}

/** Does something with the database; once more where it turns out to have been closed or cleared meanwhile. */
async function ask<T>(act: (db: IDBPDatabase<Shelf>) => Promise<T>): Promise<T> {
  const db = await shelf();
  try {
    return await act(db);
  } catch (error) {
    if (!(error instanceof DOMException && (error.name === 'InvalidStateError' || error.name === 'NotFoundError'))) throw error;
    if (ready === db) lose();
    return act(await shelf());
  }
}

export async function putBoard(board: KeptBoard): Promise<void> {
  await ask((db) => db.put('boards', board));
}

export const getBoard = (id: string): Promise<KeptBoard | undefined> => ask((db) => db.get('boards', id));

/** Every kept board, the last touched first. */
export const listBoards = async (): Promise<KeptBoard[]> => (await ask((db) => db.getAllFromIndex('boards', 'at'))).reverse();

/** Takes a board off the shelf, its snapshots and readings with it. */
export const removeBoard = (id: string): Promise<void> => ask(async (db) => {
  const work = db.transaction(['boards', 'snapshots', 'readings'], 'readwrite');
  const snapshots = await work.objectStore('snapshots').index('board').getAllKeys(id);
  await Promise.all([
    ...snapshots.map((key) => work.objectStore('snapshots').delete(key)),
    work.objectStore('readings').delete(id), work.objectStore('boards').delete(id), work.done,
  ]);
});

export async function putSnapshot(snapshot: Snapshot): Promise<void> {
  await ask((db) => db.put('snapshots', snapshot));
}

/** A board's snapshots, the newest first. */
export async function listSnapshots(board: string): Promise<Snapshot[]> {
  const list = await ask((db) => db.getAllFromIndex('snapshots', 'board', board));
  return list.sort((a, b) => b.at - a.at);
}

export const removeSnapshot = (id: string): Promise<void> => ask((db) => db.delete('snapshots', id));

export async function putReadings(readings: KeptReadings): Promise<void> {
  await ask((db) => db.put('readings', readings));
}

export const getReadings = (board: string): Promise<KeptReadings | undefined> => ask((db) => db.get('readings', board));
