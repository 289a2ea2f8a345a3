/**
 * The one call that runs hull and rail, in the trade's order of work: draw the lines and loft the hull, lay the box
 * rail inside it, and say what the maker would otherwise find out with glue on the hands.
 */
import type { Design } from './design/schema';
import { buildHull } from './hull/hull';
import { railFindings } from './rail/findings';
import { told } from './rail/decisions';
import { planRail, RUN_STEP } from './rail/rail';
import type { Hull, MadeBox, Plan } from './types';

/** Spacing of samples under a dragging hand, mm: stops lie within 1e-4 mm of the settled ones, bevels within 0.02 degrees (8 mm breaks that). */
export const DRAFT_STEP = 4;

export interface PlanOptions {
  /** Greatest spacing of samples on the run, mm. */
  readonly step?: number;
  /** What differs in the box as made, if it was measured. */
  readonly made?: MadeBox;
}

/**
 * Plan a board. Takes a design that has passed `checkDesign`; returns plain data. Throws a BuildError where
 * the lines make no hull or leave no room for any box; everything milder is a finding in the plan.
 */
export function planBoard(design: Design, options: PlanOptions = {}): Plan {
  return planOn(design, buildHull(design), options);
}

/** Plan the rail and all that follows on a hull lofted already from the same design. Errors as `planBoard`. */
export function planOn(design: Design, hull: Hull, options: PlanOptions = {}): Plan {
  const rail = planRail(design, hull, options.step ?? RUN_STEP, options.made);
  const findings = told(railFindings(design, hull, rail), design, hull.length);
  return { design, hull, rail, findings };
}
