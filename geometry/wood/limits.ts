/**
 * How far a timber bends: the strain its outer fibre takes cold, cold with force, and in wet heat. Working limits with
 * a source each where there is one; advice, never a promise: timber differs from tree to tree.
 */
import type { Design, SpeciesDesign, TrialBend } from '../design/schema';
import { speciesById } from '../design/timber';
import { said, type Said } from '../said';
import { trialBounds, type TrialBounds } from './trials';

/** Greatest fibre strains, ratios; `forced` is left out where a timber's own limits leave it no room. */
export interface BendLimits {
  readonly cold: number;
  readonly forced?: number;
  readonly wet: number;
  /** Which of them the maker's trial bends have set; absent where none. */
  readonly byTrial?: readonly ('cold' | 'forced' | 'wet')[];
}

/**
 * Most that a timber takes cold, whatever its strength: laminations of glulam are bent to radii of 100 thicknesses at
 * least in hardwood and southern pine, 125 in other softwoods (Civil Engineering Formulas, timber chapter, p. 167; read).
 */
const COLD_CAP = { hardwood: 1 / 200, softwood: 1 / 250 } as const;
/** Shares of the nominal breaking strain MOR / MOE: cold, forced, wet. Own choices. */
const SHARE = { cold: 0.5, forced: 0.75, wet: 1.5 } as const;
/** What steamed wood stretches, whatever its strength: 1 to 2 % (Wood Handbook, FPL-GTR-190, 2010; from memory). */
const WET_RANGE = { least: 0.01, most: 0.02 } as const;

/** Nominal breaking strain MOR / MOE of a timber, a ratio. */
const breakingStrain = ({ mor, moe }: Pick<SpeciesDesign, 'mor' | 'moe'>): number => mor / moe;

/** A limit once trial bends are heard: never under what held, never over what a break allows. */
const heard = (own: number, { held = 0, most = Infinity }: TrialBounds): number => Math.min(Math.max(own, held), most);

/**
 * Limits of a timber, ratios: its own where the maker gave them, else by its strength and class; and then by the trial
 * bends of the batch. A bend that held proves that much and says nothing against a tighter one, so it only raises a
 * limit; one that broke only lowers it.
 */
export function limitsOf(species: SpeciesDesign, trials: readonly TrialBend[] = []): BendLimits {
  const own = ownLimits(species);
  if (trials.length === 0) return own;
  const bounds = { cold: trialBounds(trials, 'cold'), wet: trialBounds(trials, 'wet') };
  const cold = heard(own.cold, bounds.cold);
  const wet = heard(own.wet, bounds.wet);
  const force = Math.min(SHARE.forced * breakingStrain(species), wet, bounds.cold.most ?? Infinity);
  const forced = force > cold && force < wet ? force : undefined;
  const byTrial = ([['cold', cold], ['forced', forced], ['wet', wet]] as const).flatMap(([heat, limit]) => (limit === undefined || limit === own[heat] ? [] : [heat]));
  return { cold, ...(forced === undefined ? {} : { forced }), wet, ...(byTrial.length > 0 ? { byTrial } : {}) };
}

function ownLimits(species: SpeciesDesign): BendLimits {
  const b = breakingStrain(species);
  const cold = species.dryLimit ?? Math.min(SHARE.cold * b, COLD_CAP[species.woodClass ?? 'softwood']);
  const wet = species.steamLimit ?? Math.max(cold, Math.min(WET_RANGE.most, Math.max(WET_RANGE.least, SHARE.wet * b)));
  const forced = Math.min(SHARE.forced * b, wet);
  return forced > cold && forced < wet ? { cold, forced, wet } : { cold, wet };
}

/** Limits of the timber of strips and spacers, or of the outer skins, with the trial bends of that part or of its timber. */
export const limitsFor = (design: Design, part: 'rail' | 'outer'): BendLimits =>
  limitsOf(speciesById(design, design.timber[part]), design.trials?.filter(({ of }) => of === part || of === design.timber[part]));

/** Where each limit of a timber comes from, in words, trial bends not heard. */
export function limitSources(species: SpeciesDesign): Readonly<Record<'cold' | 'forced' | 'wet', Said>> {
  const kind = species.woodClass ?? 'softwood';
  const own = 'your own figure';
  return {
    cold: species.dryLimit !== undefined ? own : said('half of MOR / MOE (own choice), at most {cap} for a {kind} (glulam practice: Civil Engineering Formulas, p. 167)', {
      cap: { of: 'strain', value: COLD_CAP[kind], decimals: 1 }, kind,
    }),
    forced: said('{share} of MOR / MOE (own choice): straight grain, a trial offcut first, and spares', { share: { of: 'share', value: SHARE.forced } }),
    wet: species.steamLimit !== undefined ? own : said('{share} of MOR / MOE (own choice), within the {range} that steamed wood stretches (Wood Handbook, from memory)', {
      share: { of: 'share', value: SHARE.wet }, range: { of: 'strain', value: [WET_RANGE.least, WET_RANGE.most], between: 'to' },
    }),
  };
}
