/** Measure: two places picked on the picture, or the cursor and the next rib or stop, and how far they are apart. */
import { useEffect } from 'react';
import { measured, placeAtRun, placeAtStop } from '../../../geometry/rail/measure';
import { heldRun } from '../../../geometry/rail/query';
import type { Plan } from '../../../geometry/types';
import { textOf } from '../../say/said';
import { lengthWithUnit, type Unit } from '../../say/units';
import { capital, nearerEnd } from '../../say/words';
import { clearMeasure, placesOn, useMeasure } from '../../state/measure';
import { nextRib, nextStop } from '../../state/station';
import { useUnits } from '../../state/unit';
import { useView } from '../../state/view';
import { Drawer } from '../../ui/Drawer';
import './measure.css';

const NEXT = [
  { what: 'rib', way: -1, label: '← rib', name: 'Measure to the previous rib' },
  { what: 'rib', way: 1, label: 'rib →', name: 'Measure to the next rib' },
  { what: 'stop', way: -1, label: '← stop', name: 'Measure to the previous stop' },
  { what: 'stop', way: 1, label: 'stop →', name: 'Measure to the next stop' },
] as const;

/** Measures from the cursor to the next rib or stop toward an end; asked again, to the one after it. */
function measureToNext(plan: Plan, what: 'rib' | 'stop', way: 1 | -1): void {
  const s = heldRun(plan, useView.getState().s);
  const [from, to] = placesOn(plan, useMeasure.getState());
  const goesOn = from?.s === s && to?.s !== undefined && Math.sign(to.s - s) === way ? to.s : s;
  const [rib, stop] = what === 'rib' ? [nextRib(plan, goesOn, way)] : [undefined, nextStop(plan, goesOn, way)];
  const there = rib ? placeAtRun(plan, rib.s) : stop && placeAtStop(plan, stop);
  if (there) useMeasure.setState({ plan, places: [placeAtRun(plan, s), there] });
}

function Figures({ plan, unit }: { readonly plan: Plan; readonly unit: Unit }) {
  const measure = useMeasure();
  const [a, b] = placesOn(plan, measure);
  const station = (x: number) => nearerEnd(plan, x, unit, 1);
  if (!a) return <p>Press two places on the board. Near a rib, a stop, a strip's end or the edge of a part it is that which is measured.</p>;
  if (!b) return <p>From {textOf(a.name, unit)}, {station(a.station)}: press the second place.</p>;
  const { straight, middle, along } = measured(a, b);
  return (
    <>
      <p><b data-measured="middle">{lengthWithUnit(middle, unit)} along the middle</b></p>
      <p>
        {along === undefined ? null : <><span data-measured="along">{lengthWithUnit(along, unit)} along the rail</span>, </>}
        <span data-measured="straight">{lengthWithUnit(straight, unit)} straight</span>
      </p>
      <p className="hint">{capital(textOf(a.name, unit))}, {station(a.station)}, to {textOf(b.name, unit)}, {station(b.station)}</p>
    </>
  );
}

export function MeasurePanel({ plan }: { readonly plan: Plan }) {
  const unit = useUnits((state) => state.unit);
  useEffect(() => clearMeasure, []);
  return (
    <Drawer label="Measure" className="measure">
      <div role="status"><Figures plan={plan} unit={unit} /></div>
      <div className="buttons" role="group" aria-label="From the cursor">
        <span aria-hidden="true">From the cursor</span>
        {NEXT.map(({ what, way, label, name }) => <button key={label} type="button" className="ruled" aria-label={name} onClick={() => measureToNext(plan, what, way)}>{label}</button>)}
      </div>
    </Drawer>
  );
}
