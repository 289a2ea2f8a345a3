/** Findings propose: changes that clear a finding, each planned before it is offered, with what it costs elsewhere. */
import { checkDesign } from '../design/read';
import type { Design } from '../design/schema';
import { BuildError } from '../errors';
import { planBoard } from '../plan';
import type { Said } from '../said';
import type { Finding, Plan } from '../types';
import type { Weigh } from './family';
import { REMEDIES, type Rung } from './remedies';

/** What else a change does: differences, changed board less present one. */
export interface Costs {
  /** Finished volume, mm3. */
  readonly volume: number;
  /** Timber mass, kg; left out where it was not weighed. */
  readonly mass?: number;
  /** Greatest bevel, rad, and least cover, mm. */
  readonly bevel: number;
  readonly cover: number;
  /** Stops of spacer rows that moved by a millimetre or more, or came or went (an undefined side): stations from the tail. */
  readonly stops: readonly { readonly row: number; readonly end: 'tail' | 'nose'; readonly from?: number; readonly to?: number }[];
  /** Findings that the change adds and clears, the one in question apart. */
  readonly appeared: readonly Finding[];
  readonly gone: readonly Finding[];
}

/** A change offered for a finding. */
export interface Proposal {
  readonly title: Said;
  /** Passes `checkDesign`. */
  readonly design: Design;
  /** Whether the finding is gone; else the change only improves it. */
  readonly clears: boolean;
  /** What is still there of the finding after the change, worst first: its figure, limit and stretch show how far it was improved. */
  readonly still: readonly Finding[];
  readonly costs: Costs;
}

export interface ProposalOptions {
  readonly weigh?: Weigh;
  /** Findings beyond the plan's own (bending, frames), so that changes are judged by them too. */
  readonly more?: (plan: Plan) => readonly Finding[];
}

/** Two findings of one code closer than this along the board are the same, mm: own choice. */
const SAME_PLACE = 100;
/** A change that does not clear is offered if it removes this share of the finding's size. Own choice. */
const WORTH = 0.25;
/** Length that a finding at one point counts as, mm. */
const POINT = 10;
/** Spacing of run samples while trying, mm; what is offered is judged at the plan's own. */
const TRY_STEP = 8;

const stretchOf = ({ place, extent }: Finding): readonly [number, number] | undefined =>
  extent ? [extent.from.x, extent.until.x] : place && [place.x, place.x];

/** Whether two findings are of one thing: one code, one strip where they are of strips, and places that touch or lie near. */
function same(a: Finding, b: Finding): boolean {
  if (a.code !== b.code || a.strip?.kind !== b.strip?.kind || a.strip?.order !== b.strip?.order) return false;
  const [p, q] = [stretchOf(a), stretchOf(b)];
  return !p || !q || (p[0] <= q[1] + SAME_PLACE && q[0] <= p[1] + SAME_PLACE);
}

/** What of a finding is there still: what has become a note is decided, and only a note asks for a note to go. */
const stillOf = (findings: readonly Finding[], finding: Finding): Finding[] =>
  findings.filter((f) => same(f, finding) && (f.level !== 'note' || finding.level === 'note'));

/** Size of what is left of a finding: how far its figure is beyond the limit, times how long the stretch is; 0 when gone. */
function left(findings: readonly Finding[], finding: Finding): number {
  return stillOf(findings, finding).reduce((sum, f) => {
    const [from, to] = stretchOf(f) ?? [0, 0];
    const depth = f.figure === undefined || f.limit === undefined ? 1 : Math.abs(f.figure - f.limit);
    return sum + depth * (to - from + POINT);
  }, 0);
}

/** A plan of a rung with its findings, or undefined where it makes no board. */
function tryRung(rung: Rung, more: ProposalOptions['more'], step?: number): { plan: Plan; findings: readonly Finding[] } | undefined {
  const checked = checkDesign(rung.design);
  if (!checked.ok) return undefined;
  try {
    const plan = planBoard(checked.design, step === undefined ? {} : { step });
    return { plan, findings: [...plan.findings, ...(more?.(plan) ?? [])] };
  } catch (error) {
    if (error instanceof BuildError) return undefined;
    throw error;
  }
}

