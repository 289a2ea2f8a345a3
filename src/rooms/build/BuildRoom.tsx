/** Build: the order of work as a checklist, the board put together step by step on the stage, and the step's own card. */
import { useEffect, useEffectEvent } from 'react';
import type { WorkStep } from '../../../geometry/parts/types';
import type { Plan } from '../../../geometry/types';
import { useUnits } from '../../state/unit';
import { addedText, standingAt } from './standing';
import { useBuild, useStepAsked } from '../../state/build';
import { useReadings } from '../../work/readings';
import { isSided } from '../../work/ticks';
import { Said } from '../../ui/Said';
import { Checklist } from './Checklist';
import { Scrubber } from './Scrubber';
import { StepCard } from './StepCard';
import { useSteps } from './useSteps';
import './build.css';
import './step.css';

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

export function BuildRoom({ plan }: { readonly plan: Plan }) {
  const unit = useUnits((state) => state.unit);
  const { steps, whole, failure } = useSteps(plan);
  const asked = useStepAsked();
  const side = useReadings((state) => state.side);
  const count = steps.length;
  const at = Math.min(asked, Math.max(1, count)) - 1;
  useStage(steps, at);
  useStepKeys(count, at + 1);
  const step = steps.at(at);
  if (!step) {
    return (
      <section className="build" data-area="build" aria-label="Build">
        <div className="step-card">
          <h2>Build</h2>
          <p className="field-error" role="alert">The order of work could not be made for this board: {failure !== null && <Said text={failure} />}.</p>
        </div>
      </section>
    );
  }
  return (
    <section className="build" data-area="build" aria-label="Build">
      <Checklist steps={steps} at={at} />
      <div className="stage-words">
        <p data-keep-out>{step.title}{isSided(step) && `, ${side}`}</p>
        <p role="status" data-keep-out>{addedText(standingAt(steps, at))}</p>
        {asked > count && <p role="alert" className="field-error">There is no step {asked}: the steps go from 1 to {count}. This is the last.</p>}
      </div>
      <Scrubber steps={steps} at={at} />
      <StepCard plan={plan} step={step} steps={steps} unit={unit} whole={whole} />
    </section>
  );
}
