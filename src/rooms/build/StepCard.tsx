/** The step in working order: its text in short lines, readings where they are taken, its checks, clamps and cautions, and the button that says it is done. */
import { cautionName } from '../../../geometry/parts/work';
import type { WorkStep } from '../../../geometry/parts/types';
import { runOfPlace } from '../../../geometry/rail/query';
import type { Place, Plan } from '../../../geometry/types';
import { checkPlaces } from '../../say/placeWords';
import { nearerEnd } from '../../say/words';
import { angleText, lengthText, type Unit, unitSign } from '../../say/units';
import { textOf } from '../../say/said';
import { useBuild } from '../../state/build';
import { useView } from '../../state/view';
import { Said } from '../../ui/Said';
import { SidePick } from '../../ui/SidePick';
import { Worded } from '../../ui/Term';
import { useReadings, useRecord } from '../../work/readings';
import { isSided, isSideDone, tick, tickStep } from '../../work/ticks';
import { readIn, ReadHere } from './ReadHere';
import { checkIds } from './standing';
import './step.css';

interface StepProps {
  readonly plan: Plan;
  readonly step: WorkStep;
  readonly unit: Unit;
}

function useGoTo(plan: Plan): (place: Place) => void {
  const moveTo = useView((state) => state.moveTo);
  return (place) => moveTo(runOfPlace(plan, place));
}

/** What to measure now and what it should read; a measure that has a place leads there. */
function Checks({ plan, step, unit }: StepProps) {
  const go = useGoTo(plan);
  const { ticks = [] } = useRecord();
  if (step.checks.length === 0) return null;
  const ids = checkIds(step);
  const at = checkPlaces(plan, step.checks, unit);
  return (
    <table className="checks">
      <caption>What to check now</caption>
      <thead><tr><th scope="col">Measure</th><th scope="col">reads, {unitSign(unit)}</th></tr></thead>
      <tbody>
        {step.checks.map(({ what, value, unit: of, place }, i) => (
          <tr key={i}>
            <th scope="row">
              <label className="tick"><input type="checkbox" aria-label={`Checked: ${textOf(what, unit)}${at[i]}`} checked={ticks.includes(ids[i])} onChange={({ target }) => tick(ids[i], target.checked)} /></label>
              {place ? <button type="button" className="go" onClick={() => go(place)}><Said text={what} />{at[i]}</button> : <span><Worded text={textOf(what, unit)} />{at[i]}</span>}
            </th>
            <td>{of === 'rad' ? angleText(value) : lengthText(value, unit)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Clamps({ plan, step, unit }: StepProps) {
  const go = useGoTo(plan);
  if (step.clamps.length === 0) return null;
  return (
    <details className="clamps">
      <summary>{step.clamps.length} clamping places{step.clamps[0].s === undefined ? '' : ' on each side'}</summary>
      <ul>
        {step.clamps.map((place) => (
          <li key={`${place.s} ${place.x}`}><button type="button" className="go" onClick={() => go(place)}>{nearerEnd(plan, place.x, unit)}</button></li>
        ))}
      </ul>
      <p className="hint">Clamps stand behind the ribs: none hangs over the open gap before the rows are in.</p>
    </details>
  );
}

/** A text as its sentences. */
const lines = (text: string): string[] => text.split(/(?<=[.:;]) +(?=[A-Z])/);

/** Cautions by their hazards; in full where this is the first step that has one of them. */
function Cautions({ step, before }: { readonly step: WorkStep; readonly before: readonly WorkStep[] }) {
  if (step.cautions.length === 0) return null;
  const fresh = step.cautions.some((caution) => !before.some((each) => each.cautions.includes(caution)));
  return (
    <details className="cautions" key={step.id} open={fresh}>
      <summary>Mind: {step.cautions.map(cautionName).join(', ')}</summary>
      <ul aria-label="Cautions">{step.cautions.map((caution) => <li key={caution}>{caution}</li>)}</ul>
    </details>
  );
}

interface CardProps extends StepProps {
  readonly steps: readonly WorkStep[];
  /** The joints and skin blanks are in. */
  readonly whole: boolean;
}

export function StepCard({ plan, step, steps, unit, whole }: CardProps) {
  const { goTo } = useBuild.getState();
  const record = useRecord();
  const side = useReadings((state) => state.side);
  const sided = isSided(step);
  const done = isSideDone(step, side, record.ticks);
  const own = sided ? `${side === 'port' ? 'Port' : 'Starboard'} is done` : `Step ${step.index} is done`;
  return (
    <section className="step-card" aria-label={`Step ${step.index}`}>
      <header>
        <p>step {step.index} of {steps.length}</p>
        <h2>{step.title}</h2>
        {(sided || readIn(step).length > 0) && <SidePick />}
      </header>
      <div className="step-body">
        <ul className="step-lines" aria-live="polite">{lines(textOf(step.text, unit)).map((line) => <li key={line}>{line}</li>)}</ul>
        <Cautions step={step} before={steps.slice(0, step.index - 1)} />
        <ReadHere key={step.id} plan={plan} step={step} steps={steps} side={side} unit={unit} />
        <Checks plan={plan} step={step} unit={unit} />
        {step.needs.length > 0 && <ul className="needs" aria-label="Clamps and glue">{step.needs.map((need, i) => <li key={i}><Said text={need} /></li>)}</ul>}
        <Clamps plan={plan} step={step} unit={unit} />
        {!whole && <p className="hint">Joints and skin blanks appear in these lists once they are worked out.</p>}
        <p className="hint">Makers’ data sheets, local codes and licensed trades come first.</p>
      </div>
      <footer>
        {record.step !== undefined && record.step !== step.index && record.step <= steps.length && (
          <p className="hint">The work has reached <button type="button" className="go" onClick={() => goTo(record.step ?? 1)}>step {record.step}</button></p>
        )}
        <button
          type="button" className="done" aria-pressed={done}
          onClick={() => {
            // What is reached moves on; what is shown stays.
            goTo(step.index);
            tickStep(step, side, !done, steps.length);
          }}
        >
          {own}
        </button>
      </footer>
    </section>
  );
}
