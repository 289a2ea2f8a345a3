/**
 * The ladder of methods: how a stretch of strip is brought to its curve with the least trouble that does. A strip's
 * fibre strain e is half its width times the bend on edge and half its thickness times the bend on the flat, added
 * (rail/strain.ts); on its own, bent to radius R, R / t = 1 / (2 e).
 *   cold          e within the timber's cold limit
 *   cold, forced  within its forced limit: clamps and care
 *   wet heat      within its wet limit
 *   split         in n on its width, n strips side by side: e on edge / n + e on the flat within the wet limit (provable)
 *   layers        outer skins, in n on their thickness: e / n within the wet limit (provable)
 *   strapped      wet, with a strap on its back: R / t at least 16 (Lemoine & Koch 1971, southern pine, abstract: 75 % near perfect)
 *   block         the rest
 */
import { METHODS, type Method } from '../design/methods';
import type { Design } from '../design/schema';
import { limitsFor, type BendLimits } from './limits';

/** No strip is split narrower, no layer planed thinner than this, mm: own choices. */
const LEAST_SPLIT = 3;
const LEAST_LAYER = 1.5;
/** Greatest strain of a strapped bend: radius 16 thicknesses. */
const STRAP_LIMIT = 1 / 32;

/** The kinds of strip that a maker chooses methods for. */
export type BentKind = 'sole' | 'rows' | 'cap' | 'skins';

/** A method at a place, with into how many strips or layers; 1 where it is one. */
export interface MethodHere {
  readonly method: Method;
  readonly n: number;
}

/** A method, and the greatest strain it may leave to bear. */
interface Rung extends MethodHere {
  readonly limit: number;
}

/** What is accepted for a strip at one end of the board, least trouble first, the block left out: it does what these do not. */
export interface BendRule {
  readonly limits: BendLimits;
  /** Split and layers once for each number that may be made. */
  readonly rungs: readonly Rung[];
}

/** A method's place on the ladder, least trouble first. */
export const methodRank = (method: Method): number => METHODS.indexOf(method);

/** Sizes of a kind of strip as it is bent, mm: on edge, on the flat. */
function sizesOf({ rail }: Design, kind: BentKind): { width: number; thickness: number } {
  switch (kind) {
    case 'rows': return { width: rail.spacerWidth, thickness: rail.spacerHeight };
    case 'skins': return { width: 0, thickness: rail.outerThickness };
    default: return { width: rail.stripWidth, thickness: kind === 'sole' ? rail.soleThickness : rail.capThickness };
  }
}

/**
 * What is accepted at an end: methods up to the maker's choice there, else up to wet heat, outer skins up to layers.
 * Splitting and strapping want the maker's yes, once for the board or by being chosen.
 */
function bendRule(design: Design, kind: BentKind, end: 'tail' | 'nose'): BendRule {
  const chosen = design.methods?.[kind]?.[end];
  const { split = false, strap = false } = design.consents ?? {};
  const limits = limitsFor(design, kind === 'skins' ? 'outer' : 'rail');
  const { width, thickness } = sizesOf(design, kind);
  // Without a choice the consents say how far it goes; a chosen block says that nothing more is wanted.
  const most = methodRank(chosen ?? 'block');
  const rung = (method: Method, limit: number | undefined, does = true, parts = 1): Rung[] =>
    (limit === undefined || !does || methodRank(method) > most ? []
    : parts === 1 ? [{ method, n: 1, limit }] : Array.from({ length: Math.max(0, parts - 1) }, (_, i) => ({ method, n: i + 2, limit })));
  const into = (size: number, least: number) => Math.max(0, Math.floor(size / least + 1e-9));
  return {
    limits,
    rungs: [
      ...rung('cold', limits.cold), ...rung('forced', limits.forced), ...rung('wet', limits.wet),
      ...(kind === 'skins' ? rung('layers', limits.wet, into(thickness, LEAST_LAYER) > 1, into(thickness, LEAST_LAYER))
      : rung('split', limits.wet, (split || chosen === 'split') && into(width, LEAST_SPLIT) > 1, into(width, LEAST_SPLIT))),
      ...rung('strap', STRAP_LIMIT, strap || chosen === 'strap'),
    ],
  };
}

/** Strain left to bear by a method: `edge` and `flat` are the whole strip's, ratios. */
export const borne = ({ method, n }: MethodHere, edge: number, flat: number): number =>
  (method === 'split' ? edge / n + flat : method === 'layers' ? edge + flat / n : edge + flat);

/** What is accepted for a kind of strip at both ends of the board, each for its half of the rail. */
export interface EndRules {
  readonly tail: BendRule;
  readonly nose: BendRule;
}

export const endRules = (design: Design, kind: BentKind): EndRules => ({ tail: bendRule(design, kind, 'tail'), nose: bendRule(design, kind, 'nose') });

/** The least troublesome accepted method for strains on edge and on the flat; the block where none does. */
export function methodAt(rule: BendRule, edge: number, flat: number): MethodHere {
  for (const rung of rule.rungs) if (borne(rung, edge, flat) <= rung.limit) return { method: rung.method, n: rung.n };
  return { method: 'block', n: 1 };
}

/** The rung that comes nearest to bearing it, and what it would have to bear: like with like, where none does. */
export function nearestRung(rule: BendRule, edge: number, flat: number): Rung & { readonly strain: number } {
  return rule.rungs.map((rung) => ({ ...rung, strain: borne(rung, edge, flat) })).reduce((best, next) => (next.limit - next.strain > best.limit - best.strain ? next : best));
}

/** Strain that the rule still has free, a ratio: negative where only a block does. Continuous in both strains. */
export function roomOf(rule: BendRule, edge: number, flat: number): number {
  let room = -Infinity;
  for (const rung of rule.rungs) room = Math.max(room, rung.limit - borne(rung, edge, flat));
  return room;
}
