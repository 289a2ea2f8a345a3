/** The kernel's sentences and errors as the maker reads them: lengths in the maker's unit. */
import type { FieldError } from '../../geometry/design/fields';
import { useUnits } from '../state/unit';
import { lengthWithUnit, sentence, type Unit } from '../say/units';

/** A sentence of the kernel. */
export function Said({ text }: { readonly text: string }) {
  return sentence(text, useUnits((state) => state.unit));
}

/** A value as the error has it: a bare figure where lengths are allowed is a length, mm. */
function valueIn({ value, allowed }: Pick<FieldError, 'value' | 'allowed'>, unit: Unit): string {
  const bare = /^[−-]?\d+(\.\d+)?$/.test(value) && allowed.endsWith(' mm');
  return unit !== 'mm' && bare ? lengthWithUnit(Number(value.replace('−', '-')), unit) : sentence(value, unit);
}

/** What is wrong with a field: the value, why, and what is allowed. */
export function Fault({ error }: { readonly error: Pick<FieldError, 'value' | 'message' | 'allowed'> }) {
  const unit = useUnits((state) => state.unit);
  return <><b>{valueIn(error, unit)}</b> {sentence(error.message, unit)}. Allowed: {sentence(error.allowed, unit)}.</>;
}
