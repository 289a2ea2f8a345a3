/** From targets to a proposal: the least change to the chosen levers that meets them all, tried by the kernel. */
import { checkDesign } from '../design/read';
import type { Design } from '../design/schema';
import { BuildError } from '../errors';
import { buildHull } from '../hull/hull';
import { planBoard, planOn } from '../plan';
import type { Figure, Said } from '../said';
import type { Plan } from '../types';
import { descend, type Found, type Problem } from './descent';
import { familyRow, type FamilyRow } from './family';
import { amountOf, leverById, pulled, type Lever, type LeverId } from './levers';
import { massOf, massWithoutFrames } from './weigh';
import { LEVERS_FOR, checkTarget, figureOf, marginsOf, residualOf, type Seen, type Target } from './targets';

/** A lever the maker chose, with a narrower range if wanted (amounts, in the lever's unit). */
export interface LeverChoice {
  readonly id: LeverId;
  readonly min?: number;
  readonly max?: number;
}

export interface SolveOptions {
  /** Levers to try; those that affect the targets where left out. */
  readonly levers?: readonly LeverChoice[];
  /** Spacing of run samples while searching, mm; the verdict is always at the plan's own spacing. */
  readonly step?: number;
  /** Whether this is a search for a part of a greater target, which searches for no nearer one in turn. */
  readonly partly?: boolean;
}

/** How far the search is. */
export interface SolveProgress {
  /** Boards planned so far. */
  readonly plans: number;
  /** Which start of how many at most. */
  readonly start: number;
  readonly starts: number;
  readonly round: number;
  /** Sum of what the targets still lack (per cent, degrees, mm of gap), and the change made, in whole changes. */
  readonly lack: number;
  readonly change: number;
}

/** One lever pulled. */
interface LeverPull {
  readonly lever: LeverId;
  readonly title: string;
  readonly amount: number;
  /** The amount as it is told. */
  readonly by: Figure;
  /** Whether the amount lies at the end of its range. */
  readonly atLimit: boolean;
}

/** One target and its outcome. Figures as in `Target`; undefined where the board has no such row. */
interface TargetOutcome {
  readonly target: Target;
  readonly before?: number;
  readonly after?: number;
  readonly met: boolean;
  /** How far outside the target the figure still lies; Infinity where there is none. */
  readonly residual: number;
}

export interface Solution {
  /** `already`: met without change; `met`: the proposal meets every target; `none`: the closest reached does not. */
  readonly verdict: 'already' | 'met' | 'none';
  /** The proposal, or the closest board reached; passes `checkDesign`. */
  readonly design: Design;
  readonly changes: readonly LeverPull[];
  readonly targets: readonly TargetOutcome[];
  /** Root of the sum of squared changes, each in whole changes of its lever: what was made least. */
  readonly change: number;
  readonly tried: {
    readonly plans: number;
    readonly starts: number;
    readonly levers: readonly { readonly id: LeverId; readonly title: string; readonly range: Figure }[];
  };
  readonly before: FamilyRow;
  readonly after: FamilyRow;
  /** One sentence for the maker. */
  readonly message: Said;
}

const SEARCH_STEP = 8;
/** Times the ribs' weight is taken again in a search for mass. */
const WEIGHINGS = 3;
/** Levers pulled by less than this, in whole changes, are dropped if the targets can do without them. */
const IDLE = 0.05;
/** And by less than this not at all. */
const NOTHING = 1e-3;

/** The levers' ranges cut to the choice. Throws a RangeError for a range that does not hold 0 or lies outside the lever's own. */
function chosen(choices: readonly LeverChoice[]): { lever: Lever; min: number; max: number }[] {
  return choices.map(({ id, min, max }) => {
    const lever = leverById(id);
    const low = min ?? lever.min;
    const high = max ?? lever.max;
    if (!(low >= lever.min && low <= 0 && high >= 0 && high <= lever.max)) {
      throw new RangeError(`${id}: ${low} to ${high} given; a range within ${lever.min} to ${lever.max} that holds 0 allowed`);
    }
    return { lever, min: low, max: high };
  });
}

