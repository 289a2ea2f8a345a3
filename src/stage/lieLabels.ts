/** Labels of the bays where the cap lies off its line: set by what draws them, so that the first picture carries none of it. */
import { create } from 'zustand';
import type { Anchor } from './anchors';

export const useLieLabels = create<{ readonly anchors: readonly Anchor[] }>()(() => ({ anchors: [] }));
