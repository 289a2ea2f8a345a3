/** Starts the planner and the page. */
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import './ui/all.css';
import { App } from './app/App';
import { setProbe } from './app/probe';
import { startOffline } from './app/offline/register';
import { startKeeping } from './state/keep';
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

/** Not awaited by this file: a script that is asked for meanwhile may need what stands in the same file, and would wait for it for ever. */
async function start(): Promise<void> {
  await startKeeping();
  await openLinks();
  startPlanner();
  startParts();
  startBands();
  startReadings();
  setProbe();
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
if (document.readyState === 'complete') void startOffline();
else window.addEventListener('load', () => void startOffline(), { once: true });