/** What the search needs of one board, or undefined where the levers make none. */
function see(design: Design, targets: readonly Target[], step: number, frames: number): Seen | undefined {
  if (!checkDesign(design).ok) return undefined;
  try {
    const hull = buildHull(design);
    if (targets.every((t) => t.kind === 'volume')) return { hull };
    const plan = planOn(design, hull, { step });
    return { hull, plan, mass: targets.some((t) => t.kind === 'mass') ? massWithoutFrames(plan) + frames : undefined };
  } catch (error) {
    if (error instanceof BuildError) return undefined;
    throw error;
  }
}

function problemOf(design: Design, targets: readonly Target[], levers: ReturnType<typeof chosen>, step: number, frames: () => number, count: () => void): Problem {
  return {
    lower: levers.map((l) => l.min / l.lever.whole),
    upper: levers.map((l) => l.max / l.lever.whole),
    margins: (z) => {
      count();
      const seen = see(pulled(design, levers.map((l) => l.lever), z.map((v, i) => v * levers[i].lever.whole)), targets, step, frames());
      if (!seen) return undefined;
      const each = targets.map((t) => marginsOf(t, seen));
      return { margins: each.flatMap((m) => m.margins), aims: each.flatMap((m) => m.margins.map(() => m.aim)) };
    },
  };
}

/** Starts after the board itself: every lever half way, then all the way, to the side that helps the worst margin. Yields after every board. */
function* otherStarts(problem: Problem, from: Found): Generator<void, number[][]> {
  const worst = from.margins.indexOf(Math.min(...from.margins));
  const side: number[] = [];
  for (let i = 0; i < from.z.length; i++) {
    const helps: number[] = [];
    for (const v of [problem.lower[i], problem.upper[i]]) {
      helps.push(problem.margins(from.z.map((z, j) => (j === i ? v : z)))?.margins[worst] ?? -Infinity);
      yield;
    }
    side.push(helps[0] === helps[1] ? 0 : helps[1] > helps[0] ? problem.upper[i] : problem.lower[i]);
  }
  return [side.map((v) => v / 2), side];
}

/** The found change where it meets everything. */
const whole = (found: Found | undefined): Found | undefined => (found?.lack === 0 ? found : undefined);

/**
 * Search for the least change that meets every target. A generator: it yields its progress after every board tried,
 * so that a worker can report, and stop by not asking on. Throws a RangeError for a target or range outside its
 * limits and a BuildError where the design given makes no board.
 *
 * Least means the sum of squares of the lever amounts, each in its own `whole` (the table in `levers`). Sizes that
 * are sawn come out in their steps where the targets allow it. The search is local, from the board as it is and from
 * up to two other starts: `none` means that nothing was found within these levers and ranges, not that nothing
 * exists.
 */
