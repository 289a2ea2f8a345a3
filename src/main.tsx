/** Starts the planner and the page. */
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import './ui/all.css';
import { App } from './app/App';
import { setProbe } from './app/probe';
import { startLinks } from './rooms/share/open';
import { startOffline } from './app/offline/register';
import { startKeeping } from './state/keep';
import { warmThread } from './work/jobs';
import { startParts } from './work/parts';
import { startPlanner } from './work/planner';
import { startBands } from './work/bands';
import { startReadings } from './work/readings';

warmThread('plan');
await startKeeping();
await startLinks();
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
if (document.readyState === 'complete') void startOffline();
else window.addEventListener('load', () => void startOffline(), { once: true });
