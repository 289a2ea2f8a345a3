/** The board that the one shown is tried against: drawn dashed behind it. Null where none is. */
import { create } from 'zustand';
import type { Plan } from '../../geometry/types';

export const useBoardBefore = create<{ readonly plan: Plan | null }>()(() => ({ plan: null }));
