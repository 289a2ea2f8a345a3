/** The kernel's sentences and errors as the maker reads them: figures in the maker's unit. */
import type { FieldError } from '../../geometry/errors';
import type { Said as What } from '../../geometry/said';
import { textOf } from '../say/said';
import { useUnits } from '../state/unit';

/** Anything said. */
export function Said({ text }: { readonly text: What }) {
  return textOf(text, useUnits((state) => state.unit));
}

/** What is wrong with a field: the value, why, and what is allowed. */
export function Fault({ error: { value, message, allowed } }: { readonly error: Pick<FieldError, 'value' | 'message' | 'allowed'> }) {
  return <><b><Said text={value} /></b> <Said text={message} />. Allowed: <Said text={allowed} />.</>;
}
