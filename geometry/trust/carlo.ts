/** Random trials (the Monte Carlo method): boards drawn from the spreads and planned, hull re-used. Same seed, same boards. */
import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { runAs } from '../rail/query';
import { layRows } from '../rail/rows';
import { emptySamples } from '../rail/samples';
import { fillBox, fillRows, fillSolid } from '../rail/section';
import type { Plan, RowStretch } from '../types';
import type { EndRules } from '../wood/ladder';
import { movable, type Spreads, type Places } from './spreads';

export interface DrawOptions {
  readonly runs: number;
  readonly seed: number;
  readonly bend: EndRules;
  /** Called from time to time with the share done. */
  readonly pause: (share: number) => Promise<void>;
}

/** Bands of what was drawn, in the order asked for. */
export interface Drawn {
  /** [figure][place]: gap, bevel, cover. */
  readonly low: readonly Float64Array[];
  readonly high: readonly Float64Array[];
  /** Stops in the order of the plan's rows, tail before nose: run, and the share of boards that have it. */
  readonly stops: readonly { readonly low: number; readonly high: number; readonly present: number }[];
}

/** The share of a normal distribution below minus two standard deviations (Abramowitz & Stegun, table 26.1; from memory). */
const TAIL = 0.02275;
/** Spacing of samples from which the drawn boards' stops are searched, mm. */
const SEARCH_STEP = 12;
/** Boards between two pauses. */
const BATCH = 25;

/**
 * Standard normal numbers by G. E. P. Box and M. E. Muller, Annals of Mathematical Statistics 29 (1958)
 * 610-611 (from memory), from a seeded generator.
 */
export function normals(seed: number): () => number {
  const generator = xoroshiro128plus(seed);
  let spare: number | undefined;
  return () => {
    if (spare !== undefined) {
      const kept = spare;
      spare = undefined;
      return kept;
    }
    const radius = Math.sqrt(-2 * Math.log(1 - uniformFloat64(generator)));
    const angle = 2 * Math.PI * uniformFloat64(generator);
    spare = radius * Math.sin(angle);
    return radius * Math.cos(angle);
  };
}

/** The value below which a share of sorted numbers lies, straight between neighbours; NaN of none. */
export function quantile(sorted: ArrayLike<number>, share: number): number {
  const at = share * (sorted.length - 1);
  const i = Math.floor(at);
  if (sorted.length === 0) return Number.NaN;
  return i + 1 < sorted.length ? sorted[i] + (at - i) * (sorted[i + 1] - sorted[i]) : sorted[sorted.length - 1];
}

/** Draw boards, each plainly and independently: pairs of opposites would sharpen the mean but blunt the bands. */
export async function drawBoards(plan: Plan, spreads: Spreads, at: Places, options: DrawOptions): Promise<Drawn> {
  const { runs } = options;
  const { made, set } = movable(plan, spreads);
  const run = runAs(plan, made);
  const normal = normals(options.seed);
  const deviations = new Float64Array(spreads.list.length);
  const figures = [0, 1, 2].map(() => at.s.length).map((n) => Array.from({ length: n }, () => new Float64Array(runs)));
  const { rail, design } = plan;
  const count = Math.max(9, Math.ceil(run.total / SEARCH_STEP) + 1);
  const searched = emptySamples(count, run.total / (count - 1));
  const soughtS = Float64Array.from({ length: count }, (_, i) => (run.total * i) / (count - 1));
  const soughtU = soughtS.map((s) => run.map.parameterAt(s));
  const limits = {
    bend: options.bend, leastRow: design.rail.leastRow, ends: rail.ends,
    tabs: rail.ribs.filter((r) => r.gap > 0).map((r) => ({ index: r.index, s: r.s })),
  };
  const stops = rail.rows.flatMap(() => [[], []] as number[][]);
  const section = emptySamples(1, 1);
  for (let b = 0; b < runs; b++) {
    if (b % BATCH === 0) await options.pause(b / runs);
    for (let k = 0; k < deviations.length; k++) deviations[k] = (normal() * spreads.list[k].half) / 2;
    set(deviations);
    for (let i = 0; i < at.s.length; i++) {
      fillBox(run.ev, at.u[i], at.s[i], section, 0);
      fillRows(run.ev, at.rows[i], section, 0);
      if (at.solid[i]) fillSolid(section, 0);
      figures[0][i][b] = section.gap[0];
      figures[1][i][b] = section.bevel[0];
      figures[2][i][b] = section.cover[0];
    }
    for (let i = 0; i < count; i++) fillBox(run.ev, soughtU[i], soughtS[i], searched, i);
    matchStops(rail.rows, layRows(run, searched, limits).rows, stops);
  }
  await options.pause(1);
  const bands = (share: number) => figures.map((places) => Float64Array.from(places, (values) => quantile(values.sort(), share)));
  return {
    low: bands(TAIL),
    high: bands(1 - TAIL),
    stops: stops.map((values) => {
      const sorted = Float64Array.from(values).sort();
      return { low: quantile(sorted, TAIL), high: quantile(sorted, 1 - TAIL), present: values.length / runs };
    }),
  };
}

const overlap = (a: RowStretch, b: RowStretch) => a.row === b.row && a.tail.s < b.nose.s && b.tail.s < a.nose.s;

/**
 * Enter a drawn board's stops under the planned ones: a stretch's tail is that of the first drawn stretch over
 * it, unless that one reaches over the planned stretch before it too (the two have grown together); noses alike.
 */
function matchStops(planned: readonly RowStretch[], drawn: readonly RowStretch[], into: number[][]): void {
  planned.forEach((own, i) => {
    const over = drawn.filter((d) => overlap(d, own));
    if (over.length === 0) return;
    const first = over[0];
    const last = over[over.length - 1];
    if (!planned.some((p) => p.row === own.row && p.tail.s < own.tail.s && overlap(p, first))) into[2 * i].push(first.tail.s);
    if (!planned.some((p) => p.row === own.row && p.tail.s > own.tail.s && overlap(p, last))) into[2 * i + 1].push(last.nose.s);
  });
}
