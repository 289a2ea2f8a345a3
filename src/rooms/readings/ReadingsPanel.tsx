/** As built: caliper readings typed rib by rib, and the plan ahead corrected by them. The design is unchanged. */
import { useEffect, useRef, useState } from 'react';
import { expectedReadings, expectedSizes } from '../../../geometry/trust/asBuilt';
import { BATCH_FIELDS, isEmptyRecord, READING_FIELDS, READING_MOST, readingOf } from '../../../geometry/trust/readings';
import type { ReadingField } from '../../../geometry/trust/types';
import type { Plan, RibAtRail, Side } from '../../../geometry/types';
import { FilePick } from '../../ui/FilePick';
import { handOver } from '../../state/boardFile';
import { useHistory } from '../../state/design';
import { useKeep } from '../../state/keep';
import { cursorRun, stepRib } from '../../state/station';
import { nearerEnd } from '../../say/words';
import { useUnits } from '../../state/unit';
import { useView } from '../../state/view';
import { Corrected } from './Corrected';
import { ReadingInput } from './ReadingField';
import { Trials } from './Trials';
import { claimReadings, deleteReadings, openReadings, readingsText, setReading, useBuilt, useReadings, useRecord } from '../../work/readings';
import { Fault, Said } from '../../ui/Said';
import { Working } from '../../ui/Working';
import './readings.css';

const SIDES: readonly { readonly id: Side; readonly label: string }[] = [
  { id: 'starboard', label: 'Starboard' },
  { id: 'port', label: 'Port' },
];

/** How the kernel carries readings to the places between, in words. */
const STATED: readonly string[] = [
  'Between two measured ribs a difference changes evenly along the rail; beyond the first and last it stays as it is.',
  'A rib end that is high lifts the deck there and tilts it about the stringer, which holds the middle.',
  'A bevel that was read is the deck’s tilt at its rib. A size of the batch stands at every rib where it was not read itself.',
  'Where the tab was measured, the tab sets the gap, and the cap is planed where it stands proud.',
  'Stops are worked out again on the corrected gap. Hull and design are unchanged.',
];

/** The rib under the cursor, or the nearest. */
function ribNear(plan: Plan, s: number): RibAtRail | undefined {
  return plan.rail.ribs.reduce<RibAtRail | undefined>((best, rib) => (best && Math.abs(best.s - s) <= Math.abs(rib.s - s) ? best : rib), undefined);
}

function Files() {
  const record = useRecord();
  const none = isEmptyRecord(record);
  // On a phone the top bar's is out of reach.
  const { undo, pastStates } = useHistory();
  return (
    <div className="buttons">
      <button type="button" className="ruled" title="The last step, of a reading or of the board" disabled={pastStates.length === 0} onClick={() => undo()}>Undo</button>
      <FilePick className="ruled" label="Open readings" accept=".json,application/json" name="readings-file" onFile={(file) => void openReadings(file)} />
      <button type="button" className="ruled" disabled={none} onClick={() => handOver(record.board, '.readings.json', readingsText())}>Save readings</button>
      <button
        type="button" className="ruled" disabled={none}
        onClick={deleteReadings}
      >
        Delete all readings
      </button>
    </div>
  );
}

/** Fields for what is read at a rib of the side, or, without a rib, for the sizes of the batch. */
function ReadingFields({ plan, rib }: { readonly plan: Plan; readonly rib?: RibAtRail }) {
  const unit = useUnits((state) => state.unit);
  const record = useRecord();
  const { side } = useReadings();
  const built = useBuilt(plan);
  const own = rib ? record.readings.find((r) => r.rib === rib.index + 1 && r.side === side) : record.readings.find((r) => r.of === 'batch' && r.side === undefined);
  const drawn: Partial<Record<ReadingField, number>> = rib ? expectedReadings(plan, rib) : expectedSizes(plan);
  const fields = rib ? READING_FIELDS.filter((field) => field !== 'tab' || rib.hasTab || own?.tab !== undefined) : BATCH_FIELDS;
  const form = useRef<HTMLDivElement>(null);
  // Enter goes to the next field, so that the other hand can keep the caliper.
  const goOn = () => {
    const inputs = [...(form.current?.querySelectorAll('input') ?? [])];
    inputs[inputs.findIndex((input) => input === document.activeElement) + 1]?.focus();
  };
  return (
    <div ref={form} role="group" aria-label={rib ? `Readings at rib ${rib.index + 1}, ${side}` : 'Sizes of the batch'}>
      {fields.map((field) => (
        <ReadingInput
          key={`${rib?.index} ${side} ${field}`} field={field} value={own && readingOf(own, field)} drawn={drawn[field] ?? 0}
          most={READING_MOST[field]} unit={unit} flags={built?.flags.filter((flag) => flag.rib === rib?.index && flag.reading === field) ?? []}
          onEnter={goOn} onPut={(value) => setReading(rib ? { rib: rib.index + 1, side } : 'batch', field, value)}
        />
      ))}
    </div>
  );
}

