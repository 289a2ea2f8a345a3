/** A label that is, or carries, a word of the list: the word leads to what it means. */
import { Fragment, type PointerEvent, type ReactNode } from 'react';
import { type TermId, termsIn } from '../say/terms';
import { useView } from '../state/view';
import css from './Term.module.css';

interface TermProps {
  readonly id: TermId;
  /** What is told beside the word when a pointer rests on it; what it means where left out. */
  readonly hint?: string;
  /** The whole of the box that it stands in, which is placed, can be pressed for it. */
  readonly whole?: boolean;
  readonly children: ReactNode;
}

export function Term({ id, hint, whole = false, children }: TermProps) {
  // What cannot be fetched is not told under the pointer; a press says why.
  const tell = ({ currentTarget }: PointerEvent<HTMLButtonElement>) => void import('../say/meanings').then(({ MEANINGS }) => {
    currentTarget.title = MEANINGS[id];
  }, () => undefined);
  return <button type="button" className={css.term} data-term={id} data-whole={whole || undefined} title={hint} onPointerEnter={hint ? undefined : tell} onClick={() => useView.getState().explain(id)}>{children}</button>;
}

/** A label's text, each word of the list in it leading to what it means. */
export function Worded({ text }: { readonly text: string }) {
  return termsIn(text).map((piece, i) => (piece.id ? <Term key={i} id={piece.id}>{piece.text}</Term> : <Fragment key={i}>{piece.text}</Fragment>));
}

interface WordedLabelProps {
  /** Of the field, which has the text for its name too: a word that can be pressed would be heard with a space on either side. */
  readonly of: string;
  readonly text: string;
}

/** A field's label: its words lead to what they mean, a press on the rest of it to the field. */
export function WordedLabel({ of, text }: WordedLabelProps) {
  return (
    <span className={css.label} data-label>
      {termsIn(text).map((piece, i) => (piece.id ? <Term key={i} id={piece.id}>{piece.text}</Term> : <label key={i} htmlFor={of}>{piece.text}</label>))}
    </span>
  );
}