function stopChanges(before: Plan, after: Plan): Costs['stops'] {
  const list = (plan: Plan) => {
    const seen = new Map<number, number>();
    return plan.rail.rows.flatMap((r) => {
      const stretch = (seen.get(r.row) ?? 0) + 1;
      seen.set(r.row, stretch);
      return [r.tail, r.nose].map((s) => ({ key: `${r.row} ${stretch} ${s.end}`, row: r.row, end: s.end, x: s.x }));
    });
  };
  const was = new Map(list(before).map((s) => [s.key, s]));
  const now = new Map(list(after).map((s) => [s.key, s]));
  return [...new Set([...was.keys(), ...now.keys()])].flatMap((key) => {
    const [a, b] = [was.get(key), now.get(key)];
    const one = a ?? b;
    if (!one || (a && b && Math.abs(a.x - b.x) < 1)) return [];
    return [{ row: one.row, end: one.end, from: a?.x, to: b?.x }];
  });
}

function costsOf(before: Plan, was: readonly Finding[], after: Plan, now: readonly Finding[], finding: Finding, weigh?: Weigh): Costs {
  const [a, b] = [weigh?.(before), weigh?.(after)];
  return {
    volume: after.hull.volume - before.hull.volume,
    mass: a === undefined || b === undefined ? undefined : b - a,
    bevel: after.rail.range.bevel.max - before.rail.range.bevel.max,
    cover: after.rail.range.cover.min - before.rail.range.cover.min,
    stops: stopChanges(before, after),
    appeared: now.filter((f) => !same(f, finding) && !was.some((w) => same(w, f))),
    gone: was.filter((f) => !same(f, finding) && !now.some((n) => same(n, f))),
  };
}

/**
 * The changes worth offering for one finding of a plan. For each remedy of its code the ladder is climbed until the
 * finding is gone, and that least rung is planned again at the plan's own spacing before it is offered; where none
 * clears it, the rung that leaves least of it (by depth and length) is offered as such, if it removes a quarter.
 * Those that clear come first, fewest new findings ahead. Empty for a finding that needs no change. A generator: it
 * yields the number of boards tried after each, so that a worker can report, and stop by not asking on. Throws a
 * RangeError where the finding is not one of the plan's (nor of `more`).
 */
export function* proposing(plan: Plan, finding: Finding, options: ProposalOptions = {}): Generator<number, Proposal[]> {
  const was = [...plan.findings, ...(options.more?.(plan) ?? [])];
  if (!was.some((f) => f.id === finding.id)) throw new RangeError(`finding: ${finding.id} given; one of ${was.map((f) => f.id).join(', ') || 'none'} allowed`);
  const out: Proposal[] = [];
  let tried = 0;
  const start = left(was, finding);
  for (const remedy of REMEDIES[finding.code] ?? []) {
    let nearest: { rung: Rung; left: number } | undefined;
    for (const rung of remedy(plan, finding)) {
      const got = tryRung(rung, options.more, TRY_STEP);
      yield ++tried;
      const remains = got ? left(got.findings, finding) : Infinity;
      if (remains < (nearest?.left ?? start * (1 - WORTH))) nearest = { rung, left: remains };
      if (remains === 0) break;
    }
    if (!nearest) continue;
    const got = tryRung(nearest.rung, options.more);
    yield ++tried;
    if (!got || left(got.findings, finding) > start * (1 - WORTH)) continue;
    const still = stillOf(got.findings, finding).sort((a, b) => left([b], finding) - left([a], finding));
    out.push({
      title: nearest.rung.title,
      design: got.plan.design,
      clears: still.length === 0,
      still,
      costs: costsOf(plan, was, got.plan, got.findings, finding, options.weigh),
    });
  }
  return out.sort((a, b) => Number(b.clears) - Number(a.clears) || a.costs.appeared.length - b.costs.appeared.length);
}
