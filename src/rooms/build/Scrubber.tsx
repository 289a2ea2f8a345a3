/** The steps in a row under the stage: the slider and its two buttons. */
import type { WorkStep } from '../../../geometry/parts/types';
import { useBuild } from '../../state/build';
import { useRecord } from '../../work/readings';
import { isDone } from '../../work/ticks';
import './build.css';

interface ScrubberProps {
  readonly steps: readonly WorkStep[];
  readonly at: number;
}

export function Scrubber({ steps, at }: ScrubberProps) {
  const goTo = useBuild((state) => state.goTo);
  const { ticks } = useRecord();
  const step = steps[at];
  return (
    <div className="scrubber">
      <button type="button" className="ruled" aria-label="Previous step" title="Previous step (Page Up)" disabled={at === 0} onClick={() => goTo(at)}>‹</button>
      <div className="dots">
        <ol aria-hidden="true">
          {steps.map((each, i) => <li key={each.id} data-done={isDone(each, ticks) || undefined} data-now={i === at || undefined}>{i === at && each.index}</li>)}
        </ol>
        <input
          type="range" aria-label="Step of the build" min={1} max={steps.length} step={1} value={at + 1}
          aria-valuetext={`${step.index} of ${steps.length}: ${step.title}`} onChange={(event) => goTo(Number(event.target.value))}
        />
        <p aria-hidden="true"><span>bare bench</span><span>sealed board</span></p>
      </div>
      <button type="button" className="ruled" aria-label="Next step" title="Next step (Page Down)" disabled={at === steps.length - 1} onClick={() => goTo(at + 2)}>›</button>
    </div>
  );
}
