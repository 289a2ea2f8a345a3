/**
 * The board and what was measured, tried and done on it are all that is kept (keep.ts writes them): everything else on the
 * screen follows from them. A change made by dragging goes through `draft`, which is planned live but enters the history
 * once, when it is released.
 */
import { create, useStore } from 'zustand';
import { temporal } from 'zundo';
import type { Design } from '../../geometry/design/schema';
import type { Readings } from '../../geometry/trust/readings';
import { noReadings } from '../../geometry/trust/emptyRecord';
import { withoutTrials } from '../../geometry/wood/trials';
import { firstBoard } from './starters';

interface DesignState {
  /** The board as it is now. */
  readonly design: Design;
  /** Its readings, trial bends, ticks and the step reached. */
  readonly record: Readings;
  /** The board while a drag goes on; null otherwise. */
  readonly draft: Design | null;
  /** A hand drags the draft: each move is planned as a draft plan, and settled when it is released or rests. A proposal's draft is not held. */
  readonly held: boolean;
  /** Puts a checked design in the place of the present one: one step of history. */
  commit(design: Design): void;
  /** Puts a record in the place of the present one: one step of history. */
  note(record: Readings): void;
  /** Shows a checked design without making a step; `held` while a hand drags it. */
  sketch(design: Design, held?: boolean): void;
  /** Ends a drag: the draft becomes the design, as one step. */
  keepDraft(): void;
  /** Cancels a drag. */
  dropDraft(): void;
}

const HISTORY_LIMIT = 200;

type Kept = Pick<DesignState, 'design' | 'record'>;

/** A record with nothing in it, for a board as it is called now. */
export const emptyRecord = ({ name, revision }: Design): Readings => noReadings(name, revision);

const first = firstBoard();

/** The board and its history. */
export const useDesign = create<DesignState>()(
  temporal(
    (set, get) => ({
      design: first,
      record: emptyRecord(first),
      draft: null,
      held: false,
      // What came back from planning has the batch's trial bends on it: the board is kept without.
      commit: (design) => set({ design: withoutTrials(design), draft: null, held: false }),
      note: (record) => set({ record }),
      sketch: (draft, held = false) => set({ draft, held }),
      keepDraft: () => {
        const { draft } = get();
        if (draft) set({ design: withoutTrials(draft), draft: null, held: false });
      },
      dropDraft: () => set({ draft: null, held: false }),
    }),
    {
      limit: HISTORY_LIMIT,
      partialize: ({ design, record }): Kept => ({ design, record }),
      equality: (past, current) => past.design === current.design && past.record === current.record,
    },
  ),
);

/** The design to plan and to show: the draft while a drag goes on. */
export const shownDesign = (state: DesignState): Design => state.draft ?? state.design;

/** Whether there is a step to undo or redo, and the calls that do it. */
export function useHistory() {
  return useStore(useDesign.temporal, (history) => history);
}
