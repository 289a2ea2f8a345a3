/** What to buy and what to mill from it. */
import { textOf } from '../../../say/said';
import { shopTable } from '../../listTables';
import { grouped, millNotes, millTable, runs } from '../../millTable';
import { cellText, columnAt } from '../../tables';
import { tickBox } from '../flow';
import { TICK } from './cutting';
import { len, lenUnit, signOf, type Kit } from './kit';

/** What to buy, first of all lists. */
export function buyChapter(kit: Kit): void {
  const { flow, plan, parts } = kit;
  const table = shopTable(plan, parts);
  flow.chapter('Buy', 50);
  if (table.rows.length === 0) {
    flow.text('Nothing could be counted: see the findings.', 12, 'bold');
    return;
  }
  const picked = ['item', 'needed', 'on hand', 'to buy', 'price each', 'cost'].map((id) => columnAt(table, id));
  const cost = columnAt(table, 'cost');
  flow.table([
    TICK, { title: ['what'], width: flow.width - 85, align: 'left' }, { title: ['needed'], width: 15, align: 'centre' }, { title: ['on hand'], width: 15, align: 'centre' },
    { title: ['to buy'], width: 15, align: 'centre', face: 'bold', size: 13 }, { title: ['each', plan.design.timber.currency], width: 15 }, { title: ['cost', plan.design.timber.currency], width: 17, face: 'bold' },
  ], table.rows.map((row) => ['', ...picked.map((k) => cellText(row[k], table.columns[k], kit.stamp.unit))]), { rowHeight: 6, size: 10.5 });
  const sum = table.rows.reduce((total, row) => total + (Number(row[cost])), 0);
  flow.text(`To pay: ${sum.toFixed(2)} ${plan.design.timber.currency}. Glue, varnish, vent, fin box and fittings are not in this list. If you have not steamed before, buy a spare strip of each kind.`, 10, 'bold');
}

/** Height of a line that two of stand side by side, mm. */
const LINE = 5.6;

/** What is ripped and planed to size, before anything is cut to length; without planks two lines side by side. */
export function millChapter(kit: Kit): void {
  const { flow, plan, parts } = kit;
  const table = millTable(plan, parts);
  if (table.rows.length === 0) return;
  const unit = kit.stamp.unit;
  const cellsOf = (ids: readonly string[]) => table.rows.map((row) => ids.map((id) => columnAt(table, id)).map((k) => cellText(row[k], table.columns[k], unit)));
  const notes = (): void => flow.text(millNotes(plan, parts).map((note) => textOf(note, unit)).join(' '), 8.5);
  if ((parts.milling?.planks.length ?? 0) === 0) {
    const lines = cellsOf(['strips', 'width', 'thickness', 'length', 'for']);
    const rows = Math.ceil(lines.length / 2);
    flow.chapter('Mill', rows * LINE + 14);
    const wide = flow.width / 2 - 3;
    for (let i = 0; i < rows; i++) {
      flow.need(LINE);
      [lines[i], lines[i + rows]].forEach((line, side) => {
        if (!line) return;
        const [many, width, thickness, long, what] = line;
        const x = flow.left + side * (wide + 6);
        tickBox(flow.pen, x + 2, flow.y + LINE / 2, 3.6);
        flow.fitted(x + 5.5, flow.y + 4.1, 47, `${many} of ${width} x ${thickness} x ${long}`, 10, 'bold');
        flow.fitted(x + 54, flow.y + 4.1, wide - 54, what, 8.5);
      });
      flow.space(LINE);
    }
    notes();
    return;
  }
  flow.chapter('Mill', 40);
  notes();
  flow.space(1.5);
  const sign = signOf(kit);
  // Which plank has which number: those alike together.
  const kinds = plan.design.timber.planks ?? [];
  const planks = (parts.milling?.planks ?? []).map(({ type }, i) => ({ type, number: i + 1 }));
  flow.text(grouped(planks, ({ type }) => String(type)).map((alike) => {
    const { thickness, width, length } = kinds[alike[0].type];
    return `${alike.length === 1 ? 'Plank' : 'Planks'} ${runs(alike.map(({ number }) => number))}: ${len(kit, thickness)} x ${len(kit, width)} x ${lenUnit(kit, length, 0)}.`;
  }).join(' '), 10, 'bold');
  flow.table([
    TICK, { title: ['how', 'many'], width: 12, align: 'centre', face: 'bold', size: 12 }, { title: ['width', sign], width: 15, face: 'bold' }, { title: ['thick', sign], width: 14, face: 'bold' },
    { title: ['length, at', `least, ${sign}`], width: 19 }, { title: ['for'], width: flow.width - 123, align: 'left' },
    { title: ['plank', 'no.'], width: 11, align: 'centre', face: 'bold' }, { title: ['fence', sign], width: 15, face: 'bold' }, { title: ['slices'], width: 13, align: 'centre' }, { title: ['then', sign], width: 16, face: 'bold' },
  ], cellsOf(['strips', 'width', 'thickness', 'length', 'for', 'plank', 'fence', 'slices', 'second']).map((cells) => ['', ...cells]), { rowHeight: 5.6, size: 9.5 });
}
