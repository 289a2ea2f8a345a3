/** The stack on the ribbon: sole, tabs, rows with their stops, hollow and cap; its labels lie over all else. */
import { memo } from 'react';
import { stopsOf } from '../../geometry/rail/rows';
import type { Plan, Stop } from '../../geometry/types';
import { boxText, nearerEnd, stopReason } from '../say/words';
import { lengthText, lengthWithUnit, type Unit } from '../say/units';
import { type RibbonScale, sampleRange } from './scale';
import css from './Stack.module.css';

/** Px a letter of the state names takes, to see whether a name has room. */
const LETTER = 5.6;

const path = (points: readonly (readonly [number, number])[], closed = false) =>
  points.length === 0 ? '' : `M${points.map(([x, y]) => `${x.toFixed(1)} ${y.toFixed(1)}`).join('L')}${closed ? 'Z' : ''}`;

/** Px that a stop's figure takes, and the drawn one beside it. */
const FIGURE = { width: 30, drawn: 62, height: 11 };

/** Which way from its stop a figure stands, -1 to the left: beyond the row's end, or over the row where the ribbon ends. */
function figureWay(stop: Stop, scale: RibbonScale): 1 | -1 {
  const toward = stop.end === 'tail' ? -1 : 1;
  const at = scale.x(stop.s) + toward * 40;
  return at < scale.left || at > scale.right ? (-toward as 1 | -1) : toward;
}

/** The stops whose figures have room, lowest rows first; px that the figures take. */
function legibleStops(plan: Plan, scale: RibbonScale, width: number): Set<Stop> {
  const { soleThickness, spacerHeight } = plan.design.rail;
  const placed: { x: number; y: number }[] = [];
  const out = new Set<Stop>();
  for (const stop of stopsOf(plan.rail)) {
    const x = scale.x(stop.s) + (figureWay(stop, scale) * width) / 2;
    const y = scale.z(soleThickness + (stop.row - 0.5) * spacerHeight);
    if (placed.some((other) => Math.abs(other.x - x) < width && Math.abs(other.y - y) < FIGURE.height)) continue;
    placed.push({ x, y });
    out.add(stop);
  }
  return out;
}

interface StackProps {
  readonly plan: Plan;
  readonly scale: RibbonScale;
  readonly unit: Unit;
  readonly onPlace: (s: number) => void;
}

export const Stack = memo(function Stack({ plan, scale, unit, onPlace }: StackProps) {
  const { rail, design } = plan;
  const { soleThickness: sole, capThickness: cap, spacerHeight } = design.rail;
  const { samples } = rail;
  const inBox = sampleRange(plan, scale, rail.cap.s0, rail.cap.s1);
  const gap = (i: number) => Math.max(0, samples.gap[i]);
  const low = inBox.map((i) => [scale.x(samples.s[i]), scale.z(sole + gap(i))] as const);
  const high = inBox.map((i) => [scale.x(samples.s[i]), scale.z(sole + gap(i) + cap)] as const);
  const floor = inBox.map((i) => [scale.x(samples.s[i]), scale.z(sole)] as const);
  return (
    <g>
      {inBox.length > 1 && <path className={css.hollow} d={path([...low, ...floor.reverse()], true)} />}
      {rail.ribs.map((rib) => {
        const half = Math.max(1, ((scale.x(1) - scale.x(0)) * design.frames.ribThickness) / 2);
        return (
          <g key={rib.index} className={css.tab} data-leads onClick={() => onPlace(rib.s)}>
            <title>{`Rib ${rib.index + 1}: ${nearerEnd(plan, rib.x, unit)}, gap ${lengthText(rib.gap, unit)}, ${rib.rows} rows`}</title>
            {rib.hasTab && <rect x={scale.x(rib.s) - half} width={2 * half} y={scale.z(sole + Math.max(0, rib.gap))} height={Math.max(0, scale.z(sole) - scale.z(sole + rib.gap))} />}
            <text x={scale.x(rib.s)} y={scale.stackTop - 7}>{rib.index + 1}</text>
          </g>
        );
      })}
      {rail.rows.map((row) => (
        <rect
          key={`${row.row} ${row.tail.s}`} className={css.row} x={scale.x(row.tail.s)} width={scale.x(row.nose.s) - scale.x(row.tail.s)}
          y={scale.z(sole + row.row * spacerHeight)} height={scale.z(0) - scale.z(spacerHeight)}
        />
      ))}
      <rect className={css.strip} x={scale.x(rail.sole.s0)} width={scale.x(rail.sole.s1) - scale.x(rail.sole.s0)} y={scale.z(sole)} height={scale.z(0) - scale.z(sole)} />
      {inBox.length > 1 && <path className={css.strip} d={path([...low, ...high.reverse()], true)} />}
    </g>
  );
});

interface LabelProps extends StackProps {
  /** The stop as drawn of one that stands elsewhere as built. */
  readonly was: (stop: Stop) => Stop | undefined;
}

export const StackLabels = memo(function StackLabels({ plan, scale, unit, onPlace, was }: LabelProps) {
  const { rail, design, hull } = plan;
  const { soleThickness: sole, spacerHeight } = design.rail;
  const legible = legibleStops(plan, scale, rail.rows.some(({ tail, nose }) => was(tail) ?? was(nose)) ? FIGURE.width + FIGURE.drawn : FIGURE.width);
  const nearer = (x: number) => lengthText(Math.min(x, hull.length - x), unit, 0);
  return (
    <g>
      {rail.stretches.map((stretch) => {
        const [x0, x1] = [scale.x(stretch.s0), scale.x(stretch.s1)];
        const name = boxText(stretch);
        return (
          <g key={stretch.s0} className={css.state} data-state={stretch.state}>
            <title>{`${name}: ${lengthText(stretch.s0, unit, 0)} to ${lengthWithUnit(stretch.s1, unit, 0)} along the rail`}</title>
            <line x1={x0} x2={x1} y1={scale.stackBottom + 3} y2={scale.stackBottom + 3} />
            {x1 - x0 > name.length * LETTER + 6 && <text x={(x0 + x1) / 2} y={scale.z(sole / 2) + 3}>{name}</text>}
          </g>
        );
      })}
      {rail.rows.flatMap((row) =>
        [row.tail, row.nose].map((stop) => {
          const labelled = legible.has(stop);
          const drawn = was(stop);
          const x = scale.x(stop.s);
          const way = figureWay(stop, scale);
          const y = scale.z(sole + (row.row - 0.5) * spacerHeight);
          return (
            <g key={`${row.row} ${stop.end} ${stop.s}`} className={css.stop} data-leads onClick={() => onPlace(stop.s)}>
              <title>{stopReason(stop, unit)}</title>
              <line x1={x} x2={x} y1={scale.z(sole + row.row * spacerHeight) - 2} y2={scale.z(sole + (row.row - 1) * spacerHeight)} />
              {labelled && <text x={x + way * 5} y={y + 4} textAnchor={way < 0 ? 'end' : 'start'}>{nearer(stop.x)}{drawn && <tspan className={css.drawn}> drawn {nearer(drawn.x)}</tspan>}</text>}
            </g>
          );
        }),
      )}
    </g>
  );
});
