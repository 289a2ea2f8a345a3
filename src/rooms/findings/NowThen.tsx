/** What a way out changes: figures now and then, and what it adds or clears beside. */
import type { Proposal } from '../../../geometry/search/proposals';
import type { Plan } from '../../../geometry/types';
import { signed } from '../../say/bands';
import { angleText, fixed, lengthText, type Unit, unitSign } from '../../say/units';
import { useUnits } from '../../state/unit';
import { Said } from '../../ui/Said';
import { Worded } from '../../ui/Term';
import './findings.css';

type Row = readonly [name: string, now: string, then: string];

/** A figure's change; nothing where it is not noticeable. */
const change = (by: number | undefined, least: number, row: (by: number) => Row): Row[] => (by === undefined || Math.abs(by) < least ? [] : [row(by)]);

function rowsOf({ rail: { range }, hull }: Plan, { costs }: Proposal, unit: Unit): readonly Row[] {
  const cover = (value: number) => lengthText(value, unit);
  return [
    ...costs.stops.map(({ row, end, from, to }): Row => {
      const place = (x: number | undefined) => (x === undefined ? 'none' : lengthText(end === 'tail' ? x : hull.length - x, unit));
      return [`Row ${row} stops, from ${end}`, place(from), place(to)];
    }),
    ...change(costs.bevel, 0.0008, (by) => ['Greatest bevel', angleText(range.bevel.max), angleText(range.bevel.max + by)]),
    ...change(costs.cover, 0.05, (by) => ['Least cover', cover(range.cover.min), cover(range.cover.min + by)]),
    ...change(costs.volume, 5000, (by) => ['Volume, litres', fixed(hull.volume / 1e6, 2), fixed((hull.volume + by) / 1e6, 2)]),
    ...change(costs.mass, 0.005, (by) => ['Timber, kg', '', signed(by, (kg) => fixed(kg, 2))]),
  ];
}

export function NowThen({ plan, offer }: { readonly plan: Plan; readonly offer: Proposal }) {
  const unit = useUnits((state) => state.unit);
  const rows = rowsOf(plan, offer, unit);
  const { appeared, gone } = offer.costs;
  return (
    <>
      <table className="now-then">
        <thead><tr><th scope="col">lengths in {unitSign(unit)}</th><th scope="col">now</th><th scope="col">then</th></tr></thead>
        <tbody>
          {rows.map(([name, now, then]) => <tr key={name} data-figure={name}><th scope="row"><Worded text={name} /></th><td>{now}</td><td>{then}</td></tr>)}
          {rows.length === 0 && <tr><th scope="row"><Worded text="Stops, bevel, cover, volume" /></th><td colSpan={2}>as now</td></tr>}
        </tbody>
      </table>
      {(appeared.length > 0 || gone.length > 0) && (
        <ul className="beside">
          {gone.map((one) => <li key={one.id}>Also clears: <Said text={one.title} /></li>)}
          {appeared.map((one) => <li key={one.id} data-grave={one.level !== 'note' || undefined}>Adds: <Said text={one.title} /></li>)}
        </ul>
      )}
    </>
  );
}
