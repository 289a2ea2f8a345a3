/** The lists of the rail: all that is met from tail to nose, and the box at each rib or at even steps. */
import { useState } from 'react';
import type { Parts } from '../../../geometry/parts/types';
import type { Plan } from '../../../geometry/types';
import { railEvents, type RailEvent, ribTable, stepTable } from '../../papers/railTables';
import { textOf } from '../../say/said';
import { nearerEnd } from '../../say/words';
import { lengthText, lengthWithUnit, type Unit, unitSign } from '../../say/units';
import { AsDrawn } from './AsDrawn';
import { listOf, type Pick } from './lists';
import { type ListLine, PlaceList } from './places';
import './bench.css';
import './lists.css';

export interface PageProps {
  readonly plan: Plan;
  readonly parts: Parts;
  readonly unit: Unit;
}

const SIGNS: Readonly<Record<RailEvent['kind'], string>> = { rib: '┬', stop: '▌', joint: '╪', bend: '▨', block: '✕', box: '▭' };

function eventLine(plan: Plan, unit: Unit, event: RailEvent, i: number): ListLine {
  const until = event.until === undefined ? '' : `to ${lengthText(event.until, unit, 0)}`;
  const side = event.side === 'both' ? '' : event.side;
  return {
    key: `${event.kind} ${i}`, tone: event.kind, spot: { s: event.s },
    cells: [
      nearerEnd(plan, event.x, unit, 1),
      <span key="what" className="met"><i className="sign" aria-hidden="true">{SIGNS[event.kind]}</i>{event.what} <small>{[until, side, textOf(event.detail, unit), event.edge === undefined ? '' : textOf(event.edge, unit)].filter(Boolean).join(', ')}</small></span>,
      lengthText(event.s, unit), lengthText(plan.rail.face.length - event.s, unit),
    ],
  };
}

/** Stops, joints, ribs and steam in the order you meet them. */
function Along({ plan, parts, unit }: PageProps) {
  return (
    <>
      <AsDrawn plan={plan} but=" but the joints" />
      <PlaceList
        plan={plan} label="Tail to nose" follow
        columns={[
          { title: 'station', words: true }, { title: 'what', words: 'long' },
          { title: 'along rail', hint: 'Along the rail from the tail' }, { title: 'from nose', hint: 'Along the rail from the nose', spare: true },
        ]}
        lines={railEvents(plan, parts).map((event, i) => eventLine(plan, unit, event, i))}
      />
    </>
  );
}

const BOX_PICKS: readonly Pick[] = ['gap', 'rows', 'slot', 'bevel', 'rise', 'planing', 'radius', 'cover', 'sole', 'cap'].map((id) => ({ id }));

/** The box at the ribs, or at even steps along the rail. */
function Box({ plan, parts, unit, step }: PageProps & { readonly step: number }) {
  const table = step === 0 ? ribTable(plan, parts) : stepTable(plan, parts, step);
  const head: Pick[] = step === 0
    ? [{ id: 'rib' }, { id: 'x', title: 'station' }]
    : [{ id: 'x', title: 'station' }, { id: 'run', title: 'along rail' }];
  const { columns, lines } = listOf(table, [...head, ...BOX_PICKS], unit, 'run');
  return (
    <>
      <AsDrawn plan={plan} />
      <PlaceList plan={plan} label={step === 0 ? 'The rail at each rib' : 'The rail at even steps'} columns={columns} lines={lines} follow />
      <p className="hint">
        Lengths in {unitSign(unit)}. Rise: how far the deck falls over the strip’s {lengthWithUnit(plan.design.rail.stripWidth, unit)}. Planing: depth at the cap’s outer edge. Sole and cap: how they bend there.
      </p>
    </>
  );
}

const STEPS: Readonly<Record<'mm' | 'in', readonly number[]>> = { mm: [50, 100, 200], in: [50.8, 101.6, 203.2] };

/** All that is met along the rail, the box at each rib, or at even steps: one list at a time. */
export function MeasurePage(props: PageProps) {
  const { unit } = props;
  /** Spacing of the places, mm; 0 the ribs, null all that is met. */
  const [step, setStep] = useState<number | null>(0);
  const ways = [[0, 'At the ribs'], [null, 'Tail to nose'], ...STEPS[unit === 'mm' ? 'mm' : 'in'].map((each) => [each, `Every ${lengthWithUnit(each, unit, 0)}`] as const)] as const;
  return (
    <>
      <header className="page-head">
        <h2>Measure</h2>
        <p>{step === null ? `Everything you meet from tail to nose: its station, then its place along the rail from both ends (${unitSign(unit)}).` : 'What the box should read. A line leads to its place.'}</p>
      </header>
      <div className="segments" role="group" aria-label="Where">
        {ways.map(([each, label]) => <button key={label} type="button" aria-pressed={each === step} onClick={() => setStep(each)}>{label}</button>)}
      </div>
      {step === null ? <Along {...props} /> : <Box {...props} step={step} />}
    </>
  );
}
