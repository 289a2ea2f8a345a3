/** Painting the board as it is shown, outside React: its lines follow each move of a hand itself, before there is a plan of it. */
import { useEffectEvent, useLayoutEffect } from 'react';
import { heldRun } from '../../../geometry/rail/query';
import type { Design } from '../../../geometry/design/schema';
import type { Plan } from '../../../geometry/types';
import { shownDesign, useDesign } from '../../state/design';
import { paintedPlan, eachDraft } from '../../state/draft';
import { drawingAt } from '../../state/station';
import { useView } from '../../state/view';

/** The station under the shared cursor on a board, mm; its middle before there is a plan. */
export function shownStation({ lines: { outline: { points } } }: Design, plan: Plan | null, s: number): number {
  const length = points[points.length - 1].x;
  return Math.min(length, Math.max(0, plan ? drawingAt(plan, heldRun(plan, s)).x : length / 2));
}

/** One painter that throws keeps neither the planner from planning nor the others from painting. */
function guarded(paint: () => void): void {
  try {
    paint();
  } catch (error) {
    reportError(error);
  }
}

/** Paints the design shown: after each render, and at once with each that takes its place. */
export function useDesignPainter(paint: (design: Design) => void): void {
  const painted = useEffectEvent(() => paint(shownDesign(useDesign.getState())));
  useLayoutEffect(() => {
    painted();
  });
  useLayoutEffect(() => useDesign.subscribe((now, before) => {
    if (shownDesign(now) !== shownDesign(before)) guarded(painted);
  }), []);
}

/** Paints the design shown at the station under the shared cursor, which lies where the plan has it: the settled one, or a draft. */
export function useStationPainter(plan: Plan | null, paint: (design: Design, station: number) => void): void {
  const s = useView((state) => state.s);
  const paintAt = (design: Design) => paint(design, shownStation(design, paintedPlan(plan), s));
  useDesignPainter(paintAt);
  const drafted = useEffectEvent(() => paintAt(shownDesign(useDesign.getState())));
  useLayoutEffect(() => eachDraft(drafted), []);
}
