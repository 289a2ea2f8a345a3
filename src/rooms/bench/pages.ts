/** What is open in the bench; kept while the page is. */
import { create } from 'zustand';

/** The bench's pages, in the order a maker needs them. */
export const PAGES = [
  { id: 'along', label: 'Tail to nose' },
  { id: 'ribs', label: 'Ribs' },
  { id: 'bending', label: 'Bending' },
  { id: 'cutting', label: 'Cutting' },
  { id: 'blanks', label: 'Skin blanks' },
  { id: 'frames', label: 'Frames' },
  { id: 'shopping', label: 'Shopping' },
  { id: 'work', label: 'Work steps' },
  { id: 'totals', label: 'Totals' },
  { id: 'papers', label: 'Papers' },
  { id: 'timber', label: 'Timber' },
] as const;
export type PageId = (typeof PAGES)[number]['id'];

interface BenchState {
  readonly page: PageId;
  open(page: PageId): void;
}

export const useBench = create<BenchState>()((set) => ({ page: 'along', open: (page) => set({ page }) }));
