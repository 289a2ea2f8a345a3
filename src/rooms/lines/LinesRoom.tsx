/** Shape: the curves of the board, edited in their drawings and in figures, while stage and ribbon follow. */
import { lazy, Suspense, useEffect, useRef } from 'react';
import { flushSync } from 'react-dom';
import { heldRun, runOfPlace } from '../../../geometry/rail/query';
import type { Plan } from '../../../geometry/types';
import { useDesign } from '../../state/design';
import { inHand } from '../../state/hand';
import { addTaker } from '../../state/drops';
import { planNow, usePlan } from '../../state/plan';
import { drawingAt } from '../../state/station';
import { nearerEnd } from '../../say/words';
import { useUnits } from '../../state/unit';
import { angleText, lengthText, unitSign } from '../../say/units';
import { useView } from '../../state/view';
import { usePainter } from '../../ui/painter';
import { Worded } from '../../ui/Term';
import { expectDrag } from '../../work/planner';

import { FairTool } from './FairTool';
import { useEarlier } from './compare';
import { CompareTool } from './CompareTool';
import { kindOf, MAIN_LINES, SIDE_LINES } from './kinds';
import { isDrawing, loadDrawing } from './drawn';
import { DrawingTool } from './DrawingTool';
import './lines.css';
import { isHull, takeHull } from './hull';
import { isTable, loadOffsets } from './offsets';
import { OffsetsTool } from './OffsetsTool';
import { valueOn } from './path';
import { OverallSizes } from './OverallSizes';
import { PointsTool } from './PointsTool';
import { ProposalBar } from './ProposalBar';
import { Sheet } from './Sheet';
import { shownStation } from './useShownPainter';
import { type ToolName, useLines } from './lines';
import { discardProposal, useProposal } from '../../state/proposal';
import { isPicture } from './tracing';
import { takePicture, TracingTool } from './TracingTool';
import './drawn.css';
import './hull.css';
import './tools.css';

/** Asked for when it is opened. */
const HullTool = lazy(async () => ({ default: (await import('./HullTool')).HullTool }));

const TOOLS: readonly { readonly id: ToolName; readonly label: string }[] = [
  { id: 'points', label: 'Points' },
  { id: 'fairness', label: 'Fairness' },
  { id: 'compare', label: 'Compare' },
  { id: 'offsets', label: 'Offsets' },
  { id: 'drawing', label: 'Drawing' },
  { id: 'hull', label: 'Body' },
  { id: 'tracing', label: 'Picture' },
];

/** Shape takes the tables, drawings and pictures dropped on the page while it is open. */
function useDroppedFiles(): void {
  useEffect(() => addTaker((file) => {
    if (isDrawing(file)) void loadDrawing(file);
    else if (isHull(file)) takeHull(file);
    else if (isPicture(file)) takePicture(file);
    else if (isTable(file)) void loadOffsets(file);
    else return false;
    return true;
  }), []);
}

/** The shared cursor put to a station. */
function onStation(x: number): void {
  const plan = planNow();
  if (plan) useView.getState().moveTo(runOfPlace(plan, { x }));
}

function CurvePicker() {
  const { line, side, open } = useLines();
  return (
    <nav className="segments curve-picker" aria-label="Curves">
      {MAIN_LINES.map(({ name, title }) => <button key={name} type="button" aria-pressed={line === name} onClick={() => open(name)}>{title}</button>)}
      <select
        aria-label="Along the length" className={side !== null && line === side ? 'on' : ''} value={side ?? ''}
        onChange={(event) => {
          const kind = SIDE_LINES.find(({ name }) => name === event.target.value);
          if (kind) open(kind.name);
          else useLines.setState({ side: null, line: 'outline', selected: null });
        }}
      >
        <option value="">{side === null ? 'Others' : 'None'}</option>
        {SIDE_LINES.map(({ name, title }) => <option key={name} value={name}>{title}</option>)}
      </select>
    </nav>
  );
}

/** What is told of the station under the cursor. */
const FIGURES = ['Half-breadth', 'Rocker', 'Thickness', 'Deck rise', 'Gap', 'Rows', 'Bevel', 'Cover'] as const;

