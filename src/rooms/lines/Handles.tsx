/** The points of a line and the levers of its ends, to be dragged, nudged and tabbed through. */
import type { KeyboardEvent } from 'react';
import type { Design } from '../../../geometry/design/schema';
import type { DesignCurve, LineName } from '../../../geometry/shape/line';
import { shownDesign, useDesign } from '../../state/design';
import { fixed, lengthText, type Unit, unitSign } from '../../say/units';
import type { Chart } from './chart';
import { endAngle, presentAngle } from './edits';
import { kindOf, pointsOf, lineText, valueWithUnit } from './kinds';
import { handleId, handleKey } from './nudge';
import { type Grip, useLines } from './lines';
import { leverTip } from './useHold';
import './sheet.css';

/** Radius of the area that belongs to a handle, px: a fingertip's 44 across. */
const TOUCH = 22;

interface HandlesProps {
  readonly name: LineName;
  readonly curve: DesignCurve;
  readonly chart: Chart;
  readonly unit: Unit;
  /** The line whose points are listed: its handles are drawn whole. */
  readonly active: boolean;
}

function useHandle(name: LineName, grip: Grip, unit: Unit) {
  const selected = useLines((state) => state.selected);
  const on = selected?.line === name && handleId(name, selected.grip) === handleId(name, grip);
  return {
    on,
    props: {
      role: 'button', tabIndex: 0, 'aria-pressed': on, 'data-handle': handleId(name, grip),
      onFocus: () => useLines.getState().select(name, grip),
      onBlur: () => useDesign.getState().keepDraft(),
      onKeyUp: () => useDesign.getState().keepDraft(),
      onKeyDown: (event: KeyboardEvent) => {
        if (!handleKey(name, grip, event, unit)) return;
        event.preventDefault();
        event.stopPropagation();
      },
    } as const,
  };
}

function PointHandle({ name, index, curve, chart, unit, active }: HandlesProps & { readonly index: number }) {
  const { on, props } = useHandle(name, { index }, unit);
  const points = pointsOf(curve);
  const { x, v, corner } = points[index];
  const [px, py] = [chart.x(x), chart.y(v)];
  const size = active ? 5 : 3.5;
  const where = index === 0 ? ', the tail' : index === points.length - 1 ? ', the nose' : '';
  const label = `${kindOf(name).title} point ${index + 1} of ${points.length}${where}: station ${lengthText(x, unit)} ${unitSign(unit)}, ${kindOf(name).value} ${valueWithUnit(name, v, unit)}${corner ? ', corner' : ''}`;
  return (
    <g {...props} aria-label={label} className={`handle${on ? ' on' : ''}`} transform={`translate(${px.toFixed(2)} ${py.toFixed(2)})`}>
      <circle className="reach" r={TOUCH} />
      {corner ? <path className="knob" d={`M0 ${-size - 1.5}L${size + 1.5} 0L0 ${size + 1.5}L${-size - 1.5} 0Z`} /> : <circle className="knob" r={size} />}
    </g>
  );
}

function LeverHandle({ name, end, curve, chart, unit }: HandlesProps & { readonly end: 'tail' | 'nose' }) {
  const { on, props } = useHandle(name, { end }, unit);
  const set = endAngle(curve, end);
  const tip = leverTip(chart, curve, end);
  const deg = set ?? presentAngle(curve, end);
  return (
    <>
      <line className={`lever${set === undefined ? ' free' : ''}`} x1={tip.fromX} y1={tip.fromY} x2={tip.x} y2={tip.y} />
      <g
        {...props} className={`handle lever-end${on ? ' on' : ''}${set === undefined ? ' free' : ''}`} transform={`translate(${tip.x.toFixed(2)} ${tip.y.toFixed(2)})`}
        aria-label={`${kindOf(name).title}, angle at the ${end}: ${fixed(deg, 1)} degrees${set === undefined ? ', free' : ''}`}
      >
        <circle className="reach" r={TOUCH} />
        <rect className="knob" x={-4} y={-4} width={8} height={8} />
      </g>
    </>
  );
}

/** The figure beside what is selected. */
function Figure({ name, curve, chart, unit }: HandlesProps) {
  const selected = useLines((state) => state.selected);
  if (selected?.line !== name) return null;
  const { grip } = selected;
  const points = pointsOf(curve);
  let px: number;
  let py: number;
  let text: string;
  if ('end' in grip) {
    const tip = leverTip(chart, curve, grip.end);
    [px, py] = [tip.x, tip.y];
    text = `${fixed(endAngle(curve, grip.end) ?? presentAngle(curve, grip.end), 1)}°`;
  } else {
    const p = points[grip.index];
    if (!p) return null;
    [px, py] = [chart.x(p.x), chart.y(p.v)];
    text = `${lengthText(p.x, unit)} · ${lineText(name, p.v, unit)}`;
  }
  const width = text.length * 6.6 + 12;
  const left = px + 12 + width > chart.width ? px - 12 - width : px + 12;
  const top = py < 34 ? py + 10 : py - 30;
  return (
    <g className="figure-tag" transform={`translate(${left.toFixed(1)} ${top.toFixed(1)})`} aria-hidden="true">
      <rect width={width} height={19} />
      <text x={width / 2} y={13.5}>{text}</text>
    </g>
  );
}

export function Handles(props: HandlesProps) {
  const count = props.curve.points.length;
  return (
    <g className={`handles${props.active ? ' active' : ''}`}>
      {props.active && (['tail', 'nose'] as const).map((end) => <LeverHandle key={end} {...props} end={end} />)}
      {Array.from({ length: count }, (_, index) => <PointHandle key={index} {...props} index={index} />)}
      <Figure {...props} />
    </g>
  );
}

/** The design with what is being dragged. */
export const useShown = (): Design => useDesign(shownDesign);
