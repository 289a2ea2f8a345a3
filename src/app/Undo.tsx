/** Takes back the last step, and says which. */
import type { ReactElement } from 'react';
import { useLastStep } from '../work/lastStep';

export function Undo(): ReactElement {
  const { what, can, undo } = useLastStep();
  return <button type="button" aria-label="Undo" title={`Undo${what && `: ${what}`} (Ctrl Z)`} disabled={!can} onClick={undo}>↶</button>;
}
