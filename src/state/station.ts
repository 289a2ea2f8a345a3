/** The station under the cursor: what stage, ribbon and card share. */
import { heldRun, sectionDrawing } from '../../geometry/rail/query';
import type { Plan, SectionDrawing } from '../../geometry/types';
import type { DrawnAt } from './jobKinds';
import { useUnits } from './unit';
import type { Unit } from '../say/units';
import { planNow, usePlan } from './plan';
import { useView } from './view';

/** Where the cursor is along the rail of this plan: where it was put, or the widest point to begin with. Never off the rail. */
export const cursorRun = heldRun;

const drawings = new WeakMap<Plan, DrawnAt>();

/** Keeps a section that was drawn beside its plan: to draw one here, the hull must be laid again first. */
export function keepDrawing(plan: Plan, drawn: DrawnAt): void {
  drawings.set(plan, drawn);
}

/** The section at run s of a plan as drawn or as built, made once for all that show it; the last of each plan is kept. */
export function drawingAt(plan: Plan, s: number): SectionDrawing {
  const kept = drawings.get(plan);
  if (kept?.s === s) return kept.drawing;
  const drawing = sectionDrawing(plan, s);
  drawings.set(plan, { s, drawing });
  return drawing;
}

/** The section of a plan under the cursor as it stands now. */
export const drawingAtCursor = (plan: Plan): SectionDrawing => drawingAt(plan, cursorRun(plan, useView.getState().s));

/** The section under the cursor, or null before the first plan. */
export function useStation(): SectionDrawing | null {
  const plan = usePlan();
  useView((state) => state.s);
  return plan && drawingAtCursor(plan);
}

/** Fine step of the cursor, mm: a millimetre, or a sixteenth of an inch. */
function fineStep(unit: Unit): number {
  return unit === 'mm' ? 1 : 25.4 / 16;
}

/** Moves the cursor along the rail, mm, staying on the rail. */
export function stepBy(run: number): void {
  const plan = planNow();
  if (!plan) return;
  const { s, moveTo } = useView.getState();
  moveTo(cursorRun(plan, cursorRun(plan, s) + run));
}

/** Moves the cursor one fine step toward the nose (1) or the tail (-1). */
export function stepFine(way: 1 | -1): void {
  stepBy(way * fineStep(useUnits.getState().unit));
}

/** Moves the cursor to the next rib toward the nose (1) or the tail (-1), if there is one. */
export function stepRib(way: 1 | -1): void {
  const plan = planNow();
  if (!plan) return;
  const { s, moveTo } = useView.getState();
  const now = cursorRun(plan, s);
  const runs = plan.rail.ribs.map((rib) => rib.s).sort((a, b) => a - b);
  const next = way > 0 ? runs.find((run) => run > now + 0.01) : runs.findLast((run) => run < now - 0.01);
  if (next !== undefined) moveTo(next);
}
