/** Tries boards off the main thread: families, targets, what clears a finding, tolerance, readings, lines fitted to a table. */
import { BuildError } from '../../geometry/errors';
import { planFrames } from '../../geometry/frame/frames';
import { bendingFindings, planBending } from '../../geometry/parts/bending';
import { lieFindings, planLies } from '../../geometry/parts/lies';
import { told } from '../../geometry/rail/decisions';
import { variantsOf, type Variant } from '../../geometry/search/member';
import { solving } from '../../geometry/search/solve';
import { proposing } from '../../geometry/search/proposals';
import { REMEDIES } from '../../geometry/search/remedies';
import { massWithoutFrames } from '../../geometry/search/weigh';
import { fitDrawing } from '../../geometry/shape/drawingFit';
import { fitOffsets, withOffsets } from '../../geometry/shape/offsetsFit';
import { parseOffsets } from '../../geometry/shape/offsetsRead';
import { applyReadings, movesBetween } from '../../geometry/trust/asBuilt';
import { isMeasured } from '../../geometry/trust/readings';
import { planTolerance } from '../../geometry/trust/tolerance';
import type { Finding, Plan } from '../../geometry/types';
import type { Given, OffsetsFit, OffsetsRead } from '../state/jobKinds';
import { serve } from './serve';

/** What is made, or what is wrong with the board it would be made of. */
function tried<T>(make: () => T): T | Extract<Variant, { ok: false }> {
  try {
    return make();
  } catch (error) {
    if (error instanceof BuildError) return { ok: false, errors: [error.fault] };
    throw error;
  }
}

/** A generator's result, each of its steps reported. */
function finish<Step, Result>(steps: Generator<Step, Result>, tell: (step: Step) => void): Result {
  for (let next = steps.next(); ; next = steps.next()) {
    if (next.done) return next.value;
    tell(next.value);
  }
}

const fitted = ({ table }: OffsetsRead, { design, tolerance, ends }: Given<'offsets'>): OffsetsFit => tried(() => {
  const fit = fitOffsets(table, { tolerance, ends });
  const board = withOffsets(design, fit);
  return board.ok ? { ok: true, design: board.design, met: fit.met, misses: fit.misses } : board;
});

/** What bending finds, and the frames too where the finding is one of theirs: they take longer. */
function beyond(plan: Plan, finding: Finding): (plan: Plan) => Finding[] {
  const bending = (of: Plan) => {
    const bent = planBending(of);
    return [...bendingFindings(of, bent), ...lieFindings(of, bent, planLies(of, bent))];
  };
  const known = [...plan.findings, ...told(bending(plan), plan.design, plan.hull.length)].some(({ id }) => id === finding.id);
  return known ? (of) => told(bending(of), of.design, of.hull.length) : (of) => told([...bending(of), ...planFrames(of).findings], of.design, of.hull.length);
}

serve({
  family({ design, boards }, tell) {
    const variantOf = variantsOf(design);
    for (const { size } of boards) tell(tried(() => variantOf(size)));
    return [];
  },
  targets: ({ design, targets, levers }, tell) => finish(solving(design, targets, levers.length > 0 ? { levers } : {}), tell),
  offers({ plan, finding }, tell) {
    if (REMEDIES[finding.code] === undefined) return { offers: [], tried: 0 };
    let count = 0;
    const offers = finish(proposing(plan, finding, { weigh: massWithoutFrames, more: beyond(plan, finding) }), (now) => {
      count = now;
      tell(now);
    });
    return { offers, tried: count };
  },
  bands: ({ plan, ...how }, tell) => planTolerance(plan, { ...how, onProgress: tell }),
  built({ plan, record }) {
    const side = (name: 'starboard' | 'port') =>
      isMeasured(record, name) ? { [name]: applyReadings(plan, record, name) } : {};
    return { ...side('starboard'), ...side('port') };
  },
  asked({ plan, record, side, ways }) {
    const now = applyReadings(plan, record, side).plan.rail;
    return ways.map((way) => {
      const { plan: then, flags } = applyReadings(plan, way, side);
      return { changes: movesBetween(now, then.rail), flags };
    });
  },
  hullRead: async (given) => (await import('./hullJobs')).hullRead(given),
  hullFit: async (given, tell, lent) => (await import('./hullJobs')).fittedHull(given, tell, lent),
  offsets(given, tell) {
    const read = parseOffsets(given.text, given.options);
    if (!read.ok) return read;
    tell(read);
    return { ok: true, read, fit: fitted(read, given) };
  },
  drawing: async (given) => (await import('./drawingJob')).drawing(given),
  drawingFit: ({ design, choices, lie, tolerance }) => fitDrawing(design, choices, lie, tolerance),
});
