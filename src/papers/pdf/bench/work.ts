/** The order of work with what to measure, the cautions, and the totals. */
import { totalNotes, totalTable } from '../../listTables';
import { textOf } from '../../../say/said';
import { cellText } from '../../tables';
import { tickBox } from '../flow';
import { checkGrids, checksHeight } from './checks';
import { lenUnit, signOf, type Kit } from './kit';

/** A warning triangle, its foot on y. */
function triangle(kit: Kit, x: number, y: number): void {
  const { pen } = kit.flow;
  pen.path([x, y, x + 4.4, y, x + 2.2, y - 4], { closed: true, width: 0.4 });
  pen.text(x + 2.2, y - 0.7, '!', { size: 8, face: 'bold', align: 'centre' });
}

/** Steps in order: number, room for the hours it took, text, what to measure with room to write, cautions. */
export function workChapter(kit: Kit): void {
  const { flow, parts } = kit;
  flow.chapter('Order of work', 24);
  if (parts.steps.length === 0) {
    flow.text('There is no order of work: see the findings.', 12, 'bold');
    return;
  }
  flow.text(`Clamps stand behind the ribs: none hangs over the open gap before the spacers are in, or it bends the cap down. Bold: what it should read, ${signOf(kit)} where no sign stands; write what it reads in the box. Write your hours at each step: the next board's plan is yours.`, 10);
  flow.space(2);
  const indent = 13;
  // A caution is told in full where it is first met, and by what harms, with that step's number, from then on.
  const told = new Map<string, number>();
  const caution = (words: string, step: number): string => {
    const first = told.get(words);
    if (first === undefined) told.set(words, step);
    const [harm, care] = words.split(': ');
    return first === undefined || care === undefined ? words : `${harm}: see step ${first}.`;
  };
  for (const step of parts.steps) {
    const words = textOf(step.text, kit.stamp.unit);
    const needs = step.needs.map((need) => textOf(need, kit.stamp.unit)).join(' ');
    const cautions = step.cautions.map((words) => caution(words, step.index)).join(' ');
    const lines = (said: string, size: number, by = indent) => (said === '' ? 0 : flow.pen.wrap(said, flow.width - by, size).length * size * 0.47);
    // A step that fits a page is kept on one, unless that would leave much of a page white.
    const whole = 9 + lines(words, 9.5) + lines(needs, 9) + checksHeight(step.checks, kit) + lines(cautions, 8, indent + 6) + 5;
    flow.need(Math.min(whole, 13));
    const { pen } = flow;
    const right = flow.left + flow.width;
    pen.circle(flow.left + 5, flow.y + 4.4, 4.4, { fill: 0, bare: true });
    pen.text(flow.left + 5, flow.y + 6.2, String(step.index), { size: 13.5, face: 'bold', align: 'centre', grey: 1 });
    pen.text(flow.left + indent, flow.y + 5.8, step.title, { size: 13, face: 'bold' });
    pen.line(right - 30, flow.y + 6, right - 11, flow.y + 6, { width: 0.2 });
    pen.text(right - 10.5, flow.y + 5.8, 'h', { size: 9 });
    tickBox(pen, right - 2.8, flow.y + 4.2, 5);
    flow.space(8);
    flow.text(words, 9.5, 'regular', indent);
    if (needs !== '') flow.text(needs, 9, 'regular', indent);
    flow.space(0.8);
    checkGrids(kit, step.checks, indent);
    if (cautions !== '') {
      flow.need(lines(cautions, 8, indent + 6) + 1);
      triangle(kit, flow.left + indent, flow.y + 4.4);
      flow.text(cautions, 8, 'oblique', indent + 6);
    }
    flow.space(1.1);
    flow.pen.line(flow.left, flow.y, flow.left + flow.width, flow.y, { width: 0.12, grey: 0.5 });
    flow.space(1);
  }
}

/** Timber: volume, mass and money, and what the hollow saves. */
export function totalChapter(kit: Kit): void {
  const { flow, parts, plan } = kit;
  const { totals } = parts;
  if (!totals) return;
  flow.chapter('Timber: volume, mass and money', 60);
  const table = totalTable(plan, parts);
  const cells = table.rows.map((row) => row.map((cell, i) => (cell === '' ? '' : cellText(cell, table.columns[i], kit.stamp.unit))));
  const first = totals.parts.length;
  const saved = table.rows.length - 1;
  flow.table([
    { title: ['part'], width: 62, align: 'left', face: 'bold' }, { title: ['timber'], width: flow.width - 140, align: 'left' },
    { title: ['volume', 'litres'], width: 26 }, { title: ['mass', 'kg'], width: 24, face: 'bold' }, { title: ['cost', totals.currency], width: 28 },
  ], cells, { stress: (i) => i === first || i === saved || table.rows[i][0] === 'board', rowHeight: 5.2, size: 10 });
  flow.text(
    `Board volume ${(totals.boardVolume / 1e6).toFixed(1)} litres; its centre lies ${lenUnit(kit, totals.centre.x, 0)} from the tail, ` +
      `${lenUnit(kit, plan.hull.length - totals.centre.x, 0)} from the nose and ${lenUnit(kit, totals.centre.z, 0)} above the bench. ` +
      'Masses are from table densities: weigh a strip of yours and scale.', 9.5,
  );
  for (const note of totalNotes(parts)) flow.text(textOf(note, kit.stamp.unit), 9.5);
}
