/** The order of work with what to measure, the cautions, and the totals. */
import { totalNotes, totalTable } from '../../listTables';
import { textOf } from '../../../say/said';
import { cellText } from '../../tables';
import { tickBox } from '../flow';
import { PT } from '../pen';
import { lenUnit, type Kit } from './kit';

/** A warning triangle, its foot on y. */
function triangle(kit: Kit, x: number, y: number): void {
  const { pen } = kit.flow;
  pen.path([x, y, x + 4.4, y, x + 2.2, y - 4], { closed: true, width: 0.4 });
  pen.text(x + 2.2, y - 0.7, '!', { size: 8, face: 'bold', align: 'centre' });
}

/** Steps in order: number, text, what to measure with a space to write it down, cautions. */
export function workChapter(kit: Kit): void {
  const { flow, parts } = kit;
  flow.page('Order of work');
  if (parts.steps.length === 0) {
    flow.text('There is no order of work: see the findings.', 12, 'bold');
    return;
  }
  flow.text('Clamps stand behind the ribs: none hangs over the open gap before the spacers are in, or it bends the cap down. Write what you read beside what it should read.', 10.5);
  flow.space(3);
  const indent = 14;
  for (const step of parts.steps) {
    const words = textOf(step.text, kit.stamp.unit);
    const needs = step.needs.map((need) => textOf(need, kit.stamp.unit)).join(' ');
    const lines = (said: string, size: number) => (said === '' ? 0 : flow.pen.wrap(said, flow.width - indent, size).length * ((size * 1.33) / PT));
    const text = lines(words, 11) + lines(needs, 10);
    // A short step is kept on one page.
    flow.need(Math.min(120, 16 + text + step.checks.length * 6.4 + step.cautions.length * 7));
    const { pen } = flow;
    pen.circle(flow.left + 5.2, flow.y + 5, 4.8, { fill: 0, bare: true });
    pen.text(flow.left + 5.2, flow.y + 7, String(step.index), { size: 15, face: 'bold', align: 'centre', grey: 1 });
    pen.text(flow.left + indent, flow.y + 6.4, step.title, { size: 14, face: 'bold' });
    tickBox(pen, flow.left + flow.width - 3, flow.y + 5, 5);
    flow.space(9);
    flow.text(words, 11, 'regular', indent);
    if (needs !== '') flow.text(needs, 10, 'regular', indent);
    flow.space(1.5);
    for (const check of step.checks) {
      flow.need(6.4);
      const y = flow.y + 4.6;
      const value = textOf({ of: check.unit, value: check.value, decimals: 1 }, kit.stamp.unit);
      const run = check.place?.s === undefined ? '' : `, ${lenUnit(kit, check.place.s, 0)} along the rail`;
      const place = check.place ? ` (${lenUnit(kit, check.place.x, 0)} from tail${run})` : '';
      const right = flow.left + flow.width;
      flow.fitted(flow.left + indent, y, flow.width - indent - 62, `${textOf(check.what, kit.stamp.unit)}${place}`, 10.5);
      flow.pen.text(right - 34, y, value, { size: 12.5, face: 'bold', align: 'right' });
      flow.pen.text(right - 31, y, 'reads', { size: 8, grey: 0.3 });
      flow.pen.line(right - 22, y + 0.6, right, y + 0.6, { width: 0.2 });
      flow.space(6.4);
    }
    for (const caution of step.cautions) {
      flow.need(7);
      triangle(kit, flow.left + indent, flow.y + 5);
      flow.space(0.6);
      flow.text(caution, 10, 'oblique', indent + 6.5);
      flow.space(1.2);
    }
    flow.space(2.5);
    flow.pen.line(flow.left, flow.y, flow.left + flow.width, flow.y, { width: 0.12, grey: 0.5 });
    flow.space(2.5);
  }
}

/** Timber: volume, mass and money, and what the hollow saves. */
export function totalChapter(kit: Kit): void {
  const { flow, parts, plan } = kit;
  const { totals } = parts;
  if (!totals) return;
  flow.page('Timber: volume, mass and money');
  const table = totalTable(plan, parts);
  const cells = table.rows.map((row) => row.map((cell, i) => (cell === '' ? '' : cellText(cell, table.columns[i], kit.stamp.unit))));
  const first = totals.parts.length;
  const saved = table.rows.length - 1;
  flow.table([
    { title: ['part'], width: 62, align: 'left', face: 'bold' }, { title: ['timber'], width: flow.width - 140, align: 'left' },
    { title: ['volume', 'litres'], width: 26 }, { title: ['mass', 'kg'], width: 24, face: 'bold' }, { title: ['cost', totals.currency], width: 28 },
  ], cells, { stress: (i) => i === first || i === saved || table.rows[i][0] === 'board', rowHeight: 7.8 });
  flow.text(
    `Board volume ${(totals.boardVolume / 1e6).toFixed(1)} litres; its centre lies ${lenUnit(kit, totals.centre.x, 0)} from the tail, ` +
      `${lenUnit(kit, plan.hull.length - totals.centre.x, 0)} from the nose and ${lenUnit(kit, totals.centre.z, 0)} above the bench. ` +
      'Masses are from table densities: weigh a strip of yours and scale.', 11,
  );
  for (const note of totalNotes(parts)) flow.text(textOf(note, kit.stamp.unit), 11);
}
