/**
 * What was measured, tried and done on the open board, and the plan corrected by it. It is kept and undone with the board
 * (src/state); the design is not touched by a reading. src/work/record.ts changes it.
 */
import { create } from 'zustand';
import type { Readings } from '../../geometry/trust/readings';
import type { AsBuilt } from '../../geometry/trust/types';
import type { Plan, Side } from '../../geometry/types';
import { useDesign } from '../state/design';
import { useMade } from '../state/jobs';
import { eachPlan, planNow } from '../state/plan';
import { local } from '../state/storage';
import { dropJob, runJob } from './jobs';

interface ReadingsState {
  /** The side read and shown. */
  readonly side: Side;
  /** The corrected rail is drawn over the designed one. */
  readonly shown: boolean;
}

/** The side is kept: a phone that is loaded again at the bench comes back to it. */
const SIDE_KEY = 'railwright-side';

export const useReadings = create<ReadingsState>()(() => ({ side: local.getItem(SIDE_KEY) === 'port' ? 'port' : 'starboard', shown: true }));
useReadings.subscribe(({ side }, { side: before }) => {
  if (side !== before) local.setItem(SIDE_KEY, side);
});

/** The record of the open board. */
export const useRecord = (): Readings => useDesign((state) => state.record);

/** How long a plan must stay unchanged before it is corrected, ms. */
const QUIET = 150;

/** Corrects the plan shown by the readings, if there are any. */
function correct(quiet = 0): void {
  const plan = planNow();
  const { record } = useDesign.getState();
  if (!plan || record.readings.length === 0) dropJob('built');
  else void runJob('built', { plan, record }, { quiet });
}

/** Follows the record of the open board and its plan. Call once, after the board was found again. */
export function startReadings(): void {
  correct();
  useDesign.subscribe(({ record }, { record: before }) => {
    if (record.readings !== before.readings || record.board !== before.board || record.revision !== before.revision) correct();
  });
  eachPlan(() => correct(QUIET));
}

/** The sides that were measured, where as built leads; none where it does not. */
export function useMeasuredSides(plan: Plan | null): readonly Side[] {
  const built = useMade('built', plan);
  const shown = useReadings((state) => state.shown);
  return shown ? (['starboard', 'port'] as const).filter((side) => (built?.[side]?.used ?? 0) > 0) : [];
}

/** The plan of a side as measured, for this very plan; null where nothing was measured there. */
export function useBuilt(plan: Plan | null): AsBuilt | null {
  const built = useMade('built', plan);
  return useReadings(({ side }) => built?.[side] ?? null);
}

/** The same where it is to be drawn over the design, and rests on at least one reading. */
export function useShownBuilt(plan: Plan | null): AsBuilt | null {
  const built = useBuilt(plan);
  return useReadings(({ shown }) => (shown && built && built.used > 0 ? built : null));
}
