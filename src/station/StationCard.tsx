/** The station card in working order: where, the section drawn true, what to cut, plane and check here, then the rest. */
import { type ReactNode, useEffect, useId, useRef, useState } from 'react';
import { rowsBeside, stopsAt } from '../../geometry/rail/query';
import type { Plan, Stop } from '../../geometry/types';
import { nextRib, nextStop, stepFine, stepRib, stepStop } from '../state/station';
import { useUnits } from '../state/unit';
import { angleText, areaText, lengthText, lengthWithUnit, unitSign } from '../say/units';
import { signed } from '../say/bands';
import type { TermId } from '../say/terms';
import { deckWords, placeName, planingOf, stopWhy } from '../say/placeWords';
import { BOX_WORDS, capital, rowsText } from '../say/words';
import { BendingHere } from './BendingHere';
import { Distances, FarDistances } from './Distances';
import { SideSwitch, useLeading } from './Leading';
import { SectionView } from './SectionView';
import { useCutLength } from './useCutLength';
import { WholeStation } from './WholeStation';
import { Term } from '../ui/Term';
import css from './StationCard.module.css';

interface FigureProps {
  readonly name: string;
  /** What it is called here, where that is shorter than its name. */
  readonly label?: string;
  readonly hint: string;
  /** From what to what it is, under it, where its name alone was not understood. */
  readonly from?: string;
  /** The word that it is, on the Words page. */
  readonly term?: TermId;
  readonly warn?: boolean;
  readonly children: ReactNode;
}

function Figure({ name, label = name.toLowerCase(), hint, from, term, warn, children }: FigureProps) {
  return (
    <div className={css.figure} data-warn={warn || undefined} title={hint}>
      <dt>{term ? <Term id={term} hint={hint} whole>{label}</Term> : label}</dt>
      <dd data-figure={name}>{children}</dd>
      {from && <dd className={css.from}>{from}</dd>}
    </div>
  );
}

/** How far the deck stands off a straight pass, with the word for its sign. */
const offStraight = (height: number, text: (mm: number) => string): string => `${signed(height, text)} ${height < 0 ? 'hollow' : 'round'}`;

interface StepProps {
  readonly what: 'rib' | 'stop';
  readonly way: 1 | -1;
  readonly keys: string;
  /** Where it leads; undefined where there is none. */
  readonly to: string | undefined;
  readonly shown: string;
  readonly go: () => void;
}

function Step({ what, way, keys, to, shown, go }: StepProps) {
  const name = `${way < 0 ? 'Previous' : 'Next'} ${what}`;
  return (
    <button type="button" aria-label={to ? `${name}: ${to}` : name} title={`${name} (${keys})`} aria-disabled={!to} onClick={go}>
      {way < 0 && <i>‹</i>}{shown}{way > 0 && <i>›</i>}
    </button>
  );
}

/** The four ways on: to the rib and to the stop before and after. */
function Steps({ plan, s }: { readonly plan: Plan; readonly s: number }) {
  const rib = (way: 1 | -1) => {
    const to = nextRib(plan, s, way);
    return <Step what="rib" way={way} keys={way < 0 ? '↓' : '↑'} to={to && `rib ${to.index + 1}`} shown={to ? `rib ${to.index + 1}` : 'rib'} go={() => stepRib(way)} />;
  };
  const stop = (way: 1 | -1) => {
    const to = nextStop(plan, s, way);
    return <Step what="stop" way={way} keys={way < 0 ? 'Shift ↓' : 'Shift ↑'} to={to && `stop of row ${to.row}`} shown="stop" go={() => stepStop(way, plan)} />;
  };
  return <div className={css.steps} role="group" aria-label="Ribs and stops">{rib(-1)}{stop(-1)}{stop(1)}{rib(1)}</div>;
}

/** Why rows stop here, a line for each cause. */
function Stops({ plan, stops }: { readonly plan: Plan; readonly stops: readonly Stop[] }) {
  const unit = useUnits((state) => state.unit);
  // Rows stop together at a block or an end; where the gap ends them, each has its own sum.
  const whys = stops.map((stop) => stopWhy(plan, stop, unit));
  return [...new Set(whys)].map((why) => {
    const rows = stops.filter((_, i) => whys[i] === why).map(({ row }) => row);
    return <p key={why} className={css.why}><b>{capital(rowsText(rows))} {rows.length > 1 ? 'stop' : 'stops'}:</b> {why}</p>;
  });
}

