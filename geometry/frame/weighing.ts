/** How closely timber is weighed: what a volume asks of the surfaces and of the rail, and how often. */
import { innerAt, innerNear } from '../hull/panel';
import { runOf } from '../rail/query';
import { boxOnRun } from '../rail/run';
import { sampleReader } from '../rail/samples';
import type { Plan, RailSection } from '../types';
import type { Rounding } from './holes';

/** The finest step of an arc's parameter. */
export const ARC_ROOT = 1e-12;

export interface Weighing {
  /** Greatest spacing of ordinates along the run, mm. */
  readonly step: number;
  /** Gauss's panels to a span of the outline, for the skins. */
  readonly panels: number;
  /** Least length of a panel of a block's plan, mm; its corners are always ends of panels. */
  readonly block: number;
  /** Inner face of a skin over a point of the plan. */
  readonly inner: typeof innerAt;
  /** How finely the holes of ribs and stringer are drawn. */
  readonly rounding: Rounding;
  /** Panels of Gauss's from the outline in to the box face, besides where the round begins. */
  readonly rim: number;
  /** How near the root of an arc's height is sought, of its parameter. */
  readonly root: number;
  /** The empty box at a run. The same object each time. */
  readonly section: (plan: Plan) => (s: number) => RailSection;
}

/** As everything is weighed that is shown. */
export const CLOSELY: Weighing = {
  step: 5, panels: 4, block: 0, inner: innerAt, rounding: 'cut', rim: 3, root: ARC_ROOT,
  section: (plan) => {
    const run = runOf(plan);
    return (s) => boxOnRun(run, s);
  },
};

/** For a search, and for a family's boards side by side: sections read off the samples, faces to the first order; a test holds it to the close one. */
export const QUICKLY: Weighing = {
  step: 40, panels: 1, block: 40, inner: innerNear, rounding: 'seen', rim: 1, root: 1e-5,
  section: ({ rail }) => sampleReader(rail.samples).at,
};
