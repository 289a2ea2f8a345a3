/** The picture under a drawing, and the two known places on it while they are being set. */
import { toBoard, toPicture } from '../../../geometry/shape/tracing';
import type { LineName } from '../../../geometry/shape/line';
import type { Chart } from './chart';
import { KnownPlace } from './KnownPlace';
import { useLines } from './lines';
import { changeTracing, type TracedLine, type Tracing, useTracing } from './tracing';
import './sheet.css';

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
  const [bx, by] = toBoard(tracing.placed, tracing.picture[which]);
  const put = (x: number, y: number) => {
    const at = toPicture(tracing.placed, [chart.station(x), chart.value(y)]);
    changeTracing(line, { picture: which === 0 ? [at, tracing.picture[1]] : [tracing.picture[0], at] });
  };
  return <KnownPlace which={which} x={chart.x(bx)} y={chart.y(by)} tells={`the picture: pixel ${tracing.picture[which].map((v) => v.toFixed(0)).join(', ')}`} onDrag={put} onStep={put} />;
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
