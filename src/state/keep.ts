/**
 * Nothing lost: the present board is written to the shelf at every change, found again after the tab or the
 * machine dies, and never written by two tabs at once. A tab that finds its board open elsewhere works on a
 * copy under its own name. Each board has its own history.
 */
import { create } from 'zustand';
import type { FieldError } from '../../geometry/errors';
import type { Design } from '../../geometry/design/schema';
import type { Said } from '../../geometry/said';
import type { Readings } from '../../geometry/trust/readings';
import { isEmptyRecord } from '../../geometry/trust/emptyRecord';
import { withoutTrials } from '../../geometry/wood/trials';
import { useBuild } from './build';
import { type Beside, besideOf, copyBeside, forget, shelve } from './beside';
import { emptyRecord, useDesign } from './design';
import { boardText, recordText, theFiles } from './files';
import { markSaved } from './saved';
import { local, tab } from './storage';
import {
  getBoard, listBoards, listSnapshots, onShelfLost, putBoard, putSnapshot, removeBoard, removeSnapshot, type KeptBoard, type Snapshot,
} from './database';

type KeepStatus = 'kept' | 'writing' | 'failed';

interface KeepState {
  /** The board of this tab on the shelf. */
  readonly id: string;
  readonly status: KeepStatus;
  /** Why the last write failed, as the browser says; empty where none did. */
  readonly why: string;
  /** Set where this tab works on a copy because the board is open in another tab. */
  readonly copyOf: string | null;
  /** A kept board whose record cannot be read: it stays on the shelf as it is. */
  readonly unread: { readonly name: string; readonly text: string; readonly errors: readonly FieldError[] } | null;
  /** Why the readings kept with the board cannot be read; they stay on the shelf until the maker changes something of them. */
  readonly recordTrouble: Said | null;
  readonly boards: readonly KeptBoard[];
  readonly snapshots: readonly Snapshot[];
}

export const useKeep = create<KeepState>()(() => ({ id: '', status: 'kept', why: '', copyOf: null, unread: null, recordTrouble: null, boards: [], snapshots: [] }));

/** The tab's own board survives a reload of the tab; the last board of any tab greets a new one. */
const TAB_KEY = 'railwright-tab';
const LAST_KEY = 'railwright-last';
/** What was not on the shelf yet when the page went: read before the shelf's own. */
const UNWRITTEN_KEY = 'railwright-unwritten';
/** Pause between two writes while changes pour in, ms; the first change of a burst is written at once. */
const WRITE_PAUSE = 250;
/** Waits before a failed write is tried again, ms; the last of them from then on. */
const RETRIES = [1000, 3000, 10_000, 30_000] as const;
/** How long another tab may take to write what it has, ms. */
const FLUSH_WAIT = 400;

/** A name no other board has. Pages served plainly lack `randomUUID`, but not random figures. */
const newId = (): string =>
  typeof crypto.randomUUID === 'function' ? crypto.randomUUID() : Array.from(crypto.getRandomValues(new Uint8Array(16)), (byte) => byte.toString(16).padStart(2, '0')).join('');

let letGo: (() => void) | undefined;
let written = '';
/** The record as it came from the shelf; null once it is another. */
let shelved: Readings | null = null;
let timer: ReturnType<typeof setTimeout> | undefined;
let failures = 0;
/** How often the shelf was lost: what was on its way then may be gone. */
let losses = 0;
/** The board this tab wanted when the shelf could not be asked. */
let missed: string | null = null;
let locksRefused = false;
/** Records beside the board that could not be written, each by its name. */
const waiting = new Map<string, () => Promise<void>>();
/** Boards left for another before the shelf took their last change. */
const aside = new Map<string, KeptBoard>();

const lockOf = (id: string) => `railwright-board-${id}`;

/** Whether tabs can be told apart here: pages served plainly and old browsers have no locks, and some refuse them. */
export const guarded = (): boolean => 'locks' in navigator && !locksRefused;

/** Takes the board's lock for as long as this tab holds it. False where another tab has it; true where there are no locks. */
function hold(id: string): Promise<boolean> {
  if (!guarded()) return Promise.resolve(true);
  return new Promise((resolve) => {
    navigator.locks.request(lockOf(id), { ifAvailable: true }, (lock) => {
      if (!lock) {
        resolve(false);
        return undefined;
      }
      letGo?.();
      resolve(true);
      return new Promise<void>((release) => {
        letGo = release;
      });
    }).catch(() => {
      locksRefused = true;
      resolve(true);
    });
  });
}

