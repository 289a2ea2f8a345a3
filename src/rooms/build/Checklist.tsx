/** The order of work as a checklist: a box for each side where each has the step for itself, one box else. */
import type { WorkStep } from '../../../geometry/parts/types';
import { useBuild } from '../../state/build';
import { useRecord } from '../../work/readings';
import { isDone, isSided, isSideDone, tickStep } from '../../work/ticks';
import './build.css';

interface OrderProps {
  readonly steps: readonly WorkStep[];
  /** Which step is shown, from 0. */
  readonly at: number;
}

export function Checklist({ steps, at }: OrderProps) {
  const { goTo } = useBuild.getState();
  const { ticks } = useRecord();
  const box = (step: WorkStep, side: 'port' | 'starboard', label: string) => (
    <label className="box" key={side}>
      <input type="checkbox" aria-label={label} checked={isSideDone(step, side, ticks)} onChange={({ target }) => tickStep(step, side, target.checked, steps.length)} />
    </label>
  );
  return (
    <nav className="order" aria-label="Order of work">
      <header><h2>Order of work</h2><span role="status">{steps.filter((step) => isDone(step, ticks)).length} of {steps.length}</span></header>
      <p className="sides" aria-hidden="true"><span>sides done, port and starboard</span><b>P</b><b>S</b></p>
      <ol>
        {steps.map((step, i) => (
          <li key={step.id} data-done={isDone(step, ticks) || undefined}>
            <button type="button" aria-current={i === at ? 'step' : undefined} onClick={() => goTo(step.index)}><i>{step.index}</i><span>{step.title}</span></button>
            {isSided(step)
              ? (['port', 'starboard'] as const).map((side) => box(step, side, `${step.title}: ${side} is done`))
              : box(step, 'starboard', `${step.title} is done`)}
          </li>
        ))}
      </ol>
    </nav>
  );
}
