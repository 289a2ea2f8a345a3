/** Starts the planner and the page. */
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import './app/theme.css';
import './app/controls.css';
import { App } from './app/App';
import './app/page.css';
import './app/panels.css';
import './app/drawing.css';
import './app/print.css';
import './shelf/shelf.css';
import { setProbe } from './app/probe';
import { startLinks } from './link/open';
import { startOffline } from './offline/register';
import { startKeeping } from './shelf/keep';
import { startParts } from './store/parts';
import { startPlanner } from './store/planner';
import { startBands } from './trust/bands';
import { startReadings } from './trust/readings';

await startKeeping();
await startLinks();
startPlanner();
void startParts();
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