/** Whether no other tab has a board open. */
const isFree = async (id: string): Promise<boolean> =>
  !guarded() || (await navigator.locks.request(lockOf(id), { ifAvailable: true }, (lock) => lock !== null));

function remember(id: string): void {
  tab.setItem(TAB_KEY, id);
  local.setItem(LAST_KEY, id);
}

/** Why the shelf did not do what it was asked, as a sentence. */
function why(error: unknown): string {
  if (error instanceof DOMException && error.name === 'QuotaExceededError') return 'this browser has no room left.';
  const text = (error instanceof Error ? error.message : String(error)).trim() || 'this browser keeps nothing here';
  return /[.!?]$/.test(text) ? text : `${text}.`;
}

const fail = (error: unknown) => useKeep.setState({ status: 'failed', why: why(error) });

/** Writes the board as it stands. Whether it is on the shelf then. */
async function write(): Promise<boolean> {
  const { design } = useDesign.getState();
  const { id } = useKeep.getState();
  const text = boardText(design);
  const failed = useKeep.getState().status === 'failed';
  const changed = text !== written;
  if (!changed && !failed) return true;
  if (!failed) useKeep.setState({ status: 'writing' });
  const [wanted, before] = [changed ? null : missed, losses];
  missed = null;
  try {
    if (changed) await putBoard({ id, name: design.name, text, at: Date.now() });
    // Nothing to write after a failure: whether the shelf answers again, and has the board that was wanted.
    else if (wanted === null) await getBoard(id);
    else {
      const left = await unwritten(wanted);
      if ((await bring(wanted)) && left) useDesign.setState({ design: left });
    }
    for (const [name, put] of waiting) {
      await put();
      waiting.delete(name);
    }
    if (useKeep.getState().id === id && losses === before) written = text;
    failures = 0;
    if (changed) remember(useKeep.getState().id);
    // What has changed meanwhile is written next, and stays with the tab until then.
    if (useDesign.getState().design === design) tab.removeItem(UNWRITTEN_KEY);
    useKeep.setState({ status: 'kept', why: '' });
    return true;
  } catch (error) {
    missed ??= wanted;
    fail(error);
    return false;
  }
}

/** Writes now if nothing was written lately, else once after the pause: a burst costs two writes. A failed one is tried again. */
function schedule(pause: number = WRITE_PAUSE): void {
  if (timer !== undefined) return;
  void write();
  const again = () => {
    timer = undefined;
    void write().then((kept) => {
      if (!kept && timer === undefined) timer = setTimeout(again, RETRIES[Math.min(failures++, RETRIES.length - 1)]);
    });
  };
  timer = setTimeout(again, pause);
}

/** Writes the record beside the board; where that fails the page says so, and it is tried again as the board is. */
async function keepRecord(): Promise<void> {
  const { id } = useKeep.getState();
  const { record } = useDesign.getState();
  useKeep.setState({ recordTrouble: null });
  try {
    await shelve(id, record);
  } catch (error) {
    waiting.set(`record of ${id}`, () => shelve(id, record, true));
    fail(error);
    schedule();
  }
}

/** Tries at once to write what could not be written. */
export function tryAgain(): void {
  clearTimeout(timer);
  timer = undefined;
  failures = 0;
  schedule();
}

/** Reads the shelf's lists again. */
export async function refreshShelf(): Promise<void> {
  try {
    const { id } = useKeep.getState();
    const [boards, snapshots] = await Promise.all([listBoards(), listSnapshots(id)]);
    useKeep.setState({ boards, snapshots });
  } catch (error) {
    useKeep.setState({ why: why(error) });
  }
}

type History = Pick<ReturnType<typeof useDesign.temporal.getState>, 'pastStates' | 'futureStates'>;
/** Steps of the boards that were on the stage since the page was opened. */
const histories = new Map<string, History>();

/** Puts a board and its record on the stage with the history it had; the history of the one before stays with that one. */
function stage(id: string, board: Design, { record, trouble }: Beside, copyOf: string | null, text: string): void {
  const design = withoutTrials(board);
  const { temporal } = useDesign;
  const { pastStates, futureStates } = temporal.getState();
  histories.set(useKeep.getState().id, { pastStates, futureStates });
  useKeep.setState({ id, copyOf, unread: null, recordTrouble: trouble ?? null });
  shelved = record ?? emptyRecord(design);
  useDesign.setState({ design, record: shelved, draft: null });
  useBuild.setState({ step: null });
  temporal.setState(histories.get(id) ?? { pastStates: [], futureStates: [] });
  written = text;
  remember(id);
  markSaved();
}

