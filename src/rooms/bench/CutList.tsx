/** Pieces and the stock lengths they are cut from, by one number, each ticked off as it is cut. */
import { useMemo } from 'react';
import type { Parts } from '../../../geometry/parts/types';
import type { Plan } from '../../../geometry/types';
import { cutStockLengths, stockName } from '../../papers/listTables';
import { nearerEnd } from '../../say/words';
import { lengthText, type Unit, unitSign } from '../../say/units';
import { usePartsCurrent } from '../../work/parts';
import { useRecord } from '../../work/readings';
import { tickCut } from '../../work/ticks';
import { type CutEnd, type CutLine, cutLines } from './cuts';
import { useBench } from './pages';
import { leadTo } from './places';
import { useSidePlans } from './sides';
import './drawings.css';
import { Worded } from '../../ui/Term';
import './cut.css';

interface CutProps {
  readonly plan: Plan;
  readonly parts: Parts;
  readonly unit: Unit;
}

/** The cut list of the plan, each side by its own. */
export function useCutLines(plan: Plan, parts: Parts | null): readonly CutLine[] {
  const planOf = useSidePlans(plan);
  return useMemo(() => (parts ? cutLines(parts, planOf) : []), [parts, planOf]);
}

/** A length of a piece as text: "…" while pieces of the last readings are made. */
export function usePieceLength(plan: Plan, unit: Unit): (mm: number, decimals?: number) => string {
  const current = usePartsCurrent(plan);
  return (mm, decimals) => (current ? lengthText(mm, unit, decimals) : '…');
}

/** Shows a piece beside the list, and from there in accent on the ribbon. */
const pickPiece = ({ number }: Pick<CutLine, 'number'>): void => useBench.setState({ piece: number });

function goTo(line: Pick<CutLine, 'number' | 'piece'>): void {
  pickPiece(line);
  leadTo((line.piece.s0 + line.piece.s1) / 2);
}

/** An end as its column tells it, from that end of the board; a joint from the nearer one. */
export function endText(plan: Plan, { kind, x }: CutEnd, from: 'tail' | 'nose', unit: Unit): string {
  if (kind === 'tip') return 'tip';
  return kind === 'joint' ? `joint ${nearerEnd(plan, x, unit, 1)}` : lengthText(from === 'tail' ? x : plan.hull.length - x, unit);
}

/** Pieces cut and pieces there are. */
export function CutCount({ plan, parts }: Omit<CutProps, 'unit'>) {
  const lines = useCutLines(plan, parts);
  const { cut = [] } = useRecord();
  return <>{lines.filter(({ id }) => cut.includes(id)).length} of {lines.length} cut</>;
}

function Pieces({ plan, parts, unit }: CutProps) {
  const lines = useCutLines(plan, parts);
  const picked = useBench((state) => state.piece);
  const lengthOf = usePieceLength(plan, unit);
  const { cut = [] } = useRecord();
  return (
    <table className="cut-list" aria-label="Cut list">
      <thead>
        <tr>
          <th scope="col">no</th><th scope="col" data-words>strip</th><th scope="col" data-words data-spare>side</th><th scope="col" title="Along the strip’s own middle, scarfs counted in">cut to</th>
          <th scope="col" title="Station from the tail"><Worded text="tail stop" /></th><th scope="col" title="Station from the nose"><Worded text="nose stop" /></th>
          <th scope="col" data-words data-spare>from</th><th scope="col" data-words data-spare>how</th><th scope="col">cut</th>
        </tr>
      </thead>
      <tbody>
        {lines.map((line) => {
          const { id, number, name, piece: { side, length }, ends, stock } = line;
          const done = cut.includes(id);
          return (
            <tr
              key={id} data-done={done || undefined} aria-current={number === picked ? 'true' : undefined}
              onClick={() => goTo(line)} onPointerEnter={({ pointerType }) => pointerType === 'mouse' && pickPiece(line)} onFocus={() => pickPiece(line)}
            >
              <td><button type="button" className="lead" aria-label={`Piece ${number}: ${name}, ${side}`}>{number}</button></td>
              <td data-words><b>{name}</b><small>{side}, {stock}</small></td>
              <td data-words data-spare>{side}</td>
              <td className="cut-to">{lengthOf(length)}</td>
              <td>{endText(plan, ends.tail, 'tail', unit)}</td>
              <td>{endText(plan, ends.nose, 'nose', unit)}</td>
              <td data-words data-spare>length {stock}</td>
              <td data-words data-spare>{lengthText(line.width, unit)} × {lengthText(line.thickness, unit)}, {line.how}</td>
              <td>
                {/* The tick alone: the line under it leads to the piece. */}
                <label className="tick"><input type="checkbox" aria-label={`Piece ${number}, ${name}, ${side}, is cut`} checked={done} onClick={(event) => event.stopPropagation()} onChange={({ target }) => tickCut(id, target.checked)} /></label>
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

/** Stock lengths drawn to one scale, each with its pieces in the order they are cut. A piece leads to its middle. */
function StockLengths({ plan, parts, unit }: CutProps) {
  const picked = useBench((state) => state.piece);
  const lengthOf = usePieceLength(plan, unit);
  const { cut = [] } = useRecord();
  const done = new Set(useCutLines(plan, parts).filter(({ id }) => cut.includes(id)).map(({ number }) => number));
  const stockLengths = cutStockLengths(parts);
  const longest = Math.max(...stockLengths.map(({ stock }) => stock.length));
  return (
    <>
      <h4>Stock lengths <small>dashed: what is left; saw cut {lengthText(plan.design.timber.sawKerf, unit)} between pieces; {unitSign(unit)}</small></h4>
      <ol className="stock-lengths" aria-label="Stock lengths">
        {stockLengths.map(({ stock, number, pieces }) => (
          <li key={number} title={`${stockName(stock)}, ${lengthText(stock.width, unit)} × ${lengthText(stock.thickness, unit)} × ${lengthText(stock.length, unit, 0)}`}>
            <span className="stock-length-name">length {number} <small>{lengthText(stock.length, unit, 0)}</small></span>
            <span className="stock-length" data-stock={stock.stock} style={{ width: `${(stock.length / longest) * 100}%` }}>
              {pieces.map(({ piece, number: n }) => (
                <button
                  key={n} type="button" aria-pressed={n === picked} data-done={done.has(n) || undefined} style={{ width: `${(piece.length / stock.length) * 100}%` }}
                  onClick={() => goTo({ number: n, piece })} onPointerEnter={({ pointerType }) => pointerType === 'mouse' && pickPiece({ number: n })}
                >
                  <b><span className="spoken">Piece </span>{n}</b>{' '}<span>{lengthOf(piece.length)}</span>
                </button>
              ))}
            </span>
            <span className="waste">{lengthOf(stock.waste, 0)} left</span>
          </li>
        ))}
      </ol>
    </>
  );
}

export function CutList(props: CutProps) {
  return (
    <>
      <Pieces {...props} />
      <StockLengths {...props} />
    </>
  );
}
