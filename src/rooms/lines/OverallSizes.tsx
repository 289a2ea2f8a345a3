/** Over the drawings: the overall sizes as fields, how the board ends, and what it holds and weighs. */
import { render } from 'lit-html';
import { type ReactNode, useRef } from 'react';
import type { Design } from '../../../geometry/design/schema';
import { sizeRange } from '../../../geometry/search/family';
import type { Plan } from '../../../geometry/types';
import { fixed, lengthText, readLength, readNumber, unitSign } from '../../say/units';
import { nearerEnd } from '../../say/words';
import { shownDesign, useDesign } from '../../state/design';
import { isBusy, useJobs } from '../../state/jobs';
import { useProposal } from '../../state/proposal';
import { useUnits } from '../../state/unit';
import { useView } from '../../state/view';
import { FigureField } from '../../ui/fields';
import { usePainter } from '../../ui/painter';
import { usePartsOf } from '../../work/parts';
import { type End, endShape, type EndShape, setEndShape } from './edits';
import { commitEdit } from './lines';
import { LITRES, overallOf, putSize, putVolume, type OverallName } from './overall';
import './overall.css';
import { useDesignPainter } from './useShownPainter';

const SIZES: readonly { readonly name: OverallName; readonly label: string; readonly at?: 'widestAt' | 'thickestAt' }[] = [
  { name: 'length', label: 'Length' },
  { name: 'width', label: 'Width', at: 'widestAt' },
  { name: 'thickness', label: 'Thickness', at: 'thickestAt' },
];
const SHAPES: readonly EndShape[] = ['round', 'pointed', 'square'];

/** Paints the figure of a field, unless the maker is typing another into it. */
function paintFigure(cell: HTMLElement | null, text: string): void {
  const input = cell?.querySelector('input');
  if (input && input !== document.activeElement) input.value = text;
}

/** A size, and the station where it is found. Both follow a dragging hand by the painter: a size that React has would render at every move. */
function SizeField({ name, label, at }: (typeof SIZES)[number]) {
  const unit = useUnits((state) => state.unit);
  const proposed = useProposal((state) => state.proposal !== null);
  const text = (design: Design) => lengthText(overallOf(design)?.[name] ?? Number.NaN, unit);
  const shown = useDesign((state) => text(state.held ? state.design : shownDesign(state)));
  const cell = useRef<HTMLDivElement>(null);
  const place = useRef<HTMLSpanElement>(null);
  useDesignPainter((design) => {
    const overall = overallOf(design);
    paintFigure(cell.current, text(design));
    if (place.current && at) render(overall ? `at ${nearerEnd({ hull: overall }, overall[at], unit)}` : '', place.current);
  });
  return (
    <div className="cell" data-size={name} ref={cell}>
      <FigureField label={label} shown={shown} unit={unitSign(unit)} allowed={sizeRange(name)} disabled={proposed} read={(text) => readLength(text, unit)} put={(value) => putSize(name, value)} />
      {at && <span className="place" ref={place} />}
    </div>
  );
}

function EndField({ end, label }: { readonly end: End; readonly label: string }) {
  const shape = useDesign((state) => endShape(shownDesign(state).lines.outline, end));
  const proposed = useProposal((state) => state.proposal !== null);
  return (
    <label className="cell">
      <span>{label}</span>
      <select
        aria-label={`Shape of the ${end}`} value={shape} disabled={proposed}
        onChange={(event) => {
          const to = SHAPES.find((each) => each === event.target.value);
          if (to) commitEdit('outline', setEndShape(useDesign.getState().design, end, to));
        }}
      >
        {SHAPES.map((each) => <option key={each}>{each}</option>)}
      </select>
    </label>
  );
}

/** What the board holds: told, and typed to be reached by thickness. */
function VolumeField({ plan }: { readonly plan: Plan }) {
  const cell = useRef<HTMLDivElement>(null);
  const searching = useJobs(({ targets }) => isBusy(targets));
  const litres = (of: Plan) => fixed(of.hull.volume / 1e6, 1);
  usePainter(plan, (shown) => paintFigure(cell.current, litres(shown)));
  return (
    <div className="cell" data-size="volume" ref={cell}>
      <FigureField label="Volume" shown={litres(plan)} unit={searching ? '…' : 'litres'} allowed={`${LITRES.min} to ${LITRES.max} litres`} read={readNumber} put={putVolume} />
      <span className="place">set by thickness</span>
    </div>
  );
}

function Told({ label, sign, children }: { readonly label: string; readonly sign: string; readonly children: ReactNode }) {
  return <p className="cell told" data-told={label}><span>{label}</span><b>{children}</b> <span className="sign">{sign}</span></p>;
}

export function OverallSizes({ plan }: { readonly plan: Plan | null }) {
  const parts = usePartsOf(plan);
  const drawer = useView((state) => state.drawer);
  const open = useView((state) => state.open);
  return (
    <section className="lines-overall" data-area="overall" aria-label="Overall sizes">
      {SIZES.map((size) => <SizeField key={size.name} {...size} />)}
      <EndField end="tail" label="Tail" />
      <EndField end="nose" label="Nose" />
      {plan && <VolumeField plan={plan} />}
      <Told label="Timber" sign="kg">{parts?.totals ? fixed(parts.totals.mass, 2) : '…'}</Told>
      <span className="trials">
        <button type="button" className="ruled" aria-expanded={drawer === 'scale'} onClick={() => open('scale')}>Scale it</button>
        <button type="button" className="ruled" aria-expanded={drawer === 'targets'} onClick={() => open(drawer === 'targets' ? null : 'targets')}>Targets</button>
      </span>
    </section>
  );
}
