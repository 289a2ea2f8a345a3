/** Readings where they are taken: the ribs of a side with what a caliper should read in this step, and what it read. */
import { useRef, useState } from 'react';
import type { WorkStep } from '../../../geometry/parts/types';
import { said } from '../../../geometry/said';
import { expectedReadings } from '../../../geometry/trust/asBuilt';
import { batchFigures, isFrameField, readingOf } from '../../../geometry/trust/readings';
import type { AsBuilt, ReadingField } from '../../../geometry/trust/types';
import type { Plan, RibAtRail, Side } from '../../../geometry/types';
import { READING_WORDS } from '../../say/bands';
import { nearerEnd } from '../../say/words';
import { readingFigure } from '../../say/readings';
import { angleText, lengthText, type Unit, unitSign } from '../../say/units';
import { useView } from '../../state/view';
import { FigureField } from '../../ui/fields';
import { Fault } from '../../ui/Said';
import { Worded } from '../../ui/Term';
import { useLastStep } from '../../work/lastStep';
import { useBuilt, useRecord } from '../../work/readings';
import { setReading } from '../../work/record';
import { Asked, type Pending } from './Asked';
import './step.css';

/** What is read in which step, by the step's id: the first is what the step is about. */
const READ_IN: Readonly<Record<string, readonly ReadingField[]>> = {
  'clean-the-rib-ends': ['depth'], 'sole-dry': ['sole'], cap: ['tab', 'cap'], 'spacer-rows': ['spacer'], 'fair-the-box-to-the-deck': ['bevel'],
};

/** The figures read in a step. */
export const readIn = ({ id }: Pick<WorkStep, 'id'>): readonly ReadingField[] => READ_IN[id] ?? [];

/** What a rib's readings change in the steps after: bevel, planing and cover there, drawn and as built. */
function Later({ built, rib, steps, unit }: { readonly built: AsBuilt; readonly rib: RibAtRail; readonly steps: readonly WorkStep[]; readonly unit: Unit }) {
  const now = built.plan.rail.ribs.find(({ index }) => index === rib.index);
  const number = (id: string) => steps.find((step) => step.id === id)?.index;
  if (!now) return null;
  const lines = ([['fair-the-box-to-the-deck', 'bevel', 'bevel', 0.0008], ['fair-the-box-to-the-deck', 'plane off', 'planing', 0.05], ['shape-the-rail-round', 'cover', 'cover', 0.05]] as const)
    .flatMap(([id, words, what, least]) => {
      const [was, is] = [rib.section[what], now.section[what]];
      const text = (v: number) => (what === 'bevel' ? angleText(v) : lengthText(v, unit));
      return Math.abs(is - was) < least ? [] : [{ what, words: `Step ${number(id)}, ${words}`, was: text(was), is: text(is) }];
    });
  return (
    <section className="later" aria-label={`What rib ${rib.index + 1} changes later`}>
      <h3>What rib {rib.index + 1} changes later</h3>
      {lines.length === 0 ? <p>Nothing that a maker would notice.</p> : (
        <dl>{lines.map(({ what, words, was, is }) => <div key={what} data-later={what}><dt><Worded text={words} /></dt><dd><small>drawn {was}</small> <b>{is}</b></dd></div>)}</dl>
      )}
    </section>
  );
}

interface ReadingsProps {
  readonly plan: Plan;
  readonly step: WorkStep;
  readonly steps: readonly WorkStep[];
  readonly side: Side;
  readonly unit: Unit;
}

