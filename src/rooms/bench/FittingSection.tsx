/** Vent and fitting blocks, and the bays whose air is shut in. */
import { airTable, fittingTable } from '../../papers/listTables';
import { listOf } from './lists';
import { PlaceList } from './places';
import type { PageProps } from './RailPages';
import './bench.css';

export function FittingSection({ plan, parts, unit }: PageProps) {
  const { fittings } = parts;
  if (!fittings) return <p className="hint">The board has no vent and no fittings.</p>;
  const placed = listOf(fittingTable(parts), [
    { id: 'what', long: true }, { id: 'x', title: 'station' }, { id: 'y', title: 'off centre' }, { id: 'side' }, { id: 'under', long: true }, { id: 'length', title: 'long' }, { id: 'width', title: 'wide' }, { id: 'depth', title: 'deep' },
  ], unit);
  const bays = listOf(airTable(parts), [{ id: 'bay' }, { id: 'side' }, { id: 'from' }, { id: 'to' }, { id: 'air' }], unit);
  const shut = fittings.air.filter(({ vented }) => !vented).length;
  return (
    <section aria-label="Vent and fittings">
      <PlaceList plan={plan} label="Vent and fitting blocks" columns={placed.columns} lines={placed.lines} />
      <h4>Bays and their air <small>{shut === 0 ? 'every bay breathes to the vent' : `${shut} shut in`}</small></h4>
      <PlaceList plan={plan} label="Bays and their air" columns={bays.columns} lines={bays.lines} />
    </section>
  );
}
