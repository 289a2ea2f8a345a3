/** Beside the lists: the piece under the hand, or the place of the cursor, with its figures large. Stage and ribbon stand between its two halves. */
import { type ReactNode, useEffect } from 'react';
import type { Parts } from '../../../geometry/parts/types';
import { sectionAt } from '../../../geometry/rail/query';
import { bandAt } from '../../../geometry/trust/bandAt';
import type { Plan } from '../../../geometry/types';
import { placeName, planingOf } from '../../say/placeWords';
import { boxText, nearerEnd } from '../../say/words';
import { angleText, lengthText, lengthWithUnit, type Unit } from '../../say/units';
import { useMade } from '../../state/jobs';
import { useView } from '../../state/view';
import { useLeading } from '../../station/Leading';
import { runs } from '../../papers/millTable';
import type { CutEnd, CutLine } from './cuts';
import { endText, useCutLines, usePieceLength } from './CutList';
import { type PageId, useBench } from './pages';
import { useSidePlans } from './sides';
import { Worded } from '../../ui/Term';
import './peek.css';

interface PeekProps {
  readonly plan: Plan;
  readonly unit: Unit;
}

interface Shown {
  readonly over: string;
  readonly title: string;
  readonly figures: ReactNode;
}

function Frame({ over, title, figures }: Shown) {
  return (
    <aside className="peek" aria-label="The chosen line">
      <header className="peek-head"><p>{over}</p><h2>{title}</h2></header>
      <div className="peek-figures">{figures}</div>
    </aside>
  );
}

function Figure({ name, value, small }: { readonly name: string; readonly value: ReactNode; readonly small?: string }) {
  return <div><dt><Worded text={name} /></dt><dd>{value}{small && <small>{small}</small>}</dd></div>;
}

/** How far a row's stop may vary with real stock, stations from its end; nothing where bands are not known. */
function StopBands({ plan, line, unit }: PeekProps & { readonly line: CutLine }) {
  const bands = useMade('bands', plan);
  const { strip } = line.piece;
  if (!bands || strip.kind !== 'row') return null;
  const told = (['tail', 'nose'] as const).flatMap((end) => {
    const { kind, s } = line.ends[end];
    const band = bands.stops.find((one) => one.row === strip.order && one.end === end && Math.abs(one.s.value - s) < 1);
    if (kind !== 'stop' || !band || band.s.high - band.s.low < 0.2) return [];
    const from = [band.s.low, band.s.high].map((run) => sectionAt(plan, run).x).map((x) => (end === 'tail' ? x : plan.hull.length - x)).sort((a, b) => a - b);
    return [`the ${end} stop between ${lengthText(from[0], unit)} and ${lengthText(from[1], unit)}`];
  });
  return told.length === 0 ? null : <p>Real stock moves {told.join(', ')}: measure the gap before you saw.</p>;
}

/** What an end is, where its figure does not say it. */
const CUT_WORDS: Readonly<Record<CutEnd['kind'], string>> = { tip: 'at the board’s tip', stop: 'square at the stop', end: 'square on the end block', joint: 'on a joint' };

function PiecePeek({ plan, unit, line }: PeekProps & { readonly line: CutLine }) {
  const lengthOf = usePieceLength(plan, unit);
  const of = useSidePlans(plan)(line.piece.side);
  const { strip } = line.piece;
  useEffect(() => useView.getState().pick(strip), [strip]);
  const { tail, nose } = line.ends;
  const rail = of.rail.face.length;
  const ends = tail.kind === nose.kind ? `Both ends ${CUT_WORDS[tail.kind]}.` : `Tail end ${CUT_WORDS[tail.kind]}, nose end ${CUT_WORDS[nose.kind]}.`;
  return (
    <Frame
      over={`Piece ${line.number}, from stock length ${line.stock}`} title={`${line.name}, ${line.piece.side}`}
      figures={(
        <>
          <dl>
            <div className="chief"><dt>cut to</dt><dd>{lengthOf(line.piece.length)}</dd></div>
            <Figure name="from the tail" value={endText(of, tail, 'tail', unit)} small={`${lengthText(tail.s, unit)} along the rail`} />
            <Figure name="from the nose" value={endText(of, nose, 'nose', unit)} small={`${lengthText(rail - nose.s, unit)} along the rail`} />
          </dl>
          <p>{line.tabs.length === 0 ? 'It meets no tab.' : `It lies on the tabs of ribs ${runs(line.tabs)}.`} {ends}</p>
          <p>{lengthText(line.width, unit)} × {lengthText(line.thickness, unit)}, {line.how}.</p>
          <StopBands plan={plan} line={line} unit={unit} />
        </>
      )}
    />
  );
}

function PlacePeek({ plan, unit }: PeekProps) {
  const leading = useLeading(plan);
  const bands = useMade('bands', plan);
  if (!leading) return null;
  const { drawing: { x, section: c }, lead, boxed, told } = leading;
  const { edge, of } = planingOf(c);
  const band = bands && bandAt(bands, 'gap', c.s);
  const box = lead.rail.stretches.find(({ s0, s1 }) => c.s >= s0 && c.s <= s1);
  return (
    <Frame
      over={`Station ${nearerEnd(plan, x, unit, 1)}`} title={placeName(lead, c.s)}
      figures={(
        <>
          <dl>
            <div className="chief"><dt><Worded text="gap, sole to cap" /></dt><dd>{told(({ gap }) => lengthText(gap, unit), undefined, false)}</dd></div>
            <Figure name="bevel" value={told(({ bevel }) => angleText(bevel))} small={boxed ? `${lengthText(of(c), unit)} ${edge} the outer edge` : undefined} />
            <Figure name="along the rail" value={lengthText(c.s, unit)} small="from the tail" />
          </dl>
          <p>{c.rows} of {plan.design.rail.rows} rows{box ? `: ${boxText(box)}` : ''}.{boxed && ` Cover ${lengthWithUnit(c.cover, unit)}.`}</p>
          {band && band.high - band.low >= 0.1 && <p>Real stock brings the gap between {lengthText(band.low, unit)} and {lengthText(band.high, unit)}.</p>}
        </>
      )}
    />
  );
}

export function Peek({ plan, parts, unit, page }: PeekProps & { readonly parts: Parts | null; readonly page: PageId }) {
  const lines = useCutLines(plan, parts);
  const picked = useBench((state) => state.piece);
  const line = lines.find(({ number }) => number === picked) ?? lines.at(0);
  return page === 'cut' && line ? <PiecePeek plan={plan} unit={unit} line={line} /> : <PlacePeek plan={plan} unit={unit} />;
}
