/** Fields of the board file on the bench: figures, words and choices, each with what is wrong beside it. */
import { fieldRange, fieldUnit } from '../../../geometry/design/fields';
import type { FieldError } from '../../../geometry/errors';
import type { Dimension } from '../../../geometry/said';
import { FigureField, TextField } from '../../ui/fields';
import { useDesign } from '../../state/design';
import { useUnits } from '../../state/unit';
import { fieldLength, readLength, readNumber, unitSign } from '../../say/units';
import { allowedHere, type FieldPath, type FigureKind, fieldValue, dimensionOf, put } from './edits';
import { Fault } from '../../ui/Said';

interface FigureProps {
  readonly path: FieldPath;
  readonly label: string;
  readonly kind: FigureKind;
  /** What an empty field means, where it may be empty. */
  readonly empty?: string;
  /** In a table: the label is for ears alone. */
  readonly bare?: boolean;
  readonly sign?: string;
}

/** The sign beside a plain figure. */
const PLAIN_SIGNS: Partial<Record<Dimension, string>> = { deg: 'degrees', 'kg/m3': 'kg/m3', 'g/m2': 'g/m2', MPa: 'MPa', min: 'minutes', kg: 'kg' };

/** Decimals beyond what a maker types are not shown. */
const trimmed = (value: number): string => String(Number(value.toFixed(4)));

/** A number of the board file. */
export function BoardFigure({ path, label, kind, empty, bare, sign }: FigureProps) {
  const unit = useUnits((state) => state.unit);
  const value = useDesign(({ design }) => fieldValue(design, path));
  const range = fieldRange(path);
  const shown = typeof value !== 'number' ? ''
    : kind === 'length' ? fieldLength(value, unit, 4) : trimmed(kind === 'share' ? value * 100 : value);
  const read = (text: string): number | null | undefined => {
    if (text.trim() === '') return empty === undefined ? null : undefined;
    if (kind === 'length') return readLength(text, unit);
    const figure = readNumber(text);
    return figure !== null && kind === 'share' ? figure / 100 : figure;
  };
  const allowed = allowedHere(path, kind);
  return (
    <FigureField
      label={label} shown={shown} placeholder={empty} bare={bare} unit={sign ?? (kind === 'length' ? unitSign(unit) : kind === 'share' ? '%' : PLAIN_SIGNS[fieldUnit(path)])}
      allowed={allowed} read={read}
      put={(next): readonly FieldError[] => {
        if (next !== undefined && range && (next < range.min || next > range.max)) {
          return [{ field: label, value: { of: dimensionOf(path, kind), value: next }, allowed, message: next < range.min ? 'is too small' : 'is too large' }];
        }
        return put(path, next);
      }}
    />
  );
}

/** A line of text of the board file. */
export function BoardText({ path, label }: Pick<FigureProps, 'path' | 'label'>) {
  const value = useDesign(({ design }) => fieldValue(design, path));
  return <TextField label={label} shown={String(value ?? '')} put={(text) => put(path, text)} />;
}

/** What was wrong with a change that has no field of its own. */
export function Refused({ errors }: { readonly errors: readonly FieldError[] }) {
  if (errors.length === 0) return null;
  return (
    <ul role="alert" className="field-error">
      {errors.slice(0, 3).map((error, i) => <li key={i}>{error.field} <Fault error={error} /> Your board is unchanged.</li>)}
    </ul>
  );
}
