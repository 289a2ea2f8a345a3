/** What a board weighs, quickly during a search, and exactly when it is shown. */
import type { Design } from '../design/schema';
import { speciesById } from '../design/timber';
import { planFrames } from '../frame/frames';
import { planTotals } from '../parts/totals';
import { timberVolumes } from '../parts/volumes';
import type { Plan } from '../types';

/** Step of the quick volumes along the run, mm: a test holds them to the exact ones. */
const QUICK_STEP = 20;

/** Mass of the timber in kg, ribs and stringer counted by their cut shapes: the mass of the totals. Takes some tenths of a second. */
export function massOf(plan: Plan): number {
  return planTotals(plan, { bending: [], frames: planFrames(plan).frames }).totals.mass;
}

/** Mass of strips, outer skins, blocks and skins, kg, without ribs and stringer: some milliseconds. */
export function massWithoutFrames(plan: Plan): number {
  const v = timberVolumes(plan, QUICK_STEP);
  const { timber } = plan.design;
  const density = (species: Design['timber']['rail']) => speciesById(plan.design, species).density * 1e-9;
  return (
    (v.sole + v.rows + v.cap) * density(timber.rail) + (v.outerSkins + v.blocks) * density(timber.outer) + (v.bottomSkin + v.deckSkin) * density(timber.skins)
  );
}
