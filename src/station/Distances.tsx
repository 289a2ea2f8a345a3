/** Distances of the station from both ends, each of them a field to type another into. */
import { type FormEvent, useState } from 'react';
import { runOfPlace } from '../../geometry/rail/query';
import type { Plan, SectionDrawing } from '../../geometry/types';
import { lengthText, lengthWithUnit, readLength, type Unit, unitSign } from '../say/units';
import { useView } from '../state/view';
import { useComma } from '../ui/fields';
import css from './Distances.module.css';

interface FieldProps {
  readonly label: string;
  readonly value: number;
  readonly most: number;
  readonly unit: Unit;
  readonly onGo: (value: number) => void;
}

/** One distance: shows the station's until typed into, goes there on Enter or on leaving. */
function DistanceField({ label, value, most, unit, onGo }: FieldProps) {
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
  const submit = (event: FormEvent) => {
    event.preventDefault();
    go();
  };
  return (
    <form onSubmit={submit}>
      <input
        className={`figure-input ${css.figure}`} aria-label={label} aria-invalid={error !== null} inputMode={unit === 'in16' ? 'text' : 'decimal'}
        value={typed ?? lengthText(value, unit)} onFocus={(event) => event.target.select()}
        onChange={(event) => setTyped(event.target.value)} onBlur={() => go()}
        onKeyDown={(event) => {
          if (event.key !== 'Escape') return;
          comma.unclear(null);
          setTyped(null);
          setError(null);
        }}
      />
      {comma.question ?? (error && <p role="alert" className="field-error">{error}</p>)}
    </form>
  );
}

interface DistancesProps {
  readonly plan: Plan;
  readonly drawing: SectionDrawing;
  readonly unit: Unit;
}

export function Distances({ plan, drawing, unit }: DistancesProps) {
  const moveTo = useView((state) => state.moveTo);
  const { length } = plan.hull;
  const total = plan.rail.face.length;
  const { x, section: { s, x: face } } = drawing;
  const goTo = (station: number) => moveTo(runOfPlace(plan, { x: station }));
  return (
    <div className={css.distances}>
      <span className={css.way}>{unitSign(unit)}</span>
      <span>from tail</span>
      <span>from nose</span>
      <span className={css.way} title="Station: along the centreline; a rib's is its own plane, elsewhere that of the box face">station</span>
      <DistanceField label="Station from tail" value={x} most={length} unit={unit} onGo={goTo} />
      <DistanceField label="Station from nose" value={length - x} most={length} unit={unit} onGo={(from) => goTo(length - from)} />
      {x !== face && (
        <>
          <span className={css.way} title="Where the box face meets this section, square to the rail">box face</span>
          <span data-figure="Box face from tail">{lengthText(face, unit)}</span>
          <span data-figure="Box face from nose">{lengthText(length - face, unit)}</span>
        </>
      )}
      <span className={css.way} title="Along the rail: measured on the curve of the box face">along the rail</span>
      <DistanceField label="Along the rail from tail" value={s} most={total} unit={unit} onGo={moveTo} />
      <DistanceField label="Along the rail from nose" value={total - s} most={total} unit={unit} onGo={(from) => moveTo(total - from)} />
    </div>
  );
}
