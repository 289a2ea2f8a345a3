/** The picture under a drawing, and the two known places on it while they are being set. */
import { type KeyboardEvent, type PointerEvent, useRef } from 'react';
import { toBoard, toPicture } from '../../../geometry/shape/tracing';
import type { LineName } from '../../../geometry/shape/line';
import type { Chart } from './chart';
import { useLines } from './lines';
import { changeTracing, type TracedLine, type Tracing, useTracing } from './tracing';
import './sheet.css';

const LETTERS = ['A', 'B'] as const;

export const isTraced = (name: LineName): name is TracedLine => name === 'outline' || name === 'rocker';

/** The picture, under everything else. */
export function TracingLayer({ name, chart }: { readonly name: LineName; readonly chart: Chart }) {
  const tracing = useTracing((state) => (isTraced(name) ? state[name] : null));
  if (!tracing) return null;
  return (
    <g data-tracing="picture" transform={`matrix(${chart.kx} 0 0 ${-chart.kv} ${chart.x(0)} ${chart.y(0)})`}>
      <image
        href={tracing.url} width={tracing.width} height={tracing.height} opacity={tracing.opacity} preserveAspectRatio="none"
        transform={`matrix(${tracing.placed.matrix.join(' ')})`} role="img" aria-label={`Tracing: ${tracing.name}`}
      />
    </g>
  );
}

interface MarkProps {
  readonly line: TracedLine;
  readonly tracing: Tracing;
  readonly chart: Chart;
  readonly which: 0 | 1;
}

function Mark({ line, tracing, chart, which }: MarkProps) {
  const from = useRef<{ x: number; y: number; px: number; py: number } | null>(null);
  const [bx, by] = toBoard(tracing.placed, tracing.picture[which]);
  const [px, py] = [chart.x(bx), chart.y(by)];
  const put = (x: number, y: number) => {
    const at = toPicture(tracing.placed, [chart.station(x), chart.value(y)]);
    changeTracing(line, { picture: which === 0 ? [at, tracing.picture[1]] : [tracing.picture[0], at] });
  };
  const press = (event: PointerEvent<SVGGElement>) => {
    event.stopPropagation();
    event.currentTarget.setPointerCapture(event.pointerId);
    event.currentTarget.focus();
    from.current = { x: event.clientX, y: event.clientY, px, py };
  };
  const move = (event: PointerEvent<SVGGElement>) => {
    const start = from.current;
    if (!start) return;
    event.stopPropagation();
    put(start.px + event.clientX - start.x, start.py + event.clientY - start.y);
  };
  const release = (event: PointerEvent<SVGGElement>) => {
    event.stopPropagation();
    from.current = null;
  };
  const key = (event: KeyboardEvent) => {
    const step = event.shiftKey ? 10 : 1;
    const by = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, -step], ArrowDown: [0, step] }[event.key];
    if (!by) return;
    event.preventDefault();
    event.stopPropagation();
    put(px + by[0], py + by[1]);
  };
  return (
    <g
      className="tracing-mark" role="button" tabIndex={0} transform={`translate(${px.toFixed(2)} ${py.toFixed(2)})`} data-mark={LETTERS[which]}
      aria-label={`Known place ${LETTERS[which]} in the picture: pixel ${tracing.picture[which].map((v) => v.toFixed(0)).join(', ')}`}
      onPointerDown={press} onPointerMove={move} onPointerUp={release} onPointerCancel={release} onKeyDown={key}
    >
      <circle className="reach" r={22} />
      <circle r={9} />
      <path d="M-14 0H-4M4 0H14M0 -14V-4M0 4V14" />
      <text x={13} y={-9}>{LETTERS[which]}</text>
    </g>
  );
}

/** The two known places, over everything else, while the tracing tool is open. */
export function TracingMarks({ name, chart }: { readonly name: LineName; readonly chart: Chart }) {
  const tracing = useTracing((state) => (isTraced(name) ? state[name] : null));
  const open = useLines((state) => state.tool === 'tracing' && state.line === name);
  if (!tracing || !open || !isTraced(name)) return null;
  return (
    <g>
      <Mark line={name} tracing={tracing} chart={chart} which={0} />
      <Mark line={name} tracing={tracing} chart={chart} which={1} />
    </g>
  );
}
