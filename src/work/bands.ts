/**
 * Bands of the plan shown: how far stops, gap, bevel and cover may vary from their figures. Worked out while they
 * are looked at, or the bench is, begun when a plan has not changed for a while.
 */
import { create } from 'zustand';
import type { ToleranceBands, ToleranceMethod } from '../../geometry/trust/types';
import type { Plan } from '../../geometry/types';
import { useMade } from '../state/jobs';
import { eachPlan, planNow } from '../state/plan';
import { useView } from '../state/view';
import { endJob, runJob } from './jobs';

interface BandsState {
  /** Drawn on ribbon and station card. */
  readonly shown: boolean;
  readonly method: ToleranceMethod;
  /** Boards of the random trials, and their seed. */
  readonly runs: number;
  readonly seed: number;
}

export const useBands = create<BandsState>()(() => ({ shown: false, method: 'estimate', runs: 1000, seed: 1 }));

/** How long a plan must stay unchanged before its bands are worked out, ms. */
const QUIET = 250;

function follow(): void {
  const plan = planNow();
  const { shown, method, runs, seed } = useBands.getState();
  const { drawer, room } = useView.getState();
  if (!plan || !(shown || drawer === 'spreads' || room === 'bench')) endJob('bands');
  else void runJob('bands', method === 'trials' ? { plan, method, runs, seed } : { plan, method }, { quiet: QUIET });
}

/** Changes what is asked for, or whether it is drawn. */
export function askBands(change: Partial<BandsState>): void {
  useBands.setState(change);
  follow();
}

/** Keeps the bands up with the plan while they are looked at. Call once. */
export function startBands(): void {
  eachPlan(follow);
  useView.subscribe(({ drawer, room }, before) => {
    if ((drawer === 'spreads' && before.drawer !== drawer) || (room === 'bench' && before.room !== room)) follow();
  });
}

/** The bands of this very plan where they are to be drawn, else null. */
export function useShownBands(plan: Plan): ToleranceBands | null {
  const bands = useMade('bands', plan);
  return useBands(({ shown }) => shown) ? bands : null;
}
