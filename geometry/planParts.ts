/**
 * Everything for the bench from one plan: bending, joints, blanks, frames, totals, order of work. One member
 * that fails becomes a finding; the rest still come out.
 */
import { airPaths } from './frame/air';
import { planFittings } from './frame/fittings';
import { planFrames } from './frame/frames';
import { planJigs } from './frame/jigs';
import { whatOf } from './errors';
import { told } from './rail/decisions';
import { layAgain } from './rail/query';
import { said } from './said';
import type { Finding, Plan, Side } from './types';
import { bendingFindings, planBending } from './parts/bending';
import { planBlanks } from './parts/blanks';
import { lieFindings, planLies } from './parts/lies';
import { planJoints } from './parts/joints';
import { planMilling } from './parts/milling';
import { loadMilp, MILP_LIMITS, type MilpLimits, type MilpSolver } from './parts/milp';
import { planTotals } from './parts/totals';
import { planSkinPlanks } from './parts/skinPlanks';
import type { BuiltSide, Parts } from './parts/types';
import { workSteps } from './parts/work';

/** The members of the bench, in the order they are made. */
export const PARTS_STAGES = ['bending', 'lies', 'blanks', 'frames', 'fittings', 'jigs', 'joints', 'milling', 'skins', 'totals', 'steps'] as const;
export type PartsStage = (typeof PARTS_STAGES)[number];

export interface PartsOptions {
  /** Mixed-integer solver; loaded on demand where none is given. */
  readonly solver?: MilpSolver;
  readonly limits?: MilpLimits;
  /** Plans of the sides that were measured; a side left out is as drawn. */
  readonly built?: Readonly<Partial<Record<Side, Plan>>>;
  /** Called before each stage with its name and the share of stages done, 0 to 1; and once at the end. */
  readonly onProgress?: (stage: PartsStage | 'done', share: number) => void;
  /** Asked between stages (an AbortSignal serves). */
  readonly signal?: { readonly aborted: boolean };
  /** Awaited between stages, so that the caller's thread can hear a cancel; nothing where left out. */
  readonly pause?: () => Promise<void>;
}

/** The work was cancelled between two stages. */
export class PartsCancelled extends Error {
  constructor(readonly stage: PartsStage) {
    super(`Cancelled before ${stage}`);
    this.name = 'PartsCancelled';
  }
}

type Draft = Omit<Finding, 'id'>;

/**
 * Plan the bench. Joints are the slow member (the solver blocks its thread: call this in a worker).
 * Rejects only with PartsCancelled; every other failure is a finding of the result.
 */
export async function planParts(plan: Plan, options: PartsOptions = {}): Promise<Parts> {
  const drafts: Draft[] = [];
  let done = 0;
  const stage = async <T>(name: PartsStage, title: string, make: () => T | Promise<T>): Promise<T | undefined> => {
    if (options.signal?.aborted) throw new PartsCancelled(name);
    options.onProgress?.(name, done / PARTS_STAGES.length);
    await options.pause?.();
    if (options.signal?.aborted) throw new PartsCancelled(name);
    done++;
    for (const each of [plan, ...Object.values(options.built ?? {})]) layAgain(each);
    try {
      return await make();
    } catch (error) {
      drafts.push({
        code: 'not-made', level: 'check', title: said('{what} could not be made', { what: title }),
        advice: said('{why}. The other papers are not affected.', { why: whatOf(error) }),
      });
      return undefined;
    }
  };
  const keep = (findings: readonly Finding[]) => {
    for (const { id: _, ...draft } of findings) drafts.push(draft);
  };

  // Cut list and steps are each side's own where one was measured; all else is the board's as drawn.
  const { built = {} } = options;
  const measured = (['starboard', 'port'] as const).filter((side) => built[side] !== undefined);
  const bent = await stage('bending', 'The bending table', () => {
    const bending = planBending(plan);
    drafts.push(...bendingFindings(plan, bending));
    const sideOf = (of: Plan | undefined): BuiltSide => (of ? { plan: of, bending: planBending(of) } : { plan, bending });
    return { bending, starboard: sideOf(built.starboard), mirror: sideOf(built.port) };
  });
  const { bending, starboard, mirror } = bent ?? { bending: [], starboard: { plan, bending: [] }, mirror: { plan, bending: [] } };
  const port = measured.length > 0 ? { ...mirror, measured } : undefined;
  const lies = (await stage('lies', 'How the strips lie', () => {
    const made = planLies(plan, bending);
    drafts.push(...lieFindings(plan, bending, made));
    return made;
  })) ?? [];
  const blanks = await stage('blanks', 'The skin blanks', () => planBlanks(plan, bending));
  keep(blanks?.findings ?? []);
  const skins = blanks?.blanks ?? [];
  const framed = await stage('frames', 'Ribs and stringer', () => planFrames(plan));
  keep(framed?.findings ?? []);
  const fitted = await stage('fittings', 'Vent and fittings', () => {
    const placed = planFittings(plan);
    return { ...placed, air: airPaths(plan, framed?.frames ?? [], placed.vent) };
  });
  drafts.push(...(fitted?.findings ?? []), ...(fitted && framed ? fitted.air.findings : []));
  const jigs = await stage('jigs', 'Templates and supports', () => planJigs(plan));
  const joined = await stage('joints', 'Joints and cutting list', async () =>
    planJoints(starboard.plan, starboard.bending, options.solver ?? (await loadMilp()), options.limits ?? MILP_LIMITS, port));
  keep(joined?.findings ?? []);
  const milled = await stage('milling', 'The mill list', async () =>
    (joined?.joints ? planMilling(starboard.plan.design, joined.joints, options.solver ?? (await loadMilp()), options.limits) : undefined));
  keep(milled?.findings ?? []);
  const planked = await stage('skins', 'Deck and bottom skin', () => planSkinPlanks(plan));
  keep(planked?.findings ?? []);
  const totals = await stage('totals', 'The totals', () => planTotals(plan, {
    bending, joints: joined?.joints, milling: milled?.milling, boards: blanks?.boards, frames: framed?.frames ?? [], nest: framed?.nest, skins: planked?.skins,
  }));
  keep(totals?.findings ?? []);
  const steps = (await stage('steps', 'The order of work', () => workSteps(starboard.plan, starboard.bending, joined?.joints, skins, lies, planked?.skins, port))) ?? [];
  options.onProgress?.('done', 1);
  return {
    bending, lies, joints: joined?.joints, milling: milled?.milling, blanks: skins, boards: blanks?.boards, skins: planked?.skins,
    frames: framed?.frames ?? [], nest: framed?.nest, blocks: framed?.blocks,
    fittings: fitted && { vent: fitted.vent, blocks: fitted.fittings, air: fitted.air.rooms }, jigs, totals: totals?.totals, steps, findings: told(drafts, plan.design, plan.hull.length),
  };
}
