/** A typed number: Enter or leaving the field takes it, Escape cancels it; what is wrong is shown under it. */
import { useEffectEvent, useId, useLayoutEffect, useRef, useState } from 'react';
import type { FieldError } from '../../geometry/errors';
import type { Said } from '../../geometry/said';
import { commaWays, unitSign } from '../say/units';
import { useUnits } from '../state/unit';
import { Fault } from './Said';
import { WordedLabel } from './Term';
import css from './fields.module.css';

/**
 * Asks which figure was meant where a typed comma may be either: `unclear` says whether it must be, and puts `question`
 * on the screen (null takes it away); `take` is given the text chosen.
 */
export function useComma(take: (text: string) => void) {
  const [asked, setAsked] = useState<string | null>(null);
  const ways = asked === null ? null : commaWays(asked);
  const unclear = (text: string | null): boolean => {
    const is = text !== null && commaWays(text) !== null;
    setAsked(is ? text : null);
    return is;
  };
  const question = ways && (
    <span role="alert" className="field-error" data-comma>
      “{asked}” can be read two ways. It is {ways.map((way, i) => <span key={way}>{i > 0 && ' or '}<button type="button" className="go" onClick={() => take(way)}>{way}</button></span>)}
    </span>
  );
  return { unclear, question };
}

interface FigureFieldProps {
  readonly label: string;
  /** Shown when nothing is being typed. */
  readonly shown: string;
  /** Shown behind the figure, and heard with it. */
  readonly unit?: string;
  readonly placeholder?: string;
  /** What is allowed here. */
  readonly allowed: Said;
  /** Reads the text: a number, undefined for an allowed empty field, null where it is neither. */
  readonly read: (text: string) => number | null | undefined;
  /** Puts the number in place; the errors where it cannot be. */
  readonly put: (value: number | undefined) => readonly FieldError[];
  /** Called when Enter has taken the figure. */
  readonly onEnter?: () => void;
  readonly bare?: boolean;
  readonly disabled?: boolean;
}

export function FigureField({ label, shown, unit, placeholder, allowed, read, put, onEnter, bare, disabled }: FigureFieldProps) {
  const id = useId();
  const [typed, setTyped] = useState<string | null>(null);
  const [errors, setErrors] = useState<readonly FieldError[]>([]);
  /** Takes what is typed; true if nothing is wrong with it. */
  const enter = (text = typed): boolean => {
    if (text === null) return errors.length === 0;
    if (text === shown) {
      cancel();
      return true;
    }
    if (comma.unclear(text)) return false;
    const value = read(text);
    const found = value === null ? [{ field: label, value: `“${text}”`, allowed, message: 'is not a number' }] : put(value);
    setErrors(found);
    setTyped(found.length === 0 ? null : text);
    return found.length === 0;
  };
  const comma = useComma(enter);
  const input = useRef<HTMLInputElement>(null);
  // A figure that changes under a maker who has come to the field is still the one to be typed over: the selection goes with its text.
  const select = useEffectEvent(() => {
    if (typed === null && input.current === document.activeElement) input.current?.select();
  });
  useLayoutEffect(() => select(), [shown]);
  const cancel = () => {
    comma.unclear(null);
    setTyped(null);
    setErrors([]);
  };
  // Keys for figures alone have no stroke for fractions.
  const fractions = useUnits((state) => state.unit) === 'in16' && unit === unitSign('in16');
  const told = [errors.length > 0 && `${id}-error`, unit && `${id}-unit`].filter(Boolean).join(' ');
  const entry = (
    <input
      ref={input} id={id} className="figure-input" inputMode={fractions ? 'text' : 'decimal'} value={typed ?? shown} placeholder={placeholder} disabled={disabled}
      aria-label={label} aria-invalid={errors.length > 0} aria-describedby={told || undefined}
      onFocus={(event) => event.target.select()} onChange={(event) => setTyped(event.target.value)} onBlur={() => enter()}
      onKeyDown={(event) => {
        if (event.key === 'Enter' && enter()) onEnter?.();
        if (event.key === 'Escape') cancel();
      }}
    />
  );
  const wrong = comma.question ?? (errors.length > 0 && (
    <span role="alert" id={`${id}-error`} className="field-error">
      <Fault error={errors[0]} /> Your board is unchanged.
    </span>
  ));
  if (bare) return <>{entry}<span id={`${id}-unit`} hidden>{unit}</span>{wrong}</>;
  return (
    <div className="figure-row">
      <WordedLabel of={id} text={label} />
      {entry}
      <span id={`${id}-unit`} className="sign">{unit ?? ''}</span>
      {wrong}
    </div>
  );
}

interface ChoiceFieldProps<T extends string> {
  readonly label: string;
  readonly value: T;
  /** Each with its words. */
  readonly choices: readonly (readonly [value: T, words: string])[];
  readonly onChoose: (value: T) => void;
}

/** One of a list, in a line like a figure's. */
export function ChoiceField<T extends string>({ label, value, choices, onChoose }: ChoiceFieldProps<T>) {
  const id = useId();
  return (
    <div className={`figure-row ${css.text}`}>
      <WordedLabel of={id} text={label} />
      <select
        id={id} aria-label={label} value={value}
        onChange={(event) => {
          const chosen = choices.find(([one]) => one === event.target.value);
          if (chosen) onChoose(chosen[0]);
        }}
      >
        {choices.map(([one, words]) => <option key={one} value={one}>{words}</option>)}
      </select>
    </div>
  );
}

interface TextFieldProps {
  readonly label: string;
  readonly shown: string;
  readonly put: (text: string) => readonly FieldError[];
}

/** A typed text, taken and cancelled like a number. */
export function TextField({ label, shown, put }: TextFieldProps) {
  const id = useId();
  const [typed, setTyped] = useState<string | null>(null);
  const [errors, setErrors] = useState<readonly FieldError[]>([]);
  const enter = () => {
    if (typed === null) return;
    const found = typed === shown ? [] : put(typed);
    setErrors(found);
    if (found.length === 0) setTyped(null);
  };
  return (
    <div className={`figure-row ${css.text}`}>
      <WordedLabel of={id} text={label} />
      <input
        id={id} className="figure-input" value={typed ?? shown} aria-label={label} aria-invalid={errors.length > 0} aria-describedby={errors.length > 0 ? `${id}-error` : undefined}
        onChange={(event) => setTyped(event.target.value)} onBlur={enter}
        onKeyDown={(event) => {
          if (event.key === 'Enter') enter();
          if (event.key === 'Escape') {
            setTyped(null);
            setErrors([]);
          }
        }}
      />
      {errors.length > 0 && <span role="alert" id={`${id}-error`} className="field-error"><Fault error={errors[0]} /> Your board is unchanged.</span>}
    </div>
  );
}
