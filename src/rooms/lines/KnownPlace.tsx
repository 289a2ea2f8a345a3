/** A known place on a drawing or a picture, A or B: dragged, or moved by the arrow keys. */
import { type KeyboardEvent, type PointerEvent, useRef } from 'react';
import css from './KnownPlace.module.css';

const LETTERS = ['A', 'B'] as const;
const STEPS: Readonly<Record<string, readonly [number, number]>> = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

interface KnownPlaceProps {
  readonly which: 0 | 1;
  /** Where it is on the paper, px. */
  readonly x: number;
  readonly y: number;
  /** What it is on, and where there. */
  readonly tells: string;
  readonly onDrag: (x: number, y: number) => void;
  /** By an arrow key, a pixel or ten. */
  readonly onStep: (x: number, y: number) => void;
}

export function KnownPlace({ which, x, y, tells, onDrag, onStep }: KnownPlaceProps) {
  /** From the pointer to the mark where it was taken hold of. */
  const hold = useRef<readonly [number, number] | null>(null);
  const press = (event: PointerEvent<SVGGElement>) => {
    event.stopPropagation();
    event.currentTarget.setPointerCapture(event.pointerId);
    event.currentTarget.focus();
    hold.current = [x - event.clientX, y - event.clientY];
  };
  const move = (event: PointerEvent<SVGGElement>) => {
    if (!hold.current) return;
    event.stopPropagation();
    onDrag(hold.current[0] + event.clientX, hold.current[1] + event.clientY);
  };
  const release = (event: PointerEvent<SVGGElement>) => {
    event.stopPropagation();
    hold.current = null;
  };
  const key = (event: KeyboardEvent) => {
    const way = STEPS[event.key];
    if (!way) return;
    event.preventDefault();
    event.stopPropagation();
    const step = event.shiftKey ? 10 : 1;
    onStep(x + step * way[0], y + step * way[1]);
  };
  return (
    <g
      className={css.place} role="button" tabIndex={0} transform={`translate(${x.toFixed(2)} ${y.toFixed(2)})`} data-mark={LETTERS[which]}
      aria-label={`Known place ${LETTERS[which]} in ${tells}`}
      onPointerDown={press} onPointerMove={move} onPointerUp={release} onPointerCancel={release} onKeyDown={key}
    >
      <circle className={css.reach} r={22} />
      <circle r={9} />
      <path d="M-14 0H-4M4 0H14M0 -14V-4M0 4V14" />
      <text className={css.letter} x={13} y={-9}>{LETTERS[which]}</text>
    </g>
  );
}