/** One figure at one rib, as typed. */
function Row({ plan, rib, field, side, unit, pending, onAsk }: Omit<ReadingsProps, 'step' | 'steps'> & {
  readonly rib: RibAtRail; readonly field: ReadingField; readonly pending: Pending | null; readonly onAsk: (pending: Pending) => void;
}) {
  const moveTo = useView((state) => state.moveTo);
  const record = useRecord();
  const built = useBuilt(plan);
  const own = record.readings.find((r) => r.of === 'rib' && r.side === side && r.rib === rib.index + 1);
  const value = own && readingOf(own, field);
  const told = batchFigures(record, side)[field];
  // Of its frames a batch says how far they are off.
  const ofBatch = told === undefined || !isFrameField(field) ? told : expectedReadings(plan, rib)[field] + told;
  const figure = readingFigure(field, unit);
  const name = READING_WORDS[field].label;
  const shown = pending?.rib === rib.index + 1 ? pending.value : value;
  const flags = built?.flags.filter((flag) => flag.rib === rib.index && flag.reading === field) ?? [];
  return (
    <>
      <tr data-read={rib.index + 1} onFocus={() => moveTo(rib.s)}>
        <th scope="row"><button type="button" className="go" onClick={() => moveTo(rib.s)}>{rib.index + 1}</button></th>
        <td>{nearerEnd(plan, rib.x, unit, 1)}</td>
        <td>{figure.text(expectedReadings(plan, rib)[field])}</td>
        <td className="as-built">
          <FigureField
            bare unit={figure.sign} label={`${name} at rib ${rib.index + 1}, ${side}`} shown={shown === undefined ? '' : figure.typed(shown)} allowed={said('{sizes}, or empty', { sizes: figure.range })}
            placeholder={ofBatch === undefined ? undefined : `batch ${figure.typed(ofBatch)}`} read={(typed) => (typed.trim() === '' ? undefined : figure.read(typed))}
            put={(next) => {
              const faults = next === undefined ? [] : figure.faults(next);
              if (next === undefined) setReading({ rib: rib.index + 1, side }, field, undefined);
              else if (faults.length === 0) onAsk({ rib: rib.index + 1, field, value: next });
              return faults;
            }}
          />
        </td>
      </tr>
      {flags.map((flag) => <tr key={flag.field}><td colSpan={4} className="reading-flag"><span role="alert"><Fault error={flag} /></span></td></tr>)}
    </>
  );
}

export function ReadHere({ plan, step, steps, side, unit }: ReadingsProps) {
  const fields = readIn(step);
  const [chosen, setField] = useState<ReadingField | null>(null);
  const [pending, setPending] = useState<Pending | null>(null);
  const [last, setLast] = useState<{ readonly rib: number; readonly side: Side } | null>(null);
  const table = useRef<HTMLTableElement>(null);
  const built = useBuilt(plan);
  const lastStep = useLastStep();
  const field = chosen && fields.includes(chosen) ? chosen : fields.at(0);
  if (!field) return null;
  const { label, how } = READING_WORDS[field];
  const ribs = plan.rail.ribs.filter((rib) => field !== 'tab' || rib.hasTab);
  const inputOf = (rib: number) => table.current?.querySelector<HTMLInputElement>(`[data-read="${rib}"] input`);
  const over = (taken: boolean) => {
    if (!pending) return;
    const at = ribs.findIndex(({ index }) => index + 1 === pending.rib);
    if (taken) setLast({ rib: pending.rib, side });
    setPending(null);
    (inputOf(taken ? (ribs.at(at + 1)?.index ?? ribs[at].index) + 1 : pending.rib))?.focus();
  };
  const lately = last && last.side === side ? plan.rail.ribs.find(({ index }) => index + 1 === last.rib) : undefined;
  return (
    <section className="taken" aria-label={`${label}, ${side}`}>
      <header>
        <h3><Worded text={label} /></h3>
        <span>{how}, {field === 'bevel' ? 'degrees' : unitSign(unit)}</span>
      </header>
      {fields.length > 1 && (
        <div className="segments" role="group" aria-label="What is measured">
          {fields.map((each) => <button key={each} type="button" aria-pressed={each === field} onClick={() => setField(each)}>{READING_WORDS[each].label}</button>)}
        </div>
      )}
      <table ref={table}>
        <thead><tr><th scope="col"><Worded text="rib" /></th><th scope="col"><Worded text="station" /></th><th scope="col">should read</th><th scope="col">as built</th></tr></thead>
        <tbody>
          {ribs.map((rib) => <Row key={`${rib.index} ${side} ${field}`} plan={plan} rib={rib} field={field} side={side} unit={unit} pending={pending?.field === field ? pending : null} onAsk={setPending} />)}
        </tbody>
      </table>
      {pending && <Asked plan={plan} unit={unit} side={side} pending={pending} onOver={over} />}
      {lately && built && built.used > 0 && <Later built={built} rib={lately} steps={steps} unit={unit} />}
      {last && lastStep.reading && (
        <button
          type="button" className="ruled undo-reading"
          onClick={() => {
            lastStep.undo();
            setLast(null);
          }}
        >
          Undo {lastStep.what}
        </button>
      )}
    </section>
  );
}
