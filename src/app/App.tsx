/** The page: top bar, the open room about stage, ribbon and station card, and the drawer over it. */
import { lazy, Suspense, useEffect } from 'react';
import { useOffline } from '../state/offline';
import { usePlan } from '../state/plan';
import { useUnits } from '../state/unit';
import { useView } from '../state/view';
import { Ribbon } from '../ribbon/Ribbon';
import { firstPicture, noPicture } from '../work/picture';
import { Boundary } from './Boundary';
import { Drawers } from './Drawers';
import { Headline } from './Headline';
import { afterwards } from './later';
import { PlanNotice } from './PlanNotice';
import { StageTools } from './StageTools';
import { TopBar } from './TopBar';
import css from './App.module.css';

// Asked for at once, while the first plan is being made; the rest of the page does not wait for it.
const stage = import('../stage/Stage');
const Stage = lazy(async () => ({ default: (await stage).Stage }));
const TOOLS = <StageTools />;
/** The board is seen first: none of these stands on its picture. */
const StationCard = lazy(async () => {
  await firstPicture();
  return { default: (await import('../station/StationCard')).StationCard };
});
const Spoken = lazy(async () => ({ default: (await afterwards()).Spoken }));
const PrintHead = lazy(async () => ({ default: (await afterwards()).PrintHead }));
const Notices = lazy(async () => ({ default: (await afterwards()).Notices }));
const Taken = lazy(async () => ({ default: (await afterwards()).Taken }));
const PrintRibs = lazy(async () => ({ default: (await afterwards()).PrintRibs }));
const WordsPage = lazy(async () => ({ default: (await import('../rooms/words/WordsPage')).WordsPage }));
const PhoneMenu = lazy(async () => ({ default: (await import('./PhoneMenu')).PhoneMenu }));
const AtBench = lazy(async () => ({ default: (await import('../rooms/atbench/AtBench')).AtBench }));
const BenchRoom = lazy(async () => ({ default: (await import('../rooms/bench/BenchRoom')).BenchRoom }));
const LinesRoom = lazy(async () => ({ default: (await import('../rooms/lines/LinesRoom')).LinesRoom }));
const BuildRoom = lazy(async () => ({ default: (await import('../rooms/build/BuildRoom')).BuildRoom }));

export function App() {
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
        <Boundary name="The stage" without="Ribbon, station card and sizes work without it." beside={TOOLS} failed={noPicture}>
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
      {plan && room !== 'shape' && (
        <Boundary name="The station card" without="Stage, ribbon and rooms work without it.">
          <Suspense fallback={<section data-area="card" aria-label="Station card" aria-busy />}><StationCard plan={plan} /></Suspense>
        </Boundary>
      )}
      <Boundary name="The printed page" without="The rooms work without it.">{plan && <Suspense><PrintHead plan={plan} unit={unit} /></Suspense>}</Boundary>
      {plan && <Ribbon plan={plan} />}
      <Boundary name="The board in words" without="The rooms work without it.">
        {plan && (
          <Suspense>
            <PrintRibs plan={plan} unit={unit} />
            <Spoken plan={plan} />
          </Suspense>
        )}
      </Boundary>
      <Boundary name="A notice" without="The rooms work without it.">
        <Suspense>
          <Notices />
          <Taken />
        </Suspense>
      </Boundary>
    </div>
  );
}
