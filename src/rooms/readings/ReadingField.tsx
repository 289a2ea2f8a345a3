/** One reading at a rib or of the batch: a large field, with the drawn figure beside it and what is wrong under it. */
import { said } from '../../../geometry/said';
import type { ReadingField as Field, ReadingFlag } from '../../../geometry/trust/types';
import { FigureField } from '../../ui/fields';
import { Fault } from '../../ui/Said';
import { readingFigure } from '../../say/readings';
import type { Unit } from '../../say/units';
import { READING_WORDS, signed } from '../../say/bands';
import './readings.css';

interface ReadingFieldProps {
  readonly field: Field;
  /** What was read and what was drawn, mm; a bevel radians. */
  readonly value: number | undefined;
  readonly drawn: number;
  readonly flags: readonly ReadingFlag[];
  readonly unit: Unit;
  readonly onPut: (value: number | undefined) => void;
  /** Enter has taken the figure. */
  readonly onEnter: () => void;
}

export function ReadingInput({ field, value, drawn, flags, unit, onPut, onEnter }: ReadingFieldProps) {
  const { label, how } = READING_WORDS[field];
  const figure = readingFigure(field, unit);
  const text = (v: number) => figure.text(v, 2);
  return (
    <div className="reading" data-reading={field}>
      <FigureField
        label={label} shown={value === undefined ? '' : figure.typed(value)} unit={figure.sign} placeholder={figure.typed(drawn)} allowed={said('{sizes}, or empty', { sizes: figure.range })}
        onEnter={onEnter} read={(typed) => (typed.trim() === '' ? undefined : figure.read(typed))}
        put={(next) => {
          const faults = next === undefined ? [] : figure.faults(next);
          if (faults.length === 0) onPut(next);
          return faults;
        }}
      />
      <p className="reading-notes">
        <span>{how}</span>
        <span>
          drawn {text(drawn)}
          {value !== undefined && <b data-off={field}> {signed(value - drawn, text)}</b>}
        </span>
      </p>
      {flags.map((flag) => <p key={flag.field} className="reading-flag" role="alert"><Fault error={flag} /></p>)}
    </div>
  );
}
