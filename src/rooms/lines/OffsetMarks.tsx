/** The rows of the table of offsets over a drawing, while the table is open: small crosses to judge the fit by. */
import { memo } from 'react';
import type { OffsetColumn } from '../../../geometry/shape/offsets';
import type { LineName } from '../../../geometry/shape/line';
import type { Chart } from './chart';
import { useOffsetsRead } from './offsets';
import { useLines } from './lines';
import './sheet.css';

const COLUMN: Partial<Record<LineName, OffsetColumn>> = { outline: 'halfBreadth', rocker: 'rocker', thickness: 'thickness' };
/** Most crosses drawn: of more rows every so many. */
const MOST = 400;
const ARM = 3;

export const OffsetMarks = memo(function OffsetMarks({ name, chart }: { readonly name: LineName; readonly chart: Chart }) {
  const table = useOffsetsRead().read?.table;
  const open = useLines((state) => state.tool === 'offsets');
  const column = COLUMN[name];
  if (!table || !open || !column) return null;
  const every = Math.max(1, Math.ceil(table.rows.length / MOST));
  const d = table.rows.flatMap((row, i) => {
    const v = row[column];
    if (v === undefined || (i % every !== 0 && i !== table.rows.length - 1)) return [];
    const [x, y] = [chart.x(row.x).toFixed(1), chart.y(v).toFixed(1)];
    return [`M${x} ${y}m${-ARM} 0h${2 * ARM}m${-ARM} ${-ARM}v${2 * ARM}`];
  }).join('');
  return <path className="offset-marks" d={d} />;
});
