/** The whole board at the station, both halves, with the two boxes marked: where the section lies. */
import type { Design } from '../../geometry/design/schema';
import type { SectionDrawing } from '../../geometry/types';
import css from './WholeStation.module.css';

const WIDTH = 320;
const PAD = 6;

interface WholeStationProps {
  readonly drawing: SectionDrawing;
  readonly design: Design;
  /** Half of the board's greatest breadth, mm: one scale for all stations. */
  readonly halfBreadth: number;
}

export function WholeStation({ drawing, design, halfBreadth }: WholeStationProps) {
  const { station, section: c } = drawing;
  const mm = (WIDTH - 2 * PAD) / (2 * halfBreadth);
  let [low, high] = [c.bottomRib, c.deckRib];
  for (let i = 1; i < station.length; i += 2) {
    low = Math.min(low, station[i]);
    high = Math.max(high, station[i]);
  }
  const height = (high - low) * mm + 2 * PAD;
  const y = (z: number) => PAD + (high - z) * mm;
  const half = (side: 1 | -1) => {
    const points: string[] = [];
    for (let i = 0; i < station.length; i += 2) points.push(`${(WIDTH / 2 + side * station[i] * mm).toFixed(2)} ${y(station[i + 1]).toFixed(2)}`);
    return `M${points.join('L')}`;
  };
  const [inner, outer] = [Math.min(c.ribY, c.y), Math.max(c.ribY, c.y)];
  const box = (side: 1 | -1) => (
    <rect
      className={css.box} x={WIDTH / 2 + (side > 0 ? inner : -outer) * mm} width={Math.max(1, (outer - inner) * mm)}
      y={y(c.capTop)} height={Math.max(0, (c.capTop - c.soleBottom) * mm)}
    />
  );
  const stringer = design.frames.stringerThickness * mm;
  return (
    <svg className={css.whole} viewBox={`0 0 ${WIDTH} ${height.toFixed(1)}`} role="img" aria-label="The whole station, with the two boxes">
      <rect className={css.stringer} x={(WIDTH - stringer) / 2} width={stringer} y={y(high)} height={(high - low) * mm} />
      {box(1)}
      {box(-1)}
      <path d={half(1)} />
      <path d={half(-1)} />
    </svg>
  );
}
