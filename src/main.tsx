/** Starts the planner and the page. */
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import './ui/all.css';
import { App } from './app/App';
import { afterwards } from './app/later';
import { useAtBench } from './state/atBench';
import { useDesign } from './state/design';
import { inHand } from './state/hand';
import { startKeeping } from './state/keep';
import { useView } from './state/view';
import { warmThread } from './work/jobs';
import { startParts } from './work/parts';
import { startPlanner } from './work/planner';
import { startBands } from './work/bands';
import { startReadings } from './work/readings';

/** Opens what the address asks for, now and whenever it changes. An address that asks for nothing loads nothing for it. */
async function openLinks(): Promise<void> {
  const start = async () => (await import('./rooms/share/open')).startLinks();
  if (location.hash) await start();
  else window.addEventListener('hashchange', () => void start(), { once: true });
}

/** In one hand the page opens where the maker stood on this board. */
function returnToBench(): void {
  const { board, s } = useAtBench.getState();
  const { s: asked, moveTo } = useView.getState();
  if (inHand() && Number.isNaN(asked) && board === useDesign.getState().design.name) moveTo(s);
}

/** Not awaited by this file: a script that is asked for meanwhile may need what stands in the same file, and would wait for it for ever. */
async function start(): Promise<void> {
  await startKeeping();
  await openLinks();
  returnToBench();
  startPlanner();
  startParts();
  startBands();
  startReadings();
  const root = document.getElementById('root');
  if (!root) throw new Error('index.html holds no #root');
  createRoot(root).render(
    <StrictMode>
      <App />
    </StrictMode>,
  );
}

warmThread('plan');
void start();
void afterwards().then(({ startAfterwards }) => startAfterwards(), () => undefined);
