/** How a strip bends, in words. */
import type { Method } from '../../geometry/design/methods';
import type { Design, TrialBend } from '../../geometry/design/schema';
import { isHeated } from '../../geometry/parts/stripWords';
import type { BendZone } from '../../geometry/parts/types';
import { trialStrain } from '../../geometry/wood/trials';
import type { MethodHere } from '../../geometry/wood/ladder';
import type { BendLimits } from '../../geometry/wood/limits';
import { fixed, lengthText, lengthWithUnit, type Unit } from './units';
import { BEND_WORDS } from './words';

/** A method with the number of parts, where it makes several. */
export const bendText = ({ method, n }: MethodHere): string => (n > 1 ? `${BEND_WORDS[method]} in ${n}` : BEND_WORDS[method]);

/** What a method is drawn as: as it comes, with force, in heat, or not at all. */
export const BEND_TONES: Readonly<Record<Method, 'cold' | 'forced' | 'wet' | 'block'>> = {
  cold: 'cold', forced: 'forced', wet: 'wet', split: 'wet', layers: 'wet', strap: 'wet', block: 'block',
};

/** What a timber's limits are, in words. */
export const limitText = ({ cold, forced, wet, byTrial }: BendLimits): string =>
  `cold to ${strainText(cold)}${forced === undefined ? '' : `, forced to ${strainText(forced)}`}, in wet heat to ${strainText(wet)}${byTrial ? ' (limit by your trial bend)' : ''}`;

/** What a trial bend is of. */
const TRIAL_PARTS: Readonly<Record<string, string>> = { rail: 'strips', outer: 'outer skins' };

/** A trial bend in words. */
export const trialText = (trial: TrialBend, unit: Unit): string =>
  `${TRIAL_PARTS[trial.of] ?? trial.of}, ${lengthWithUnit(trial.bent === 'edge' ? trial.width : trial.thickness, unit)} ${trial.bent === 'edge' ? 'on edge' : 'on the flat'} ` +
  `to ${lengthWithUnit(trial.radius, unit, 0)}, ${trial.heat === 'cold' ? 'cold' : 'in wet heat'}: ${trial.held ? 'held' : 'broke'} at ${strainText(trialStrain(trial))}`;

/** That a plan goes by trial bends, and which; empty where it does not. */
export const trialWords = ({ trials = [] }: Design, unit: Unit): string =>
  (trials.length === 0 ? '' : `Limit by your trial ${trials.length === 1 ? 'bend' : 'bends'}: ${trials.map((trial) => trialText(trial, unit)).join('; ')}.`);

/** A strain as text. */
export const strainText = (strain: number): string => `${fixed(strain * 100, 2)} %`;

/** Radius from which a strip is called straight, mm: a metre of it is 1.25 mm off its chord, less than a hand sees. Own choice. */
const STRAIGHT = 1e5;

/** A radius as text, from the strip's own curve. */
export const radiusText = (radius: number, unit: Unit): string => (radius < STRAIGHT ? lengthText(radius, unit, 0) : 'straight');

/** A zone of a strip in words. */
export function zoneText(zone: BendZone, unit: Unit): string {
  const { s0, s1, strain, radius, wrap } = zone;
  const stretch = `${bendText(zone)}, ${lengthText(s0, unit, 0)} to ${lengthText(s1, unit, 0)} along the rail`;
  const bend = `least radius ${radiusText(radius, unit)}, strain up to ${strainText(strain)}`;
  return isHeated(zone) ? `${stretch}: ${bend}; wrap ${lengthText(wrap, unit, 0)}` : `${stretch}: ${bend}`;
}
