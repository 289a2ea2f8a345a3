/** A printed paper before it is saved: its pages, one at a time, read from the very file; larger and smaller, and the file itself. */
import { useEffect, useMemo, useRef, useState } from 'react';
import { useJob } from '../../state/jobs';
import { useView } from '../../state/view';
import { useFocusHere } from '../../ui/Drawer';
import { Working } from '../../ui/Working';
import { runJob } from '../../work/jobs';
import { useBench } from './pages';
import { download, makeThese, usePapers } from './papers';
import { scrolled } from './places';
import { usePaperList } from './paperTrust';
import type { PageProps } from './RailPages';
import './view.css';

/** How wide a page is drawn: whole, or by the room's width. */
const ZOOMS = ['whole', 1, 1.5, 2.25] as const;

const close = () => useBench.getState().look(null);

export function PaperView({ plan, parts, unit, id }: PageProps & { readonly id: string }) {
  const title = useJob('paperList').result?.find((entry) => entry.id === id)?.title ?? '';
  const made = usePapers((state) => state.made.get(id));
  const { of, result } = useJob('pages');
  const [at, setAt] = useState(0);
  const [zoom, setZoom] = useState(1);
  const view = useFocusHere<HTMLElement>(() => document.activeElement);
  const sheet = useRef<HTMLDivElement>(null);
  usePaperList(plan, parts, unit, () => void makeThese([id]));
  useEffect(() => {
    if (made) void runJob('pages', { pdf: made.paper.bytes });
  }, [made]);
  useEffect(() => {
    // As it closes a drawer, where none lies over it, and not from a field elsewhere.
    const onKey = ({ key, target }: KeyboardEvent) => key === 'Escape' && useView.getState().drawer === null && !useView.getState().words && (target === document.body || (target instanceof Node && view.current?.contains(target))) && close();
    window.addEventListener('keydown', onKey, { capture: true });
    return () => window.removeEventListener('keydown', onKey, { capture: true });
  }, [view]);
  const pages = made && result && of?.pdf === made.paper.bytes ? result : [];
  // A board that changes may leave fewer.
  const nth = Math.min(at, Math.max(0, pages.length - 1));
  const page = pages.at(nth);
  const picture = useMemo(() => page && `data:image/svg+xml;charset=utf-8,${encodeURIComponent(page.svg)}`, [page]);
  const turn = (to: number) => {
    setAt(to);
    sheet.current?.scrollTo(0, 0);
  };
  const size = ZOOMS[zoom];
  return (
    <section className="paper-view" aria-label={`${title}, preview`} tabIndex={-1} ref={view}>
      <header>
        <h2>{title}</h2>
        <span className="segments" role="group" aria-label="Pages">
          <button type="button" aria-label="Previous page" disabled={nth === 0} onClick={() => turn(nth - 1)}>‹</button>
          <output>{page ? `Page ${nth + 1} of ${pages.length}` : '…'}</output>
          <button type="button" aria-label="Next page" disabled={nth + 1 >= pages.length} onClick={() => turn(nth + 1)}>›</button>
        </span>
        <span className="segments" role="group" aria-label="Size of the page">
          <button type="button" aria-label="Zoom out" disabled={zoom === 0} onClick={() => setZoom(zoom - 1)}>−</button>
          <button type="button" aria-label="Zoom in" disabled={zoom === ZOOMS.length - 1} onClick={() => setZoom(zoom + 1)}>+</button>
        </span>
        <button type="button" className="ruled chief" disabled={!made} onClick={() => made && download(made)}>Save the PDF</button>
        <button type="button" aria-label="Close the preview" title="Close (Esc)" onClick={close}>✕</button>
      </header>
      <Working job="pages" tell={() => ({ text: 'Drawing the pages' })} failed="The pages could not be drawn; the file itself can be saved." />
      <div className="paper-sheet" ref={sheet} data-zoom={size} data-two-ways {...scrolled('The page')}>
        {page && picture && (
          <img src={picture} width={page.width} height={page.height} alt={`Page ${nth + 1}: ${page.text[0] ?? title}`} style={size === 'whole' ? undefined : { width: `${size * 100}%` }} />
        )}
        {page && <p className="spoken">{page.text.join('; ')}</p>}
      </div>
    </section>
  );
}
