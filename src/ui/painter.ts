/** Painting outside React: what follows every move of a dragging hand. */
import { useEffectEvent, useLayoutEffect } from 'react';
import type { Plan } from '../../geometry/types';
import { draftNow, eachDraft } from '../state/draft';

/**
 * Paints after each render, and for each draft while a hand drags: with the draft's plan where one stands, else with the
 * plan given. What is painted belongs to the painter: React leaves the inside of that element empty.
 */
export function usePainter(plan: Plan, paint: (plan: Plan) => void): void {
  const painted = useEffectEvent((draft = draftNow()) => paint(draft?.plan ?? plan));
  useLayoutEffect(() => {
    painted();
  });
  useLayoutEffect(() => eachDraft(painted), []);
}
