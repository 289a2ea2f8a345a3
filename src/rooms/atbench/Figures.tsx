/** The large figures of a place: its name and station, and four figures under it. */
import type { ReactNode } from 'react';
import type { Plan, SectionDrawing } from '../../../geometry/types';
import type { TermId } from '../../say/terms';
import { angleText, lengthText, unitSign } from '../../say/units';
import { deckLie, planingOf } from '../../say/placeWords';
import { useUnits } from '../../state/unit';
import type { Leading } from '../../station/Leading';
import { Term } from '../../ui/Term';
import './face.css';

interface PlaceHeadProps {
  readonly plan: Plan;
  readonly drawing: SectionDrawing;
  readonly kind: string;
  readonly name: string;
  readonly told?: ReactNode;
}

/** What the place is, and its station from the nearer end. */
export function PlaceHead({ plan, drawing, kind, name, told }: PlaceHeadProps) {
  const unit = useUnits((state) => state.unit);
  const { x, section: { s } } = drawing;
  const tail = x <= plan.hull.length - x;
  return (
    <div className="bench-place">
      <p><small>{kind}</small><strong className="name">{name}</strong><small>{told}</small></p>
      <p>
        <small>{unitSign(unit)} from the {tail ? 'tail' : 'nose'}</small>
        <strong data-figure="Station">{lengthText(tail ? x : plan.hull.length - x, unit)}</strong>
        <small>{lengthText(s, unit)} along the rail</small>
      </p>
    </div>
  );
}

interface FigureProps {
  readonly name: string;
  /** The word that it is. */
  readonly term?: TermId;
  readonly under?: ReactNode;
  readonly warn?: boolean;
  readonly children: ReactNode;
}

export function BenchFigure({ name, term, under, warn, children }: FigureProps) {
  return (
    <div data-warn={warn || undefined}>
      <dt>{term ? <Term id={term} whole>{name}</Term> : name}</dt>
      <dd data-figure={name}>{children}</dd>
      {under !== undefined && <dd className="under">{under}</dd>}
    </div>
  );
}

/** What the plane does here: the bevel with its sign in words, and what it takes off, or how low the cap is where the deck rises. */
export function PlaneFigures({ leading: { drawing: { section: c }, boxed, told } }: { readonly leading: Leading }) {
  const unit = useUnits((state) => state.unit);
  const mm = (value: number) => lengthText(value, unit);
  const { edge, of } = planingOf(c);
  return (
    <>
      <BenchFigure name="bevel" term="bevel" under={boxed && deckLie(c.bevel)}>{told(({ bevel }) => angleText(bevel), 'bevel')}</BenchFigure>
      <BenchFigure name={`${edge === 'off' ? 'plane off' : edge} outer edge`} term="plane-off" warn={boxed && c.capLeft < 0} under={boxed && `${mm(c.capLeft)} of the cap stays`}>
        {told((section) => mm(of(section)))}
      </BenchFigure>
    </>
  );
}
