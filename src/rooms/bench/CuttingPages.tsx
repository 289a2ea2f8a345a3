/** For the saw and the shop: pieces by their stock lengths, joints and their proof, milling, bending, blanks; the shopping list. */
import { list } from '../../../geometry/said';
import { jointTable, proofOf, shopTable } from '../../papers/listTables';
import { millNotes, millTable } from '../../papers/millTable';
import { cellText, columnAt } from '../../papers/tables';
import { Said } from '../../ui/Said';
import { BendingPage } from './BendingPage';
import { Chapters } from './Chapters';
import { CutCount, CutList } from './CutList';
import { BlanksPage } from './FlatPages';
import { listOf } from './lists';
import { PlaceList } from './places';
import type { PageProps } from './RailPages';
import { Missing } from './Missing';
import './bench.css';
import './lists.css';

const JOINT_CODES = ['mill-none', 'planks-short', 'stock-short', 'stagger', 'flange-joints', 'butt-bearing', 'on-hand', 'not-made'];

function Joints({ plan, parts, unit }: PageProps) {
  const table = jointTable(plan, parts);
  if (table.rows.length === 0) return <p className="hint">Every strip is cut from one stock length: sole, rows and cap have no joint.</p>;
  const { columns, lines } = listOf(table, [
    { id: 'strip' }, { id: 'side' }, { id: 'joint' }, { id: 'x', title: 'station' }, { id: 'run', title: 'along rail' }, { id: 'rib', title: 'tab of rib' }, { id: 'scarf' }, { id: 'bearing', title: 'bears on' },
  ], unit, 'run');
  return <PlaceList plan={plan} label="Joints" columns={columns} lines={lines} />;
}

/** What is ripped and planed before it is cut to length. */
function Mill({ plan, parts, unit }: PageProps) {
  const table = millTable(plan, parts);
  if (table.rows.length === 0) return <p className="hint">Nothing is milled: strips and spacers are bought ready.</p>;
  const { columns, lines } = listOf(table, [
    { id: 'strips', title: 'how many' }, { id: 'width' }, { id: 'thickness', title: 'thick' }, { id: 'length', title: 'at least' }, { id: 'for', long: true },
    ...(parts.milling && parts.milling.planks.length > 0 ? [{ id: 'plank' }, { id: 'size', title: 'thick × wide × long' }, { id: 'fence' }, { id: 'slices' }, { id: 'second', title: 'then rip to' }] : []),
  ], unit);
  return (
    <>
      <PlaceList plan={plan} label="Mill list" columns={columns} lines={lines} />
      <p className="hint"><Said text={list(millNotes(plan, parts))} /></p>
    </>
  );
}

export function CutPage(props: PageProps) {
  const { parts } = props;
  const { joints } = parts;
  const { pieces = [], stockLengths = [] } = joints ?? {};
  return (
    <Chapters
      title="Cut" says={`${pieces.length} pieces from ${stockLengths.length} stock lengths. Stops from the nearer end, lengths along the strip’s own middle.`} state={joints && <CutCount {...props} />}
      chapters={[
        {
          title: 'Pieces',
          body: (
            <>
              <Missing parts={parts} codes={JOINT_CODES} what={joints ? undefined : 'There is no cutting plan.'} />
              {joints && <CutList {...props} />}
              {joints && <p className={joints.proof.optimal ? 'proof' : 'proof open'} data-testid="proof"><Said text={proofOf(parts)} /></p>}
            </>
          ),
        },
        ...(joints ? [{ title: 'Joints', body: <Joints {...props} /> }] : []),
        { title: 'Mill list', body: <Mill {...props} /> },
        { title: 'Bending', body: <BendingPage {...props} /> },
        { title: 'Skin blanks', body: <BlanksPage {...props} /> },
      ]}
    />
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
      <p className="hint">What is on hand is used first and costs nothing here. Glue, varnish, vent, fin box and fittings are not in this list. Prices come from the board file: change them under Timber and stock.</p>
      <Missing parts={parts} codes={[...JOINT_CODES, 'boards-short', 'cost-estimate']} />
    </>
  );
}
