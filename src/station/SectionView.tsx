/** The section square to the rail, drawn true, inboard left and outboard right, with its dimensions. */
import { useId } from 'react';
import type { Design } from '../../geometry/design/schema';
import type { SectionDrawing } from '../../geometry/types';
import { angleText, lengthText, type Unit } from '../say/units';
import css from './SectionView.module.css';

/** How far inboard of the rib-end line is shown, mm. */
const INBOARD = 26;
const WIDTH = 320;
const HEIGHT = 300;
const PAD = { left: 42, right: 46, top: 26, bottom: 24 };
/** Room for a dimension in sixteenths at the left. */
const SIXTEENTHS = 58;
/** Shorter dimensions get no arrows, px. */
const ARROW_ROOM = 16;

interface Frame {
  x(o: number): number;
  y(z: number): number;
  readonly mm: number;
}

function frameOf({ finished, section }: SectionDrawing, edge: number, padLeft: number): Frame {
  let [low, high, out] = [section.bottomRib, section.deckRib, edge];
  for (let i = 0; i < finished.length; i += 2) {
    if (finished[i] < -INBOARD) continue;
    low = Math.min(low, finished[i + 1]);
    high = Math.max(high, finished[i + 1]);
    out = Math.max(out, finished[i]);
  }
  const mm = Math.min((WIDTH - padLeft - PAD.right) / (out + INBOARD), (HEIGHT - PAD.top - PAD.bottom) / (high - low));
  const left = (WIDTH - PAD.right + padLeft - mm * (out + INBOARD)) / 2;
  const top = (HEIGHT - PAD.bottom + PAD.top - mm * (high - low)) / 2;
  return { mm, x: (o) => left + (o + INBOARD) * mm, y: (z) => top + (high - z) * mm };
}

function polygon(points: ArrayLike<number>, { x, y }: Frame): string {
  const out: string[] = [];
  for (let i = 0; i < points.length; i += 2) out.push(`${x(points[i]).toFixed(2)},${y(points[i + 1]).toFixed(2)}`);
  return out.join(' ');
}

interface DimensionProps {
  readonly x: number;
  readonly from: number;
  readonly to: number;
  readonly text: string;
  /** Where the extension lines start. */
  readonly reach: number;
  readonly name: string;
}

/** A dimension of height: extension lines, arrows, figure beside it. */
function Dimension({ x, from, to, text, reach, name }: DimensionProps) {
  const [a, b] = from < to ? [from, to] : [to, from];
  const outside = b - a < ARROW_ROOM;
  const left = x < reach;
  const tip = outside ? -5 : 5;
  return (
    <g className={css.dimension}>
      <title>{`${name} ${text}`}</title>
      <path d={`M${reach} ${a}H${x + (left ? -4 : 4)}M${reach} ${b}H${x + (left ? -4 : 4)}`} className={css.extension} />
      <path d={outside ? `M${x} ${a - 12}V${a}M${x} ${b}V${b + 12}` : `M${x} ${a}V${b}`} />
      <path className={css.arrow} d={`M${x} ${a}l-2.5 ${tip}h5zM${x} ${b}l-2.5 ${-tip}h5z`} />
      <text x={x + (left ? -6 : 6)} y={(a + b) / 2 + 4} textAnchor={left ? 'end' : 'start'}>{text}</text>
    </g>
  );
}

interface SectionViewProps {
  readonly drawing: SectionDrawing;
  readonly design: Design;
  readonly unit: Unit;
}

export function SectionView({ drawing, design, unit }: SectionViewProps) {
  const id = useId();
  const { section: c, shapes, finished } = drawing;
  const w = design.rail.stripWidth;
  const edge = w + design.rail.outerLayers * design.rail.outerThickness + design.rail.shapingAllowance;
  const frame = frameOf(drawing, edge, unit === 'in16' ? SIXTEENTHS : PAD.left);
  const { x, y } = frame;
  const hasCap = shapes.some((shape) => shape.kind === 'cap');
  const planed = hasCap && c.capTop > c.deckFace;
  const right = x(Math.max(edge, w)) + 12;
  const arm = x(w) - x(0);
  // The bevel's two legs: past the strip, but not off the sheet.
  const leg = Math.min(arm * 1.9, WIDTH - 8 - x(0));
  const arc = leg * 0.95;
  const sweep = c.bevel >= 0 ? 1 : 0;
  return (
    <svg className={css.section} viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={`Section square to the rail: gap ${lengthText(c.gap, unit)}, bevel ${angleText(c.bevel)}`}>
      <defs>
        <pattern id={`${id}e`} width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path d="M0 0V5" /></pattern>
        <pattern id={`${id}f`} width="4" height="4" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)"><path d="M0 0V4" /></pattern>
        <clipPath id={`${id}c`}><rect x={x(-INBOARD)} y="0" width={WIDTH - x(-INBOARD)} height={HEIGHT} /></clipPath>
      </defs>
      <g clipPath={`url(#${id}c)`}>
        {shapes.map(({ kind, order, points }) => (
          <g key={`${kind} ${order}`}>
            <polygon className={css.face} data-kind={kind} points={polygon(points, frame)} />
            {kind !== 'hollow' && kind !== 'rib' && (
              <polygon points={polygon(points, frame)} fill={`url(#${id}${kind === 'row' || kind === 'outer-skin' ? 'f' : 'e'})`} />
            )}
          </g>
        ))}
        {planed && <polygon className={css.planed} points={polygon([0, c.capTop, w, c.capTop, w, Math.max(c.deckFace, c.capBottom)], frame)} />}
        <polyline className={css.finished} points={polygon(finished, frame)} />
      </g>
      <path className={css.break} d={`M${x(-INBOARD)} 8V${HEIGHT - 8}`} />
      {hasCap && (
        <g className={css.bevel}>
          <path d={`M${x(0)} ${y(c.capTop)}H${x(0) + leg}`} />
          <path d={`M${x(0)} ${y(c.capTop)}l${leg} ${leg * Math.tan(c.bevel)}`} />
          <path d={`M${x(0) + arc} ${y(c.capTop)}A${arc} ${arc} 0 0 ${sweep} ${x(0) + arc * Math.cos(c.bevel)} ${y(c.capTop) + arc * Math.sin(c.bevel)}`} />
          <text x={Math.min(x(0) + leg + 2, WIDTH - 44)} y={y(c.capTop) - 5}>{angleText(c.bevel)}</text>
        </g>
      )}
      {hasCap && c.gap > 0 && <Dimension name="Gap" x={x(-6)} reach={x(0)} from={y(c.soleTop)} to={y(c.capBottom)} text={lengthText(c.gap, unit)} />}
      {hasCap && <Dimension name="Cap left" x={right} reach={x(w)} from={y(c.capBottom)} to={y(Math.max(c.capBottom, c.deckFace))} text={lengthText(c.capLeft, unit)} />}
      {c.rows > 0 && c.slot > 0.05 && (
        <Dimension name="Slot" x={right} reach={x(w)} from={y(c.capBottom - c.slot)} to={y(c.capBottom)} text={lengthText(c.slot, unit)} />
      )}
      <Dimension name="Inner depth" x={x(-INBOARD) - 5} reach={x(-INBOARD)} from={y(c.bottomRib)} to={y(c.deckRib)} text={lengthText(c.depth, unit)} />
      <text className={css.caption} x={x(-INBOARD)} y={HEIGHT - 5}>inboard</text>
      <text className={css.caption} x={WIDTH - 8} y={HEIGHT - 5} textAnchor="end">outboard</text>
    </svg>
  );
}
