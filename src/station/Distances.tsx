/** Distances of the station from both ends, each of them a field to type another into. */
import { type FormEvent, useId, useState } from 'react';
import { runOfPlace } from '../../geometry/rail/query';
import type { Plan, SectionDrawing } from '../../geometry/types';
import { lengthText, lengthWithUnit, readLength, type Unit, unitSign } from '../say/units';
import { useView } from '../state/view';
import { useComma } from '../ui/fields';
import { Term } from '../ui/Term';
import css from './Distances.module.css';

interface FieldProps {
  readonly label: string;
  readonly value: number;
  readonly most: number;
  readonly unit: Unit;
  readonly large?: boolean;
  readonly onGo: (value: number) => void;
}

/** One distance: shows the station's until typed into, goes there on Enter or on leaving. */
function DistanceField({ label, value, most, unit, large, onGo }: FieldProps) {
  const [typed, setTyped] = useState<string | null>(null);
  const [error, setError] = useState<string | null>(null);
  const go = (text = typed) => {
    if (text === null || comma.unclear(text)) return;
    const mm = readLength(text, unit);
    if (mm === null || mm < 0 || mm > most) {
      setTyped(text);
      setError(`${label}: “${text}” is ${mm === null ? 'not a length' : 'off the board'}; 0 to ${lengthWithUnit(most, unit)}`);
      return;
    }
    setTyped(null);
    setError(null);
    onGo(mm);
  };
  const comma = useComma(go);
  const id = useId();
  const shown = typed ?? lengthText(value, unit);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    go();
  };
  return (
    <form className={css.form} data-large={large} onSubmit={submit}>
      <input
        className={css.figure} style={{ width: `${Math.max(2, shown.length) + (shown.includes('.') ? 0 : 0.5)}ch` }} aria-label={label} aria-describedby={id} aria-invalid={error !== null} inputMode={unit === 'in16' ? 'text' : 'decimal'}
        value={shown} onFocus={(event) => event.target.select()}
        onChange={(event) => setTyped(event.target.value)} onBlur={() => go()}
        onKeyDown={(event) => {
          if (event.key !== 'Escape') return;
          comma.unclear(null);
          setTyped(null);
          setError(null);
        }}
      />
      <span id={id} hidden>{unitSign(unit)}</span>
      {(comma.question || error !== null) && <div className={css.wrong}>{comma.question ?? <p role="alert" className="field-error">{error}</p>}</div>}
    </form>
  );
}

interface DistancesProps {
  readonly plan: Plan;
  readonly drawing: SectionDrawing;
  readonly unit: Unit;
}

/** The four distances, by name and which way they go. */
function useDistances({ plan, drawing, unit }: DistancesProps) {
  const moveTo = useView((state) => state.moveTo);
  const { length } = plan.hull;
  const total = plan.rail.face.length;
  const { x, section: { s } } = drawing;
  const goTo = (station: number) => moveTo(runOfPlace(plan, { x: station }));
  const [near, far] = x <= length - x ? (['tail', 'nose'] as const) : (['nose', 'tail'] as const);
  const from = (end: 'tail' | 'nose', value: number, whole: number) => (end === 'tail' ? value : whole - value);
  const station = (end: 'tail' | 'nose', large?: true) => (
    <DistanceField large={large} label={`Station from ${end}`} value={from(end, x, length)} most={length} unit={unit} onGo={(typed) => goTo(from(end, typed, length))} />
  );
  const along = (end: 'tail' | 'nose') => (
    <DistanceField label={`Along the rail from ${end}`} value={from(end, s, total)} most={total} unit={unit} onGo={(typed) => moveTo(from(end, typed, total))} />
  );
  return { near, far, station, along };
}

/** Where the section is: the station from the nearer end, large; along the rail from there, and the station from the other end. */
export function Distances(props: DistancesProps) {
  const { near, far, station, along } = useDistances(props);
  return (
    <>
      <div className={css.place}>
        {station(near, true)}
        <span className={css.from}><Term id="station" hint="Station: distance along the middle of the board">from the {near}</Term></span>
      </div>
      <div className={css.second}>
        {along(near)}
        <span title="Along the rail: measured on the curve of the box face">along the rail</span>
        <i>·</i>
        <span className={css.far}>{station(far)} from the {far}</span>
      </div>
    </>
  );
}

/** The distances that are asked for less: along the rail from the farther end, and where the box face meets a rib's section. */
export function FarDistances(props: DistancesProps) {
  const { far, along } = useDistances(props);
  const { plan, drawing: { x, section: { x: face } }, unit } = props;
  return (
    <>
      <div className={css.pair}>
        <dt>along the rail from the {far}</dt>
        <dd>{along(far)}</dd>
      </div>
      {x !== face && (
        <div className={css.pair} title="Where the box face meets this section, square to the rail">
          <dt>box face from tail, from nose</dt>
          <dd><span data-figure="Box face from tail">{lengthText(face, unit)}</span>, <span data-figure="Box face from nose">{lengthText(plan.hull.length - face, unit)}</span></dd>
        </div>
      )}
    </>
  );
}
