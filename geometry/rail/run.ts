/** The run: the box face from tail to nose, the rib-end line beside it, and the evaluator that walks them. */
import { findRoot } from '../curves/roots';
import type { Hull, MadeBox, PlanLine, RailSection } from '../types';
import { madeOnRun } from './made';
import { offsetAt, RunMap, planLine } from './planLine';
import { emptySamples, sampleReader, sectionOf } from './samples';
import { fillBox, fillRows, fillSolid, railEvaluator, stripsAt, type RailEvaluator, type StripsAt } from './section';
import type { BoxSizes } from './sizes';

/** Everything needed to ask about any run. Lives inside one planning call; never part of the plan. */
export interface Run {
  readonly hull: Hull;
  readonly sizes: BoxSizes;
  readonly face: PlanLine;
  readonly ribEnd: PlanLine;
  readonly map: RunMap;
  readonly ev: RailEvaluator;
  readonly total: number;
  /** Run where the two sides' boxes part and meet (the rib-end lines on the centreline); else 0 and total. */
  readonly boxFrom: number;
  readonly boxTo: number;
}

/**
 * Lay out the plan lines, and the box as made over them if given: the run is always that of the drawn box face.
 * Throws a BuildError where the board is too narrow for outer skins and strip.
 */
export function layRun(hull: Hull, sizes: BoxSizes, made?: MadeBox): Run {
  const face = planLine(hull.outline, sizes.faceOffset, 'rail.outerThickness');
  const ribEnd = planLine(hull.outline, sizes.faceOffset + sizes.stripWidth, 'rail.stripWidth');
  const map = new RunMap(hull.outline, face);
  return {
    hull, sizes, face, ribEnd, map, ev: railEvaluator(hull, sizes, made && madeOnRun(sizes, made)), total: face.length,
    // Where the rib-end lines meet, the box face may have been trimmed away too: the box then starts with it.
    boxFrom: (ribEnd.tail.kind === 'meets' && map.runAt(ribEnd.pieces[0].u0)) || 0,
    boxTo: (ribEnd.nose.kind === 'meets' && map.runAt(ribEnd.pieces[ribEnd.pieces.length - 1].u1)) || face.length,
  };
}

/** Gap (mm) at a run. */
export const gapOnRun = (run: Run, s: number): number => stripsOnRun(run, s).gap;

/** Where the strips lie at a run. The same object each time: read it before asking about another run. */
export const stripsOnRun = (run: Run, s: number): StripsAt => stripsAt(run.ev, run.map.parameterAt(s), s);

/** Station (mm) of the box face at a run. */
export const xOnRun = (run: Run, s: number): number => offsetAt(run.hull.outline, sizesOnRun(run, s).faceOffset, run.map.parameterAt(s), run.ev.frame).x;

/** The box's sizes at a run: as made where that is known, else as drawn. Read before asking about another run. */
export const sizesOnRun = (run: Run, s: number): BoxSizes => run.ev.made?.(s).sizes ?? run.sizes;

/** Where single sections are worked out. */
const one = emptySamples(1, 1);
const box = sampleReader(one).sample(0);

/** The empty box at a run, its figures of rows none. The same object each time: read it before asking about another run. */
export function boxOnRun(run: Run, s: number): RailSection {
  fillBox(run.ev, run.map.parameterAt(s), s, one, 0);
  return box;
}

/** The full section at a run with the given number of rows, or `solid` where a block or its tongue fills the box. */
export function sectionOnRun(run: Run, s: number, rows: number, solid = false): RailSection {
  boxOnRun(run, s);
  fillRows(run.ev, rows, one, 0);
  if (solid) fillSolid(one, 0);
  return sectionOf(one, 0);
}

/** A stretch of run. */
export interface Interval {
  readonly s0: number;
  readonly s1: number;
}

/**
 * The stretches of [from, to] where f >= 0, each end refined to `tolerance` (mm of run) and on the side that
 * holds: f may jump over a crease. `s` and `values` are samples of f in rising s; stretches between samples
 * that never show a positive sample are not seen: with runs of 2 mm they would be shallower than a thousandth
 * of a millimetre.
 */
export function whereHolds(
  f: (s: number) => number, s: ArrayLike<number>, values: ArrayLike<number>, from: number, to: number, tolerance = 1e-5,
): Interval[] {
  const out: Interval[] = [];
  let start = Number.NaN;
  let lastS = from;
  let lastF = f(from);
  if (lastF >= 0) start = from;
  /** Between two runs, and the values there, of which one alone holds. */
  const turn = (s0: number, s1: number, f0: number, f1: number) => {
    const root = findRoot(f, s0, s1, tolerance, f0, f1);
    const edge = f(root) >= 0 ? root : f1 >= 0 ? Math.min(s1, root + tolerance) : Math.max(s0, root - tolerance);
    if (f1 >= 0) start = edge;
    else out.push({ s0: start, s1: edge });
  };
  for (let i = 0; i < s.length; i++) {
    if (!(s[i] > from && s[i] < to)) continue;
    if (values[i] >= 0 !== lastF >= 0) turn(lastS, s[i], lastF, values[i]);
    lastS = s[i];
    lastF = values[i];
  }
  const last = f(to);
  if (last >= 0 !== lastF >= 0) turn(lastS, to, lastF, last);
  lastF = last;
  if (lastF >= 0) out.push({ s0: start, s1: to });
  return out;
}
