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

let opened: Promise<IDBPDatabase<Shelf>> | undefined;

/** The database, opened once. Rejects where the browser keeps nothing (some private windows). */
function shelf(): Promise<IDBPDatabase<Shelf>> {
  opened ??= openDB<Shelf>('railwright', 2, {
    upgrade(db, from) {
      if (from < 1) {
        db.createObjectStore('boards', { keyPath: 'id' }).createIndex('at', 'at');
        db.createObjectStore('snapshots', { keyPath: 'id' }).createIndex('board', 'board');
      }
      if (from < 2) db.createObjectStore('readings', { keyPath: 'board' });
    },
    // A newer page in another tab wants the database: let go, and open it again when it is next asked for.
    blocking(_current, _blocked, event) {
      (event.target as IDBDatabase).close();
      opened = undefined;
    },
  });
  return opened;
}

export async function putBoard(board: KeptBoard): Promise<void> {
  await (await shelf()).put('boards', board);
}

export async function getBoard(id: string): Promise<KeptBoard | undefined> {
  return (await shelf()).get('boards', id);
}

/** Every kept board, the last touched first. */
export async function listBoards(): Promise<KeptBoard[]> {
  return (await (await shelf()).getAllFromIndex('boards', 'at')).reverse();
}

/** Takes a board off the shelf, its snapshots and readings with it. */
export async function removeBoard(id: string): Promise<void> {
  const db = await shelf();
  const work = db.transaction(['boards', 'snapshots', 'readings'], 'readwrite');
  const snapshots = await work.objectStore('snapshots').index('board').getAllKeys(id);
  await Promise.all([
    ...snapshots.map((key) => work.objectStore('snapshots').delete(key)),
    work.objectStore('readings').delete(id), work.objectStore('boards').delete(id), work.done,
  ]);
}

export async function putSnapshot(snapshot: Snapshot): Promise<void> {
  await (await shelf()).put('snapshots', snapshot);
}

/** A board's snapshots, the newest first. */
export async function listSnapshots(board: string): Promise<Snapshot[]> {
  const list = await (await shelf()).getAllFromIndex('snapshots', 'board', board);
  return list.sort((a, b) => b.at - a.at);
}

export async function removeSnapshot(id: string): Promise<void> {
  await (await shelf()).delete('snapshots', id);
}

export async function putReadings(readings: KeptReadings): Promise<void> {
  await (await shelf()).put('readings', readings);
}

export async function getReadings(board: string): Promise<KeptReadings | undefined> {
  return (await shelf()).get('readings', board);
}
