/** What the papers are told of tolerance and readings: what the screen has for the plan. */
import { useMemo } from 'react';
import type { Plan } from '../../../geometry/types';
import type { Trust } from '../../papers';
import { madeOf, useJobs, useMade } from '../../state/jobs';

/** Bands and readings of this very plan, as far as they are there; the same object while nothing changed. */
export function usePaperTrust(plan: Plan): Trust {
  const bands = useMade('bands', plan);
  const measured = useJobs(({ built }) => (madeOf(built, plan) ? built : null));
  const [built, record] = [measured?.result, measured?.of?.record];
  return useMemo(() => {
    const sides = (['starboard', 'port'] as const).flatMap((side) => {
      const own = built?.[side];
      return own && own.used > 0 ? [{ side, built: own }] : [];
    });
    return { ...(bands ? { bands } : {}), ...(record && sides.length > 0 ? { measured: { record, sides } } : {}) };
  }, [bands, built, record]);
}
