/**
 * The search for the least change: sequential least-distance programmes. Each round the margins are made linear by
 * differences, the shortest change that meets them is found exactly (see `leastChange`; a slack that costs far more
 * than any change keeps it solvable), and taken as far as it truly helps.
 */
import { leastChange } from './leastChange';

/** What is searched for: levers in units of one whole change each. */
export interface Problem {
  readonly lower: readonly number[];
  readonly upper: readonly number[];
  /** Margins (0 or more: met) at a change, with the little more to aim at; undefined where no board can be made so. */
  margins(z: readonly number[]): { readonly margins: readonly number[]; readonly aims: readonly number[] } | undefined;
}

/** A change with its margins. */
export interface Found {
  readonly z: readonly number[];
  readonly margins: readonly number[];
  /** Sum of what the margins lack. */
  readonly lack: number;
  /** Sum of squares of the change. */
  readonly cost: number;
}

/** What a step of the search reports. */
export interface SearchStep {
  readonly round: number;
  readonly lack: number;
  readonly change: number;
}

const ROUNDS = 12;
/** Share of a lever's range by which it is moved to see what it does. */
const PROBE = 0.02;
/** Price of a unit of slack against a unit of squared change, in the programme, and of a unit of lack in the verdict. */
const SLACK_PRICE = 1e4;
const LACK_PRICE = 1e3;
/** A change smaller than this, in whole changes, is none. */
const STILL = 2e-3;

const judge = (z: readonly number[], margins: readonly number[]): Found => ({
  z, margins, lack: margins.reduce((sum, m) => sum + Math.max(0, -m), 0), cost: z.reduce((sum, v) => sum + v * v, 0),
});
const verdict = (f: Found): number => f.cost + LACK_PRICE * f.lack;

/** Rows that bound each number of z, where the bound may bear: z_i >= low_i and -z_i >= -high_i. */
function bounds(n: number, low: readonly number[], high: readonly number[]): { g: number[][]; h: number[] } {
  const g: number[][] = [];
  const h: number[] = [];
  for (let i = 0; i < n; i++) {
    for (const [sign, limit] of [[1, low[i]], [-1, -high[i]]] as const) {
      const row = new Array<number>(n + 1).fill(0);
      row[i] = sign;
      g.push(row);
      h.push(limit);
    }
  }
  return { g, h };
}

/**
 * Search from one start. Yields after every board tried; returns the best found (which may lack something), or
 * undefined where the start itself makes no board. Steps are accepted only where change and lack together fall, so
 * the result is never worse than the start.
 */
export function* descend(problem: Problem, start: readonly number[]): Generator<SearchStep, Found | undefined> {
  const n = start.length;
  const { lower, upper } = problem;
  const first = problem.margins(start);
  if (!first) return undefined;
  let best = judge(start, first.margins);
  let { aims } = first;
  let trust = 1;
  for (let round = 1; round <= ROUNDS; round++) {
    const say = (): SearchStep => ({ round, lack: best.lack, change: Math.sqrt(best.cost) });
    yield say();
    const slopes: number[][] = best.margins.map(() => new Array<number>(n).fill(0));
    for (let i = 0; i < n; i++) {
      if (upper[i] - lower[i] <= 0) continue;
      const reach = PROBE * (upper[i] - lower[i]);
      for (const h of best.z[i] + reach <= upper[i] ? [reach, -reach] : [-reach, reach]) {
        const z = best.z.map((v, j) => (j === i ? v + h : v));
        const probe = problem.margins(z);
        yield say();
        if (!probe) continue;
        probe.margins.forEach((m, k) => {
          slopes[k][i] = (m - best.margins[k]) / h;
        });
        break;
      }
    }
    const linear = best.margins.map((m, k) => aims[k] - m + slopes[k].reduce((sum, v, i) => sum + v * best.z[i], 0));
    let moved = false;
    while (trust > 0.02) {
      const low = lower.map((v, i) => Math.max(v, best.z[i] - trust * (upper[i] - v)));
      const high = upper.map((v, i) => Math.min(v, best.z[i] + trust * (v - lower[i])));
      const box = bounds(n, low, high);
      const slack = 1 / Math.sqrt(SLACK_PRICE);
      const step = leastChange(n + 1, { g: [...slopes.map((row) => [...row, slack]), ...box.g], h: [...linear, ...box.h] });
      if (!step) {
        trust /= 3;
        continue;
      }
      const z = step.slice(0, n).map((v, i) => Math.min(high[i], Math.max(low[i], v)));
      const far = Math.max(...z.map((v, i) => Math.abs(v - best.z[i])));
      if (far < STILL) break;
      const tried = problem.margins(z);
      yield say();
      const next = tried && judge(z, tried.margins);
      if (tried && next && verdict(next) < verdict(best) - 1e-9) {
        best = next;
        aims = tried.aims;
        moved = true;
        trust = Math.min(1, trust * 2);
        break;
      }
      trust /= 3;
    }
    if (!moved) break;
  }
  return best;
}
