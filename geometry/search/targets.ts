/** What a maker may ask of a board, and how far a plan is from it. */
import { runOf } from '../rail/query';
import { bendRoom, rowWalk } from '../rail/rows';
import { sampleReader } from '../rail/samples';
import { boxSizes, gapFor } from '../rail/sizes';
import type { Hull, Plan } from '../types';
import { endRules } from '../wood/ladder';
import type { LeverId } from './levers';

/** Which side of a target counts as met. */
export type Sense = 'about' | 'at most' | 'at least';

/** One target. Volumes mm3 of the finished board, masses kg of its timber, angles rad, lengths mm. */
export type Target =
  | { readonly kind: 'volume'; readonly value: number; readonly sense?: Sense }
  | { readonly kind: 'mass'; readonly value: number; readonly sense?: Sense }
  /** The bevel of the cap is nowhere above `most`. */
  | { readonly kind: 'bevel'; readonly most: number }
  /** A spacer row (the first unless said) reaches to within `within` of an end, along the centreline. */
  | { readonly kind: 'reach'; readonly end: 'nose' | 'tail'; readonly within: number; readonly row?: number };

/** How near "about" must come, as a share of the target: own choice, finer than a board is shaped or timber weighed. */
const ABOUT: Readonly<Record<'volume' | 'mass', number>> = { volume: 0.002, mass: 0.005 };

/** Ranges a target must lie in. */
const RANGES = {
  volume: { min: 1e6, max: 1e9, unit: 'mm3' },
  mass: { min: 0.1, max: 100, unit: 'kg' },
  bevel: { min: 0, max: Math.PI / 3, unit: 'rad' },
  reach: { min: 0, max: 6000, unit: 'mm' },
} as const;

/** Throws a RangeError for a target outside its range, naming it. */
export function checkTarget(target: Target): void {
  const value = target.kind === 'bevel' ? target.most : target.kind === 'reach' ? target.within : target.value;
  const { min, max, unit } = RANGES[target.kind];
  if (!(value >= min && value <= max)) throw new RangeError(`${target.kind}: ${value} given; ${min} to ${max} ${unit} allowed`);
  if (target.kind === 'reach' && target.row !== undefined && !(Number.isInteger(target.row) && target.row >= 1)) {
    throw new RangeError(`row: ${target.row} given; a whole number from 1 allowed`);
  }
}

/** Levers that affect each target, tried unless the maker chooses. */
export const LEVERS_FOR: Readonly<Record<Target['kind'], readonly LeverId[]>> = {
  volume: ['thickness', 'width', 'thickness-nose', 'thickness-tail', 'breadth-nose', 'breadth-tail'],
  mass: ['thickness', 'width', 'strip-width', 'sole-thickness', 'cap-thickness', 'outer-thickness', 'bottom-skin', 'deck-skin'],
  bevel: ['crown', 'width', 'breadth-nose', 'breadth-tail', 'strip-width'],
  reach: ['thickness', 'thickness-nose', 'thickness-tail', 'breadth-nose', 'breadth-tail', 'crown', 'vee', 'spacer-height', 'sole-thickness', 'cap-thickness'],
};

/** A planned board as the targets see it. The rail is there unless only the volume is a target. */
export interface Seen {
  readonly hull: Hull;
  readonly plan?: Plan;
  readonly mass?: number;
}

/** The figure a target is about; undefined where the board has none (no such row). */
export function figureOf(target: Target, seen: Seen): number | undefined {
  if (target.kind === 'volume') return seen.hull.volume;
  if (target.kind === 'mass') return seen.mass;
  const { plan } = seen;
  if (!plan) return undefined;
  if (target.kind === 'bevel') return plan.rail.range.bevel.max;
  const ends = plan.rail.rows.filter((r) => r.row === (target.row ?? 1)).map((r) => (target.end === 'nose' ? seen.hull.length - r.nose.x : r.tail.x));
  return ends.length > 0 ? Math.min(...ends) : undefined;
}

