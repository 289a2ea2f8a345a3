/** What the papers are told of tolerance and readings: what the screen has for the plan. */
import { useEffect, useEffectEvent, useMemo } from 'react';
import type { Parts } from '../../../geometry/parts/types';
import type { Plan } from '../../../geometry/types';
import type { Trust } from '../../papers';
import type { Unit } from '../../say/units';
import { useAddress } from '../../state/address';
import { madeOf, useJobs, useMade } from '../../state/jobs';
import { useShop } from '../../state/shop';
import { lookAtPapers, usePapers } from './papers';

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

/** Keeps the list of papers to the board and to how they are wanted. `then` is called whenever there is a list. */
export function usePaperList(plan: Plan, parts: Parts, unit: Unit, then?: () => void): void {
  const wanted = usePapers((state) => state.wanted);
  const trust = usePaperTrust(plan);
  const address = useAddress((state) => state.given);
  const shop = useShop((state) => state.shop);
  const done = useEffectEvent(() => then?.());
  useEffect(() => {
    let gone = false;
    const look = async () => {
      const list = await lookAtPapers(plan, parts, unit, trust);
      if (list && !gone) done();
    };
    void look();
    return () => {
      gone = true;
    };
  }, [plan, parts, unit, wanted, trust, address, shop]);
}
