/**
 * The sampled rail: one typed array a field of the section, in which sections are worked out in place and never
 * copied. All here follows from the one list of fields, SECTION_UNITS.
 */
import { type Place, SECTION_UNITS, type RailSamples, type RailSection } from '../types';

/** Fields of a section, each an array of the samples. */
export const SECTION_FIELDS = Object.keys(SECTION_UNITS) as readonly (keyof RailSection)[];

const eachField = <T>(value: (field: keyof RailSection) => T) =>
  Object.fromEntries(SECTION_FIELDS.map((field) => [field, value(field)])) as Record<keyof RailSection, T>;

/** A section to be filled in: a copy of it is made several times quicker than its fields are named. */
const BLANK = eachField(() => Number.NaN);

/** Room for n samples `step` mm of run apart; no figure is one until it is filled in. All fields lie in one block of memory, which can be sent as one. */
export function emptySamples(n: number, step: number): RailSamples {
  const block = new Float64Array(SECTION_FIELDS.length * n).fill(Number.NaN);
  let from = 0;
  return { n, step, ...eachField(() => block.subarray(from, (from += n))) };
}

/** Sample i as a section of its own. */
export function sectionOf(samples: RailSamples, i: number): RailSection {
  const section = { ...BLANK };
  for (const field of SECTION_FIELDS) section[field] = samples[field][i];
  return section;
}

/** Number of the sample nearest to run s (mm); the first or last beyond the ends. */
export const nearestSample = ({ n, step }: Pick<RailSamples, 'n' | 'step'>, s: number): number =>
  Math.min(n - 1, Math.max(0, Math.round(s / step)));

/** The place at run s (mm), its station that of the nearest sample. */
export const placeOn = (samples: RailSamples, s: number): Place & { readonly s: number } => ({ s, x: samples.x[nearestSample(samples, s)] });

/** A place among samples: a share t of the way from sample i to the next. Its fields are worked out as they are read. */
class Between {
  i = 0;
  t = 0;
  readonly columns: readonly Float64Array[];

  constructor(samples: RailSamples) {
    this.columns = SECTION_FIELDS.map((field) => samples[field]);
  }
}

SECTION_FIELDS.forEach((field, k) => Object.defineProperty(Between.prototype, field, {
  get(this: Between): number {
    const column = this.columns[k];
    return this.t === 0 ? column[this.i] : column[this.i] * (1 - this.t) + column[this.i + 1] * this.t;
  },
}));

/**
 * Sections read off the samples without copying: `at` a run (mm), straight between the samples beside it, which is
 * true to 1e-3 mm where they lie 2 mm apart, the nearer end beyond the run; and `sample` i itself. The same object
 * each time, moved: read it before asking for the next.
 */
export function sampleReader(samples: RailSamples): { at(s: number): RailSection; sample(i: number): RailSection } {
  const here = new Between(samples);
  const move = (to: number): RailSection => {
    here.i = Math.floor(to);
    here.t = to - here.i;
    return here as unknown as RailSection;
  };
  return { at: (s) => move(Math.min(samples.n - 1, Math.max(0, s / samples.step))), sample: move };
}
