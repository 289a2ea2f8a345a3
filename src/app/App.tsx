/** The page: top bar, stage with its headline, ribbon, station card and the panel that is open. */
import { lazy, Suspense, useEffect, useRef, useState } from 'react';
import type { Plan } from '../../geometry/types';
import { fixed, lengthWithUnit, type Unit } from '../say/units';
import { headline } from '../say/words';
import { takeFile } from '../state/drops';
import { usePlan } from '../state/plan';
import { useUnits } from '../state/unit';
import { useView } from '../state/view';
import { usePainter } from '../ui/painter';
import { useShownBuilt } from '../work/readings';
import { UpdateNotice } from './offline/UpdateNotice';
import { Ribbon } from '../ribbon/Ribbon';
import { StationCard } from '../station/StationCard';
import { useKeys } from './keys';
import { Boundary } from './Boundary';
import { KeepNotice } from './KeepNotice';
import { FileNotice, PlanNotice } from './Notices';
import { PrintHead, PrintRibs } from './PrintSheet';
import { TrialRooms } from './TrialRooms';
import { Spoken } from './Spoken';
import { TopBar } from './TopBar';
import css from './App.module.css';

// Asked for at once, while the first plan is being made; the rest of the page does not wait for it.
const stage = import('../stage/Stage');
const Stage = lazy(async () => ({ default: (await stage).Stage }));
const SizesPanel = lazy(async () => ({ default: (await import('../rooms/sizes/SizesPanel')).SizesPanel }));
const FindingsPanel = lazy(async () => ({ default: (await import('../rooms/findings/FindingsPanel')).FindingsPanel }));
const LayersPanel = lazy(async () => ({ default: (await import('../rooms/layers/LayersPanel')).LayersPanel }));
const ShelfPanel = lazy(async () => ({ default: (await import('../rooms/shelf/ShelfPanel')).ShelfPanel }));
const BuildPanel = lazy(async () => ({ default: (await import('../rooms/build/BuildPanel')).BuildPanel }));
const SharePanel = lazy(async () => ({ default: (await import('../rooms/share/SharePanel')).SharePanel }));
const LargeCard = lazy(async () => ({ default: (await import('../rooms/large/LargeCard')).LargeCard }));
const BenchRoom = lazy(async () => ({ default: (await import('../rooms/bench/BenchRoom')).BenchRoom }));
const LinesRoom = lazy(async () => ({ default: (await import('../rooms/lines/LinesRoom')).LinesRoom }));

/** Board files dropped anywhere on the page. */
function useDrop(): boolean {
  const [over, setOver] = useState(false);
  useEffect(() => {
    const drag = (event: DragEvent) => {
      if (!event.dataTransfer?.types.includes('Files')) return;
      event.preventDefault();
      setOver(true);
    };
    const leave = (event: DragEvent) => {
      if (event.relatedTarget === null) setOver(false);
    };
    const drop = (event: DragEvent) => {
      event.preventDefault();
      setOver(false);
      const file = event.dataTransfer?.files[0];
      if (file) takeFile(file);
    };
    window.addEventListener('dragover', drag);
    window.addEventListener('dragleave', leave);
    window.addEventListener('drop', drop);
    return () => {
      window.removeEventListener('dragover', drag);
      window.removeEventListener('dragleave', leave);
      window.removeEventListener('drop', drop);
    };
  }, []);
  return over;
}

const sizes = ({ hull }: Plan, unit: Unit): string =>
  `${lengthWithUnit(hull.length, unit, 0)} × ${lengthWithUnit(2 * hull.widest.halfBreadth, unit, 0)} · ${fixed(hull.volume / 1e6, 1)} litres`;

/** The board over the stage in words: its name, what there is to see in it, and its size. The words follow each move of a dragging hand. */
function Headline({ plan }: { readonly plan: Plan }) {
  const built = useShownBuilt(plan);
  const unit = useUnits((state) => state.unit);
  const says = useRef<HTMLParagraphElement>(null);
  const size = useRef<HTMLParagraphElement>(null);
  usePainter(plan, (shown) => {
    const asBuilt = shown === plan ? built : null;
    if (says.current) says.current.textContent = `${asBuilt ? 'As built: ' : ''}${headline(asBuilt?.plan ?? shown, unit)}`;
    if (size.current) size.current.textContent = sizes(shown, unit);
  });
  return (
    <div className={css.headline}>
      <h2 data-keep-out>{plan.design.name}</h2>
      <p ref={says} data-keep-out />
      <p ref={size} className={css.sizes} data-keep-out />
    </div>
  );
}

export function App() {
  useKeys();
  const over = useDrop();
  const plan = usePlan();
  // Not the whole view: a moved cursor would render the page.
  const theme = useView((state) => state.theme);
  const panel = useView((state) => state.panel);
  const unit = useUnits((state) => state.unit);
  useEffect(() => {
    document.documentElement.dataset.theme = theme;
  }, [theme]);
  return (
    <div className={css.page} data-panel={panel}>
      <TopBar plan={plan} />
      <main className={css.stage} aria-label="Stage">
        <Boundary name="The stage" without="Ribbon, station card and sizes work without it.">
          <Suspense><Stage /></Suspense>
        </Boundary>
        {plan && <Headline plan={plan} />}
        <PlanNotice />
      </main>
      <Boundary key={panel} name="This room" without="The other rooms work without it.">
        {panel === 'sizes' && <Suspense><SizesPanel /></Suspense>}
        {plan && panel === 'findings' && <Suspense><FindingsPanel plan={plan} /></Suspense>}
        {panel === 'layers' && <Suspense><LayersPanel /></Suspense>}
        {plan && panel === 'bench' && <Suspense><BenchRoom plan={plan} /></Suspense>}
        {panel === 'shelf' && <Suspense><ShelfPanel /></Suspense>}
        {plan && <TrialRooms plan={plan} />}
        {plan && panel === 'build' && <Suspense><BuildPanel plan={plan} /></Suspense>}
        {plan && panel === 'share' && <Suspense><SharePanel plan={plan} /></Suspense>}
        {plan && panel === 'large' && <Suspense><LargeCard plan={plan} /></Suspense>}
        {panel === 'lines' && <Suspense><LinesRoom /></Suspense>}
      </Boundary>
      {plan && panel !== 'lines' && <StationCard plan={plan} />}
      {plan && <PrintHead plan={plan} unit={unit} />}
      {plan && <Ribbon plan={plan} />}
      {plan && <PrintRibs plan={plan} unit={unit} />}
      {plan && <Spoken plan={plan} />}
      <FileNotice />
      <KeepNotice />
      <UpdateNotice />
      {over && <div className={css.drop} aria-hidden="true">Drop to open the file</div>}
    </div>
  );
}
