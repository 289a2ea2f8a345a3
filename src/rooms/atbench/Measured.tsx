/** The measuring button, and undo, which names what it undoes. */
import { useLastStep } from '../../work/lastStep';
import './atbench.css';

export function Measured({ onMeasure }: { readonly onMeasure: () => void }) {
  const { what, can, undo } = useLastStep();
  return (
    <div className="bench-measure">
      <button type="button" onClick={onMeasure}>Measure here</button>
      <button type="button" disabled={!can} onClick={undo}><span aria-hidden="true">↶</span> undo {what}</button>
    </div>
  );
}
