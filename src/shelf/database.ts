/**
 * The shelf: boards and their snapshots in the browser's own database. Texts are board files, read back with
 * the same checks as any file from outside.
 */
import { type DBSchema, type IDBPDatabase, openDB } from 'idb';

/** A board that is kept: its file text as it last stood. */
export interface KeptBoard {
  readonly id: string;
  readonly name: string;
  readonly text: string;
  /** Milliseconds since 1970. */
  readonly at: number;
}

/** A board's text set aside under a name. */
export interface Snapshot {
  readonly id: string;
  readonly board: string;
  readonly name: string;
  readonly text: string;
  readonly at: number;
}

interface Shelf extends DBSchema {
  boards: { key: string; value: KeptBoard; indexes: { at: number } };
  snapshots: { key: string; value: Snapshot; indexes: { board: string } };
}

let opened: Promise<IDBPDatabase<Shelf>> | undefined;

/** The database, opened once. Rejects where the browser keeps nothing (some private windows). */
function shelf(): Promise<IDBPDatabase<Shelf>> {
  opened ??= openDB<Shelf>('railwright', 1, {
    upgrade(db) {
      db.createObjectStore('boards', { keyPath: 'id' }).createIndex('at', 'at');
      db.createObjectStore('snapshots', { keyPath: 'id' }).createIndex('board', 'board');
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

/** Takes a board off the shelf, its snapshots with it. */
export async function removeBoard(id: string): Promise<void> {
  const db = await shelf();
  const work = db.transaction(['boards', 'snapshots'], 'readwrite');
  const snapshots = await work.objectStore('snapshots').index('board').getAllKeys(id);
  await Promise.all([...snapshots.map((key) => work.objectStore('snapshots').delete(key)), work.objectStore('boards').delete(id), work.done]);
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
