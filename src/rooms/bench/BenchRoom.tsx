/** Bench: what comes out of the plan for the saw, the laser and the hands, and the timber it is made of; the chosen line beside it. */
import { lazy, Suspense, useEffect } from 'react';
// Before the pages' own, which go further.
import './bench.css';
import type { Plan } from '../../../geometry/types';
import { stagesOf, Working } from '../../ui/Working';
import { usePartsOf } from '../../work/parts';
import { useUnits } from '../../state/unit';
import { useView } from '../../state/view';
import { BuyPage } from './BuyPage';
import { CutPage } from './CuttingPages';
import { Files, FilesState } from './Files';
import { FramesPage } from './FlatPages';
import { MeasurePage, type PageProps } from './RailPages';
import { scrolled } from './places';
import { Peek } from './Peek';
import { type PageId, PAGES, useBench } from './pages';

const PaperView = lazy(async () => ({ default: (await import('./PaperView')).PaperView }));
const PapersPage = lazy(async () => ({ default: (await import('./PapersPage')).PapersPage }));

const LISTS: Readonly<Record<Exclude<PageId, 'buy'>, (props: PageProps) => React.ReactNode>> = {
  cut: CutPage, frames: FramesPage, measure: MeasurePage, papers: PapersPage,
};

export function BenchRoom({ plan }: { readonly plan: Plan }) {
  const { page, looked, open } = useBench();
  const parts = usePartsOf(plan);
  const unit = useUnits((state) => state.unit);
  const List = page === 'buy' ? null : LISTS[page];
  // The ribbon of the other rooms has no chosen strip.
  useEffect(() => () => useView.getState().pick(null), [page]);
  return (
    <section className="bench" data-area="bench" aria-label="Bench">
      <div className="bench-bar">
        <nav className="tabs bench-pages" aria-label="Pages of the bench">
          {PAGES.map(({ id, label }) => <button key={id} type="button" aria-pressed={id === page && !looked} onClick={() => open(id)}>{label}</button>)}
        </nav>
        <Files plan={plan} parts={parts} unit={unit} />
      </div>
      <div className="bench-list">
        <FilesState />
        {looked && parts && <Suspense><PaperView key={looked} id={looked} plan={plan} parts={parts} unit={unit} /></Suspense>}
        <div className="bench-page" key={page} hidden={looked !== null} {...scrolled(page === 'papers' ? 'All papers' : PAGES.find(({ id }) => id === page)?.label ?? '')}>
          <Suspense>
            {List === null ? <BuyPage plan={plan} parts={parts} unit={unit} /> : parts ? <List plan={plan} parts={parts} unit={unit} /> : null}
          </Suspense>
          {!parts && <Working job="parts" tell={stagesOf('Working out the lists')} stopped="Stopped: the lists are not worked out." failed="The lists could not be worked out." />}
        </div>
      </div>
      <Peek plan={plan} parts={parts} unit={unit} page={page} />
    </section>
  );
}
