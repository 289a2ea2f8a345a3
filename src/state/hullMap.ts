/** The map of how far a body lies off the board fitted to it, for the stage. */
import { create } from 'zustand';
import type { HullFit } from '../../geometry/shape/hullIn/hullIn';
import { useJobs } from './jobs';

/** Whether the maker wants to see it. */
export const useHullMap = create<{ readonly wanted: boolean }>()(() => ({ wanted: true }));

/** The map to draw: while the board that is planned is the one it was made with. */
export function useShownHullMap(): HullFit['map'] | null {
  const wanted = useHullMap((state) => state.wanted);
  return useJobs(({ plan, hullFit: { result } }) => (wanted && result && plan.of?.design === result.design ? result.map : null));
}
