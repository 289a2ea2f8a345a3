/** Keeps the parts for the bench up with the plan. They take longer than a frame, so they are begun when a plan has not changed for a while. */
import { useMemo } from 'react';
import { allFindings, decisionsOf, type Decision } from '../../geometry/rail/findings';
import type { Parts } from '../../geometry/parts/types';
import type { Finding, Plan } from '../../geometry/types';
import { jobNow, madeOf, useJobs, useMade } from '../state/jobs';
import { eachPlan, planNow } from '../state/plan';
import { runJob } from './jobs';

/** How long a plan must stay unchanged before its parts are made, ms. */
const QUIET = 500;
/** The first picture goes before; but where there is no stage, the bench does not wait for one longer than this, ms. */
const LONGEST_WAIT = 5000;

function firstPicture(): Promise<void> {
  return new Promise((resolve) => {
    const seen = new PerformanceObserver((list) => {
      if (list.getEntriesByName('first-picture').length > 0) resolve();
    });
    seen.observe({ type: 'mark', buffered: true });
    setTimeout(resolve, LONGEST_WAIT);
  });
}

/** Makes the parts of every plan that stays for a while, from the first picture on. Call once. */
export function startParts(): void {
  const after = firstPicture();
  const make = (plan: Plan | null) => {
    const built = madeOf(jobNow('built'), plan);
    if (plan) void runJob('parts', { plan, ...(built ? { built } : {}) }, { after, quiet: QUIET });
  };
  eachPlan(make);
  // Readings change those of the sides that were measured.
  useJobs.subscribe(({ built }, { built: before }) => {
    if (built.result !== before.result) make(planNow());
  });
}

/** The parts of this very plan, or null while they are not made. */
export const usePartsOf = (plan: Plan | null): Parts | null => useMade('parts', plan);

/** All findings of a plan, worst first: the plan's own and, once `parts` are made, those of the bench. */
export function useFindings(plan: Plan | null): { readonly findings: readonly Finding[]; readonly whole: boolean } {
  const parts = usePartsOf(plan);
  return useMemo(() => ({
    findings: plan ? allFindings(plan, parts) : [], whole: parts !== null,
  }), [plan, parts]);
}

/** What there is to decide on a plan, by cause, worst first. */
export function useDecisions(plan: Plan | null): readonly Decision[] {
  const { findings } = useFindings(plan);
  return useMemo(() => (plan ? decisionsOf(findings, plan.hull.length) : []), [plan, findings]);
}
