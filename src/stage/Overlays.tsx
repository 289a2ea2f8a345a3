/** What is laid over the board on the stage when it is asked for: together, so that the first picture carries none of it. */
import type { Parts } from '../../geometry/parts/types';
import type { Plan } from '../../geometry/types';
import { CapLie } from './CapLie';
import { EarlierBox } from './EarlierBox';
import { HullMap } from './HullMap';
import { LieKey } from './LieKey';

/** The key of what has one beside the stage. */
export const OverlayKey = LieKey;

interface OverlaysProps {
  readonly plan: Plan;
  /** There is an earlier board; the cap is coloured by how it lies, by these parts; a body lies off the board. */
  readonly tried: boolean;
  readonly lies: Parts | false | null;
  readonly off: boolean;
}

export function Overlays({ plan, tried, lies, off }: OverlaysProps) {
  return (
    <>
      {tried && <EarlierBox plan={plan} />}
      {off && <HullMap plan={plan} />}
      {lies && <CapLie plan={plan} parts={lies} />}
    </>
  );
}