export function* solving(design: Design, targets: readonly Target[], options: SolveOptions = {}): Generator<SolveProgress, Solution> {
  if (targets.length === 0) throw new RangeError('targets: none given; at least one allowed');
  targets.forEach(checkTarget);
  const step = options.step ?? SEARCH_STEP;
  const all = chosen(options.levers ?? [...new Set(targets.flatMap((t) => LEVERS_FOR[t.kind]))].map((id) => ({ id })));
  const before = planBoard(design);
  const weighed = targets.some((t) => t.kind === 'mass');
  const exact = (plan: Plan): Seen => ({ hull: plan.hull, plan, mass: weighed ? massOf(plan) : undefined });
  const seenBefore = exact(before);
  const figures = targets.map((t) => figureOf(t, seenBefore));
  let frames = seenBefore.mass === undefined ? 0 : seenBefore.mass - massWithoutFrames(before);
  let plans = 0;
  let starts = 0;
  const problem = problemOf(design, targets, all, step, () => frames, () => plans++);
  const change = ({ z }: Found): Design =>
    pulled(design, all.map((l) => l.lever), z.map((v, i) => (Math.abs(v) < NOTHING ? 0 : v * all[i].lever.whole)));

  function* from(within: Problem, z: readonly number[], start: number): Generator<SolveProgress, Found | undefined> {
    const search = descend(within, z);
    for (let next = search.next(); ; next = search.next()) {
      if (next.done) return next.value;
      yield { plans, start, starts: 3, ...next.value };
    }
  }
  function* elsewhere(found: Found): Generator<SolveProgress, number[][]> {
    const search = otherStarts(problem, found);
    for (let next = search.next(); ; next = search.next()) {
      if (next.done) return next.value;
      yield { plans, start: starts, starts: 3, round: 0, lack: found.lack, change: Math.sqrt(found.cost) };
    }
  }
  /** Search on with some levers held where they are; keeps the better of what was and what is found. */
  function* refine(found: Found, holds: readonly { readonly index: number; readonly z: number }[]): Generator<SolveProgress, Found | undefined> {
    const held = (list: readonly number[]) => list.map((v, i) => holds.find((h) => h.index === i)?.z ?? v);
    return yield* from({ ...problem, lower: held(problem.lower), upper: held(problem.upper) }, held(found.z), starts);
  }

  const zero = all.map(() => 0);
  const already = targets.every((t, i) => residualOf(t, figures[i]) === 0);
  let best: Found = { z: zero, margins: [], lack: already ? 0 : Infinity, cost: 0 };
  for (let weighing = 0; !already && weighing < (weighed ? WEIGHINGS : 1); weighing++) {
    starts = 1;
    let found = yield* from(problem, weighing === 0 ? zero : best.z, starts);
    if (!found) break;
    for (const z of whole(found) ? [] : yield* elsewhere(found)) {
      starts++;
      const other: Found | undefined = yield* from(problem, z, starts);
      if (other && other.lack < found.lack) found = other;
      if (whole(found)) break;
    }
    best = found;
    if (whole(best)) {
      const idle = best.z.flatMap((v, index) => (v !== 0 && Math.abs(v) < IDLE ? [{ index, z: 0 }] : []));
      const fewer = idle.length > 0 ? yield* refine(best, idle) : undefined;
      best = whole(fewer) ?? best;
      const gone = best.z.flatMap((v, index) => (v === 0 ? [{ index, z: 0 }] : []));
      const sawn = all.flatMap(({ lever, min, max }, index) => {
        if (lever.step === undefined || best.z[index] === 0) return [];
        const amount = Math.min(max, Math.max(min, Math.round((best.z[index] * lever.whole) / lever.step) * lever.step));
        return [{ index, z: amount / lever.whole }];
      });
      const stepped = sawn.length > 0 ? yield* refine(best, [...gone, ...sawn]) : undefined;
      best = whole(stepped) ?? best;
    }
    if (!weighed || !whole(best)) break;
    const plan = planBoard(change(best));
    const seen = exact(plan);
    if (targets.every((t) => residualOf(t, figureOf(t, seen)) === 0)) break;
    frames = (seen.mass ?? 0) - massWithoutFrames(plan);
  }

  const judge = (seen: Seen) => targets.map((target, i): TargetOutcome => {
    const after = figureOf(target, seen);
    const residual = residualOf(target, after);
    return { target, before: figures[i], after, met: residual === 0, residual };
  });
  let proposal = change(best);
  let plan = already ? before : planBoard(proposal);
  let seen = already ? seenBefore : exact(plan);
  let outcomes = judge(seen);
  // The search goes by smooth margins. By its figures a board may come no closer than the one there is, and a spacer
  // row may stop for another reason than the one the margins were led by: the nearest is then searched by its figure.
  const asIs = judge(seenBefore);
  const closer = (a: readonly TargetOutcome[], b: readonly TargetOutcome[]) => a.some((o, i) => o.residual < b[i].residual);
  if (!already && !options.partly && outcomes.some((o) => !o.met) && (!closer(outcomes, asIs) || targets.some((t) => t.kind === 'reach'))) {
    const nearer = yield* nearerTarget(design, targets, figures, options, (p) => ({ ...p, plans: plans + p.plans }));
    plans += nearer.plans;
    const other: Found = {
      ...best, z: all.map(({ lever }) => (nearer.changes.find((c) => c.lever === lever.id)?.amount ?? 0) / lever.whole), cost: nearer.change ** 2,
    };
    const otherPlan = planBoard(change(other));
    const otherSeen = exact(otherPlan);
    const otherOutcomes = judge(otherSeen);
    if (!closer(outcomes, asIs) || closer(otherOutcomes, outcomes)) {
      [best, proposal, plan, seen, outcomes] = [other, change(other), otherPlan, otherSeen, otherOutcomes];
    }
  }
  const amounts = best.z.map((v, i) => (Math.abs(v) < NOTHING ? 0 : v * all[i].lever.whole));
  const verdict = already ? 'already' : outcomes.every((o) => o.met) ? 'met' : 'none';
  const weigh = (s: Seen) => () => s.mass;
  return {
    verdict,
    design: proposal,
    changes: all.flatMap(({ lever, min, max }, i) =>
      Math.abs(amounts[i]) < 1e-9 ? [] : [{
        lever: lever.id, title: lever.title, amount: amounts[i], by: amountOf(lever, amounts[i]),
        atLimit: amounts[i] <= min + NOTHING * lever.whole || amounts[i] >= max - NOTHING * lever.whole,
      }]),
    targets: outcomes,
    change: Math.sqrt(best.cost),
    tried: {
      plans, starts,
      levers: all.map(({ lever, min, max }) => ({ id: lever.id, title: lever.title, range: amountOf(lever, min, max) })),
    },
    before: familyRow(before, weigh(seenBefore)),
    after: familyRow(plan, weigh(seen)),
    message: {
      already: 'The board meets this already.',
      met: 'This is the least change found that meets it.',
      none: best.cost === 0
        ? 'No change within these levers and ranges was found that meets it, or comes closer than the board as it is.'
        : 'No change within these levers and ranges was found that meets it; this is the closest reached.',
    }[verdict],
  };
}

