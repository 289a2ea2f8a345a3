/** Measuring on the picture: the places that were picked, two at most, and of which plan they are. */
import { create } from 'zustand';
import type { MeasuredPlace } from '../../geometry/rail/measure';
import type { Plan } from '../../geometry/types';

interface MeasureState {
  readonly plan: Plan | null;
  readonly places: readonly MeasuredPlace[];
}

export const useMeasure = create<MeasureState>()(() => ({ plan: null, places: [] }));

/** The places picked on this very plan. */
export const placesOn = (plan: Plan, { plan: of, places }: MeasureState): readonly MeasuredPlace[] => (of === plan ? places : NONE);
const NONE: readonly MeasuredPlace[] = [];

/** Picks a place: a third one starts over. */
export function pickPlace(plan: Plan, place: MeasuredPlace): void {
  const before = placesOn(plan, useMeasure.getState());
  useMeasure.setState({ plan, places: before.length === 1 ? [...before, place] : [place] });
}

export const clearMeasure = (): void => useMeasure.setState({ plan: null, places: [] });
