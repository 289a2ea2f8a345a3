/**
 * Nothing lost: the present board is written to the shelf at every change, found again after the tab or the
 * machine dies, and never written by two tabs at once. A tab that finds its board open elsewhere works on a
 * copy under its own name.
 */
import { create } from 'zustand';
import type { Design } from '../../geometry/design/schema';
import { readDesign } from '../../geometry/design/read';
import { writeDesign } from '../../geometry/design/write';
import { useDesign } from './design';
import { markSaved } from './saved';
import { getBoard, listBoards, listSnapshots, putBoard, putSnapshot, removeBoard, removeSnapshot, type KeptBoard, type Snapshot } from './database';

type KeepStatus = 'kept' | 'writing' | 'failed';

interface KeepState {
  /** The board of this tab on the shelf. */
  readonly id: string;
  readonly status: KeepStatus;
  /** Set where this tab works on a copy because the board is open in another tab. */
  readonly copyOf: string | null;
  readonly boards: readonly KeptBoard[];
  readonly snapshots: readonly Snapshot[];
}

export const useKeep = create<KeepState>()(() => ({ id: '', status: 'kept', copyOf: null, boards: [], snapshots: [] }));

/** The tab's own board survives a reload of the tab; the last board of any tab greets a new one. */
const TAB_KEY = 'railwright-tab';
const LAST_KEY = 'railwright-last';
/** Pause between two writes while changes pour in, ms; the first change of a burst is written at once. */
const WRITE_PAUSE = 250;

const newId = () => crypto.randomUUID();
let letGo: (() => void) | undefined;
let written = '';
let timer: ReturnType<typeof setTimeout> | undefined;

/** Takes the board's lock for as long as this tab holds it. False where another tab has it. */
function hold(id: string): Promise<boolean> {
  return new Promise((resolve) => {
    void navigator.locks.request(`railwright-board-${id}`, { ifAvailable: true }, (lock) => {
      if (!lock) {
        resolve(false);
        return undefined;
      }
      letGo?.();
      resolve(true);
      return new Promise<void>((release) => {
        letGo = release;
      });
    });
  });
}

function remember(id: string): void {
  sessionStorage.setItem(TAB_KEY, id);
  localStorage.setItem(LAST_KEY, id);
}

async function write(): Promise<void> {
  const { design } = useDesign.getState();
  const { id } = useKeep.getState();
  const text = writeDesign(design);
  if (text === written) return;
  useKeep.setState({ status: 'writing' });
  try {
    await putBoard({ id, name: design.name, text, at: Date.now() });
    written = text;
    useKeep.setState({ status: 'kept' });
  } catch {
    useKeep.setState({ status: 'failed' });
  }
}

/** Writes now if nothing was written lately, else once after the pause: a burst costs two writes. */
function schedule(): void {
  if (timer !== undefined) return;
  void write();
  timer = setTimeout(() => {
    timer = undefined;
    void write();
  }, WRITE_PAUSE);
}

/** Reads the shelf's lists again. */
export async function refreshShelf(): Promise<void> {
  try {
    const { id } = useKeep.getState();
    const [boards, snapshots] = await Promise.all([listBoards(), listSnapshots(id)]);
    useKeep.setState({ boards, snapshots });
  } catch {
    useKeep.setState({ status: 'failed' });
  }
}

/** Puts a design on the stage as a board of its own on the shelf; the board before stays there as it was. */
export async function beginBoard(design: Design): Promise<void> {
  await write();
  const id = newId();
  await hold(id);
  useKeep.setState({ id, copyOf: null });
  remember(id);
  written = '';
  useDesign.getState().commit(design);
  markSaved();
  await write();
  await refreshShelf();
}

/** Opens a board of the shelf. A board open in another tab comes as a copy. Returns whether it could be read. */
export async function openFromShelf(id: string): Promise<boolean> {
  const kept = await getBoard(id);
  const read = kept && readDesign(kept.text);
  if (!kept || !read?.ok) return false;
  await write();
  if (await hold(id)) {
    useKeep.setState({ id, copyOf: null });
    written = kept.text;
  } else {
    const copy = newId();
    await hold(copy);
    useKeep.setState({ id: copy, copyOf: kept.name });
    written = '';
  }
  remember(useKeep.getState().id);
  useDesign.getState().commit(read.design);
  markSaved();
  await write();
  await refreshShelf();
  return true;
}

/** Removes a board that is not the open one. */
export async function deleteBoard(id: string): Promise<void> {
  if (id === useKeep.getState().id) return;
  await removeBoard(id);
  await refreshShelf();
}

/** Saves the board as it is now, under a name. */
export async function saveSnapshot(name: string): Promise<void> {
  const { id } = useKeep.getState();
  const { design } = useDesign.getState();
  await putSnapshot({ id: newId(), board: id, name, text: writeDesign(design), at: Date.now() });
  await refreshShelf();
}

/** Restores a snapshot as one step that can be undone. Returns whether it could be read. */
export function restoreSnapshot(snapshot: Snapshot): boolean {
  const read = readDesign(snapshot.text);
  if (read.ok) useDesign.getState().commit(read.design);
  return read.ok;
}

export async function deleteSnapshot(id: string): Promise<void> {
  await removeSnapshot(id);
  await refreshShelf();
}

/**
 * Finds this tab's board again, or the last one worked on, and keeps it from now on. Call once before the
 * first plan. Where the browser keeps nothing the page works on, and says so.
 */
export async function startKeeping(): Promise<void> {
  const wanted = sessionStorage.getItem(TAB_KEY) ?? localStorage.getItem(LAST_KEY);
  let id: string = newId();
  try {
    const kept = wanted === null ? undefined : await getBoard(wanted);
    const read = kept && readDesign(kept.text);
    if (kept && read?.ok) {
      useDesign.setState({ design: read.design });
      if (await hold(kept.id)) {
        id = kept.id;
        written = kept.text;
      } else {
        useKeep.setState({ copyOf: kept.name });
      }
    }
    useDesign.temporal.getState().clear();
    markSaved();
  } catch {
    useKeep.setState({ status: 'failed' });
  }
  useKeep.setState({ id });
  await hold(id);
  remember(id);
  void write();
  useDesign.subscribe((state, before) => {
    if (state.design !== before.design) schedule();
  });
  // The last change of a page that is closed.
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'hidden') void write();
  });
  window.addEventListener('pagehide', () => void write());
}
