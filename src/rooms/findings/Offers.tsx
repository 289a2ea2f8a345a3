/** What would clear a finding: changes the kernel tried before they are offered, each with its cost elsewhere. */
import { useEffect } from 'react';
import { type Dimension, list, mm, said, type Said as What } from '../../../geometry/said';
import type { Costs } from '../../../geometry/search/proposals';
import type { Finding, Plan } from '../../../geometry/types';
import { useDesign } from '../../state/design';
import { useJob } from '../../state/jobs';
import { useUnits } from '../../state/unit';
import { findingFigures } from '../../say/findings';
import { textOf } from '../../say/said';
import { endJob, runJob } from '../../work/jobs';
import { Said } from '../../ui/Said';
import { Working } from '../../ui/Working';
import './findings.css';

/** A figure's change; nothing where it is not noticeable. */
const change = (what: string, of: Dimension, value: number | undefined, least: number, decimals: number): What[] =>
  value === undefined || Math.abs(value) < least ? [] : [said('{what} {by}', { what, by: { of, value, decimals, signed: true } })];

/** What else a change does, line by line. */
function costLines(costs: Costs, plan: Plan): { readonly text: What; readonly grave?: boolean }[] {
  const figures = [
    ...change('volume', 'mm3', costs.volume, 5000, 2), ...change('mass of timber', 'kg', costs.mass, 0.005, 2),
    ...change('greatest bevel', 'rad', costs.bevel, 0.0008, 1), ...change('least cover', 'mm', costs.cover, 0.05, 1),
  ];
  const stops = costs.stops.map(({ row, end, from, to }) => {
    const place = (x: number | undefined): What => (x === undefined ? 'none' : mm(end === 'tail' ? x : plan.hull.length - x));
    return said('row {row} {end} {from} → {to}', { row, end, from: place(from), to: place(to) });
  });
  return [
    { text: figures.length > 0 ? list(figures, ', ') : 'no noticeable change' },
    ...(stops.length > 0 ? [{ text: said('stops, each from its own end: {stops}', { stops: list(stops, ', ') }) }] : []),
    ...costs.appeared.map(({ title, level }) => ({ text: said('adds: {title}', { title }), grave: level !== 'note' })),
    ...costs.gone.map(({ title }) => ({ text: said('also clears: {title}', { title }) })),
  ];
}

interface OffersProps {
  readonly plan: Plan;
  readonly finding: Finding;
}

export function Offers({ plan, finding }: OffersProps) {
  const unit = useUnits((state) => state.unit);
  const { of, result } = useJob('offers');
  useEffect(() => {
    void runJob('offers', { plan, finding });
    return () => endJob('offers');
  }, [plan, finding]);
  // What was said of another plan or finding is not said of this one.
  if (!result || of?.plan !== plan || of.finding !== finding) return <div className="offers"><Working job="offers" tell={({ progress }) => ({ text: `${progress ?? 0} changes tried` })} /></div>;
  const { offers, tried } = result;
  if (offers.length === 0) return <p className="offers-note" role="status">{tried === 0 ? 'This describes the board; nothing needs to change.' : `None of the ${tried} changes tried helps. Follow the advice above.`}</p>;
  return (
    <ul className="offers" aria-label={`Changes offered: ${textOf(finding.title, unit)}`}>
      {offers.map((offer) => (
        <li key={textOf(offer.title, unit)} data-clears={offer.clears}>
          <p><b><Said text={offer.title} /></b> <em>{offer.clears ? 'clears it' : 'improves it'}</em></p>
          {offer.still.length > 0 && offer.still[0].figure !== undefined && <p className="costs">still <Said text={findingFigures(offer.still[0]) ?? ''} /></p>}
          <ul className="costs" aria-label="What it costs elsewhere">
            {costLines(offer.costs, plan).map(({ text, grave }) => <li key={textOf(text, unit)} className={grave ? 'grave' : undefined}><Said text={text} /></li>)}
          </ul>
          <button type="button" className="ruled accept" aria-label={`Do it: ${textOf(offer.title, unit)}`} onClick={() => useDesign.getState().commit(offer.design)}>Do it</button>
        </li>
      ))}
    </ul>
  );
}
