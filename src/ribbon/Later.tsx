/** Over the ribbon, what comes after the first picture: the blocks at the ends, what the bench adds, bands and readings, and the rail that is tried against. */
import type { ReactNode } from 'react';
import type { Parts } from '../../geometry/parts/types';
import type { Plan } from '../../geometry/types';
import type { Unit } from '../say/units';
import { EarlierRail } from './EarlierRail';
import { PartsLayer } from './PartsLayer';
import type { RibbonScale } from './scale';
import { TrustLayer } from './TrustLayer';

export { blockMarks } from './blockMarks';

interface LaterProps {
  readonly plan: Plan;
  readonly parts: Parts | null;
  readonly scale: RibbonScale;
  readonly unit: Unit;
  /** Of the hatches. */
  readonly id: string;
  readonly onPlace: (s: number) => void;
}

export function Later({ plan, parts, scale, unit, id, onPlace }: LaterProps): ReactNode {
  return (
    <>
      {parts && <PartsLayer plan={plan} parts={parts} scale={scale} unit={unit} id={id} onPlace={onPlace} />}
      <TrustLayer plan={plan} scale={scale} unit={unit} />
      <EarlierRail plan={plan} scale={scale} />
    </>
  );
}
