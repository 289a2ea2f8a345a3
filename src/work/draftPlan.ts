/**
 * A draft's plan on its way from the planner's thread to the page: of its samples what painters read, as 32 bits, of its panels the
 * splines. What was left behind is worked out where it is asked for, so that on the page it is a plan like any other.
 */
import { panelOf } from '../../geometry/hull/panel';
import { sectionAt } from '../../geometry/rail/query';
import { SECTION_FIELDS } from '../../geometry/rail/samples';
import type { Hull, Plan, RailPlan, RailSamples } from '../../geometry/types';

/** What is sent of each sample: a place on the board to a ten-thousandth of a millimetre. Where it is on the run follows from the step. */
const SENT = ['x', 'y', 'nx', 'ny', 'ribX', 'ribY', 'soleTop', 'capTop', 'gap', 'bevel'] as const;

/** A plan as it is sent. */
export interface LeanPlan extends Omit<Plan, 'hull' | 'rail'> {
  readonly hull: Omit<Hull, 'deck' | 'bottom'> & { readonly panels: readonly [deck: Hull['deck']['spline'], bottom: Hull['bottom']['spline']] };
  readonly rail: Omit<RailPlan, 'samples'> & { readonly samples: Pick<RailSamples, 'n' | 'step'> & { readonly sent: Float32Array } };
}

/** The plan without what the page can do without. */
export function leanPlan({ hull: { deck, bottom, ...hull }, rail: { samples, ...rail }, ...plan }: Plan): LeanPlan {
  const { n, step } = samples;
  const sent = new Float32Array(SENT.length * n);
  SENT.forEach((field, k) => sent.set(samples[field], k * n));
  return { ...plan, hull: { ...hull, panels: [deck.spline, bottom.spline] }, rail: { ...rail, samples: { n, step, sent } } };
}

/** The whole plan again, from one as it was sent. */
export function wholePlan({ hull: { panels: [deck, bottom], ...hull }, rail: { samples: { n, step, sent }, ...rail }, ...plan }: LeanPlan): Plan {
  // As double figures, which those beside them are; plain fields, since painters read them by the thousand.
  const columns = Object.fromEntries(SENT.map((field, k) => [field, new Float64Array(sent.subarray(k * n, (k + 1) * n))])) as Record<(typeof SENT)[number], Float64Array>;
  const s = new Float64Array(n);
  for (let i = 0; i < n; i++) s[i] = i === n - 1 ? rail.face.length : i * step;
  // The tangent is the inward normal turned.
  const samples = { n, step, s, ...columns, tx: columns.ny.map((v) => -v), ty: columns.nx } as unknown as RailSamples;
  const whole: Plan = { ...plan, hull: { ...hull, deck: panelOf(deck), bottom: panelOf(bottom) }, rail: { ...rail, samples } };
  for (const field of SECTION_FIELDS) {
    if (field in samples) continue;
    // Worked out when it is asked for; from then on a field like the others.
    Object.defineProperty(samples, field, {
      enumerable: true, configurable: true,
      get() {
        const value = s.map((at) => sectionAt(whole, at)[field]);
        Object.defineProperty(samples, field, { enumerable: true, value });
        return value;
      },
    });
  }
  return whole;
}