export function StationCard({ plan }: { readonly plan: Plan }) {
  const unit = useUnits((state) => state.unit);
  const leading = useLeading(plan);
  const cut = useCutLength(plan);
  const [more, setMore] = useState(false);
  const id = useId();
  const rest = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (more) rest.current?.scrollIntoView({ block: 'nearest' });
  }, [more]);
  if (!leading) return null;
  const { drawing, boxed, tag, told, lead } = leading;
  const { section: c, state } = drawing;
  const { rail } = plan.design;
  const mm = (value: number, decimals = 1) => lengthText(value, unit, decimals);
  const planing = planingOf(c);
  const stops = stopsAt(lead, c.s);
  const [tailward, noseward] = rowsBeside(lead, c.s);
  const slot = (from?: string) => <Figure name="Slot" term="slot" from={from} hint="Left open above the last row: the gap less the rows">{told((section) => mm(section.slot))}</Figure>;
  const depth = (from?: string) => (
    <Figure name="Inner depth" term="inner-depth" from={from} hint="Inner depth at the rib-end line, square to the sole: sole, gap and cap fill it">{told((section) => mm(section.depth), undefined, false)}</Figure>
  );
  const toCut = stops.map(({ row, s }) => (
    <Figure key={row} name={`Cut row ${row}`} hint={`Length to cut of row ${row}, along its own middle`}>{cut(row, s)}</Figure>
  ));
  return (
    <section className={css.card} data-area="card" aria-label="Station card">
      <div className={css.first}>
        <header>
          <Distances plan={plan} drawing={drawing} unit={unit} />
          <h2 data-stop={stops.length > 0 || undefined}>{placeName(lead, c.s).replace(/^./, (first) => first.toLowerCase())}</h2>
          <Steps plan={lead} s={c.s} />
          <SideSwitch plan={plan} />
        </header>
        <SectionView drawing={drawing} design={plan.design} unit={unit} stopping={stops.map(({ row }) => row)} />
        <section className={css.group} aria-label={`Cut here, ${unitSign(unit)}`}>
          <h3>Cut here</h3>
          <span className={css.state} data-state={state}>{BOX_WORDS[state]}{tag}</span>
          {stops.length > 0 && <Stops plan={lead} stops={stops} />}
          <dl>
            {stops.length === 0 ? (
              <>
                <Figure name="Rows" term="row" hint="Spacer rows here">{told(({ rows }) => `${rows} of ${rail.rows}`, undefined, false)}</Figure>
                {slot(c.rows > 0 ? `above row ${c.rows}` : 'no row here')}
                {depth('skin to skin')}
              </>
            ) : (
              <>
                <Figure name="Rows to tail" term="stop" hint="Spacer rows on the side toward the tail">{tailward}</Figure>
                <Figure name="Rows to nose" term="stop" hint="Spacer rows on the side toward the nose">{noseward}</Figure>
                {toCut.slice(0, 1)}
              </>
            )}
          </dl>
        </section>
        <section className={css.group} aria-label={`Plane here, ${unitSign(unit)}`}>
          <h3>Plane here</h3>
          <dl className={css.plane}>
            <Figure name="Bevel" term="bevel" hint="Angle from the cap's square top to the deck, square to the rail">{told(({ bevel }) => angleText(bevel), 'bevel')}</Figure>
            <Figure name="Planing depth" term="plane-off" label={`${planing.edge} outer edge`} hint="What the bevel takes off the cap's outer edge; where the deck rises outboard, how low the cap is there">
              {told((section) => mm(planing.of(section)))}
            </Figure>
            {boxed && <div className={css.sense}><dt className="spoken">Which edge</dt><dd>{deckWords(c.bevel)}</dd></div>}
          </dl>
        </section>
        <section className={css.group} aria-label={`Check, ${unitSign(unit)}`}>
          <h3>Check</h3>
          <dl>
            <Figure name="Gap" term="gap" from="sole to cap" hint="Clear height between sole and cap: rows fill it, and what they leave is the slot">{told(({ gap }) => mm(gap), 'gap', false)}</Figure>
            <Figure name="Cover" term="cover" from={boxed ? `least ${mm(rail.leastCover)}` : undefined} hint={`Least timber from the hollow to the finished outside; at least ${lengthWithUnit(rail.leastCover, unit)} is wanted`} warn={boxed && c.cover < rail.leastCover}>
              {told(({ cover }) => mm(cover), 'cover')}
            </Figure>
            <Figure name="Cap left" term="cap-left" hint="Thickness left of the cap at its outer edge" warn={boxed && c.capLeft < 0}>{told(({ capLeft }) => mm(capLeft))}</Figure>
          </dl>
        </section>
      </div>
      <button type="button" className={css.more} aria-expanded={more} aria-controls={id} onClick={() => setMore(!more)}>
        <b>More</b> radius, bending, hollow, sole
      </button>
      <div id={id} className={css.rest} ref={rest} hidden={!more}>
        <dl className={css.list} aria-label={`Lengths in ${unitSign(unit)}`}>
          <FarDistances plan={plan} drawing={drawing} unit={unit} />
          {stops.length > 0 && (
            <>
              {slot()}
              {depth()}
              {toCut.slice(1)}
            </>
          )}
          <Figure name="Radius" hint="Radius of the box face, seen from above">{Math.abs(c.kappa) > 1e-6 ? mm(1 / Math.abs(c.kappa), 0) : 'straight'}</Figure>
          <Figure name="Hollow" term="hollow" hint="Cross-section of the hollow">{told(({ hollowArea }) => areaText(hollowArea, unit))}</Figure>
          <Figure name="Station bevel" hint="The bevel seen in the station plane">{told(({ stationBevel }) => angleText(stationBevel))}</Figure>
          <Figure name="Sole bevel" term="sole" hint="Angle from the sole's square underside to the bottom">{told(({ soleBevel }) => angleText(soleBevel), undefined, false)}</Figure>
          <Figure name="Deck off straight" hint="How far the deck across the strip stands off a straight plane pass: + round, − hollow">{told(({ deckHollow }) => offStraight(deckHollow, mm))}</Figure>
        </dl>
        <div className={css.fine} role="group" aria-label="Fine steps">
          <button type="button" className="ruled" aria-label="Step toward the tail" title="Step toward the tail (←)" onClick={() => stepFine(-1)}>←</button>
          a step along
          <button type="button" className="ruled" aria-label="Step toward the nose" title="Step toward the nose (→)" onClick={() => stepFine(1)}>→</button>
        </div>
        <BendingHere plan={plan} s={c.s} />
        <WholeStation drawing={drawing} design={plan.design} halfBreadth={plan.hull.widest.halfBreadth} />
      </div>
    </section>
  );
}
