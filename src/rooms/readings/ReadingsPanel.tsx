/** As built: caliper readings typed rib by rib, and the plan ahead corrected by them. The design is unchanged. */
import { useEffect, useRef, useState } from 'react';
import { heldRun, nearestMark } from '../../../geometry/rail/query';
import { expectedReadings, expectedSizes } from '../../../geometry/trust/asBuilt';
import { BATCH_FIELDS, FRAME_FIELDS, isFrameField, READING_FIELDS, readingOf } from '../../../geometry/trust/readings';
import { isEmptyRecord } from '../../../geometry/trust/emptyRecord';
import type { ReadingField } from '../../../geometry/trust/types';
import type { Plan, RibAtRail } from '../../../geometry/types';
import { READING_WORDS, signed } from '../../say/bands';
import { lengthWithUnit, type Unit } from '../../say/units';
import { Drawer } from '../../ui/Drawer';
import { SidePick } from '../../ui/SidePick';
import { FilePick } from '../../ui/FilePick';
import { handOver } from '../../state/boardFile';
import { useHistory } from '../../state/design';
import { useKeep } from '../../state/keep';
import { stepRib } from '../../state/station';
import { nearerEnd } from '../../say/words';
import { useUnits } from '../../state/unit';
import { useView } from '../../state/view';
import { Corrected } from './Corrected';
import { ReadingInput } from './ReadingField';
import { Trials } from './Trials';
import { useBuilt, useReadings, useRecord } from '../../work/readings';
import { openReadings, readingsText } from '../../work/readingsFile';
import { claimReadings, deleteReadings, setReading } from '../../work/record';
import { Fault, Said } from '../../ui/Said';
import { Working } from '../../ui/Working';
import './readings.css';

/** How the kernel carries readings to the places between, in words. */
const STATED: readonly string[] = [
  'A reading is its rib’s own. A rib that was not read counts as drawn, or as the batch: what all have alike, told once.',
  'From rib to rib a difference fades into the next, so that a lone one is gone at the ribs before and after; beyond the first and last rib it stays as it is.',
  'A rib end that is high lifts the deck there and tilts it about the stringer, which holds the middle.',
  'A bevel that was read is the deck’s tilt at its rib.',
  'Where the tab was measured, the tab sets the gap, and the cap is planed where it stands proud.',
  'Stops are worked out again on the corrected gap. Hull and design are unchanged.',
];

function Files() {
  const record = useRecord();
  const none = isEmptyRecord(record);
  // On a phone the top bar's is out of reach.
  const { undo, pastStates } = useHistory();
  return (
    <div className="buttons">
      <button type="button" className="ruled" title="The last step, of a reading or of the board" disabled={pastStates.length === 0} onClick={() => undo()}>Undo</button>
      <FilePick className="ruled" label="Open readings" accept=".json,application/json" name="readings-file" onFile={(file) => void openReadings(file)} />
      <button type="button" className="ruled" disabled={none} onClick={() => void readingsText().then((text) => handOver(record.board, '.readings.json', text))}>Save readings</button>
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
          unit={unit} flags={built?.flags.filter((flag) => flag.rib === rib?.index && flag.reading === field) ?? []}
          onEnter={goOn} onPut={(value) => setReading(rib ? { rib: rib.index + 1, side } : 'batch', field, value)}
        />
      ))}
    </div>
  );
}

/** How far the frames of the batch are off the drawn ones, where that was told when a rib was measured. */
function FramesOff({ unit }: { readonly unit: Unit }) {
  const { readings } = useRecord();
  const batch = readings.find((r) => r.of === 'batch' && r.side === undefined);
  return FRAME_FIELDS.map((field) => {
    const off = batch && readingOf(batch, field);
    const { label } = READING_WORDS[field];
    return off === undefined ? null : (
      <p key={field} className="frames-off">
        <span>{label} of every rib: <b>{signed(off, (v) => lengthWithUnit(v, unit, 2))}</b> off the drawn one</span>
        <button type="button" className="ruled" aria-label={`Delete: ${label} of every rib`} onClick={() => setReading('batch', field, undefined)}>Delete</button>
      </p>
    );
  });
}

/** How many readings the correction uses, and which of them are doubtful. */
function Verdict({ plan, wide }: { readonly plan: Plan; readonly wide: boolean }) {
  const trouble = useKeep((state) => state.recordTrouble);
  const record = useRecord();
  const { side } = useReadings();
  const built = useBuilt(plan);
  const at = useView((state) => state.s);
  const here = nearestMark(plan.rail.ribs, heldRun(plan, at))?.index;
  const count = record.readings.filter((r) => r.of === 'rib' && r.side === side).length;
  const batch = record.readings.some((r) => r.of === 'batch' && (r.side ?? side) === side);
  const strange = built?.flags.filter((flag) => flag.field === 'board' || flag.field === 'revision') ?? [];
  // Flags of the fields shown are under them.
  const others = built?.flags.filter((flag) => !strange.includes(flag) && !(flag.reading !== undefined && flag.rib === (wide ? undefined : here) && !(wide && isFrameField(flag.reading)))) ?? [];
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
  const shown = useReadings((state) => state.shown);
  const built = useBuilt(plan);
  const rib = nearestMark(plan.rail.ribs, heldRun(plan, at));
  const [wide, setWide] = useState(false);
  // The card and the ribbon show the rib that is measured.
  const s = rib?.s;
  useEffect(() => {
    if (s !== undefined) moveTo(s);
  }, [s, moveTo]);
  return (
    <Drawer label="As built" className="readings">
      <SidePick />
      <div className="segments" role="group" aria-label="Measured">
        <button type="button" aria-pressed={!wide} onClick={() => setWide(false)}>This rib</button>
        <button type="button" aria-pressed={wide} onClick={() => setWide(true)}>The batch</button>
      </div>
      {wide ? (
        <>
          <p className="hint">Sizes that come off one setting of the saw: they stand at every rib of both sides where they were not read.</p>
          <ReadingFields plan={plan} />
          <FramesOff unit={unit} />
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
    </Drawer>
  );
}
