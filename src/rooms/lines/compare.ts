/** The ghost: an earlier board drawn behind the present one, and the differences in figures. */
import { useMemo } from 'react';
import { create } from 'zustand';
import type { Design } from '../../../geometry/design/schema';
import { planBoard } from '../../../geometry/plan';
import { familyRow, type FamilyRow } from '../../../geometry/search/family';
import { type LineDifference, lineDifferences } from '../../../geometry/shape/compare';
import type { Plan } from '../../../geometry/types';
import { usePlan } from '../../state/plan';
import { useSaved } from '../../state/saved';

interface GhostState {
  readonly shown: boolean;
  /** A board held by the maker; null: the one last opened or saved. */
  readonly held: Design | null;
  show(shown: boolean): void;
  hold(design: Design | null): void;
}

export const useGhost = create<GhostState>()((set) => ({
  shown: false,
  held: null,
  show: (shown) => set({ shown }),
  hold: (held) => set({ held, shown: true }),
}));

/** The ghost's design while it is shown, or null. */
export function useGhostDesign(): Design | null {
  const { shown, held } = useGhost();
  const saved = useSaved((state) => state.design);
  return shown ? (held ?? saved) : null;
}

const plans = new WeakMap<Design, Plan | null>();

/** The plan of a ghost, made once; null where that board could not be planned. */
function planOf(design: Design): Plan | null {
  const known = plans.get(design);
  if (known !== undefined) return known;
  let plan: Plan | null = null;
  try {
    plan = planBoard(design);
  } catch {
    // A ghost that was never buildable is drawn all the same; it has no figures to compare.
  }
  plans.set(design, plan);
  return plan;
}

export interface Comparison {
  readonly lines: readonly LineDifference[];
  readonly now: FamilyRow;
  readonly ghost: FamilyRow;
}

/** The present plan against the ghost's; null where either cannot be planned or no ghost is shown. */
export function useComparison(): Comparison | null {
  const ghost = useGhostDesign();
  const plan = usePlan();
  return useMemo(() => {
    const then = ghost && planOf(ghost);
    return then && plan ? { lines: lineDifferences(plan, then), now: familyRow(plan), ghost: familyRow(then) } : null;
  }, [ghost, plan]);
}
