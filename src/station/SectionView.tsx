/** The section square to the rail, drawn true, inboard left and outboard right, with its dimensions. */
import { useId } from 'react';
import type { Design } from '../../geometry/design/schema';
import type { SectionDrawing } from '../../geometry/types';
import { angleText, lengthText, type Unit } from '../say/units';
import { useSize } from '../ui/useSize';
import css from './SectionView.module.css';

/** How far inboard of the rib-end line is shown, mm. */
const INBOARD = 26;
/** Until it is known how large it may be, px. */
const FIRST = { width: 332, height: 300 };
const PAD = { left: 20, right: 50, top: 28, bottom: 22 };
/** Shorter dimensions get no arrows, px. */
const ARROW_ROOM = 16;

interface Frame {
  x(o: number): number;
  y(z: number): number;
  readonly mm: number;
}

function frameOf({ finished, section }: SectionDrawing, edge: number, { width, height }: typeof FIRST): Frame {
  let [low, high, out] = [section.bottomRib, section.deckRib, edge];
  for (let i = 0; i < finished.length; i += 2) {
    if (finished[i] < -INBOARD) continue;
    low = Math.min(low, finished[i + 1]);
    high = Math.max(high, finished[i + 1]);
    out = Math.max(out, finished[i]);
  }
  const mm = Math.min((width - PAD.left - PAD.right) / (out + INBOARD), (height - PAD.top - PAD.bottom) / (high - low));
  const left = (width - PAD.right + PAD.left - mm * (out + INBOARD)) / 2;
  const top = (height - PAD.bottom + PAD.top - mm * (high - low)) / 2;
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
  /** Where the figure's foot is at the least, px: clear of the figure over it. */
  readonly under?: number;
}

/** Px that a figure takes of the height. */
const FIGURE = 13;
/** About what a letter of the bevel takes of the width, px. */
const LETTER = 10;
/** Foot of the figure beside a dimension. */
const footOf = (from: number, to: number): number => (from + to) / 2 + 4;

/** A dimension of height: extension lines, arrows, figure beside it. */
function Dimension({ x, from, to, text, reach, name, under = 0 }: DimensionProps) {
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
      <text x={x + (left ? -6 : 6)} y={Math.max(under, footOf(a, b))} textAnchor={left ? 'end' : 'start'}>{text}</text>
    </g>
  );
}

interface SectionViewProps {
  readonly drawing: SectionDrawing;
  readonly design: Design;
  readonly unit: Unit;
  /** Rows that stop at this very place. */
  readonly stopping?: readonly number[];
}

export function SectionView({ drawing, design, unit, stopping = [] }: SectionViewProps) {
  const id = useId();
  const { frame: sheet, size } = useSize();
  const paper = size ?? FIRST;
  const { width, height } = paper;
  const { section: c, shapes, finished } = drawing;
  const w = design.rail.stripWidth;
  const edge = w + design.rail.outerLayers * design.rail.outerThickness + design.rail.shapingAllowance;
  const frame = frameOf(drawing, edge, paper);
  const { x, y } = frame;
  const hasCap = shapes.some((shape) => shape.kind === 'cap');
  const planed = hasCap && c.capTop > c.deckFace;
  const right = x(Math.max(edge, w)) + 12;
  const capLeft = [y(c.capBottom), y(Math.max(c.capBottom, c.deckFace))] as const;
  const arm = x(w) - x(0);
  // The bevel's two legs: past the strip, but not off the sheet.
  const leg = Math.min(arm * 1.9, width - 8 - x(0));
  const arc = leg * 0.95;
  const sweep = c.bevel >= 0 ? 1 : 0;
  return (
    <div className={css.sheet} ref={sheet} data-section>
      <svg className={css.section} viewBox={`0 0 ${width} ${height}`} role="img" aria-label={`Section square to the rail: gap ${lengthText(c.gap, unit)}, bevel ${angleText(c.bevel)}`}>
        <defs>
          <pattern id={`${id}e`} width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path d="M0 0V5" /></pattern>
          <pattern id={`${id}f`} width="4" height="4" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)"><path d="M0 0V4" /></pattern>
          <clipPath id={`${id}c`}><rect x={x(-INBOARD)} y="0" width={width - x(-INBOARD)} height={height} /></clipPath>
        </defs>
        <g clipPath={`url(#${id}c)`}>
          {shapes.map(({ kind, order, points }) => (
            <g key={`${kind} ${order}`}>
              <polygon className={css.face} data-kind={kind} data-stops={(kind === 'row' && stopping.includes(order)) || undefined} points={polygon(points, frame)} />
              {kind !== 'hollow' && kind !== 'rib' && !(kind === 'row' && stopping.includes(order)) && (
                <polygon points={polygon(points, frame)} fill={`url(#${id}${kind === 'row' || kind === 'outer-skin' ? 'f' : 'e'})`} />
              )}
            </g>
          ))}
          {planed && [true, false].map((casing) => <polygon key={String(casing)} className={css.planed} data-casing={casing || undefined} points={polygon([0, c.capTop, w, c.capTop, w, Math.max(c.deckFace, c.capBottom)], frame)} />)}
          <polyline className={css.finished} points={polygon(finished, frame)} />
        </g>
        <path className={css.break} d={`M${x(-INBOARD)} 8V${height - 8}`} />
        {hasCap && (
          <g className={css.bevel}>
            {[true, false].map((casing) => (
              <path
                key={String(casing)} data-casing={casing || undefined}
                d={`M${x(0) + leg} ${y(c.capTop)}H${x(0)}l${leg} ${leg * Math.tan(c.bevel)}M${x(0) + arc} ${y(c.capTop)}A${arc} ${arc} 0 0 ${sweep} ${x(0) + arc * Math.cos(c.bevel)} ${y(c.capTop) + arc * Math.sin(c.bevel)}`}
              />
            ))}
            <text x={Math.min(x(0) + leg + 2 + LETTER * angleText(c.bevel).length, width - 4)} y={y(c.capTop) - 5}>{angleText(c.bevel)}</text>
          </g>
        )}
        {hasCap && c.gap > 0 && <Dimension name="Gap" x={x(-6)} reach={x(0)} from={y(c.soleTop)} to={y(c.capBottom)} text={lengthText(c.gap, unit)} />}
        {hasCap && <Dimension name="Cap left" x={right} reach={x(w)} from={capLeft[0]} to={capLeft[1]} text={lengthText(c.capLeft, unit)} />}
        {c.rows > 0 && c.slot > 0.05 && (
          <Dimension name="Slot" x={right} reach={x(w)} from={y(c.capBottom - c.slot)} to={y(c.capBottom)} text={lengthText(c.slot, unit)} under={footOf(...capLeft) + FIGURE} />
        )}
        <text className={css.caption} x={x(-INBOARD)} y={height - 4}>inboard</text>
        <text className={css.caption} x={Math.min(width - 4, Math.max(x(edge), x(-INBOARD) + 120))} y={height - 4} textAnchor="end">outboard</text>
      </svg>
    </div>
  );
}
