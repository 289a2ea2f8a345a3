/** What only the printed page shows: whose it is, and the rail rib by rib. */
import { memo } from 'react';
import type { Plan } from '../../geometry/types';
import { angleText, fixed, lengthText, type Unit, UNITS, unitSign } from '../say/units';
import { BOX_WORDS } from '../say/words';
import css from './PrintSheet.module.css';

const HEADS = ['Rib', 'from tail', 'from nose', 'along the rail', 'gap', 'rows', 'slot', 'bevel', 'planing depth', 'cap left', 'cover', 'box'] as const;

interface PrintSheetProps {
  readonly plan: Plan;
  readonly unit: Unit;
}

/** The printed page's head. */
export function PrintHead({ plan, unit }: PrintSheetProps) {
  const { design, hull } = plan;
  return (
    <header className={css.head} data-area="print">
      <h2>{design.name}</h2>
      <p>
        Railwright · revision {design.revision || 'none'} · {lengthText(hull.length, unit, 0)} × {lengthText(2 * hull.widest.halfBreadth, unit, 0)} {unitSign(unit)} ·{' '}
        {fixed(hull.volume / 1e6, 1)} litres · figures in {UNITS.find(({ id }) => id === unit)?.hint.toLowerCase()}
      </p>
    </header>
  );
}

/** What the box is at a place along the rail, in words. */
function stateAt({ rail }: Plan, s: number): string {
  const here = rail.stretches.find(({ s0, s1 }) => s >= s0 && s <= s1);
  return here ? BOX_WORDS[here.state] : '–';
}

/** The rail at every rib. */
export const PrintRibs = memo(function PrintRibs({ plan, unit }: PrintSheetProps) {
  const mm = (value: number, decimals = 1) => lengthText(value, unit, decimals);
  return (
    <table className={css.ribs} data-area="print">
      <caption>The rail at every rib</caption>
      <thead><tr>{HEADS.map((head) => <th key={head} scope="col">{head}</th>)}</tr></thead>
      <tbody>
        {plan.rail.ribs.map(({ index, s, x, gap, rows, slot, section: c }) => (
          <tr key={index}>
            <th scope="row">{index + 1}</th>
            <td>{mm(x)}</td><td>{mm(plan.hull.length - x)}</td><td>{mm(s)}</td><td>{mm(gap)}</td><td>{rows}</td><td>{mm(slot)}</td>
            <td>{angleText(c.bevel)}</td><td>{mm(c.planing)}</td><td>{mm(c.capLeft)}</td><td>{mm(c.cover)}</td><td>{stateAt(plan, s)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
});
