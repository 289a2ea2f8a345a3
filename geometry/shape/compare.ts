/** The present board against an earlier one, in figures. */
import { valueAt } from '../curves/graph';
import type { LengthCurveName } from '../design/schema';
import type { Plan } from '../types';
import { halfBreadthAt } from './line';

/** Length curves whose values are compared, besides the outline. */
const COMPARED: readonly LengthCurveName[] = ['rocker', 'thickness', 'crown'];

/** How far one board's lines lie from another's. */
export interface LineDifference {
  readonly line: 'outline' | LengthCurveName;
  /** Greatest difference of value (half-breadth for the outline), now less then, with its station in the present board. */
  readonly greatest: number;
  readonly x: number;
}

/** Lines are compared at places this far apart, mm. */
export const COMPARE_STEP = 5;

/**
 * Differences between a board and an earlier one, in figures: for each line the greatest difference at equal distance
 * from the tail (outline: half-breadth), over the length both have, sampled every `step` mm.
 */
export function lineDifferences(now: Plan, then: Plan, step = COMPARE_STEP): LineDifference[] {
  const to = Math.min(now.hull.length, then.hull.length);
  const n = Math.max(2, Math.ceil(to / step));
  const compare = (line: LineDifference['line'], a: (x: number) => number, b: (x: number) => number): LineDifference => {
    let best: LineDifference = { line, greatest: 0, x: 0 };
    for (let i = 0; i <= n; i++) {
      const x = (to * i) / n;
      const d = a(x) - b(x);
      if (Math.abs(d) > Math.abs(best.greatest)) best = { line, greatest: d, x };
    }
    return best;
  };
  return [
    compare('outline', (x) => halfBreadthAt(now.hull.outline, x), (x) => halfBreadthAt(then.hull.outline, x)),
    ...COMPARED.map((name) => compare(name, (x) => valueAt(now.hull.lines[name], x), (x) => valueAt(then.hull.lines[name], x))),
  ];
}
