/** Tries boards off the main thread: families, wishes, what clears a finding, tolerance, readings. Ended to be stopped. */
import { BuildError } from '../../geometry/errors';
import { planFrames } from '../../geometry/frame/frames';
import { bendingFindings, planBending } from '../../geometry/parts/bending';
import { planBoard } from '../../geometry/plan';
import { numbered } from '../../geometry/rail/findings';
import { familyRow, scaleBoard } from '../../geometry/search/family';
import { solving } from '../../geometry/search/solve';
import { portraitOf } from '../../geometry/search/portrait';
import { proposing } from '../../geometry/search/proposals';
import { REMEDIES } from '../../geometry/search/remedies';
import { massOf, massWithoutFrames } from '../../geometry/search/weigh';
import { applyReadings } from '../../geometry/trust/asBuilt';
import { planTolerance } from '../../geometry/trust/tolerance';
import type { Finding, Plan } from '../../geometry/types';
import { serve } from './thread';
import type { StudyJobs, Variant } from './trialJobs';

/** What a generator comes to, each of its steps told. */
function finish<Step, Result>(steps: Generator<Step, Result>, tell: (step: Step) => void): Result {
  for (let next = steps.next(); ; next = steps.next()) {
    if (next.done) return next.value;
    tell(next.value);
  }
}

function variant({ design, size }: StudyJobs['variant']['job']): Variant {
  const scaled = scaleBoard(design, size);
  if (!scaled.ok) return scaled;
  try {
    const plan = planBoard(scaled.design);
    return { ok: true, design: scaled.design, row: familyRow(plan, massOf), portrait: portraitOf(plan), findings: plan.findings };
  } catch (error) {
    if (error instanceof BuildError) return { ok: false, errors: [error.fault] };
    throw error;
  }
}

/** What bending finds, and the frames too where the finding is one of theirs: they take longer. */
function beyond(plan: Plan, finding: Finding): (plan: Plan) => Finding[] {
  const bending = (of: Plan) => bendingFindings(of, planBending(of));
  const known = [...plan.findings, ...numbered(bending(plan))].some(({ id }) => id === finding.id);
  return known ? (of) => numbered(bending(of)) : (of) => numbered([...bending(of), ...planFrames(of).findings]);
}

serve<StudyJobs>({
  variant,
  wishes: ({ design, wishes, levers }, tell) => finish(solving(design, wishes, levers.length > 0 ? { levers } : {}), tell),
  offers: ({ plan, finding }, tell) =>
    REMEDIES[finding.code] === undefined ? [] : finish(proposing(plan, finding, { weigh: massWithoutFrames, more: beyond(plan, finding) }), tell),
  bands: ({ plan, method, runs, seed }, tell) => planTolerance(plan, { method, runs, seed, onProgress: tell }),
  built: ({ plan, record }) => {
    const side = (name: 'starboard' | 'port') =>
      record.readings.some((r) => r.side === name) ? { [name]: applyReadings(plan, record, name) } : {};
    return { ...side('starboard'), ...side('port') };
  },
});
