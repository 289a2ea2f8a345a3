/** The rooms that try boards beside the open one, each loaded when it is first opened. */
import { lazy, Suspense } from 'react';
import type { Plan } from '../../geometry/types';
import { useView } from '../state/view';

const FamilyRoom = lazy(async () => ({ default: (await import('../rooms/family/FamilyRoom')).FamilyRoom }));
const TargetsPanel = lazy(async () => ({ default: (await import('../rooms/targets/TargetsPanel')).TargetsPanel }));
const TolerancePanel = lazy(async () => ({ default: (await import('../rooms/tolerance/TolerancePanel')).TolerancePanel }));
const ReadingsPanel = lazy(async () => ({ default: (await import('../rooms/readings/ReadingsPanel')).ReadingsPanel }));

export function TrialRooms({ plan }: { readonly plan: Plan }) {
  const panel = useView((state) => state.panel);
  return (
    <Suspense>
      {panel === 'family' && <FamilyRoom />}
      {panel === 'targets' && <TargetsPanel />}
      {panel === 'tolerance' && <TolerancePanel plan={plan} />}
      {panel === 'readings' && <ReadingsPanel plan={plan} />}
    </Suspense>
  );
}
