/** Keeps the parts for the bench up with the plan. They take longer than a frame, so they are begun when a plan has not changed for a while. */
import { useEffect, useState } from 'react';
import { create } from 'zustand';
import { allFindings, decisionsOf, type Decision } from '../../geometry/rail/decisions';
import type { Parts } from '../../geometry/parts/types';
import type { Finding, Plan } from '../../geometry/types';
import { useDesign } from '../state/design';
import { jobNow, madeOf, useJobs, useMade } from '../state/jobs';
import { useKeep } from '../state/keep';
import { eachPlan, planNow } from '../state/plan';
import { runJob } from './jobs';
import { firstPicture } from './picture';

/** How long a plan must stay unchanged before its parts are made, ms. */
const QUIET = 500;

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
  for (const store of [useJobs, useDesign, useKeep]) store.subscribe(follow);
}

/** The parts of this very plan, or null while they are not made. */
export const usePartsOf = (plan: Plan | null): Parts | null => useMade('parts', plan);

/** Whether they are of the readings that there are: while new ones are made, those of before are shown. */
export const usePartsCurrent = (plan: Plan): boolean => useJobs((jobs) => madeOf(jobs.parts, plan) !== null && (jobs.parts.of?.built ?? null) === madeOf(jobs.built, plan));

/** The board as it is: its plan, its parts where they are made, and what there is to decide on it. */
interface Standing {
  readonly plan: Plan | null;
  readonly parts: Parts | null;
  /** All findings, worst first: the plan's own and, once the parts are made, those of the bench. */
  readonly findings: readonly Finding[];
  /** By cause, worst first. */
  readonly decisions: readonly Decision[];
}

const NOTHING: Standing = { plan: null, parts: null, findings: [], decisions: [] };

const standings = new WeakMap<Plan, Standing>();

/** What there is to decide on a plan, with its parts or without, worked out once for all that show it; the last of each plan is kept. */
export function standingOf(plan: Plan, parts: Parts | null): Standing {
  const kept = standings.get(plan);
  if (kept?.parts === parts) return kept;
  const findings = allFindings(plan, parts);
  const standing = { plan, parts, findings, decisions: decisionsOf(findings, plan.hull.length) };
  standings.set(plan, standing);
  return standing;
}

/** `known`: while the parts of `now` are made, the last of this board that had them, if there was one. */
const useStandings = create<{ readonly now: Standing; readonly known: Standing }>()(() => ({ now: NOTHING, known: NOTHING }));

/** The board as it is, of the plan that is shown; while a board is only tried it stays what it was, until its own plan is there again. */
export const useStanding = (): Standing => useStandings(({ now }) => now);

/** The same as far as it was known last: while its parts are made it stays what it was before the change. */
export const useKnownStanding = (): Standing => useStandings(({ known }) => known);

/** The board on the shelf whose parts are known. */
let knownOf = '';

function follow(): void {
  const [{ plan: { of }, parts: made }, { design, held }, { id }] = [useJobs.getState(), useDesign.getState(), useKeep.getState()];
  const plan = planNow();
  // A board that is only tried, or one that is not planned yet.
  if (!plan || (of?.design !== design && !held)) return;
  const before = useStandings.getState();
  const now = standingOf(plan, madeOf(made, plan));
  if (now.parts) knownOf = id;
  const known = now.parts || id !== knownOf ? now : before.known;
  if (now !== before.now || known !== before.known) useStandings.setState({ now, known });
}

/** What the shopping list comes to, as a room's status tells it; undefined while that is not known, or where nothing has a price. */
export function useToPay({ plan, parts }: Standing): string | undefined {
  const [told, setTold] = useState<{ readonly of: Parts; readonly text: string | undefined }>();
  useEffect(() => {
    // The lists are the bench's and the papers' own: the page's first script does without them.
    if (plan && parts) void import('../papers/listTables').then(({ toPay }) => setTold({ of: parts, text: toPay(plan, parts) }), () => undefined);
  }, [plan, parts]);
  return told && told.of === parts ? told.text : undefined;
}
