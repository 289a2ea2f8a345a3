/** How sole and cap lie between the ribs: what each end needs. */
import { stripName } from '../../../../geometry/parts/stripWords';
import { len, signOf, type Kit } from './kit';

/** A line for each end of sole and cap, under the table of bending. */
export function lieTableOf(kit: Kit): void {
  const { flow, parts } = kit;
  const sign = signOf(kit);
  const ends = parts.lies.flatMap(({ strip, ends: both }) => both.map((end) => ({ strip, end })));
  if (ends.length === 0) return;
  flow.need(20 + ends.length * 7);
  flow.space(3);
  flow.text('Sole and cap between the ribs: pulled to the rib ends alone they stand off the drawn line. Pull home by hand, or hold the end to the drawn direction until the glue has set.', 10.5);
  flow.space(1);
  const wide = (flow.width - 48) / 6;
  flow.table([
    { title: ['strip'], width: 30, align: 'left', face: 'bold' },
    { title: ['end'], width: 18, align: 'left', face: 'bold' },
    { title: ['stands off', sign], width: wide, face: 'bold' },
    { title: ['at, from', `tail ${sign}`], width: wide },
    { title: ['pull home', 'N'], width: wide },
    { title: ['or a rib at', sign], width: wide },
    { title: ['that leaves', sign], width: wide },
    { title: ['end held', `leaves ${sign}`], width: wide },
  ], ends.map(({ strip, end }) => [
    stripName(strip), end.end, len(kit, Math.abs(end.standOff)), len(kit, end.at.x, 0), end.close.toFixed(0),
    end.rib ? len(kit, end.rib.x, 0) : '–', end.rib ? len(kit, end.rib.leaves) : '–', end.hold ? len(kit, end.hold.leaves) : '–',
  ]), { rowHeight: 5, size: 10 });
}
