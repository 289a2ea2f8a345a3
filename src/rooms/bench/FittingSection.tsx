/** Vent and fitting blocks, the bays whose air is shut in, and the templates and supports there are. */
import { airTable, fittingTable } from '../../papers/listTables';
import { listOf } from './lists';
import { PlaceList } from './places';
import type { PageProps } from './RailPages';
import './bench.css';

export function FittingSection({ plan, parts, unit }: PageProps) {
  const { fittings, jigs } = parts;
  if (!fittings) return null;
  const placed = listOf(fittingTable(parts), [
    { id: 'what' }, { id: 'x', title: 'station' }, { id: 'y', title: 'off centre' }, { id: 'side' }, { id: 'under', long: true }, { id: 'length', title: 'long' }, { id: 'width', title: 'wide' }, { id: 'depth', title: 'deep' },
  ], unit);
  const bays = listOf(airTable(parts), [{ id: 'bay' }, { id: 'side' }, { id: 'from' }, { id: 'to' }, { id: 'air' }], unit);
  const shut = fittings.air.filter(({ vented }) => !vented).length;
  return (
    <section aria-label="Vent and fittings">
      <h3>Vent and fittings</h3>
      <PlaceList plan={plan} label="Vent and fitting blocks" columns={placed.columns} lines={placed.lines} />
      <h3>Bays and their air <small>{shut === 0 ? 'every bay breathes to the vent' : `${shut} shut in`}</small></h3>
      <PlaceList plan={plan} label="Bays and their air" columns={bays.columns} lines={bays.lines} />
      {jigs && (
        <p className="hint">
          Among the papers, full size: {jigs.supports.length} rocker supports to stand the board on, and {jigs.rounds.length} templates of the rail round, at ribs and at stops.
        </p>
      )}
    </section>
  );
}
