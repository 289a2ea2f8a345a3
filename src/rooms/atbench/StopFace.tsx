/** Where a row stops: why, what length it is cut to, and what is planed there. */
import { stopsAt } from '../../../geometry/rail/query';
import type { Plan } from '../../../geometry/types';
import { lengthText } from '../../say/units';
import { stopWhy } from '../../say/placeWords';
import { capital, rowsText } from '../../say/words';
import { useUnits } from '../../state/unit';
import { useLeading } from '../../station/Leading';
import { SectionView } from '../../station/SectionView';
import { useCutLength } from '../../station/useCutLength';
import { useReadings } from '../../work/readings';
import { BenchFigure, PlaceHead, PlaneFigures } from './Figures';
import './face.css';

export function StopFace({ plan }: { readonly plan: Plan }) {
  const unit = useUnits((state) => state.unit);
  const side = useReadings((state) => state.side);
  const cut = useCutLength(plan);
  const leading = useLeading(plan);
  if (!leading) return null;
  const { drawing, lead, told } = leading;
  const { s } = drawing.section;
  const stops = stopsAt(lead, s);
  const rows = stops.map(({ row }) => row);
  const [stop] = stops;
  // Between the mode's choice and the cursor's move there, or on a board without rows.
  if (!stop) return <p className="bench-none">{lead.rail.rows.length === 0 ? 'No row of this board fits in its box: there is no stop.' : 'No row stops here: before and next lead to the stops.'}</p>;
  return (
    <>
      <PlaceHead plan={plan} drawing={drawing} kind={rows.length > 1 ? 'rows stop' : 'row stops'} name={capital(rowsText(rows))} told={<b>{stopWhy(lead, stop, unit)}</b>} />
      <dl className="bench-figures">
        <BenchFigure name={`cut row ${stop.row} to`} term="stop" under={`toward the ${stop.end}, ${side}`}>{cut(stop.row, stop.s)}</BenchFigure>
        <BenchFigure name="gap" term="gap">{told(({ gap }) => lengthText(gap, unit), 'gap', false)}</BenchFigure>
        <PlaneFigures leading={leading} />
      </dl>
      <SectionView drawing={drawing} design={plan.design} unit={unit} stopping={rows} />
    </>
  );
}
