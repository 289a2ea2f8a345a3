/** What the board's timber weighs and costs, and the same rail as solid laminations beside it. */
import type { Totals } from '../../../geometry/parts/types';
import { allSpecies } from '../../../geometry/design/timber';
import type { Said as Text } from '../../../geometry/said';
import { totalNotes, totalTable } from '../../papers/listTables';
import { fixed, lengthWithUnit, type Unit } from '../../say/units';
import { listOf } from './lists';
import { Said } from '../../ui/Said';
import { Missing } from './Missing';
import { PlaceList } from './places';
import type { PageProps } from './RailPages';
import './totals.css';

type Measure = 'volume' | 'mass' | 'cost';

interface PairProps {
  readonly title: string;
  readonly totals: Totals;
  readonly measure: Measure;
  readonly text: (value: number) => string;
}

/** Two bars from zero to one scale, with their figures and the saving. */
function Pair({ title, totals, measure, text }: PairProps) {
  const [hollow, solid] = [totals.hollowRail[measure], totals.solidRail[measure]];
  const most = Math.max(hollow, solid, 1e-9);
  const saved = totals.saving[measure];
  const ratio = solid > 0 ? ` (${fixed((Math.abs(saved) / solid) * 100, 0)} %)` : '';
  return (
    <div className="pair-of-bars" role="group" aria-label={`${title}: hollow ${text(hollow)}, solid ${text(solid)}`}>
      <h5>{title}</h5>
      {([['hollow', hollow], ['solid', solid]] as const).map(([name, value]) => (
        <p key={name}><span>{name}</span><i data-kind={name} style={{ width: `${(value / most) * 62}%` }} /><b>{text(value)}</b></p>
      ))}
      <p className="saving">{saved >= 0 ? `${text(saved)}${ratio} saved` : `${text(-saved)}${ratio} more`}</p>
    </div>
  );
}

function Comparison({ totals, how }: { readonly totals: Totals; readonly how: Text }) {
  return (
    <section aria-label="Hollow against solid">
      <h4>The rail, hollow and solid <small>both sides; each pair of bars has its own scale, from zero</small></h4>
      <Pair title="Timber" totals={totals} measure="volume" text={(value) => `${fixed(value / 1e6, 2)} l`} />
      <Pair title="Mass of timber" totals={totals} measure="mass" text={(value) => `${fixed(value, 2)} kg`} />
      <Pair title="Money" totals={totals} measure="cost" text={(value) => `${fixed(value, 2)} ${totals.currency}`} />
      <p className="hint"><Said text={how} /></p>
    </section>
  );
}

function board(totals: Totals, unit: Unit): string {
  return `The finished board has a volume of ${fixed(totals.boardVolume / 1e6, 1)} litres; its centre of volume lies ${lengthWithUnit(totals.centre.x, unit, 0)} from the tail and ${lengthWithUnit(totals.centre.z, unit, 0)} above the bench; its timber weighs ${fixed(totals.mass, 2)} kg, with glue and the weights entered ${fixed(totals.boardMass, 2)} kg.`;
}

export function TotalsPage({ plan, parts, unit }: PageProps) {
  const { totals } = parts;
  if (!totals) return <Missing parts={parts} codes={['not-made']} what="Nothing could be added up." />;
  const [how, ...notes] = totalNotes(parts);
  const { columns, lines } = listOf(totalTable(plan, parts), [
    { id: 'part' }, { id: 'timber' }, { id: 'volume', title: 'litres' }, { id: 'mass', title: 'kg' }, { id: 'cost', title: totals.currency || 'cost' },
  ], unit);
  const names = new Map(allSpecies(plan.design).map(({ id, name }) => [id, name]));
  return (
    <>
      <p>{board(totals, unit)}</p>
      <Comparison totals={totals} how={how} />
      {notes.map((note, i) => <p key={i} className="hint"><Said text={note} /></p>)}
      <PlaceList plan={plan} label="Timber: volume, mass and money" columns={columns} lines={lines.map(({ cells, ...line }) => ({ ...line, cells: cells.map((cell) => names.get(String(cell)) ?? cell) }))} />
      <Missing parts={parts} codes={['cost-estimate']} />
    </>
  );
}