/** How far the figure lies outside the target, in the figure's own unit; 0 where met, Infinity where there is none. */
export function residualOf(target: Target, figure: number | undefined): number {
  if (figure === undefined) return Infinity;
  if (target.kind === 'bevel') return Math.max(0, figure - target.most);
  if (target.kind === 'reach') return Math.max(0, figure - target.within);
  const slack = target.sense === undefined || target.sense === 'about' ? target.value * ABOUT[target.kind] : 0;
  const over = target.sense === 'at least' ? 0 : Math.max(0, figure - target.value - slack);
  const under = target.sense === 'at most' ? 0 : Math.max(0, target.value - slack - figure);
  return over + under;
}

/** Places along the cap at which the bevel is held, besides its greatest. */
const BEVEL_PLACES = 24;
const DEG = 180 / Math.PI;

/** Run at which the box face is at a station, and how far the station lies beyond the face's end (mm, else 0). */
function runAtStation(plan: Plan, x: number, end: 'nose' | 'tail'): { s: number; beyond: number } {
  const { samples } = plan.rail;
  const first = end === 'tail' ? 0 : samples.n - 1;
  const step = end === 'tail' ? 1 : -1;
  // From that end inward, so that a face which curls past the station is met at its outermost crossing.
  for (let i = first; i + step >= 0 && i + step < samples.n; i += step) {
    const a = samples.x[i] - x;
    const b = samples.x[i + step] - x;
    if (a === 0 || a * b < 0) return { s: samples.s[i] + ((samples.s[i + step] - samples.s[i]) * a) / (a - b), beyond: 0 };
  }
  return { s: samples.s[first], beyond: Math.abs(samples.x[first] - x) };
}

/**
 * How far inside each target a plan lies, as numbers that change smoothly with the design and are 0 or more exactly
 * where the target's own condition holds. Scaled so that 1 is about what a maker would notice: a per cent of volume or
 * mass, a degree of bevel, a millimetre of gap. `aim` is the little beyond the limit that a search should aim at.
 */
export function marginsOf(target: Target, seen: Seen): { margins: number[]; aim: number } {
  if (target.kind === 'volume' || target.kind === 'mass') {
    const figure = (target.kind === 'volume' ? seen.hull.volume : seen.mass) ?? Number.NaN;
    const about = target.sense === undefined || target.sense === 'about';
    const slack = about ? ABOUT[target.kind] * 100 : 0;
    const off = (100 * (figure - target.value)) / target.value;
    const margins = [...(target.sense === 'at least' ? [] : [slack - off]), ...(target.sense === 'at most' ? [] : [slack + off])];
    return { margins, aim: about ? slack * 0.5 : 0.02 };
  }
  const { plan } = seen;
  if (!plan) throw new RangeError(`${target.kind}: a target about the rail needs the rail planned`);
  const { rail, design } = plan;
  const { at } = sampleReader(rail.samples);
  if (target.kind === 'bevel') {
    const { s0, s1 } = rail.cap;
    const places = Array.from({ length: BEVEL_PLACES + 1 }, (_, k) => at(s0 + ((s1 - s0) * k) / BEVEL_PLACES).bevel);
    return { margins: [rail.range.bevel.max, ...places].map((b) => (target.most - b) * DEG), aim: 0.02 };
  }
  const sizes = boxSizes(design);
  const { s, beyond } = runAtStation(plan, target.end === 'nose' ? seen.hull.length - target.within : target.within, target.end);
  const box = at(s);
  const gap = box.gap - gapFor(sizes, target.row ?? 1);
  const run = runOf(plan);
  const bend = bendRoom(run, rowWalk(run, target.row ?? 1, rail.samples.step), endRules(design, 'rows'), s);
  // The rib-end line must lie off the centreline: beyond that the two boxes meet.
  return { margins: [gap - beyond / 10, bend - beyond / 10, box.ribY / 10 - beyond / 10], aim: 0.05 };
}
