/**
 * A draft's plan on its way from the planner's thread to the page: of its samples what painters read, as 32 bits, of its panels the
 * splines. What was left behind is worked out where it is asked for, so that on the page it is a plan like any other.
 */
import { panelOf } from '../../geometry/hull/panel';
import { sectionAt } from '../../geometry/rail/query';
import { SECTION_FIELDS } from '../../geometry/rail/samples';
import type { Hull, Plan, RailPlan, RailSamples, RailSection } from '../../geometry/types';

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
  const columns = new Map<keyof RailSection, Float64Array>(SENT.map((field, k) => [field, Float64Array.from(sent.subarray(k * n, (k + 1) * n))]));
  // The tangent is the inward normal turned.
  columns.set('tx', Float64Array.from(columns.get('ny') ?? [], (v) => -v));
  columns.set('ty', columns.get('nx') ?? new Float64Array(n));
  columns.set('s', Float64Array.from({ length: n }, (_, i) => (i === n - 1 ? rail.face.length : i * step)));
  const samples = { n, step };
  const whole: Plan = { ...plan, hull: { ...hull, deck: panelOf(deck), bottom: panelOf(bottom) }, rail: { ...rail, samples: samples as RailSamples } };
  const fill = (): void => {
    const missing = SECTION_FIELDS.filter((field) => !columns.has(field)).map((field) => [field, new Float64Array(n)] as const);
    for (let i = 0; i < n; i++) {
      const section = sectionAt(whole, i * step);
      for (const [field, column] of missing) column[i] = section[field];
    }
    for (const [field, column] of missing) columns.set(field, column);
  };
  for (const field of SECTION_FIELDS) {
    Object.defineProperty(samples, field, {
      enumerable: true,
      get() {
        if (!columns.has(field)) fill();
        return columns.get(field);
      },
    });
  }
  return whole;
}
