/** What lies over a room, each loaded when it is first opened. */
import { lazy, Suspense } from 'react';
import type { Plan } from '../../geometry/types';
import type { DrawerId } from '../state/view';

const SizesPanel = lazy(async () => ({ default: (await import('../rooms/sizes/SizesPanel')).SizesPanel }));
const FindingsPanel = lazy(async () => ({ default: (await import('../rooms/findings/FindingsPanel')).FindingsPanel }));
const LayersPanel = lazy(async () => ({ default: (await import('../rooms/layers/LayersPanel')).LayersPanel }));
const MeasurePanel = lazy(async () => ({ default: (await import('../rooms/measure/MeasurePanel')).MeasurePanel }));
const BoardMenu = lazy(async () => ({ default: (await import('../rooms/boards/BoardMenu')).BoardMenu }));
const SharePanel = lazy(async () => ({ default: (await import('../rooms/share/SharePanel')).SharePanel }));
const FamilyRoom = lazy(async () => ({ default: (await import('../rooms/family/FamilyRoom')).FamilyRoom }));
const TargetsPanel = lazy(async () => ({ default: (await import('../rooms/targets/TargetsPanel')).TargetsPanel }));
const TolerancePanel = lazy(async () => ({ default: (await import('../rooms/tolerance/TolerancePanel')).TolerancePanel }));
const ReadingsPanel = lazy(async () => ({ default: (await import('../rooms/readings/ReadingsPanel')).ReadingsPanel }));

export function Drawers({ plan, drawer }: { readonly plan: Plan | null; readonly drawer: DrawerId | null }) {
  return (
    <Suspense>
      {drawer === 'sizes' && <SizesPanel />}
      {drawer === 'layers' && <LayersPanel />}
      {drawer === 'boards' && <BoardMenu />}
      {drawer === 'scale' && <FamilyRoom />}
      {drawer === 'targets' && <TargetsPanel />}
      {plan && drawer === 'measure' && <MeasurePanel plan={plan} />}
      {plan && drawer === 'decisions' && <FindingsPanel plan={plan} />}
      {plan && drawer === 'spreads' && <TolerancePanel plan={plan} />}
      {plan && drawer === 'readings' && <ReadingsPanel plan={plan} />}
      {plan && drawer === 'share' && <SharePanel plan={plan} />}
    </Suspense>
  );
}
