/** The rail from tail to nose in a few lines: its rows and where they stop, over the station's scale. */
import { stopsOf } from '../../../geometry/rail/laid';
import type { Plan } from '../../../geometry/types';
import { TERMS, type TermId } from '../../say/terms';
import { lengthText } from '../../say/units';
import { useUnits } from '../../state/unit';
import './words.css';

const [WIDTH, ROW, TOP, SIDE] = [660, 13, 34, 26];
const numberOf = (id: TermId) => TERMS.findIndex((term) => term.id === id) + 1;

export function RailSketch({ plan: { rail, hull }, term }: { readonly plan: Plan; readonly term: TermId | null }) {
  const unit = useUnits((state) => state.unit);
  const tallest = Math.max(0, ...rail.rows.map(({ row }) => row));
  const ground = TOP + tallest * ROW;
  const x = (station: number) => SIDE + (station / hull.length) * (WIDTH - 2 * SIDE);
  const y = (row: number) => ground - row * ROW;
  const stops = stopsOf(rail);
  const shown = stops.find(({ row, end }) => row === tallest && end === 'tail');
  const mark = (id: TermId, at: number, to: number, from: number) => (
    <g className="words-callout" data-on={term === id || undefined}>
      <path d={`M${at} ${to}V${from}`} />
      <circle cx={at} cy={from} r="3" data-dot />
      <circle cx={at} cy={to} r="13" />
      <text x={at} y={to + 4.5}>{numberOf(id)}</text>
    </g>
  );
  const axis = ground + 12;
  const quarter = hull.length / 4;
  return (
    <svg className="words-rail" viewBox={`0 0 ${WIDTH} ${ground + 46}`} role="img" aria-label="The rail from tail to nose: its rows and their stops over the station">
      {rail.rows.map(({ row, tail, nose }) => <rect key={`${row} ${tail.s}`} data-kind="row" x={x(tail.x)} width={x(nose.x) - x(tail.x)} y={y(row)} height={ROW} />)}
      {stops.map(({ row, end, s, x: at }) => <path key={`${row} ${end} ${s}`} data-line="stop" d={`M${x(at)} ${y(row) - 2}v${ROW + 4}`} />)}
      <path data-line="size" d={`M${x(0)} ${axis}H${x(hull.length)}M${[0, quarter, 2 * quarter, 3 * quarter, hull.length].map((at) => `${x(at)} ${axis - 4}v8`).join('M')}`} />
      {[0, quarter, 3 * quarter, hull.length].map((at) => <text key={at} className="words-scale" x={x(at)} y={axis + 20}>{lengthText(Math.min(at, hull.length - at), unit, 0)}</text>)}
      {mark('station', x(2 * quarter), axis + 18, axis)}
      {shown && mark('stop', x(shown.x), 15, y(tallest))}
    </svg>
  );
}
