/** For the saw and the shop: joints and their proof, stock lengths with their pieces, the shopping list. */
import { stripName } from '../../../geometry/parts/bending';
import type { Parts } from '../../../geometry/parts/types';
import { list } from '../../../geometry/said';
import type { Plan } from '../../../geometry/types';
import { cutStockLengths, jointTable, proofOf, shopTable, stockName } from '../../papers/listTables';
import { millNotes, millTable } from '../../papers/millTable';
import { cellText, columnAt } from '../../papers/tables';
import { lengthText, type Unit, unitSign } from '../../say/units';
import { Said } from '../../ui/Said';
import { listOf } from './lists';
import { leadTo, type ListLine, PlaceList, useCursor } from './places';
import type { PageProps } from './RailPages';
import { Missing } from './Missing';
import './drawings.css';
import './bench.css';
import './lists.css';

const JOINT_CODES = ['mill-none', 'planks-short', 'stock-short', 'stagger', 'flange-joints', 'butt-bearing', 'on-hand', 'not-made'];

function Joints({ plan, parts, unit }: PageProps) {
  const table = jointTable(plan, parts);
  if (table.rows.length === 0) return <p className="hint">Every strip is cut from one stock length: sole, rows and cap have no joint.</p>;
  const { columns, lines } = listOf(table, [
    { id: 'strip' }, { id: 'side' }, { id: 'joint' }, { id: 'x', title: 'station' }, { id: 'run', title: 'along rail' }, { id: 'rib', title: 'tab of rib' }, { id: 'scarf' }, { id: 'bearing', title: 'bears on' },
  ], unit, 'run');
  return <PlaceList plan={plan} label="Joints" columns={columns} lines={lines} follow />;
}

interface StockProps {
  readonly plan: Plan;
  readonly parts: Parts;
  readonly unit: Unit;
}

/** Stock lengths drawn to one scale, each with its pieces in the order they are cut. A piece leads to its middle. */
function StockLengths({ plan, parts, unit }: StockProps) {
  const s = useCursor(plan);
  const stockLengths = cutStockLengths(parts);
  const longest = Math.max(...stockLengths.map(({ stock }) => stock.length));
  return (
    <ol className="stock-lengths" aria-label="Stock lengths">
      {stockLengths.map(({ stock, number, pieces }) => (
        <li key={number}>
          <span className="stock-length-name">{number} <small>{stockName(stock)} {lengthText(stock.thickness, unit)} × {lengthText(stock.length, unit, 0)}</small></span>
          <span className="stock-length" style={{ width: `${(stock.length / longest) * 100}%` }}>
            {pieces.map(({ piece, number: n }) => (
              <button
                key={n} type="button" data-side={piece.side} className={s >= piece.s0 && s <= piece.s1 ? 'near' : undefined} style={{ width: `${(piece.length / stock.length) * 100}%` }}
                title={`Piece ${n}: ${stripName(piece.strip)}, ${piece.side}, ${lengthText(piece.length, unit)}`}
                onClick={() => leadTo((piece.s0 + piece.s1) / 2)}
              >
                <b>{n}</b> {lengthText(piece.length, unit)}
              </button>
            ))}
          </span>
          <span className="waste">{lengthText(stock.waste, unit, 0)} left</span>
        </li>
      ))}
    </ol>
  );
}

function Pieces({ plan, parts, unit }: StockProps) {
  const lines = cutStockLengths(parts).flatMap(({ number, pieces }) => pieces.map(({ piece, number: n }): ListLine => ({
    key: String(n), spot: { s: piece.s0, until: piece.s1, lead: (piece.s0 + piece.s1) / 2 },
    cells: [
      String(n), stripName(piece.strip), piece.side, String(piece.index + 1), lengthText(piece.length, unit),
      lengthText(piece.s0, unit, 0), lengthText(piece.s1, unit, 0), String(number),
    ],
  })));
  return (
    <PlaceList
      plan={plan} label="Cut list" lines={lines}
      columns={[
        { title: 'piece' }, { title: 'strip', words: true }, { title: 'side', words: true }, { title: 'part', hint: 'Counted from the tail' },
        { title: 'cut to', hint: 'Along the strip’s own middle, scarfs counted in' }, { title: 'along rail', hint: 'Along the rail from the tail' }, { title: 'to' }, { title: 'stock', hint: 'Number of the stock length' },
      ]}
    />
  );
}

/** What is ripped and planed before it is cut to length. */
function Mill({ plan, parts, unit }: StockProps) {
  const table = millTable(plan, parts);
  if (table.rows.length === 0) return null;
  const { columns, lines } = listOf(table, [
    { id: 'strips', title: 'how many' }, { id: 'width' }, { id: 'thickness', title: 'thick' }, { id: 'length', title: 'at least' }, { id: 'for', long: true },
    ...(parts.milling && parts.milling.planks.length > 0 ? [{ id: 'plank' }, { id: 'size', title: 'thick × wide × long' }, { id: 'fence' }, { id: 'slices' }, { id: 'second', title: 'then rip to' }] : []),
  ], unit);
  return (
    <>
      <h3>Mill</h3>
      <PlaceList plan={plan} label="Mill list" columns={columns} lines={lines} />
      <p className="hint"><Said text={list(millNotes(plan, parts))} /></p>
    </>
  );
}

export function CuttingPage({ plan, parts, unit }: PageProps) {
  const { joints } = parts;
  return (
    <>
      {joints && <p className={joints.proof.optimal ? 'proof' : 'proof open'} data-testid="proof"><Said text={proofOf(parts)} /></p>}
      <Missing parts={parts} codes={JOINT_CODES} what={joints ? undefined : 'There is no cutting plan.'} />
      <Mill plan={plan} parts={parts} unit={unit} />
      {joints && (
        <>
          <h3>Joints</h3>
          <Joints plan={plan} parts={parts} unit={unit} />
          <h3>Stock lengths <small>shaded: starboard; {unitSign(unit)}</small></h3>
          <StockLengths plan={plan} parts={parts} unit={unit} />
          <h3>Pieces</h3>
          <Pieces plan={plan} parts={parts} unit={unit} />
        </>
      )}
    </>
  );
}

export function ShoppingPage({ plan, parts, unit }: PageProps) {
  const table = shopTable(plan, parts);
  if (table.rows.length === 0) return <Missing parts={parts} codes={[...JOINT_CODES, 'blank-wide', 'sheet-small']} what="Nothing could be counted." />;
  const { columns, lines } = listOf(table, [
    { id: 'item', title: 'what', long: true }, { id: 'needed' }, { id: 'on hand' }, { id: 'to buy' }, { id: 'price each', title: 'each' }, { id: 'cost' },
  ], unit);
  const at = columnAt(table, 'cost');
  const cost = table.columns[at];
  const sum = table.rows.reduce((total, row) => total + Number(row[at]), 0);
  return (
    <>
      <PlaceList plan={plan} label="Shopping list" columns={columns} lines={lines} />
      <p className="sum">To pay <b data-testid="to-pay">{cellText(sum, cost, unit)}</b> {plan.design.timber.currency}</p>
      <p className="hint">What is on hand is used first and costs nothing here. Glue, varnish, vent, fin box and fittings are not in this list. Prices come from the board file: change them under Timber.</p>
      <Missing parts={parts} codes={[...JOINT_CODES, 'boards-short', 'cost-estimate']} />
    </>
  );
}