/** Times the way from a board's own figure to the target is halved in search of the nearest that can be met. */
const HALVINGS = 5;

/** A target for a figure so far along the way from the board's own to the target. */
function partWay(target: Target, own: number, share: number): Target {
  const toward = (to: number) => own + (to - own) * share;
  if (target.kind === 'bevel') return { ...target, most: toward(target.most) };
  return target.kind === 'reach' ? { ...target, within: toward(target.within) } : { ...target, value: toward(target.value) };
}

/**
 * The change that meets the most of a single target that cannot be met whole: the farthest of the figures on the way to
 * it that can be, by halving. No change where there are several targets, no figure to start from, or none is met.
 */
function* nearerTarget(
  design: Design, targets: readonly Target[], figures: readonly (number | undefined)[], options: SolveOptions, tell: (p: SolveProgress) => SolveProgress,
): Generator<SolveProgress, { changes: readonly LeverPull[]; change: number; plans: number }> {
  const own = figures[0];
  let found: { changes: readonly LeverPull[]; change: number; plans: number } = { changes: [], change: 0, plans: 0 };
  if (targets.length !== 1 || own === undefined) return found;
  let [met, missed] = [0, 1];
  for (let k = 0; k < HALVINGS; k++) {
    const share = (met + missed) / 2;
    const search = solving(design, [partWay(targets[0], own, share)], { ...options, partly: true });
    const before = found.plans;
    let result: Solution | undefined;
    for (let next = search.next(); ; next = search.next()) {
      if (next.done) {
        result = next.value;
        break;
      }
      yield tell({ ...next.value, plans: before + next.value.plans });
    }
    const plans = before + result.tried.plans;
    if (result.verdict === 'met') {
      met = share;
      found = { changes: result.changes, change: result.change, plans };
    } else {
      missed = share;
      found = { ...found, plans };
    }
  }
  return found;
}
