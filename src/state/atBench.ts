/** Where the maker stands at the bench, kept between visits: what the phone opens with after any reload. */
import { create } from 'zustand';
import { createJSONStorage, persist } from 'zustand/middleware';
import { local } from './storage';

/** What is gone through one by one. */
export const BENCH_MODES = [
  { id: 'ribs', label: 'Ribs' },
  { id: 'stops', label: 'Stops' },
  { id: 'steps', label: 'Steps' },
] as const;
export type BenchMode = (typeof BENCH_MODES)[number]['id'];

interface AtBenchState {
  readonly mode: BenchMode;
  /** The screen is to stay awake while the bench is shown. */
  readonly awake: boolean;
  /** The board, and the run on it, mm, where the cursor was left. */
  readonly board: string;
  readonly s: number;
}

const FRESH: AtBenchState = { mode: 'ribs', awake: true, board: '', s: 0 };

export const useAtBench = create<AtBenchState>()(
  persist(() => FRESH, {
    name: 'railwright-at-bench',
    storage: createJSONStorage(() => local),
    // What another version or another hand left there is taken only where it is of its kind.
    merge: (stored, current) => {
      const { mode, awake, board, s } = (stored ?? {}) as Partial<Record<keyof AtBenchState, unknown>>;
      return {
        mode: BENCH_MODES.find(({ id }) => id === mode)?.id ?? current.mode,
        awake: typeof awake === 'boolean' ? awake : current.awake,
        board: current.board, s: current.s,
        ...(typeof board === 'string' && typeof s === 'number' && Number.isFinite(s) ? { board, s } : {}),
      };
    },
  }),
);
