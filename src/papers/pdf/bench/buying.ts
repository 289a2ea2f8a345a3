/** What to buy and what to mill from it. */
import { textOf } from '../../../say/said';
import { shopTable } from '../../listTables';
import { millNotes, millTable } from '../../millTable';
import { cellText, columnAt } from '../../tables';
import { TICK } from './cutting';
import { signOf, type Kit } from './kit';

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

/** What is ripped and planed to size, before anything is cut to length. */
export function millChapter(kit: Kit): void {
  const { flow, plan, parts } = kit;
  const table = millTable(plan, parts);
  if (table.rows.length === 0) return;
  flow.chapter('Mill', 40);
  flow.text(millNotes(plan, parts).map((note) => textOf(note, kit.stamp.unit)).join(' '), 9.5);
  flow.space(1.5);
  const planks = (parts.milling?.planks.length ?? 0) > 0;
  const sign = signOf(kit);
  const ids = ['strips', 'width', 'thickness', 'length', 'for', ...(planks ? ['plank', 'size', 'fence', 'slices', 'second'] : [])];
  const picked = ids.map((id) => columnAt(table, id));
  flow.table([
    TICK, { title: ['how', 'many'], width: 13, align: 'centre', face: 'bold', size: 12 }, { title: ['width', sign], width: 15, face: 'bold' }, { title: ['thick', sign], width: 14, face: 'bold' },
    { title: ['length, at', `least, ${sign}`], width: 19 }, { title: ['for'], width: flow.width - (planks ? 164 : 69), align: 'left' },
    ...(planks ? [
      { title: ['plank', 'no.'], width: 12, align: 'centre' as const, face: 'bold' as const }, { title: ['thick x wide x long'], width: 36, align: 'left' as const }, { title: ['fence', sign], width: 15, face: 'bold' as const },
      { title: ['slices'], width: 14, align: 'centre' as const }, { title: ['then', sign], width: 18, face: 'bold' as const },
    ] : []),
  ], table.rows.map((row) => ['', ...picked.map((k) => cellText(row[k], table.columns[k], kit.stamp.unit))]), { rowHeight: 5.6, size: 9.5 });
}
