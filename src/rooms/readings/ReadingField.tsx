/** One caliper reading at a rib: a large field, with the drawn figure beside it and what is wrong under it. */
import { range, said, size } from '../../../geometry/said';
import type { ReadingField as Field, ReadingFlag } from '../../../geometry/trust/types';
import { FigureField } from '../../ui/fields';
import { Fault } from '../../ui/Said';
import { lengthText, readLength, type Unit, unitSign } from '../../say/units';
import { READING_WORDS, signed } from '../../say/bands';
import './readings.css';

interface ReadingFieldProps {
  readonly field: Field;
  readonly value: number | undefined;
  readonly drawn: number;
  /** The greatest the file takes, mm. */
  readonly most: number;
  readonly flags: readonly ReadingFlag[];
  readonly unit: Unit;
  readonly onPut: (value: number | undefined) => void;
  /** Enter has taken the figure. */
  readonly onEnter: () => void;
}

export function ReadingInput({ field, value, drawn, most, flags, unit, onPut, onEnter }: ReadingFieldProps) {
  const { label, how } = READING_WORDS[field];
  const mm = (v: number) => lengthText(v, unit, 2);
  const allowed = said('{sizes}, or empty', { sizes: range(0, most) });
  return (
    <div className="reading" data-reading={field}>
      <FigureField
        label={label} shown={value === undefined ? '' : mm(value)} unit={unitSign(unit)} placeholder={mm(drawn)} allowed={allowed}
        onEnter={onEnter} read={(text) => (text.trim() === '' ? undefined : readLength(text, unit))}
        put={(next) => {
          if (next !== undefined && (next < 0 || next > most)) return [{ field: label, value: size(next), allowed, message: 'is not a size for this' }];
          onPut(next);
          return [];
        }}
      />
      <p className="reading-notes">
        <span>{how}</span>
        <span>
          drawn {mm(drawn)}
          {value !== undefined && <b data-off={field}> {signed(value - drawn, mm)}</b>}
        </span>
      </p>
      {flags.map((flag) => <p key={flag.field} className="reading-flag" role="alert"><Fault error={flag} /></p>)}
    </div>
  );
}
