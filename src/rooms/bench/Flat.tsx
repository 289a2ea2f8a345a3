/** Flat shapes as drawings: a part alone, or parts laid on stock. Lengths mm, y up. */
import type { ReactNode } from 'react';
import { boundsOf } from '../../../geometry/curves/polygon';
import type { FlatShape } from '../../../geometry/frame/types';
import './drawings.css';

const loop = (points: ArrayLike<number>): string => {
  const out: string[] = [];
  for (let i = 0; i + 1 < points.length; i += 2) out.push(`${points[i].toFixed(2)} ${points[i + 1].toFixed(2)}`);
  return `M${out.join('L')}`;
};

/** A shape's lines where it lies: its outside with its holes, and its marks; letters are left to the templates. */
export function FlatLines({ shape }: { readonly shape: FlatShape }) {
  const marks = shape.marks.filter(({ kind }) => kind !== 'label');
  return (
    <>
      <path className="face" fillRule="evenodd" d={[shape.outline, ...shape.holes].map((points) => `${loop(points)}Z`).join('')} />
      {marks.length > 0 && <path className="marks" d={marks.map(({ points }) => loop(points)).join('')} />}
    </>
  );
}

interface SheetProps {
  readonly label: string;
  readonly width: number;
  readonly height: number;
  /** Lower left corner. */
  readonly x?: number;
  readonly y?: number;
  /** Heights are drawn this many times as large as lengths. */
  readonly tall?: number;
  readonly stock?: boolean;
  readonly children: ReactNode;
}

/** A drawing space of so many millimetres, as wide as its frame. */
export function FlatSheet({ label, width, height, x = 0, y = 0, tall = 1, stock, children }: SheetProps) {
  return (
    <svg className="flat" viewBox={`0 0 ${width} ${height * tall}`} style={{ aspectRatio: `${width} / ${height * tall}` }} role="img" aria-label={label}>
      <g transform={`translate(${-x} ${(y + height) * tall}) scale(1 ${-tall})`}>
        {stock && <rect className="stock" x={x} y={y} width={width} height={height} />}
        {children}
      </g>
    </svg>
  );
}

/** Room round a part drawn alone, as a share of its length. */
const MARGIN = 0.01;

/** One part on its own. */
export function FlatPart({ shape, label, tall }: { readonly shape: FlatShape; readonly label: string; readonly tall?: number }) {
  const b = boundsOf(shape.outline);
  const room = (b.x1 - b.x0) * MARGIN;
  return (
    <FlatSheet label={label} x={b.x0 - room} y={b.y0 - room / (tall ?? 1)} width={b.x1 - b.x0 + 2 * room} height={b.y1 - b.y0 + (2 * room) / (tall ?? 1)} tall={tall}>
      <FlatLines shape={shape} />
    </FlatSheet>
  );
}
