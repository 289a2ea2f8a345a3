/** The rail along its run as comma-separated values (RFC 4180): one heading row, then one row a step. */
import type { Plan } from '../../geometry/types';
import { SECTION_COLUMNS } from './summary';

/** Spacing of the rows, mm of run. */
const STEP = 10;

/** The table as text: mm and degrees to three decimals, CRLF after every row. A figure the plan lacks is left empty. */
export function railCsv(plan: Plan): string {
  const { samples } = plan.rail;
  const every = Math.max(1, Math.round(STEP / samples.step));
  const lines = [SECTION_COLUMNS.map((c) => c.name).join(',')];
  for (let i = 0; i < samples.n; i++) {
    if (i % every !== 0 && i !== samples.n - 1) continue;
    lines.push(SECTION_COLUMNS.map(({ field, shown }) => {
      const value = shown(samples[field][i], plan);
      return Number.isFinite(value) ? String(Number(value.toFixed(3))) : '';
    }).join(','));
  }
  return lines.map((l) => `${l}\r\n`).join('');
}