/** Before another board comes: what the shelf did not take of this one waits, and is written as soon as it takes anything. */
async function putAside(): Promise<void> {
  const kept = await write();
  const { id } = useKeep.getState();
  const { design } = useDesign.getState();
  const board = { id, name: design.name, text: boardText(design), at: Date.now() };
  if (kept || board.text === written) return;
  aside.set(id, board);
  waiting.set(`board ${id}`, async () => {
    await putBoard(board);
    aside.delete(id);
  });
}

/** Puts a design, and its record if there is one, on the stage as a board of its own on the shelf; the board before stays there as it was. */
export async function beginBoard(design: Design, record?: Readings): Promise<void> {
  await putAside();
  const id = newId();
  await hold(id);
  stage(id, design, { record }, null, '');
  await write();
  if (record) await keepRecord();
  await refreshShelf();
}

/** Asks the tab that has a board open to write what it has; goes on when it has, or does not answer. */
async function flushed(id: string): Promise<void> {
  if (typeof BroadcastChannel === 'undefined') return;
  const channel = new BroadcastChannel('railwright');
  await new Promise<void>((resolve) => {
    channel.onmessage = ({ data }: MessageEvent<{ flushed?: string }>) => {
      if (data.flushed === id) resolve();
    };
    channel.postMessage({ flush: id });
    setTimeout(resolve, FLUSH_WAIT);
  });
  channel.close();
}

/** Answers tabs that ask for a board this one has open. */
function answerFlushes(): void {
  if (typeof BroadcastChannel === 'undefined') return;
  const channel = new BroadcastChannel('railwright');
  channel.onmessage = ({ data }: MessageEvent<{ flush?: string }>) => {
    if (data.flush === useKeep.getState().id) void write().then(() => channel.postMessage({ flushed: data.flush }));
  };
}

/**
 * Brings a kept board onto the stage: itself, or, where another tab has it open, a copy of it as it stands there,
 * with its readings. A record that cannot be read stays where it is, and `unread` says so. Whether a board was brought.
 */
async function bring(id: string): Promise<boolean> {
  // Read before the lock is asked for, so that a shelf that does not answer, or answers nonsense, costs this tab no lock.
  const left = aside.get(id);
  const found = left ?? await getBoard(id);
  if (!found) return false;
  const { readDesign } = await theFiles();
  const first = readDesign(found.text);
  if (!first.ok) {
    useKeep.setState({ unread: { name: found.name, text: found.text, errors: first.errors } });
    return false;
  }
  const own = await hold(id);
  if (!own) await flushed(id);
  // And again, now that no other tab writes, or has written what it had.
  const now = await getBoard(id).catch(() => undefined);
  const again = now && readDesign(now.text);
  const { design, text } = now && again?.ok ? { design: again.design, text: now.text } : { design: first.design, text: found.text };
  if (own && left && first.ok) {
    // It is written as the board on the stage is, not as it was when it was left.
    aside.delete(id);
    waiting.delete(`board ${id}`);
    stage(id, first.design, await besideOf(id), null, '');
  } else if (own) stage(id, design, await besideOf(id), null, text);
  else {
    const copy = newId();
    await hold(copy);
    await copyBeside(id, copy);
    stage(copy, design, await besideOf(copy), found.name, '');
  }
  return true;
}

/** Takes a board off the shelf onto the stage. Whether it could be read; where not, the board on the stage stays. */
export async function openFromShelf(id: string): Promise<boolean> {
  if (id === useKeep.getState().id) return true;
  await putAside();
  const brought = await bring(id).catch(() => false);
  await write();
  await refreshShelf();
  return brought;
}

/** Asks something of the shelf that its lists then show. Empty where it was done, else why not. */
async function ask(act: () => Promise<void>): Promise<string> {
  try {
    await act();
  } catch (error) {
    return why(error);
  }
  await refreshShelf();
  return '';
}

/** Removes a board that no tab has open. Empty where it did, else why not. */
export async function deleteBoard(id: string): Promise<string> {
  if (id === useKeep.getState().id || !(await isFree(id))) return 'it is open in another tab. Close it there first.';
  return ask(async () => {
    await removeBoard(id);
    histories.delete(id);
    aside.delete(id);
    for (const what of ['board', 'record of']) waiting.delete(`${what} ${id}`);
    forget(id);
  });
}

