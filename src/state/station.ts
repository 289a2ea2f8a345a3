/** The station under the cursor: what stage, ribbon and card share. */
import { heldRun, sectionDrawing } from '../../geometry/rail/query';
import { stopsOf } from '../../geometry/rail/laid';
import type { Plan, RibAtRail, SectionDrawing, Stop } from '../../geometry/types';
import type { DrawnAt } from './jobKinds';
import { useUnits } from './unit';
import type { Unit } from '../say/units';
import { planNow, usePlan } from './plan';
import { useView } from './view';

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
export const drawingAtCursor = (plan: Plan): SectionDrawing => drawingAt(plan, heldRun(plan, useView.getState().s));

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
  moveTo(heldRun(plan, heldRun(plan, s) + run));
}

/** Moves the cursor one fine step toward the nose (1) or the tail (-1). */
export function stepFine(way: 1 | -1): void {
  stepBy(way * fineStep(useUnits.getState().unit));
}

/** A run nearer to the cursor than this is where it stands, mm. */
const HERE = 0.01;

/** Of some runs the next one from s toward the nose (1) or the tail (-1); undefined where there is none. */
function nextRun(runs: readonly number[], s: number, way: 1 | -1): number | undefined {
  const ahead = runs.filter((run) => (run - s) * way > HERE);
  return ahead.length === 0 ? undefined : way > 0 ? Math.min(...ahead) : Math.max(...ahead);
}

/** The rib next to run s toward the nose (1) or the tail (-1), if there is one. */
export const nextRib = ({ rail }: Plan, s: number, way: 1 | -1): RibAtRail | undefined => {
  const run = nextRun(rail.ribs.map((rib) => rib.s), s, way);
  return rail.ribs.find((rib) => rib.s === run);
};

/** The stop next to run s toward the nose (1) or the tail (-1), if there is one; of several at one place the lowest row's. */
export const nextStop = ({ rail }: Plan, s: number, way: 1 | -1): Stop | undefined => {
  const stops = stopsOf(rail);
  const run = nextRun(stops.map((stop) => stop.s), s, way);
  return stops.find((stop) => stop.s === run);
};

function stepTo(plan: Plan | null, next: (plan: Plan, s: number) => { readonly s: number } | undefined): void {
  if (!plan) return;
  const { s, moveTo } = useView.getState();
  const there = next(plan, heldRun(plan, s));
  if (there) moveTo(there.s);
}

/** Moves the cursor to the next rib toward the nose (1) or the tail (-1), if there is one. */
export const stepRib = (way: 1 | -1): void => stepTo(planNow(), (plan, s) => nextRib(plan, s, way));

/** Moves the cursor to the next stop of a plan toward the nose (1) or the tail (-1), if there is one. */
export const stepStop = (way: 1 | -1, of = planNow()): void => stepTo(of, (plan, s) => nextStop(plan, s, way));
