/** Compare: an earlier board drawn behind the present one, and the differences in figures. */
import { useMemo } from 'react';
import { create } from 'zustand';
import type { Design } from '../../../geometry/design/schema';
import { planBoard } from '../../../geometry/plan';
import { familyRow, type FamilyRow } from '../../../geometry/search/family';
import { type LineDifference, lineDifferences } from '../../../geometry/shape/compare';
import type { Plan } from '../../../geometry/types';
import { usePlan } from '../../state/plan';
import { useSaved } from '../../state/saved';

interface CompareState {
  readonly shown: boolean;
  /** A board the maker kept to compare; null: the one last opened or saved. */
  readonly kept: Design | null;
  show(shown: boolean): void;
  keep(design: Design | null): void;
}

export const useCompare = create<CompareState>()((set) => ({
  shown: false,
  kept: null,
  show: (shown) => set({ shown }),
  keep: (kept) => set({ kept, shown: true }),
}));

/** The earlier board while it is shown, or null. */
export function useEarlier(): Design | null {
  const { shown, kept } = useCompare();
  const saved = useSaved((state) => state.design);
  return shown ? (kept ?? saved) : null;
}

const plans = new WeakMap<Design, Plan | null>();

/** The plan of an earlier board, made once; null where that board could not be planned. */
function planOf(design: Design): Plan | null {
  const known = plans.get(design);
  if (known !== undefined) return known;
  let plan: Plan | null = null;
  try {
    plan = planBoard(design);
  } catch {
    // An earlier board that cannot be built is still drawn; it has no figures to compare.
  }
  plans.set(design, plan);
  return plan;
}

export interface Comparison {
  readonly lines: readonly LineDifference[];
  readonly now: FamilyRow;
  readonly earlier: FamilyRow;
}

/** The present plan against the earlier one; null where either cannot be planned or none is shown. */
export function useComparison(): Comparison | null {
  const earlier = useEarlier();
  const plan = usePlan();
  return useMemo(() => {
    const then = earlier && planOf(earlier);
    return then && plan ? { lines: lineDifferences(plan, then), now: familyRow(plan), earlier: familyRow(then) } : null;
  }, [earlier, plan]);
}
