/** What is laid over the board on the stage when it is asked for: together, so that the first picture carries none of it. */
import type { Parts } from '../../geometry/parts/types';
import type { Plan } from '../../geometry/types';
import type { Standing } from '../state/build';
import { CapLie } from './CapLie';
import { Clamps } from './Clamps';
import { EarlierBox } from './EarlierBox';
import { HullMap } from './HullMap';
import { LieKey } from './LieKey';
import { MeasureMarks } from './MeasureMarks';

/** The key of what has one beside the stage. */
export const OverlayKey = LieKey;

interface OverlaysProps {
  readonly plan: Plan;
  /** There is an earlier board; the cap is coloured by how it lies, by these parts; a body lies off the board; places are measured; a step of the build stands. */
  readonly tried: boolean;
  readonly lies: Parts | false | null;
  readonly off: boolean;
  readonly measures: boolean;
  readonly standing: Standing | null;
}

export function Overlays({ plan, tried, lies, off, measures, standing }: OverlaysProps) {
  return (
    <>
      {tried && <EarlierBox plan={plan} />}
      {off && <HullMap plan={plan} />}
      {lies && <CapLie plan={plan} parts={lies} />}
      {standing && <Clamps plan={plan} clamps={standing.clamps} port={standing.box === 'both'} />}
      {measures && <MeasureMarks plan={plan} />}
    </>
  );
}
