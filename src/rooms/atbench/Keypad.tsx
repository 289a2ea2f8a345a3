/** What the caliper reads at a rib, typed with a thumb: rib end, gap, bevel, and on to the next rib. */
import { type ReactNode, useEffect, useEffectEvent, useRef, useState } from 'react';
import { heldRun, nearestMark, needsAt } from '../../../geometry/rail/query';
import { expectedReadings } from '../../../geometry/trust/asBuilt';
import { readingOf } from '../../../geometry/trust/readings';
import type { ReadingField } from '../../../geometry/trust/types';
import type { Plan, RibAtRail, Side } from '../../../geometry/types';
import { READING_WORDS } from '../../say/bands';
import { farthestMove, movesText } from '../../say/moves';
import { readingFigure } from '../../say/readings';
import { textOf } from '../../say/said';
import { lengthText } from '../../say/units';
import { nearerEnd } from '../../say/words';
import type { Result } from '../../state/jobKinds';
import { nextRib } from '../../state/station';
import { useUnits } from '../../state/unit';
import { useView } from '../../state/view';
import { AskedWork } from '../../ui/AskedWork';
import { SidePick } from '../../ui/SidePick';
import { useReadings, useRecord, useShownBuilt } from '../../work/readings';
import { type RibReading, setReading, takeWay, type Taking, useAsked, waysOf } from '../../work/record';
import './atbench.css';
import './face.css';
import './keypad.css';

/** What is read at a rib once the frames stand, in the order in which it is taken. */
const FIELDS = ['depth', 'tab', 'bevel'] as const satisfies readonly ReadingField[];
type Taken = (typeof FIELDS)[number];
const FRACTIONS = ['1/2', '1/4', '1/8', '1/16'] as const;

function Key({ label, onPress, children }: { readonly label?: string; readonly onPress: () => void; readonly children: ReactNode }) {
  return <button type="button" aria-label={label} onClick={onPress}>{children}</button>;
}

/** The text with a key's sign put to it; a fraction takes the place of the one that stands there. */
function typed(before: string, key: string): string {
  if (key === 'back') return before.replace(/\s?\S$/, '');
  if (key === '−') return before.startsWith('−') ? before.slice(1) : `−${before}`;
  if (key.includes('/')) return `${before.replace(/\s*\d+\/\d+$/, '').trim()} ${key}`.trim();
  if (key === ',') return before.includes(',') || before.includes('/') ? before : `${before === '' || before === '−' ? `${before}0` : before},`;
  return before.length >= 8 ? before : before + key;
}

interface PadProps {
  readonly plan: Plan;
  /** The rib that is measured, and the one after it. */
  readonly rib: RibAtRail;
  readonly next: RibAtRail | undefined;
  readonly onLeave: () => void;
}

export function Keypad({ plan, onLeave }: Pick<PadProps, 'plan' | 'onLeave'>) {
  const rib = nearestMark(plan.rail.ribs, heldRun(plan, useView((state) => state.s)));
  if (rib) return <Pad plan={plan} rib={rib} next={nextRib(plan, rib.s, 1)} onLeave={onLeave} />;
  return (
    <section className="atbench" data-area="atbench" aria-label="Measure">
      <p className="bench-none">No rib of this board meets the rail, so there is nowhere to measure.</p>
      <nav className="bench-thumb"><button type="button" onClick={onLeave}>Leave</button></nav>
    </section>
  );
}

/** Figures typed on a keyboard go the same way as those of the keys on the screen. */
function useKeyboard(onFigure: (key: string) => unknown, onEnter: () => void, onLeave: () => void): void {
  const onKey = useEffectEvent((event: KeyboardEvent) => {
    const key = event.key === 'Backspace' ? 'back' : event.key === '.' ? ',' : event.key === '-' ? '−' : event.key;
    if (/^(\d|,|back|−)$/.test(key)) onFigure(key);
    // On a button Enter is its own.
    else if (key === 'Enter' && !(event.target instanceof HTMLButtonElement)) onEnter();
    else if (key === 'Escape') onLeave();
    else return;
    event.preventDefault();
    event.stopPropagation();
  });
  useEffect(() => {
    const listen = (event: KeyboardEvent) => onKey(event);
    window.addEventListener('keydown', listen, { capture: true });
    return () => window.removeEventListener('keydown', listen, { capture: true });
  }, []);
}

