/** The ribbon's layout: where runs, heights and bevels are, in px. */
import type { Plan } from '../../geometry/types';
import type { BevelScale } from '../say/ramp';

export interface RibbonScale {
  readonly width: number;
  readonly height: number;
  readonly left: number;
  readonly right: number;
  /** Top and bottom of the stack's drawing. */
  readonly stackTop: number;
  readonly stackBottom: number;
  /** Top and bottom of the bevel's curve, and bottom of its coloured band. */
  readonly curveTop: number;
  readonly curveBottom: number;
  readonly bandBottom: number;
  /** Heights are drawn this many times as large as runs. */
  readonly exaggeration: number;
  x(s: number): number;
  run(x: number): number;
  /** A height above the sole's underside, mm. */
  z(height: number): number;
  bevel(angle: number): number;
}

const AXIS = 17;
const BAND = 12;
const GAP = 9;
/** Px a layer of outer skin takes under the stack. */
export const SKIN_LINE = 3;

/** The layout for a plan in a space of this size. */
export function ribbonScale(plan: Plan, bevels: BevelScale, width: number, height: number): RibbonScale {
  const { soleThickness, capThickness, outerLayers } = plan.design.rail;
  const total = plan.rail.face.length;
  const [left, right] = [44, width - 16];
  const stackTop = AXIS + 3;
  const curves = Math.max(20, Math.round((height - 2 * AXIS) * 0.24));
  const bandBottom = height - AXIS;
  const curveBottom = bandBottom - BAND;
  const curveTop = curveBottom - curves;
  const stackBottom = curveTop - GAP - outerLayers * SKIN_LINE;
  const across = (right - left) / total;
  const tallest = Math.max(0, plan.rail.range.gap.max) + soleThickness + capThickness;
  const up = (stackBottom - stackTop) / tallest;
  return {
    width, height, left, right, stackTop, stackBottom, curveTop, curveBottom, bandBottom,
    exaggeration: up / across,
    x: (s) => left + s * across,
    run: (x) => Math.min(total, Math.max(0, (x - left) / across)),
    z: (h) => stackBottom - h * up,
    bevel: (angle) => curveBottom - ((angle - bevels.low) / (bevels.high - bevels.low)) * curves,
  };
}

/** Sample numbers to draw: about one a px, always both ends of [s0, s1]. */
export function sampleRange(plan: Plan, scale: RibbonScale, s0: number, s1: number): number[] {
  const { n, step } = plan.rail.samples;
  const first = Math.max(0, Math.ceil(s0 / step));
  const last = Math.min(n - 1, Math.floor(s1 / step));
  const skip = Math.max(1, Math.floor((n / (scale.right - scale.left)) * 1.2));
  const out: number[] = [];
  for (let i = first; i < last; i += skip) out.push(i);
  if (last >= first) out.push(last);
  return out;
}
