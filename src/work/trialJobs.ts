/** What the study thread is asked, and what it answers: boards tried beside the one in hand. */
import type { FieldError } from '../../geometry/design/fields';
import type { Design } from '../../geometry/design/schema';
import type { BoardSize, FamilyRow } from '../../geometry/search/family';
import type { SolveProgress, Solution, LeverChoice } from '../../geometry/search/solve';
import type { Portrait } from '../../geometry/search/portrait';
import type { Proposal } from '../../geometry/search/proposals';
import type { Target } from '../../geometry/search/targets';
import type { Readings } from '../../geometry/trust/readings';
import type { AsBuilt, ToleranceBands, ToleranceMethod } from '../../geometry/trust/types';
import type { Finding, Plan } from '../../geometry/types';

/** One board of a family: planned, or why it cannot be. */
export type Variant =
  | { readonly ok: true; readonly design: Design; readonly row: FamilyRow; readonly portrait: Portrait; readonly findings: readonly Finding[] }
  | { readonly ok: false; readonly errors: readonly FieldError[] };

/** The two sides of a board as measured; a side without readings is left out. */
export interface Built {
  readonly starboard?: AsBuilt;
  readonly port?: AsBuilt;
}

/** The kinds of study. */
export interface StudyJobs {
  readonly variant: { readonly job: { readonly design: Design; readonly size: BoardSize }; readonly progress: never; readonly result: Variant };
  readonly wishes: {
    readonly job: { readonly design: Design; readonly wishes: readonly Target[]; readonly levers: readonly LeverChoice[] };
    readonly progress: SolveProgress; readonly result: Solution;
  };
  /** Progress: boards tried so far. */
  readonly offers: { readonly job: { readonly plan: Plan; readonly finding: Finding }; readonly progress: number; readonly result: readonly Proposal[] };
  /** Progress: the share done, 0 to 1. */
  readonly bands: {
    readonly job: { readonly plan: Plan; readonly method: ToleranceMethod; readonly runs: number; readonly seed: number };
    readonly progress: number; readonly result: ToleranceBands;
  };
  readonly built: { readonly job: { readonly plan: Plan; readonly record: Readings }; readonly progress: never; readonly result: Built };
}
