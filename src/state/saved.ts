/** The board as it was last opened, begun or saved: what Compare shows as the earlier board. */
import { create } from 'zustand';
import type { Design } from '../../geometry/design/schema';
import { useDesign } from './design';

interface SavedState {
  readonly design: Design;
}

/** The board last opened, begun or saved; at first the one the page began with. */
export const useSaved = create<SavedState>()(() => ({ design: useDesign.getState().design }));

/** Notes the present board as saved. */
export function markSaved(): void {
  useSaved.setState({ design: useDesign.getState().design });
}
