/** The station card: the cross-section under the cursor, drawn true, with its figures. */
import type { ReactNode } from 'react';
import type { Plan } from '../../geometry/types';
import { stepFine, stepRib } from '../state/station';
import { useUnits } from '../state/unit';
import { angleText, areaText, lengthText, lengthWithUnit, unitSign } from '../say/units';
import { signed } from '../say/bands';
import { BOX_WORDS, capital, placeName } from '../say/words';
import { BendingHere } from './BendingHere';
import { Distances } from './Distances';
import { BevelSense, SideSwitch, useLeading } from './Leading';
import { SectionView } from './SectionView';
import { WholeStation } from './WholeStation';
import css from './StationCard.module.css';

interface FigureProps {
  readonly name: string;
  readonly hint: string;
  readonly warn?: boolean;
  readonly children: ReactNode;
}

function Figure({ name, hint, warn, children }: FigureProps) {
  return (
    <div className={css.figure} data-warn={warn || undefined} title={hint}>
      <dt>{name}</dt>
      <dd data-figure={name}>{children}</dd>
    </div>
  );
}

/** How far the deck stands off a straight pass, with the word for its sign. */
const offStraight = (height: number, text: (mm: number) => string): string => `${signed(height, text)} ${height < 0 ? 'hollow' : 'round'}`;

export function StationCard({ plan }: { readonly plan: Plan }) {
  const unit = useUnits((state) => state.unit);
  const leading = useLeading(plan);
  if (!leading) return null;
  const { drawing, boxed, tag, told } = leading;
  const { section: c, state } = drawing;
  const { rail } = plan.design;
  const mm = (value: number, decimals = 1) => lengthText(value, unit, decimals);
  return (
    <section className={css.card} data-area="card" aria-label="Station card">
      <header>
        <h2>{placeName(plan, c.s)}</h2>
        <span className={css.state} data-state={state}>{capital(BOX_WORDS[state])}{tag}</span>
        <span className={css.steps}>
          <button type="button" title="Previous rib (Shift ←)" aria-label="Previous rib" onClick={() => stepRib(-1)}>⇤</button>
          <button type="button" title="Step toward the tail (←)" aria-label="Step toward the tail" onClick={() => stepFine(-1)}>←</button>
          <button type="button" title="Step toward the nose (→)" aria-label="Step toward the nose" onClick={() => stepFine(1)}>→</button>
          <button type="button" title="Next rib (Shift →)" aria-label="Next rib" onClick={() => stepRib(1)}>⇥</button>
        </span>
      </header>
      <SideSwitch plan={plan} />
      <Distances plan={plan} drawing={drawing} unit={unit} />
      <SectionView drawing={drawing} design={plan.design} unit={unit} />
      <dl className={css.figures} aria-label={`Lengths in ${unitSign(unit)}`}>
        <Figure name="Bevel" hint="Angle from the cap's square top to the deck, square to the rail">{told(({ bevel }) => angleText(bevel), 'bevel')}{boxed && <BevelSense bevel={c.bevel} />}</Figure>
        <Figure name="Station bevel" hint="The same angle seen in the station plane">{told(({ stationBevel }) => angleText(stationBevel))}</Figure>
        <Figure name="Planing depth" hint="What the bevel takes off the cap's outer edge">{told(({ planing }) => mm(planing))}</Figure>
        <Figure name="Cap left" hint="Thickness left of the cap at its outer edge" warn={boxed && c.capLeft < 0}>{told(({ capLeft }) => mm(capLeft))}</Figure>
        <Figure name="Gap" hint="Clear height between sole and cap">{told(({ gap }) => mm(gap), 'gap', false)}</Figure>
        <Figure name="Rows" hint="Spacer rows here">{told(({ rows }) => `${rows} of ${rail.rows}`, undefined, false)}</Figure>
        <Figure name="Slot" hint="Left open above the last row">{told(({ slot }) => mm(slot))}</Figure>
        <Figure name="Cover" hint={`Least timber from the hollow to the finished outside; at least ${lengthWithUnit(rail.leastCover, unit)} is wanted`} warn={boxed && c.cover < rail.leastCover}>
          {told(({ cover }) => mm(cover), 'cover')}
        </Figure>
        <Figure name="Radius" hint="Radius of the box face, seen from above">{Math.abs(c.kappa) > 1e-6 ? mm(1 / Math.abs(c.kappa), 0) : 'straight'}</Figure>
        <Figure name="Hollow" hint="Cross-section of the hollow">{told(({ hollowArea }) => areaText(hollowArea, unit))}</Figure>
        <Figure name="Sole bevel" hint="Angle from the sole's square underside to the bottom">{told(({ soleBevel }) => angleText(soleBevel), undefined, false)}</Figure>
        <Figure name="Deck off straight" hint="How far the deck across the strip stands off a straight plane pass: + round, − hollow">{told(({ deckHollow }) => offStraight(deckHollow, mm))}</Figure>
      </dl>
      <BendingHere plan={plan} s={c.s} />
      <WholeStation drawing={drawing} design={plan.design} halfBreadth={plan.hull.widest.halfBreadth} />
    </section>
  );
}
