/** The ribbon's layout: where runs, heights and bevels are, in px. */
import type { Plan } from '../../geometry/types';
import { bevelScale, type BevelScale } from '../say/ramp';

export interface RibbonScale {
  readonly width: number;
  readonly height: number;
  /** The range of bevels that the axis and the map's colours span. */
  readonly bevels: BevelScale;
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
function ribbonScale(plan: Plan, width: number, height: number): RibbonScale {
  const bevels = bevelScale(plan);
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
    width, height, bevels, left, right, stackTop, stackBottom, curveTop, curveBottom, bandBottom,
    exaggeration: up / across,
    x: (s) => left + s * across,
    run: (x) => Math.min(total, Math.max(0, (x - left) / across)),
    z: (h) => stackBottom - h * up,
    bevel: (angle) => curveBottom - ((angle - bevels.low) / (bevels.high - bevels.low)) * curves,
  };
}

export interface RibbonSize {
  readonly width: number;
  readonly height: number;
}

const scales = new WeakMap<Plan, RibbonScale>();

/** The layout for a plan, made once for all that is drawn of it in a space of this size. */
export function scaleOf(plan: Plan, { width, height }: RibbonSize): RibbonScale {
  const kept = scales.get(plan);
  if (kept?.width === width && kept.height === height) return kept;
  const scale = ribbonScale(plan, width, height);
  scales.set(plan, scale);
  return scale;
}

/** A place to a tenth of a px: finer shows nothing, and what moves by less is not drawn again. */
export const px = (v: number): number => Math.round(v * 10) / 10;

/** How far a drawn line may lie off a sample, px: half of what `px` rounds to. */
const OFF = 0.05;

/**
 * A line over samples, as few of them as draw it: those left out lie within 0.05 px of height of the straight piece between
 * their neighbours; the first and the last stay. `at`: px of a sample, those of x rising.
 */
function fewest(first: number, last: number, x: (i: number) => number, y: (i: number) => number): number[] {
  const out = [first];
  let [x0, y0] = [x(first), y(first)];
  let [low, high] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  for (let i = first + 1; i <= last; i++) {
    const yi = y(i);
    let run = x(i) - x0;
    let slope = (yi - y0) / run;
    if (slope < low || slope > high) {
      out.push(i - 1);
      [x0, y0] = [x(i - 1), y(i - 1)];
      [low, high] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
      run = x(i) - x0;
      slope = (yi - y0) / run;
    }
    low = Math.max(low, slope - OFF / run);
    high = Math.min(high, slope + OFF / run);
  }
  if (last > first) out.push(last);
  return out;
}

/** Samples that a line between two runs is drawn over, `y` being px of a sample: see `fewest`. */
export function lineSamples(plan: Plan, scale: RibbonScale, s0: number, s1: number, y: (i: number) => number): number[] {
  const { n, step, s } = plan.rail.samples;
  const first = Math.max(0, Math.ceil(s0 / step));
  const last = Math.min(n - 1, Math.floor(s1 / step));
  return last > first ? fewest(first, last, (i) => scale.x(s[i]), y) : [];
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