/** How many readings the correction uses, and which of them are doubtful. */
function Verdict({ plan, wide }: { readonly plan: Plan; readonly wide: boolean }) {
  const trouble = useKeep((state) => state.recordTrouble);
  const record = useRecord();
  const { side } = useReadings();
  const built = useBuilt(plan);
  const at = useView((state) => state.s);
  const here = ribNear(plan, cursorRun(plan, at))?.index;
  const count = record.readings.filter((r) => r.of === 'rib' && r.side === side).length;
  const batch = record.readings.some((r) => r.of === 'batch' && (r.side ?? side) === side);
  const strange = built?.flags.filter((flag) => flag.field === 'board' || flag.field === 'revision') ?? [];
  // Flags of the fields shown are under them.
  const others = built?.flags.filter((flag) => !strange.includes(flag) && !(flag.reading !== undefined && flag.rib === (wide ? undefined : here))) ?? [];
  const left = built ? built.flags.length - strange.length : 0;
  return (
    <>
      {trouble && <p role="alert" className="field-error"><Said text={trouble} /></p>}
      <Working job="built" tell={() => ({ text: 'Correcting the plan' })} failed="No plan as built." />
      <p className="built-note" role="status">
        {count === 0 && !batch && 'Nothing is measured on this side yet. Type what the caliper reads; what is not measured is taken as drawn.'}
        {(count > 0 || batch) && built && `${built.used} ${built.used === 1 ? 'reading' : 'readings'} used, ${[...(batch ? ['of the batch'] : []), ...(count > 0 ? [`at ${count} ${count === 1 ? 'rib' : 'ribs'}`] : [])].join(' and ')}${left > 0 ? `; ${left} left out` : ''}.`}
      </p>
      {strange.length > 0 && (
        <div className="reading-flag">
          {strange.map((flag) => <p key={flag.field}><b>{flag.field} <Said text={flag.value} /></b>: <Said text={flag.message} /> (this one is <Said text={flag.allowed} />).</p>)}
          <button type="button" className="ruled" onClick={claimReadings}>They belong to this board</button>
        </div>
      )}
      {others.map((flag) => <p key={flag.field} className="reading-flag"><b>{flag.field}:</b> <Fault error={flag} /></p>)}
    </>
  );
}

export function ReadingsPanel({ plan }: { readonly plan: Plan }) {
  const unit = useUnits((state) => state.unit);
  const at = useView((state) => state.s);
  const moveTo = useView((state) => state.moveTo);
  const { side, shown } = useReadings();
  const built = useBuilt(plan);
  const rib = ribNear(plan, cursorRun(plan, at));
  const [wide, setWide] = useState(false);
  // The card and the ribbon show the rib that is measured.
  const s = rib?.s;
  useEffect(() => {
    if (s !== undefined) moveTo(s);
  }, [s, moveTo]);
  return (
    <section className="panel readings" aria-label="As built">
      <div className="readings-head">
        <h2>As built</h2>
        <span className="segments" role="group" aria-label="Side">
          {SIDES.map(({ id, label }) => <button key={id} type="button" aria-pressed={side === id} onClick={() => useReadings.setState({ side: id })}>{label}</button>)}
        </span>
      </div>
      <div className="segments" role="group" aria-label="Measured">
        <button type="button" aria-pressed={!wide} onClick={() => setWide(false)}>This rib</button>
        <button type="button" aria-pressed={wide} onClick={() => setWide(true)}>The batch</button>
      </div>
      {wide ? (
        <>
          <p className="hint">Sizes that come off one setting of the saw: they stand at every rib of both sides where they were not read.</p>
          <ReadingFields plan={plan} />
        </>
      ) : rib ? (
        <>
          <div className="rib-step">
            <button type="button" aria-label="Previous rib" onClick={() => stepRib(-1)}>⇤</button>
            <span><b>Rib {rib.index + 1}</b><small>{nearerEnd(plan, rib.x, unit)}</small></span>
            <button type="button" aria-label="Next rib" onClick={() => stepRib(1)}>⇥</button>
          </div>
          <ReadingFields plan={plan} rib={rib} />
        </>
      ) : <p className="hint">No rib of this board meets the rail, so there is nowhere to measure.</p>}
      <Verdict plan={plan} wide={wide} />
      {built && built.used > 0 && (
        <>
          <label className="switch"><input type="checkbox" checked={shown} onChange={(event) => useReadings.setState({ shown: event.target.checked })} />As built leads on ribbon and card, the design beside it</label>
          <Corrected plan={plan} built={built} unit={unit} />
        </>
      )}
      <Trials plan={plan} unit={unit} />
      <Files />
      <details className="more">
        <summary>How readings correct the plan</summary>
        <ul>{STATED.map((line) => <li key={line}>{line}</li>)}</ul>
      </details>
    </section>
  );
}
