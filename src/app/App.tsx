/** The page: top bar, the open room about stage, ribbon and station card, and the drawer over it. */
import { lazy, Suspense, useEffect, useState } from 'react';
import { takeFile } from '../state/drops';
import { usePlan } from '../state/plan';
import { useUnits } from '../state/unit';
import { useView } from '../state/view';
import { useOffline } from './offline/register';
import { UpdateNotice } from './offline/UpdateNotice';
import { Ribbon } from '../ribbon/Ribbon';
import { StationCard } from '../station/StationCard';
import { useKeys } from './keys';
import { Boundary } from './Boundary';
import { Drawers } from './Drawers';
import { Headline } from './Headline';
import { FileNotice, KeepNotice, PlanNotice } from './Notices';
import { PrintHead, PrintRibs } from './PrintSheet';
import { Spoken } from './Spoken';
import { StageTools } from './StageTools';
import { TopBar } from './TopBar';
import css from './App.module.css';

// Asked for at once, while the first plan is being made; the rest of the page does not wait for it.
const stage = import('../stage/Stage');
const Stage = lazy(async () => ({ default: (await stage).Stage }));
const TOOLS = <StageTools />;
const WordsPage = lazy(async () => ({ default: (await import('../rooms/words/WordsPage')).WordsPage }));
const PhoneMenu = lazy(async () => ({ default: (await import('./PhoneMenu')).PhoneMenu }));
const AtBench = lazy(async () => ({ default: (await import('../rooms/atbench/AtBench')).AtBench }));
const BenchRoom = lazy(async () => ({ default: (await import('../rooms/bench/BenchRoom')).BenchRoom }));
const LinesRoom = lazy(async () => ({ default: (await import('../rooms/lines/LinesRoom')).LinesRoom }));
const BuildRoom = lazy(async () => ({ default: (await import('../rooms/build/BuildRoom')).BuildRoom }));

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

export function App() {
  useKeys();
  const over = useDrop();
  const plan = usePlan();
  // Not the whole view: a moved cursor would render the page.
  const theme = useView((state) => state.theme);
  const room = useView((state) => state.room);
  const drawer = useView((state) => state.drawer);
  const words = useView((state) => state.words);
  const unit = useUnits((state) => state.unit);
  const offline = useOffline(({ kept }) => kept);
  useEffect(() => {
    document.documentElement.dataset.theme = theme;
  }, [theme]);
  return (
    <div className={css.page} data-room={room} data-drawer={drawer ?? undefined} data-words={words || undefined}>
      <TopBar />
      <main className={css.stage} aria-label="Stage">
        <Boundary name="The stage" without="Ribbon, station card and sizes work without it." beside={TOOLS}>
          <Suspense><Stage tools={TOOLS} /></Suspense>
        </Boundary>
        {plan && <Headline plan={plan} />}
        <PlanNotice />
      </main>
      <Boundary key={room} name="This room" without="The other rooms work without it.">
        {room === 'shape' && <Suspense><LinesRoom /></Suspense>}
        {plan && room === 'bench' && <Suspense><BenchRoom plan={plan} /></Suspense>}
        {plan && room === 'build' && <Suspense><BuildRoom plan={plan} /></Suspense>}
      </Boundary>
      <Boundary key={drawer} name="This drawer" without="The rooms work without it.">
        <Drawers plan={plan} drawer={drawer} />
        {plan && drawer === 'atBench' && <Suspense><AtBench plan={plan} offline={offline} /></Suspense>}
        {drawer === 'menu' && <Suspense><PhoneMenu offline={offline} /></Suspense>}
      </Boundary>
      {plan && words && <Boundary name="This page" without="The rooms work without it."><Suspense><WordsPage plan={plan} /></Suspense></Boundary>}
      {plan && room !== 'shape' && <StationCard plan={plan} />}
      {plan && <PrintHead plan={plan} unit={unit} />}
      {plan && <Ribbon plan={plan} />}
      {plan && <PrintRibs plan={plan} unit={unit} />}
      {plan && <Spoken plan={plan} />}
      <Boundary name="A notice" without="The rooms work without it."><FileNotice /><KeepNotice /></Boundary>
      <UpdateNotice />
      {over && <div className={css.drop} aria-hidden="true">Drop to open the file</div>}
    </div>
  );
}
