/** A rib, or wherever the cursor stands: bevel, what is planed off, gap and rows, and the section. */
import type { Plan } from '../../../geometry/types';
import { lengthText } from '../../say/units';
import { placeName } from '../../say/placeWords';
import { useUnits } from '../../state/unit';
import { useLeading } from '../../station/Leading';
import { SectionView } from '../../station/SectionView';
import { BenchFigure, PlaceHead, PlaneFigures } from './Figures';
import './face.css';

export function RibFace({ plan }: { readonly plan: Plan }) {
  const unit = useUnits((state) => state.unit);
  const leading = useLeading(plan);
  if (!leading) return null;
  const { drawing, lead, boxed, told } = leading;
  const { section: c } = drawing;
  const { leastCover } = plan.design.rail;
  const mm = (value: number) => lengthText(value, unit);
  return (
    <>
      <PlaceHead plan={plan} drawing={drawing} kind="place" name={placeName(lead, c.s)} />
      <dl className="bench-figures">
        <PlaneFigures leading={leading} />
        <BenchFigure name="gap" term="gap" under={boxed && `cover ${mm(c.cover)}, least ${mm(leastCover)}`} warn={boxed && c.cover < leastCover}>{told(({ gap }) => mm(gap), 'gap', false)}</BenchFigure>
        <BenchFigure name="rows" term="row" under={c.rows > 0 ? `slot of ${mm(c.slot)} above` : undefined}>{told(({ rows }) => `${rows}`, undefined, false)}</BenchFigure>
      </dl>
      <SectionView drawing={drawing} design={plan.design} unit={unit} />
    </>
  );
}