/** Keeps the board and its record as they stand now beside it, under a name. Empty where it did, else why not. */
export const saveSnapshot = (name: string): Promise<string> => ask(() => {
  const { design, record } = useDesign.getState();
  return putSnapshot({ id: newId(), board: useKeep.getState().id, name, text: boardText(design), readings: recordText(record), at: Date.now() });
});

/**
 * Brings a snapshot back as one step that can be undone, its readings too; a snapshot that was saved without leaves
 * the present ones. Whether it could be read.
 */
export async function restoreSnapshot(snapshot: Snapshot): Promise<boolean> {
  const files = await theFiles().catch(fail);
  if (!files) return false;
  const { readDesign, readReadings } = files;
  const read = readDesign(snapshot.text);
  const beside = snapshot.readings === undefined ? undefined : readReadings(snapshot.readings);
  if (read.ok && beside?.ok !== false) useDesign.setState({ design: read.design, draft: null, ...(beside ? { record: beside.readings } : {}) });
  else useKeep.setState({ unread: { name: snapshot.name, text: snapshot.text, errors: [...(read.ok ? [] : read.errors), ...(beside?.ok === false ? beside.errors : [])] } });
  return read.ok && beside?.ok !== false;
}

/** Removes a snapshot. Empty where it did, else why not. */
export const deleteSnapshot = (id: string): Promise<string> => ask(() => removeSnapshot(id));

/** What this tab's page left as it last went. */
function leftBehind(): { readonly id?: unknown; readonly text?: unknown } | null {
  try {
    return JSON.parse(tab.getItem(UNWRITTEN_KEY) ?? 'null') as { id?: unknown; text?: unknown } | null;
  } catch {
    return null;
  }
}

/** The board as it was when this tab's page last went, if it was not on the shelf yet and is this one. Rejects where it cannot be read yet. */
async function unwritten(id: string): Promise<Design | undefined> {
  const left = leftBehind();
  if (left?.id !== id || typeof left.text !== 'string') return undefined;
  const read = (await theFiles()).readDesign(left.text);
  return read.ok ? read.design : undefined;
}

/** The page goes: what is typed is taken, and what the shelf may not take in time is left with the tab. */
function leave(): void {
  if (document.activeElement instanceof HTMLElement) document.activeElement.blur();
  const { id } = useKeep.getState();
  const text = boardText(useDesign.getState().design);
  if (text !== written) tab.setItem(UNWRITTEN_KEY, JSON.stringify({ id, text }));
  void write();
}

/**
 * Finds this tab's board again, or the last one worked on, and keeps it from now on. Call once before the
 * first plan. Where the browser keeps nothing, or not yet, the page works on, and says so.
 */
export async function startKeeping(): Promise<void> {
  const wanted = tab.getItem(TAB_KEY) ?? local.getItem(LAST_KEY);
  let left: Design | undefined;
  let brought = false;
  try {
    left = wanted === null ? undefined : await unwritten(wanted);
    brought = wanted !== null && (await bring(wanted));
  } catch (error) {
    fail(error);
    missed = wanted;
  }
  if (!brought) {
    // What the shelf never had is still this board; a record that cannot be read is not written over.
    const own = wanted !== null && left !== undefined && !useKeep.getState().unread && (await hold(wanted));
    const id = own ? wanted : newId();
    if (!own) await hold(id);
    useKeep.setState({ id });
    // A shelf that could not be asked gets nothing until the maker changes something: the board asked for is still on it.
    if (missed !== null && !left) written = boardText(useDesign.getState().design);
  }
  if (left) useDesign.setState({ design: left });
  if (!brought && wanted === useKeep.getState().id) {
    const { record, trouble } = await besideOf(wanted);
    if (record) useDesign.setState({ record: shelved = record });
    useKeep.setState({ recordTrouble: trouble ?? null });
  }
  useDesign.temporal.getState().clear();
  markSaved();
  answerFlushes();
  schedule();
  useDesign.subscribe((state, before) => {
    if (state.design !== before.design) schedule();
    // What came from the shelf is there.
    if (state.record !== before.record && state.record !== shelved) {
      shelved = null;
      void keepRecord();
    }
  });
  onShelfLost(() => {
    losses++;
    written = '';
    if (!isEmptyRecord(useDesign.getState().record)) void keepRecord();
    // After a failure the next try is under way.
    if (useKeep.getState().status !== 'failed') schedule();
  });
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'hidden') void write();
  });
  window.addEventListener('pagehide', leave);
  window.addEventListener('beforeunload', (event) => {
    leave();
    if (useKeep.getState().status === 'failed') event.preventDefault();
  });
}
