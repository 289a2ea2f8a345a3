/** The build scrubber's state: the step shown, and what the stage shows of it. */
import { create } from 'zustand';
import type { PartKind, Place } from '../../geometry/types';

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
  /** From 1. */
  readonly step: number;
  /** Null while the build is not shown. */
  readonly standing: Standing | null;
  goTo(step: number): void;
  show(standing: Standing | null): void;
}

export const useBuild = create<BuildState>()((set) => ({
  step: 1,
  standing: null,
  goTo: (step) => set({ step }),
  show: (standing) => set({ standing }),
}));