function StationFigures({ plan }: { readonly plan: Plan }) {
  const unit = useUnits((state) => state.unit);
  const s = useView((state) => state.s);
  const place = useRef<HTMLSpanElement>(null);
  const list = useRef<HTMLDListElement>(null);
  usePainter(plan, (shown) => {
    const { section } = drawingAt(shown, heldRun(shown, s));
    const { lines } = shown.design;
    const station = shownStation(shown.design, shown, s);
    const halfBreadth = valueOn(lines.outline, station);
    const figures: Readonly<Record<(typeof FIGURES)[number], string>> = {
      'Half-breadth': lengthText(halfBreadth, unit),
      Rocker: lengthText(valueOn(lines.rocker, station), unit),
      Thickness: lengthText(valueOn(lines.thickness, station), unit),
      'Deck rise': lengthText(valueOn(lines.crown, station) * halfBreadth, unit),
      Gap: lengthText(section.gap, unit),
      Rows: String(section.rows),
      Bevel: angleText(section.bevel),
      Cover: lengthText(section.cover, unit),
    };
    if (place.current) place.current.textContent = `${nearerEnd(shown, station, unit)}, ${unitSign(unit)}`;
    list.current?.querySelectorAll('dd').forEach((cell, i) => {
      if (cell.textContent !== figures[FIGURES[i]]) cell.textContent = figures[FIGURES[i]];
    });
  });
  return (
    <section className="station-figures" aria-label="At the station">
      <h3><Worded text="Station" /> <span ref={place} /></h3>
      <dl ref={list}>{FIGURES.map((label) => <div key={label} data-station={label}><dt><Worded text={label} /></dt><dd /></div>)}</dl>
    </section>
  );
}

export function LinesRoom() {
  useDroppedFiles();
  const { line, side, alone, tool, set } = useLines();
  const plan = usePlan();
  const rest = useDesign((state) => state.design);
  const earlier = useEarlier();
  const proposal = useProposal((state) => state.proposal);
  useEffect(expectDrag, []);
  // Leaving the room drops an open proposal: nothing is changed unseen.
  useEffect(() => discardProposal, []);
  const kind = kindOf(line);
  const tools = useRef<HTMLElement>(null);
  const sheet = useRef<HTMLDivElement>(null);
  const openTool = (id: ToolName) => {
    flushSync(() => set({ tool: id }));
    // In a hand the tools stand under the drawing: what is opened would lie below the screen.
    if (!inHand()) return;
    tools.current?.scrollIntoView({ block: 'start' });
    sheet.current?.focus({ preventScroll: true });
  };
  const drawn = alone ? [kind] : side === null ? MAIN_LINES : [...MAIN_LINES, kindOf(side)];
  return (
    <>
      <OverallSizes plan={plan} />
      <section className="lines" data-area="lines" aria-label="Shape" data-count={drawn.length}>
        {drawn.map((each) => (
          <Sheet key={each.name} kind={each} earlier={earlier} before={proposal ? rest : null} plan={plan} onStation={onStation} />
        ))}
      </section>
      <aside className="lines-side" data-area="side" aria-label={`${kind.title}: points and tools`}>
        <header ref={tools}>
          <CurvePicker />
          <nav className="tabs tool-tabs" aria-label="Tools">
            {TOOLS.map(({ id, label }) => <button key={id} type="button" aria-pressed={tool === id} onClick={() => openTool(id)}>{label}</button>)}
          </nav>
        </header>
        <div className="tool" ref={sheet} role="group" tabIndex={-1} aria-label={TOOLS.find(({ id }) => id === tool)?.label}>
          {tool === 'points' && <PointsTool kind={kind} plan={plan} />}
          {tool === 'fairness' && <FairTool kind={kind} />}
          {tool === 'compare' && <CompareTool />}
          {tool === 'offsets' && <OffsetsTool />}
          {tool === 'drawing' && <DrawingTool />}
          {tool === 'hull' && <Suspense><HullTool /></Suspense>}
          {tool === 'tracing' && <TracingTool name={line} />}
        </div>
        {plan && <StationFigures plan={plan} />}
      </aside>
      <ProposalBar plan={plan} />
    </>
  );
}
