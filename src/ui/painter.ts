/** Painting outside React: what follows every move of a dragging hand. */
import { useEffectEvent, useLayoutEffect } from 'react';
import type { Plan } from '../../geometry/types';
import { type Draft, draftNow, eachDraft } from '../state/draft';

/**
 * Paints after each render, and for each draft while a hand drags: with the draft's plan and bodies where one stands, else with
 * those given. What is painted belongs to the painter: React leaves the inside of that element empty.
 */
export function useBodiesPainter(settled: Draft, paint: (shown: Draft) => void): void {
  const painted = useEffectEvent((draft = draftNow()) => paint(draft ?? settled));
  useLayoutEffect(() => {
    painted();
  });
  useLayoutEffect(() => eachDraft(painted), []);
}

/** The same for what follows the plan alone. */
export const usePainter = (plan: Plan, paint: (plan: Plan) => void): void => useBodiesPainter({ plan, bodies: [] }, (shown) => paint(shown.plan));