/** What was typed, until it is known what it is of, and where it goes on then. */
interface Question {
  readonly read: RibReading;
  goOn(): void;
}

/** A stop that moves by more is worth a question, mm: more than a row's end is cut to. Own choice. */
const FAR = 3;

const isNear = (moves: Result<'asked'>): boolean => moves.every(({ changes }) => (farthestMove(changes)?.by ?? 0) <= FAR);

interface AskProps {
  readonly rib: RibAtRail;
  readonly side: Side;
  readonly ways: readonly Taking[];
  /** What each would move; none where that could not be worked out. */
  readonly texts: readonly string[];
  readonly onTake: (way: Taking) => void;
}

function Ask({ rib, side, ways, texts, onTake }: AskProps) {
  const first = useRef<HTMLButtonElement>(null);
  useEffect(() => first.current?.focus({ preventScroll: true }), []);
  return (
    <div className="pad-ask" role="group" aria-label="What it is of">
      <p>Is it this rib’s own, or is the whole batch so?</p>
      {ways.map((way, i) => (
        <button key={i} type="button" ref={i === 0 ? first : undefined} onClick={() => onTake(way)}>
          <b>{way.at === 'batch' ? 'The whole batch' : `Rib ${rib.index + 1} alone, ${side}`}</b> <small>{texts[i]}</small>
        </button>
      ))}
    </div>
  );
}

