/**
 * Trial bends: what a maker found by bending an offcut of the batch. They are kept beside the board (the readings file)
 * and become the batch's limits: a strip bent over a size to a radius takes a fibre strain of half the size over the
 * radius of its middle line (Euler-Bernoulli; provable).
 */
import type { Design, TrialBend } from '../design/schema';

/** Share of the strain at which a trial broke that is still allowed, where nothing tighter held: own choice, as for `forced`. */
const UNDER_BREAK = 0.75;

/** Fibre strain of a trial bend, a ratio. */
export const trialStrain = ({ width, thickness, bent, radius }: Pick<TrialBend, 'width' | 'thickness' | 'bent' | 'radius'>): number =>
  (bent === 'edge' ? width : thickness) / (2 * radius);

/** What trial bends say of one heat, ratios. */
export interface TrialBounds {
  /** Greatest strain that held, below any that broke. */
  readonly held?: number;
  /** Greatest strain that a break still allows; never under `held`. */
  readonly most?: number;
}

/**
 * What trial bends of one timber say of a heat. What held cold holds in wet heat too, and what broke in wet heat breaks
 * cold. Of trials that contradict each other the cautious ones are heard: a strain held counts only below all that broke.
 */
export function trialBounds(trials: readonly TrialBend[], heat: 'cold' | 'wet'): TrialBounds {
  const strains = (held: boolean) => trials
    .filter((trial) => trial.held === held && (trial.heat === heat || (held ? trial.heat === 'cold' : trial.heat === 'wet')))
    .map(trialStrain);
  const broke = Math.min(...strains(false));
  const held = Math.max(...strains(true).filter((strain) => strain < broke), 0);
  return {
    ...(held > 0 ? { held } : {}),
    ...(Number.isFinite(broke) ? { most: Math.max(held, UNDER_BREAK * broke) } : {}),
  };
}

const made = new WeakMap<Design, { readonly trials: readonly TrialBend[]; readonly design: Design }>();

/**
 * The design that is planned: a board with its batch's trial bends, which the ladder of methods then goes by. The same
 * board and trials give the same object; a board without trials is itself.
 */
export function withTrials(design: Design, trials: readonly TrialBend[] = []): Design {
  if (trials.length === 0) return design;
  const known = made.get(design);
  if (known?.trials === trials) return known.design;
  const planned: Design = { ...design, trials: [...trials] };
  made.set(design, { trials, design: planned });
  return planned;
}

/** The board alone again, as it is kept: a design that came back from planning without its trial bends. */
export function withoutTrials(design: Design): Design {
  if (design.trials === undefined) return design;
  const { trials: _, ...board } = design;
  return board;
}
