/** The map of how far a body lies off the board fitted to it, for the stage. */
import { create } from 'zustand';
import type { Design } from '../../geometry/design/schema';
import type { HullFit } from '../../geometry/shape/hullIn/hullIn';
import { useJobs } from './jobs';

interface HullMapState {
  readonly fit: Pick<HullFit, 'design' | 'map'> | null;
  /** Whether the maker wants to see it. */
  readonly wanted: boolean;
}

export const useHullMap = create<HullMapState>()(() => ({ fit: null, wanted: true }));

/** Puts a fit's map on the stage, or takes it off. */
export const showHullMap = (fit: HullMapState['fit']): void => useHullMap.setState({ fit });

export const wantHullMap = (wanted: boolean): void => useHullMap.setState({ wanted });

/** The map to draw: while the board that is planned is the one it was made with. */
export function useShownHullMap(): HullFit['map'] | null {
  const fit = useHullMap(({ fit: made, wanted }) => (wanted ? made : null));
  const planned: Design | undefined = useJobs((jobs) => jobs.plan.of?.design);
  return fit && planned === fit.design ? fit.map : null;
}
