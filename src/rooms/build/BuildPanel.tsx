/** The build scrubber: the board put together step by step, with what to check, where to clamp, and cautions. */
import { useEffect, useEffectEvent } from 'react';
import type { WorkStep } from '../../../geometry/parts/types';
import { runOfPlace } from '../../../geometry/rail/query';
import type { Place, Plan } from '../../../geometry/types';
import { nearerEnd } from '../../say/words';
import { useUnits } from '../../state/unit';
import { angleText, lengthText, type Unit, unitSign } from '../../say/units';
import { useView } from '../../state/view';
import { addedText, checkIds, standingAt } from './standing';
import { useBuild, useStepAsked } from '../../state/build';
import { textOf } from '../../say/said';
import { tick, useRecord } from '../../work/readings';
import { Said } from '../../ui/Said';
import { useSteps } from './useSteps';
import './build.css';

function useGoTo(plan: Plan): (place: Place) => void {
  const moveTo = useView((state) => state.moveTo);
  return (place) => moveTo(runOfPlace(plan, place));
}

interface ListProps {
  readonly plan: Plan;
  readonly step: WorkStep;
  readonly unit: Unit;
}

/** What to measure now and what it should read; a measure that has a place leads there. */
function Checks({ plan, step, unit }: ListProps) {
  const go = useGoTo(plan);
  const { ticks = [] } = useRecord();
  if (step.checks.length === 0) return null;
  const ids = checkIds(step);
  return (
    <table className="checks">
      <caption>What to check now</caption>
      <thead><tr><th scope="col">Measure</th><th scope="col">reads, {unitSign(unit)}</th></tr></thead>
      <tbody>
        {step.checks.map(({ what, value, unit: of, place }, i) => (
          <tr key={i}>
            <th scope="row">
              <label className="tick"><input type="checkbox" aria-label={`Checked: ${textOf(what, unit)}`} checked={ticks.includes(ids[i])} onChange={({ target }) => tick(ids[i], target.checked)} /></label>
              {place ? <button type="button" className="go" onClick={() => go(place)}><Said text={what} /></button> : <Said text={what} />}
            </th>
            <td>{of === 'rad' ? angleText(value) : lengthText(value, unit)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Clamps({ plan, step, unit }: ListProps) {
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
    </details>
  );
}

interface ScrubberProps {
  readonly steps: readonly WorkStep[];
  readonly at: number;
}

/** The slider and its two buttons. */
function Scrubber({ steps, at }: ScrubberProps) {
  const goTo = useBuild((state) => state.goTo);
  const step = steps[at];
  return (
    <div className="scrubber">
      <button type="button" aria-label="Previous step" title="Previous step (Page Up)" disabled={at === 0} onClick={() => goTo(at)}>←</button>
      <input
        type="range" aria-label="Step of the build" min={1} max={steps.length} step={1} value={at + 1}
        aria-valuetext={`${step.index} of ${steps.length}: ${step.title}`} onChange={(event) => goTo(Number(event.target.value))}
      />
      <button type="button" aria-label="Next step" title="Next step (Page Down)" disabled={at === steps.length - 1} onClick={() => goTo(at + 2)}>→</button>
    </div>
  );
}

/** Page Up and Page Down go through the steps while the build is open, unless a field or a slider has the keys. */
function useStepKeys(count: number, step: number): void {
  const onKey = useEffectEvent((event: KeyboardEvent) => {
    const { goTo } = useBuild.getState();
    const way = event.key === 'PageDown' ? 1 : event.key === 'PageUp' ? -1 : 0;
    if (way === 0 || event.ctrlKey || event.metaKey || event.altKey || event.defaultPrevented) return;
    if (event.target instanceof Element && event.target.closest('input, select, textarea, [role="slider"]')) return;
    event.preventDefault();
    if (step + way >= 1 && step + way <= count) goTo(step + way);
  });
  useEffect(() => {
    const listen = (event: KeyboardEvent) => onKey(event);
    window.addEventListener('keydown', listen);
    return () => window.removeEventListener('keydown', listen);
  }, []);
}

/** Keeps the stage at the step while the build is open, and the page's address leading to it. */
function useStage(steps: readonly WorkStep[], at: number): void {
  const show = useBuild((state) => state.show);
  useEffect(() => {
    if (at >= steps.length) return;
    show(standingAt(steps, at));
    history.replaceState(null, '', `#step=${at + 1}`);
  }, [steps, at, show]);
  useEffect(() => () => {
    show(null);
    history.replaceState(null, '', location.pathname + location.search);
  }, [show]);
}

export function BuildPanel({ plan }: { readonly plan: Plan }) {
  const unit = useUnits((state) => state.unit);
  const { steps, whole, failure } = useSteps(plan);
  const asked = useStepAsked();
  const { goTo } = useBuild.getState();
  const record = useRecord();
  const count = steps.length;
  const at = Math.min(asked, Math.max(1, count)) - 1;
  useStage(steps, at);
  useStepKeys(count, at + 1);
  const step = steps.at(at);
  if (!step) {
    return (
      <section className="panel build" aria-label="Build">
        <h2>Build</h2>
        <p className="field-error" role="alert">The order of work could not be made for this board: {failure !== null && <Said text={failure} />}.</p>
      </section>
    );
  }
  const added = addedText(standingAt(steps, at));
  return (
    <section className="panel build" aria-label="Build">
      <header>
        <h2>Build</h2>
        <span>step {step.index} of {count}</span>
      </header>
      <Scrubber steps={steps} at={at} />
      {asked > count && <p role="alert" className="field-error">There is no step {asked}: the steps go from 1 to {count}. This is the last.</p>}
      <div aria-live="polite">
        <h3>{step.title}</h3>
        {added !== '' && <p className="arrives">{added}</p>}
        <p><Said text={step.text} /></p>
      </div>
      <label className="done">
        <input
          type="checkbox" checked={record.ticks?.includes(step.id) ?? false}
          onChange={({ target }) => {
            // What is reached moves on; what is shown stays.
            goTo(step.index);
            tick(step.id, target.checked, target.checked ? Math.min(count, step.index + 1) : 1);
          }}
        /> Step {step.index} is done
      </label>
      {record.step !== undefined && record.step !== step.index && record.step <= count && (
        <p className="hint">The work has reached <button type="button" className="go" onClick={() => goTo(record.step ?? 1)}>step {record.step}</button>.</p>
      )}
      {step.cautions.length > 0 && (
        <ul className="cautions" aria-label="Cautions">
          {step.cautions.map((caution) => <li key={caution}>{caution}</li>)}
        </ul>
      )}
      {step.needs.length > 0 && <ul className="needs" aria-label="Clamps and glue">{step.needs.map((need, i) => <li key={i}><Said text={need} /></li>)}</ul>}
      <Clamps plan={plan} step={step} unit={unit} />
      <Checks plan={plan} step={step} unit={unit} />
      {!whole && <p className="hint">Joints and skin blanks appear in these lists once they are worked out.</p>}
    </section>
  );
}
