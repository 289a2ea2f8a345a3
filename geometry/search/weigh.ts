/** What a board weighs, quickly during a search, and exactly when it is shown. */
import type { Design } from '../design/schema';
import { speciesById } from '../design/timber';
import { framesVolume } from '../frame/frames';
import { CLOSELY, QUICKLY } from '../frame/weighing';
import { timberVolumes } from '../parts/volumes';
import type { Plan } from '../types';

/** Mass of strips, outer skins, blocks and skins, kg, without ribs and stringer: a millisecond, unless it is asked for closely. */
export function massWithoutFrames(plan: Plan, how = QUICKLY): number {
  const v = timberVolumes(plan, how);
  const { timber } = plan.design;
  const density = (species: Design['timber']['rail']) => speciesById(plan.design, species).density * 1e-9;
  return (
    (v.sole + v.rows + v.cap) * density(timber.rail) + (v.outerSkins + v.blocks) * density(timber.outer) + (v.bottomSkin + v.deckSkin) * density(timber.skins)
  );
}

const massOfFrames = (plan: Plan, how = CLOSELY): number => framesVolume(plan, how) * speciesById(plan.design, plan.design.timber.frames).density * 1e-9;

/** Mass of the timber in kg, ribs and stringer counted by their cut shapes: the mass of the totals. Some tens of milliseconds. */
export const massOf = (plan: Plan): number => massWithoutFrames(plan, CLOSELY) + massOfFrames(plan);

/** `massOf` to a thousandth, for boards side by side: a millisecond. */
export const massNearly = (plan: Plan): number => massWithoutFrames(plan) + massOfFrames(plan, QUICKLY);
