/** One reading at a rib or of the batch: a large field, with the drawn figure beside it and what is wrong under it. */
import { range, said, size, type Said } from '../../../geometry/said';
import type { ReadingField as Field, ReadingFlag } from '../../../geometry/trust/types';
import { FigureField } from '../../ui/fields';
import { Fault } from '../../ui/Said';
import { angleText, asGiven, lengthText, readLength, readNumber, type Unit, unitSign } from '../../say/units';
import { READING_WORDS, signed } from '../../say/bands';
import './readings.css';

const DEGREE = Math.PI / 180;

interface ReadingFieldProps {
  readonly field: Field;
  /** What was read and what was drawn, mm; a bevel radians. */
  readonly value: number | undefined;
  readonly drawn: number;
  /** The greatest the file takes, mm; a bevel as far either way, radians. */
  readonly most: number;
  readonly flags: readonly ReadingFlag[];
  readonly unit: Unit;
  readonly onPut: (value: number | undefined) => void;
  /** Enter has taken the figure. */
  readonly onEnter: () => void;
}

export function ReadingInput({ field, value, drawn, most, flags, unit, onPut, onEnter }: ReadingFieldProps) {
  const { label, how } = READING_WORDS[field];
  const angle = field === 'bevel';
  const text = (v: number) => (angle ? angleText(v, 2) : lengthText(v, unit, 2));
  const bare = (v: number) => (angle ? asGiven(v / DEGREE, 2) : text(v));
  const least = angle ? -most : 0;
  const allowed = said('{sizes}, or empty', { sizes: angle ? range(least / DEGREE, most / DEGREE, 'deg', 0) : range(least, most) });
  const given = (v: number): Said => (angle ? { of: 'rad', value: v, decimals: 1 } : size(v));
  const read = (typed: string): number | null => {
    if (!angle) return readLength(typed, unit);
    const degrees = readNumber(typed.replace('°', ''));
    return degrees === null ? null : degrees * DEGREE;
  };
  return (
    <div className="reading" data-reading={field}>
      <FigureField
        label={label} shown={value === undefined ? '' : bare(value)} unit={angle ? '°' : unitSign(unit)} placeholder={bare(drawn)} allowed={allowed}
        onEnter={onEnter} read={(typed) => (typed.trim() === '' ? undefined : read(typed))}
        put={(next) => {
          if (next !== undefined && (next < least || next > most)) return [{ field: label, value: given(next), allowed, message: 'is not a size for this' }];
          onPut(next);
          return [];
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
