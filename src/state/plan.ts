/** The plan on the screen: what the planner last made of the shown design, and why it could not where it could not. */
import { create } from 'zustand';
import type { Said } from '../../geometry/said';
import type { Body, Plan } from '../../geometry/types';

/** A body and the vertex pairs of its ink lines. */
export interface InkedBody extends Body {
  readonly ink: Uint32Array;
}

/** Why a design that reads could not be planned. */
export interface PlanFailure {
  readonly message: Said;
  readonly field?: string;
}

interface PlanState {
  /** The last plan that could be made, with its bodies; null until the first. */
  readonly plan: Plan | null;
  readonly bodies: readonly InkedBody[];
  /** Why the newest design could not be planned; null where it could. */
  readonly failure: PlanFailure | null;
  /** Time of the last planBoard call in the worker, ms. */
  readonly ms: number;
  /** A plan is being made. */
  readonly busy: boolean;
}

/** The plan of the shown design. */
export const usePlan = create<PlanState>()(() => ({ plan: null, bodies: [], failure: null, ms: 0, busy: true }));
