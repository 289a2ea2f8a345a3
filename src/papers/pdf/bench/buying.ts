/** What to buy and what to mill from it. */
import { shopTable } from '../../listTables';
import { cellText, columnAt } from '../../tables';
import { TICK } from './cutting';
import type { Kit } from './kit';

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
