/** A board seen from above, an inch long: its outline and centreline. */
import { useMemo } from 'react';
import { halfBreadthAt, splineOf } from '../../../geometry/shape/line';
import type { Design } from '../../../geometry/design/schema';
import css from './Thumb.module.css';

const [WIDE, TALL] = [84, 30];
/** Stations drawn. */
const MANY = 48;

/** The outline of a board file as path text, the board as long as the picture; null where the file cannot be drawn. */
function outline(text: string): string | null {
  try {
    const { lines } = JSON.parse(text) as Pick<Design, 'lines'>;
    const spline = splineOf(lines.outline);
    const xs = lines.outline.points.map(({ x }) => x);
    const [x0, x1] = [Math.min(...xs), Math.max(...xs)];
    const scale = (WIDE - 2) / (x1 - x0);
    // Close together toward the ends, where the outline turns.
    const places = Array.from({ length: MANY + 1 }, (_, i) => x0 + ((x1 - x0) * (1 - Math.cos((Math.PI * i) / MANY))) / 2);
    const at = (x: number, side: number) => `${(1 + (x - x0) * scale).toFixed(1)} ${(TALL / 2 + side * halfBreadthAt(spline, x) * scale).toFixed(1)}`;
    const path = `M${[...places.map((x) => at(x, -1)), ...places.reverse().map((x) => at(x, 1))].join('L')}Z`;
    return path.includes('NaN') ? null : path;
  } catch {
    // A file that cannot be read is told when it is opened.
    return null;
  }
}

export function Thumb({ text }: { readonly text: string }) {
  const path = useMemo(() => outline(text), [text]);
  return (
    <svg className={css.thumb} width={WIDE} height={TALL} viewBox={`0 0 ${WIDE} ${TALL}`} aria-hidden="true">
      {path && <><path d={path} /><line x1="4" x2={WIDE - 4} y1={TALL / 2} y2={TALL / 2} /></>}
    </svg>
  );
}
