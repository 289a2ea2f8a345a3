/** How far each room has come, in a few words under its name. */
import type { Plan } from '../../geometry/types';
import { fixed } from '../say/units';
import { useDesign } from '../state/design';
import { pieceId } from '../../geometry/parts/stripWords';
import { useKnownStanding, useStanding, useToPay } from '../work/parts';
import { isDone } from '../work/ticks';
import { type RoomStatuses, WORKING } from './RoomTabs';

const many = (n: number, what: string): string => `${n} ${what}${n === 1 ? '' : 's'}`;

/** Whether outline and rocker are fair: the places where they turn from round to hollow. A thickness may run out hollow at its ends. */
function fairWords({ hull: { fairness: { inflections } } }: Plan): string {
  const places = inflections.outline.length + inflections.rocker.length;
  return places === 0 ? 'fair' : `${many(places, 'place')} not fair`;
}

/** Of the board as it is, whatever is tried on it. */
export function useRoomStatus(): RoomStatuses {
  const { plan, parts: made } = useStanding();
  const known = useKnownStanding();
  const { parts } = known;
  const decisions = known.decisions.length;
  const toPay = useToPay(known);
  const cut = useDesign(({ record }) => record.cut);
  const pieces = parts?.joints?.pieces ?? [];
  const left = cut ? pieces.filter((piece) => !cut.includes(pieceId(piece))).length : pieces.length;
  const toCut = left === 0 ? 'all cut' : `${left} of ${pieces.length} to cut`;
  const ticks = useDesign(({ record }) => record.ticks);
  const reached = useDesign(({ record }) => record.step ?? 1);
  const steps = parts?.steps.length;
  const open = made === null;
  return {
    shape: plan ? { text: `${fixed(plan.hull.volume / 1e6, 1)} litres, ${fairWords(plan)}` } : WORKING,
    plan: decisions > 0 ? { text: many(decisions, 'decision'), wants: true, open } : { text: parts ? 'nothing to decide' : '…', open },
    bench: !parts ? WORKING : { text: left < pieces.length ? toCut : toPay ?? (pieces.length > 0 ? `${many(pieces.length, 'piece')} to cut` : 'lists'), open },
    build: steps === undefined ? WORKING : { text: parts?.steps.every((step) => isDone(step, ticks)) ? 'built' : reached > 1 ? `step ${Math.min(reached, steps)} of ${steps}` : many(steps, 'step'), open },
  };
}
