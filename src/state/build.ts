/** The build scrubber's state: the step shown, and what the stage shows of it. */
import { create } from 'zustand';
import type { PartKind, Place } from '../../geometry/types';
import { useDesign } from './design';

/** What is on the stage at a step. */
export interface Standing {
  readonly step: number;
  /** Part kinds in place, and those of them that arrive in this step. */
  readonly places: readonly PartKind[];
  readonly fresh: readonly PartKind[];
  /** Side on which the box is, and on which its strips arrive. */
  readonly box: 'starboard' | 'both';
  readonly arrives: 'starboard' | 'port' | 'both';
  readonly clamps: readonly Place[];
  /** The step is about bevels: the cap carries their map. */
  readonly bevels: boolean;
}

interface BuildState {
  /** The step shown, from 1; null: the one that the work has reached. */
  readonly step: number | null;
  /** Null while the build is not shown. */
  readonly standing: Standing | null;
  goTo(step: number): void;
  show(standing: Standing | null): void;
}

export const useBuild = create<BuildState>()((set) => ({
  step: null,
  standing: null,
  goTo: (step) => set({ step }),
  show: (standing) => set({ standing }),
}));

/** The step asked for, or the one the work has reached. */
export function useStepAsked(): number {
  const reached = useDesign(({ record }) => record.step ?? 1);
  return useBuild(({ step }) => step) ?? reached;
}