function Pad({ plan, rib, next, onLeave }: PadProps) {
  const unit = useUnits((state) => state.unit);
  const side = useReadings((state) => state.side);
  const record = useRecord();
  const [field, setField] = useState<Taken>('tab');
  const [text, setText] = useState('');
  const [wrong, setWrong] = useState('');
  const [question, setQuestion] = useState<Question | null>(null);
  const pad = useRef<HTMLElement>(null);
  useEffect(() => pad.current?.focus({ preventScroll: true }), []);
  const own = record.readings.find((r) => r.rib === rib.index + 1 && r.side === side);
  const fields = FIELDS.filter((each) => each !== 'tab' || rib.hasTab);
  const now = fields.find((each) => each === field) ?? fields[0];
  const { label, how } = READING_WORDS[now];
  const figure = readingFigure(now, unit);
  const angle = now === 'bevel';
  const drawn = expectedReadings(plan, rib)[now];
  const was = own && readingOf(own, now);
  const value = text === '' ? undefined : figure.read(text.replace('−', '-')) ?? Number.NaN;
  const { height, clearance } = needsAt(useShownBuilt(plan)?.plan ?? plan, rib.s);
  const need = rib.rows * height + clearance;

  const at = { rib: rib.index + 1, side } as const;
  const press = (key: string) => {
    setQuestion(null);
    setWrong('');
    setText(key === 'clear' ? '' : typed(text, key));
  };
  const show = (next: Taken) => {
    setQuestion(null);
    setField(next);
    setText('');
    setWrong('');
  };
  const back = () => {
    setQuestion(null);
    pad.current?.focus({ preventScroll: true });
  };
  const put = ({ read, goOn: on }: Question, way: Taking) => {
    setText('');
    back();
    takeWay(read, way);
    on();
  };
  const asked = useAsked(plan, question?.read ?? null, (moves) => {
    if (question && isNear(moves)) put(question, waysOf(question.read)[0]);
  });
  // The keys stay until it is known that the answer matters, or that this cannot be known: what is typed until then drops the question.
  const asks = asked !== null && !asked.busy && !(asked.moves && isNear(asked.moves));
  /** Takes the figure, if one is typed and may be taken, and then goes on; first it asks what the figure is of, where that moves a stop. */
  const take = (then: () => void): void => {
    if (value === undefined) {
      then();
      return;
    }
    if (figure.faults(value).length > 0) {
      setWrong(`${label}: “${text}” is ${Number.isFinite(value) ? 'out of range' : 'not a figure'}; ${textOf(figure.range, unit)}`);
      return;
    }
    const fresh: Question = { read: { ...at, field: now, value, drawn }, goOn: then };
    const ways = waysOf(fresh.read);
    // The first of its kind on this side: those after it speak for themselves.
    const lone = !record.readings.some((r) => (r.side ?? side) === side && r.rib !== rib.index + 1 && readingOf(r, now) !== undefined);
    if (ways.length < 2 || !lone) put(fresh, ways[0]);
    else setQuestion(fresh);
  };
  const goOn = () => take(() => {
    if (next) useView.getState().moveTo(next.s);
    else onLeave();
  });
  useKeyboard((key) => !asks && (key !== '−' || angle) && press(key), () => !asks && goOn(), () => (asks ? back() : onLeave()));
  const off = value === undefined || !Number.isFinite(value) ? undefined : value - drawn;
  // As told: a difference that no figure shows is none.
  const same = off !== undefined && figure.text(Math.abs(off)) === figure.text(0);
  const fractions = unit === 'mm' || angle ? [] : FRACTIONS;
  return (
    <section className="atbench" data-area="atbench" aria-label="Measure" tabIndex={-1} ref={pad}>
      <header className="bench-bar"><p><em>Measure</em> <span>{plan.design.name}</span></p></header>
      <SidePick className="bench-sides" onPick={() => show(now)} />
      <p className="pad-place"><strong>Rib {rib.index + 1}</strong> <b>{nearerEnd(plan, rib.x, unit, 1)}</b></p>
      <div className="bench-modes pad-fields" role="group" aria-label="What is measured">
        {fields.map((each) => {
          const taken = own && readingOf(own, each) !== undefined;
          return <button key={each} type="button" aria-pressed={each === now} disabled={asks} onClick={() => take(() => show(each))}>{READING_WORDS[each].label}{taken && <b aria-label=", measured"> ✓</b>}</button>;
        })}
      </div>
      <div className="pad-entry">
        <p><span>{how}</span><span>should read <b data-figure="should read">{figure.text(drawn)}</b></span></p>
        <output aria-label={`${how}, ${angle ? 'degrees' : figure.sign}`} aria-live="polite"><small>{figure.sign}</small>{text === '' ? <i>{was === undefined ? '' : figure.text(was)}</i> : text}</output>
        {wrong !== '' && <p role="alert" className="field-error">{wrong}. Nothing is changed.</p>}
        {off !== undefined && (
          <p>
            <b data-off={!same || undefined}>{same ? 'as drawn' : `${figure.text(Math.abs(off))} ${off < 0 ? 'under' : 'over'}`}</b>
            {now === 'tab' && rib.rows > 0 && value !== undefined && <span>row {rib.rows} needs {lengthText(need, unit)}: {value >= need ? 'it fits' : 'it does not fit'}</span>}
          </p>
        )}
        {asked && <AskedWork />}
        {!asks && <p className="pad-means">It is this rib’s own, {side}: gone by the ribs before and after.</p>}
      </div>
      {asks && question ? <Ask rib={rib} side={side} ways={asked.ways} texts={asked.moves?.map(({ changes }) => movesText(plan, changes, unit)) ?? []} onTake={(way) => put(question, way)} /> : (
        <div className="pad-keys" role="group" aria-label="Figures">
          {['7', '8', '9', '4', '5', '6', '1', '2', '3'].map((key) => <Key key={key} onPress={() => press(key)}>{key}</Key>)}
          <Key label="comma" onPress={() => press(',')}>,</Key>
          <Key onPress={() => press('0')}>0</Key>
          <Key label="Delete the last figure" onPress={() => press('back')}>⌫</Key>
          <div className="pad-side">
            {fractions.map((key) => <Key key={key} onPress={() => press(key)}>{key}</Key>)}
            {angle && <Key label="minus" onPress={() => press('−')}>−</Key>}
            {text === '' && was !== undefined
              ? <Key onPress={() => setReading(at, now, undefined)}>Delete it</Key>
              : <Key onPress={() => press('clear')}>Clear</Key>}
          </div>
        </div>
      )}
      {asks ? <nav className="bench-thumb" aria-label="Measured"><button type="button" onClick={back}>Back</button></nav> : (
        <nav className="bench-thumb" aria-label="Measured">
          <button type="button" onClick={onLeave}>Leave</button>
          <button type="button" onClick={goOn}><span>{next ? `Next: rib ${next.index + 1}, ${label.toLowerCase()}` : 'Done'}</span> <b aria-hidden="true">›</b></button>
        </nav>
      )}
    </section>
  );
}
