/** What would clear a finding: changes the kernel tried before they are offered, each with its cost elsewhere. */
import { useEffect } from 'react';
import type { Costs } from '../../../geometry/search/proposals';
import type { Finding, Plan } from '../../../geometry/types';
import { useDesign } from '../../state/design';
import { useJob } from '../../state/jobs';
import { useUnits } from '../../state/unit';
import { angleText, fixed, lengthText, lengthWithUnit, type Unit } from '../../say/units';
import { findingFigures } from '../../say/findings';
import { textOf } from '../../say/said';
import { endJob, runJob } from '../../work/jobs';
import '../../ui/trials.css';
import { Said } from '../../ui/Said';
import { Working } from '../../ui/Working';
import './offers.css';

/** A difference with its sign; null where it is not noticeable. */
function difference(value: number, least: number, text: (v: number) => string): string | null {
  if (Math.abs(value) < least) return null;
  return value > 0 ? `+${text(value)}` : text(value);
}

/** What else a change does, line by line. */
function costLines(costs: Costs, plan: Plan, unit: Unit): { readonly text: string; readonly grave?: boolean }[] {
  const figures = [
    ['volume', difference(costs.volume / 1e6, 0.005, (v) => `${fixed(v, 2)} l`)],
    ['mass', costs.mass === undefined ? null : difference(costs.mass, 0.005, (v) => `${fixed(v, 2)} kg`)],
    ['greatest bevel', difference(costs.bevel, 0.0008, (v) => angleText(v))],
    ['least cover', difference(costs.cover, 0.05, (v) => lengthWithUnit(v, unit))],
  ].flatMap(([what, text]) => (text === null ? [] : [`${what} ${text}`]));
  const stops = costs.stops.map(({ row, end, from, to }) => {
    const text = (x: number | undefined) => (x === undefined ? 'none' : lengthText(end === 'tail' ? x : plan.hull.length - x, unit, 0));
    return `row ${row} ${end} ${text(from)} → ${text(to)}`;
  });
  return [
    { text: figures.length > 0 ? figures.join(', ') : 'no noticeable change' },
    ...(stops.length > 0 ? [{ text: `stops, each from its own end: ${stops.join(', ')}` }] : []),
    ...costs.appeared.map((f) => ({ text: `adds: ${textOf(f.title, unit)}`, grave: f.level !== 'note' })),
    ...costs.gone.map((f) => ({ text: `also clears: ${textOf(f.title, unit)}` })),
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
        <li key={offer.title} data-clears={offer.clears}>
          <p><b>{offer.title.replace(/-(?=\d)/g, '−')}</b> <em>{offer.clears ? 'clears it' : 'improves it'}</em></p>
          {offer.still.length > 0 && offer.still[0].figure !== undefined && <p className="costs">still <Said text={findingFigures(offer.still[0]) ?? ''} /></p>}
          <ul className="costs" aria-label="What it costs elsewhere">
            {costLines(offer.costs, plan, unit).map(({ text, grave }) => <li key={text} className={grave ? 'grave' : undefined}>{text}</li>)}
          </ul>
          <button type="button" className="ruled accept" aria-label={`Do it: ${offer.title}`} onClick={() => useDesign.getState().commit(offer.design)}>Do it</button>
        </li>
      ))}
    </ul>
  );
}
