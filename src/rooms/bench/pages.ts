/** What is open in the bench; kept while the page is. */
import { create } from 'zustand';

/** The bench's pages, in the order a maker needs them. */
export const PAGES = [
  { id: 'buy', label: 'Buy' },
  { id: 'cut', label: 'Cut' },
  { id: 'frames', label: 'Frames' },
  { id: 'measure', label: 'Measure' },
] as const;
/** The papers have no page button: they are opened from the files at the right. */
export type PageId = (typeof PAGES)[number]['id'] | 'papers';

interface BenchState {
  readonly page: PageId;
  /** Number of the piece that was last under the hand. */
  readonly piece: number;
  /** The paper that is looked at over the page, by id. */
  readonly looked: string | null;
  open(page: PageId): void;
  look(paper: string | null): void;
}

export const useBench = create<BenchState>()((set) => ({
  page: 'cut', piece: 1, looked: null, open: (page) => set({ page, looked: null }), look: (looked) => set({ looked }),
}));
