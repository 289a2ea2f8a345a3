/**
 * The design is the only thing kept: everything else on the screen follows from it. A change made by
 * dragging goes through `draft`, which is planned live but enters the history once, when it is let go.
 */
import { create } from 'zustand';
import { persist, type PersistStorage } from 'zustand/middleware';
import { temporal } from 'zundo';
import { useStore } from 'zustand';
import type { Design } from '../../geometry/design/schema';
import { readDesign } from '../../geometry/design/read';
import { writeDesign } from '../../geometry/design/write';
import { firstBoard } from './starters';

interface DesignState {
  /** The board as it stands. */
  readonly design: Design;
  /** The board while a drag goes on; null otherwise. */
  readonly draft: Design | null;
  /** Puts a checked design in the place of the present one: one step of history. */
  commit(design: Design): void;
  /** Shows a checked design without making a step. */
  sketch(design: Design): void;
  /** Ends a drag: the draft becomes the design, as one step. */
  keepDraft(): void;
  /** Gives a drag up. */
  dropDraft(): void;
}

const HISTORY_LIMIT = 200;
const STORE_KEY = 'railwright-board';

type Kept = Pick<DesignState, 'design'>;

/** Stores the board as a board file, and reads it back with the same checks as any other file. */
const boardStorage: PersistStorage<Kept> = {
  getItem: (name) => {
    const text = localStorage.getItem(name);
    if (text === null) return null;
    const read = readDesign(text);
    return read.ok ? { state: { design: read.design } } : null;
  },
  setItem: (name, { state }) => localStorage.setItem(name, writeDesign(state.design)),
  removeItem: (name) => localStorage.removeItem(name),
};

/** The board and its history. */
export const useDesign = create<DesignState>()(
  temporal(
    persist(
      (set, get) => ({
        design: firstBoard(),
        draft: null,
        commit: (design) => set({ design, draft: null }),
        sketch: (draft) => set({ draft }),
        keepDraft: () => {
          const { draft } = get();
          if (draft) set({ design: draft, draft: null });
        },
        dropDraft: () => set({ draft: null }),
      }),
      { name: STORE_KEY, storage: boardStorage, partialize: ({ design }) => ({ design }) },
    ),
    {
      limit: HISTORY_LIMIT,
      partialize: ({ design }): Kept => ({ design }),
      equality: (past, current) => past.design === current.design,
    },
  ),
);

/** The design to plan and to show: the draft while a drag goes on. */
export const shownDesign = (state: DesignState): Design => state.draft ?? state.design;

/** Whether there is a step to undo or redo, and the calls that do it. */
export function useHistory() {
  return useStore(useDesign.temporal, (history) => history);
}
