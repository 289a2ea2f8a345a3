/** How closely timber is weighed: what a volume asks of the surfaces and of the rail, and how often. */
import { innerAt, innerNear } from '../hull/panel';
import { runOf } from '../rail/query';
import { boxOnRun } from '../rail/run';
import { sampleReader } from '../rail/samples';
import type { Plan, RailSection } from '../types';

export interface Weighing {
  /** Greatest spacing of ordinates along the run, mm. */
  readonly step: number;
  /** Gauss's panels to a span of the outline, for the skins. */
  readonly panels: number;
  /** Least length of a panel of a block's plan, mm; its corners are always ends of panels. */
  readonly block: number;
  /** Inner face of a skin over a point of the plan. */
  readonly inner: typeof innerAt;
  /** The empty box at a run. The same object each time. */
  readonly section: (plan: Plan) => (s: number) => RailSection;
}

/** As everything is weighed that is shown. */
export const CLOSELY: Weighing = {
  step: 5, panels: 4, block: 0, inner: innerAt,
  section: (plan) => {
    const run = runOf(plan);
    return (s) => boxOnRun(run, s);
  },
};

/** For a search, and for a family's boards side by side: sections read off the samples, faces to the first order; a test holds it to the close one. */
export const QUICKLY: Weighing = {
  step: 40, panels: 1, block: 20, inner: innerNear,
  section: ({ rail }) => sampleReader(rail.samples).at,
};
