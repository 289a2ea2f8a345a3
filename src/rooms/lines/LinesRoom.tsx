/** Lines: the curves of the board, edited in their drawings and in figures, while stage and ribbon follow. */
import { html, render } from 'lit-html';
import { useEffect, useRef } from 'react';
import { runOfPlace } from '../../../geometry/rail/query';
import type { Plan } from '../../../geometry/types';
import { useDesign } from '../../state/design';
import { addTaker } from '../../state/drops';
import { planNow, usePlan } from '../../state/plan';
import { cursorRun, drawingAt } from '../../state/station';
import { nearerEnd, headline } from '../../say/words';
import { useUnits } from '../../state/unit';
import { angleText, lengthText, unitSign } from '../../say/units';
import { useView } from '../../state/view';
import { usePainter } from '../../ui/painter';
import { FairTool } from './FairTool';
import { useEarlier } from './compare';
import { CompareTool } from './CompareTool';
import { kindOf, MAIN_LINES, SIDE_LINES } from './kinds';
import './lines.css';
import './tools.css';
import { isTable, loadOffsets } from './offsets';
import { OffsetsTool } from './OffsetsTool';
import { valueOn } from './path';
import { PointsTool } from './PointsTool';
import { Sheet } from './Sheet';
import { shownStation } from './useShownPainter';
import { type ToolName, useLines } from './lines';
import { acceptProposal, discardProposal, useProposal } from '../../state/proposal';
import { isPicture } from './tracing';
import { takePicture, TracingTool } from './TracingTool';

const TOOLS: readonly { readonly id: ToolName; readonly label: string }[] = [
  { id: 'points', label: 'Points' },
  { id: 'fairness', label: 'Fairness' },
  { id: 'compare', label: 'Compare' },
  { id: 'offsets', label: 'Offsets' },
  { id: 'tracing', label: 'Tracing' },
];

/** Lines takes the tables and pictures dropped on the page while it is open. */
function useDroppedFiles(): void {
  useEffect(() => addTaker((file) => {
    if (isPicture(file)) takePicture(file);
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
    <nav className="tabs curve-picker" aria-label="Curves">
      {MAIN_LINES.map(({ name, title }) => <button key={name} type="button" aria-pressed={line === name} onClick={() => open(name)}>{title}</button>)}
      <select
        aria-label="Along the length" className={side !== null && line === side ? 'on' : ''} value={side ?? ''}
        onChange={(event) => {
          const kind = SIDE_LINES.find(({ name }) => name === event.target.value);
          if (kind) open(kind.name);
          else useLines.setState({ side: null, line: 'outline', selected: null });
        }}
      >
        <option value="">{side === null ? 'Crown, bottom, rail…' : 'None of these'}</option>
        {SIDE_LINES.map(({ name, title }) => <option key={name} value={name}>{title}</option>)}
      </select>
    </nav>
  );
}

/** The plan in a sentence. */
function Headline({ plan }: { readonly plan: Plan }) {
  const unit = useUnits((state) => state.unit);
  const says = useRef<HTMLParagraphElement>(null);
  usePainter(plan, (shown) => says.current && render(headline(shown, unit), says.current));
  return <p className="lines-says" ref={says} />;
}

/** The plan in a sentence; or, while a tool proposes another board, the choice. */
function Verdict() {
  const proposal = useProposal((state) => state.proposal);
  const plan = usePlan();
  if (!proposal) return plan && <Headline plan={plan} />;
  return (
    <div className="proposal" role="status">
      <span>{proposal.title}: a proposal. Dashed: the board as it is now.</span>
      <button type="button" className="ruled strong" onClick={acceptProposal}>Accept</button>
      <button type="button" className="ruled" onClick={discardProposal}>Discard</button>
    </div>
  );
}

function StationFigures({ plan }: { readonly plan: Plan }) {
  const unit = useUnits((state) => state.unit);
  const s = useView((state) => state.s);
  const list = useRef<HTMLElement>(null);
  usePainter(plan, (shown) => {
    const { section } = drawingAt(shown, cursorRun(shown, s));
    const { lines } = shown.design;
    const station = shownStation(shown.design, shown, s);
    const halfBreadth = valueOn(lines.outline, station);
    const figures: readonly (readonly [string, string])[] = [
      ['Half-breadth', lengthText(halfBreadth, unit)],
      ['Rocker', lengthText(valueOn(lines.rocker, station), unit)],
      ['Thickness', lengthText(valueOn(lines.thickness, station), unit)],
      ['Deck rise', lengthText(valueOn(lines.crown, station) * halfBreadth, unit)],
      ['Gap', lengthText(section.gap, unit)],
      ['Rows', String(section.rows)],
      ['Bevel', angleText(section.bevel)],
      ['Cover', lengthText(section.cover, unit)],
    ];
    if (list.current) {
      render(html`<h3>Station ${nearerEnd(shown, station, unit)}, ${unitSign(unit)}</h3>
        <dl>${figures.map(([label, text]) => html`<div data-station=${label}><dt>${label}</dt><dd>${text}</dd></div>`)}</dl>`, list.current);
    }
  });
  return <section className="station-figures" aria-label="At the station" ref={list} />;
}

export function LinesRoom() {
  useDroppedFiles();
  const { line, side, alone, tool, set } = useLines();
  const plan = usePlan();
  const rest = useDesign((state) => state.design);
  const earlier = useEarlier();
  const proposal = useProposal((state) => state.proposal);
  // Leaving Lines drops an open proposal: nothing is changed unseen.
  useEffect(() => discardProposal, []);
  const kind = kindOf(line);
  const drawn = alone ? [kind] : side === null ? MAIN_LINES : [...MAIN_LINES, kindOf(side)];
  return (
    <>
      <section className="lines" aria-label="Lines" data-count={drawn.length}>
        <div className="lines-head">
          <CurvePicker />
          <Verdict />
        </div>
        <div className="sheets">
          {drawn.map((each) => (
            <Sheet key={each.name} kind={each} earlier={earlier} before={proposal ? rest : null} plan={plan} onStation={onStation} />
          ))}
        </div>
      </section>
      <aside className="lines-side" aria-label={`${kind.title}: points and tools`}>
        <header>
          <h2>{kind.title}</h2>
          <nav className="tabs tool-tabs" aria-label="Tools">
            {TOOLS.map(({ id, label }) => <button key={id} type="button" aria-pressed={tool === id} onClick={() => set({ tool: id })}>{label}</button>)}
          </nav>
        </header>
        <div className="tool">
          {tool === 'points' && <PointsTool kind={kind} plan={plan} />}
          {tool === 'fairness' && <FairTool kind={kind} />}
          {tool === 'compare' && <CompareTool />}
          {tool === 'offsets' && <OffsetsTool />}
          {tool === 'tracing' && <TracingTool name={line} />}
        </div>
        {plan && <StationFigures plan={plan} />}
      </aside>
    </>
  );
}
