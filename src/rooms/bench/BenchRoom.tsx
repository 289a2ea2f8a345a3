/** Bench: what comes out of the plan for the saw, the laser and the hands, and the timber it is made of. */
import { lazy, Suspense } from 'react';
// Before the pages' own, which go further.
import './bench.css';
import type { Plan } from '../../../geometry/types';
import { stagesOf, Working } from '../../ui/Working';
import { usePartsOf } from '../../work/parts';
import { useUnits } from '../../state/unit';
import { BendingPage } from './BendingPage';
import { CuttingPage, ShoppingPage } from './CuttingPages';
import { BlanksPage, FramesPage } from './FlatPages';
import { AlongPage, type PageProps, RibsPage } from './RailPages';
import { scrolled } from './places';
import { type PageId, PAGES, useBench } from './pages';
import { TotalsPage } from './TotalsPage';
import { WorkPage } from './WorkPage';

const PapersPage = lazy(async () => ({ default: (await import('./PapersPage')).PapersPage }));
const TimberPage = lazy(async () => ({ default: (await import('./TimberPage')).TimberPage }));

const LISTS: Readonly<Record<Exclude<PageId, 'timber'>, (props: PageProps) => React.ReactNode>> = {
  along: AlongPage, ribs: RibsPage, bending: BendingPage, cutting: CuttingPage, blanks: BlanksPage, frames: FramesPage,
  shopping: ShoppingPage, work: WorkPage, totals: TotalsPage, papers: PapersPage,
};

export function BenchRoom({ plan }: { readonly plan: Plan }) {
  const { page, open } = useBench();
  const parts = usePartsOf(plan);
  const unit = useUnits((state) => state.unit);
  const List = page === 'timber' ? null : LISTS[page];
  return (
    <section className="bench" aria-label="Bench">
      <nav className="tabs bench-pages" aria-label="Pages of the bench">
        {PAGES.map(({ id, label }) => <button key={id} type="button" aria-pressed={id === page} onClick={() => open(id)}>{label}</button>)}
      </nav>
      <div className="bench-page" key={page} {...scrolled(PAGES.find(({ id }) => id === page)?.label ?? '')}>
        <Suspense>
          {List === null ? <TimberPage /> : parts ? <List plan={plan} parts={parts} unit={unit} /> : null}
        </Suspense>
        {!parts && <Working job="parts" tell={stagesOf('Working out the lists')} stopped="Stopped: the lists are not worked out." failed="The lists could not be worked out." />}
      </div>
    </section>
  );
}
