/** Lines: the curves of the board, edited in their drawings and in figures, while stage and ribbon follow. */
import { useCallback, useEffect, useMemo } from 'react';
import { runOfPlace, sectionAt, stationAt } from '../../../geometry/rail/query';
import { useDesign } from '../../state/design';
import { addTaker } from '../../state/drops';
import { planNow, usePlan } from '../../state/plan';
import { cursorRun } from '../../state/station';
import { nearerEnd, headline } from '../../say/words';
import { useUnits } from '../../state/unit';
import { angleText, lengthText, unitSign } from '../../say/units';
import { useView } from '../../state/view';
import { FairTool } from './FairTool';
import { useEarlier } from './compare';
import { CompareTool } from './CompareTool';
import { useShown } from './Handles';
import { kindOf, MAIN_LINES, SIDE_LINES } from './kinds';
import './lines.css';
import './tools.css';
import { isTable, loadOffsets } from './offsets';
import { OffsetsTool } from './OffsetsTool';
import { valueOn } from './path';
import { PointsTool } from './PointsTool';
import { Sheet } from './Sheet';
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

/** The station under the shared cursor, on the board as shown. */
function useCursorStation() {
  const plan = usePlan();
  const s = useView((state) => state.s);
  const moveTo = useView((state) => state.moveTo);
  const station = useMemo(() => (plan ? stationAt(plan, cursorRun(plan, s)) : null), [plan, s]);
  const onStation = useCallback((x: number) => {
    const now = planNow();
    if (now) moveTo(runOfPlace(now, { x }));
  }, [moveTo]);
  return { plan, station, onStation };
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

/** The plan in a sentence; or, while a tool proposes another board, the choice. */
function Verdict() {
  const proposal = useProposal((state) => state.proposal);
  const plan = usePlan();
  const unit = useUnits((state) => state.unit);
  if (!proposal) return plan && <p className="lines-says">{headline(plan, unit)}</p>;
  return (
    <div className="proposal" role="status">
      <span>{proposal.title}: a proposal. Dashed: the board as it is now.</span>
      <button type="button" className="ruled strong" onClick={acceptProposal}>Accept</button>
      <button type="button" className="ruled" onClick={discardProposal}>Discard</button>
    </div>
  );
}

function StationFigures({ station, halfBreadth }: { readonly station: number; readonly halfBreadth: number }) {
  const unit = useUnits((state) => state.unit);
  const plan = usePlan();
  const design = useShown();
  const s = useView((state) => state.s);
  const section = useMemo(() => (plan ? sectionAt(plan, cursorRun(plan, s)) : null), [plan, s]);
  if (!plan || !section) return null;
  const figures: readonly (readonly [string, string])[] = [
    ['Half-breadth', lengthText(halfBreadth, unit)],
    ['Rocker', lengthText(valueOn(design.lines.rocker, station), unit)],
    ['Thickness', lengthText(valueOn(design.lines.thickness, station), unit)],
    ['Deck rise', lengthText(valueOn(design.lines.crown, station) * halfBreadth, unit)],
    ['Gap', lengthText(section.gap, unit)],
    ['Rows', String(section.rows)],
    ['Bevel', angleText(section.bevel)],
    ['Cover', lengthText(section.cover, unit)],
  ];
  return (
    <section className="station-figures" aria-label="At the station">
      <h3>Station {nearerEnd(plan, station, unit)}, {unitSign(unit)}</h3>
      <dl>{figures.map(([label, text]) => <div key={label} data-station={label}><dt>{label}</dt><dd>{text}</dd></div>)}</dl>
    </section>
  );
}

export function LinesRoom() {
  useDroppedFiles();
  const { line, side, alone, tool, set } = useLines();
  const { station: asked, onStation } = useCursorStation();
  const design = useShown();
  const rest = useDesign((state) => state.design);
  const earlier = useEarlier();
  const proposal = useProposal((state) => state.proposal);
  // Leaving Lines drops an open proposal: nothing is changed unseen.
  useEffect(() => discardProposal, []);
  const length = design.lines.outline.points[design.lines.outline.points.length - 1].x;
  const station = Math.min(length, Math.max(0, asked ?? length / 2));
  const halfBreadth = valueOn(design.lines.outline, station);
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
            <Sheet key={each.name} kind={each} earlier={earlier} before={proposal ? rest : null} station={station} halfBreadth={each.across ? halfBreadth : 0} onStation={onStation} />
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
          {tool === 'points' && <PointsTool kind={kind} station={station} />}
          {tool === 'fairness' && <FairTool kind={kind} />}
          {tool === 'compare' && <CompareTool />}
          {tool === 'offsets' && <OffsetsTool />}
          {tool === 'tracing' && <TracingTool name={line} />}
        </div>
        <StationFigures station={station} halfBreadth={halfBreadth} />
      </aside>
    </>
  );
}
