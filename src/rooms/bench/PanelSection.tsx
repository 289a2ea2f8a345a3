/** Deck and bottom skin where they are glued up from planks: the joints drawn, and each piece. */
import { skinPlankTable } from '../../papers/listTables';
import { lengthText, lengthWithUnit } from '../../say/units';
import { FlatPart } from './Flat';
import { listOf } from './lists';
import { PlaceList } from './places';
import type { PageProps } from './RailPages';
import './drawings.css';

export function PanelSection({ plan, parts, unit }: PageProps) {
  const { skins } = parts;
  if (!skins) return null;
  const { columns, lines } = listOf(skinPlankTable(parts), [
    { id: 'piece' }, { id: 'skin' }, { id: 'strake', title: 'from port' }, { id: 'length', title: 'long' }, { id: 'width', title: 'wide' }, { id: 'from' }, { id: 'to' }, { id: 'plank' },
  ], unit);
  return (
    <section aria-label="Deck and bottom skin">
      <h4>Deck and bottom skin <small>{skins.planks.length} planks {lengthText(skins.length, unit, 0)} × {lengthWithUnit(skins.width, unit, 0)}, grain along the board</small></h4>
      {skins.panels.map(({ panel, strakes, shape }) => (
        <FlatPart key={panel} shape={shape} label={`${panel === 'deck' ? 'Deck' : 'Bottom'} skin of ${strakes} planks, oversize, with its joints`} />
      ))}
      <PlaceList plan={plan} label="Pieces of deck and bottom skin" columns={columns} lines={lines} />
    </section>
  );
}
