/** How sole and cap lie between the ribs, bay by bay, with what would hold an end. */
import { lieTable } from '../../papers/listTables';
import { listOf } from './lists';
import { PlaceList } from './places';
import type { PageProps } from './RailPages';

export function LiesList({ plan, parts, unit }: PageProps) {
  if (parts.lies.length === 0) return null;
  const { columns, lines } = listOf(lieTable(parts), [
    { id: 'strip' }, { id: 'between' }, { id: 'stands off' }, { id: 'close', title: 'close, N' }, { id: 'rib', title: 'or a rib at' },
    { id: 'rib leaves', title: 'leaves' }, { id: 'hold leaves', title: 'end held leaves' },
  ], unit, 'at');
  return (
    <section aria-label="How sole and cap lie between the ribs">
      <h4>Between the ribs <small>how far sole and cap stand off the drawn line, inboard positive, pulled to the rib ends alone</small></h4>
      <PlaceList plan={plan} label="How sole and cap lie between the ribs" columns={columns} lines={lines} />
    </section>
  );
}
