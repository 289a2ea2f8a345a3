/** What the papers are told of tolerance and readings: what the screen has for the plan. */
import type { Plan } from '../../../geometry/types';
import type { Trust } from '../../papers';
import { useBands } from '../../work/bands';
import { useReadings } from '../../work/readings';

let last: Trust = {};

/** Bands and readings of this very plan, as far as they are there; the same object while nothing changed. */
function trustOf(plan: Plan, bandState: ReturnType<typeof useBands.getState>, readingState: ReturnType<typeof useReadings.getState>): Trust {
  const bands = bandState.of === plan ? (bandState.bands ?? undefined) : undefined;
  const built = readingState.of === plan ? readingState.built : null;
  const sides = (['starboard', 'port'] as const).flatMap((side) => {
    const own = built?.[side];
    return own && own.used > 0 ? [{ side, built: own }] : [];
  });
  const same = last.bands === bands && (last.measured?.sides.length ?? 0) === sides.length && sides.every((s, i) => last.measured?.sides[i].built === s.built);
  if (!same) last = { ...(bands ? { bands } : {}), ...(sides.length > 0 ? { measured: { record: readingState.record, sides } } : {}) };
  return last;
}

/** The same, for a screen that shows papers. */
export function usePaperTrust(plan: Plan): Trust {
  const bands = useBands();
  const readings = useReadings();
  return trustOf(plan, bands, readings);
}
