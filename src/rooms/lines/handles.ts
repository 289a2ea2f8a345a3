/** The points of a line and the levers of its ends, to be dragged, nudged and tabbed through: as a painter draws them. */
import { nothing, svg } from 'lit-html';
import type { DesignCurve, LineName } from '../../../geometry/shape/line';
import { useDesign } from '../../state/design';
import { fixed, lengthWithUnit, type Unit } from '../../say/units';
import { nearerEnd } from '../../say/words';
import type { Chart } from './chart';
import { endAngle, presentAngle } from './edits';
import { boardOf, kindOf, pointsOf, lineText, valueWithUnit } from './kinds';
import { handleId, handleKey } from './nudge';
import { type Grip, useLines } from './lines';
import { leverTip } from './useHold';
import './sheet.css';

/** Radius of the area that belongs to a handle, px: a fingertip's 44 across. */
const TOUCH = 22;

export interface HandlesOf {
  readonly name: LineName;
  readonly chart: Chart;
  readonly unit: Unit;
  /** The line whose points are listed: its handles are drawn whole. */
  readonly active: boolean;
  /** What of it is selected. */
  readonly selected: Grip | null;
}

const place = (x: number, y: number) => `translate(${x.toFixed(2)} ${y.toFixed(2)})`;
const keep = () => useDesign.getState().keepDraft();

function handle({ name, unit, selected }: HandlesOf, grip: Grip, looks: { readonly lever?: boolean; readonly free?: boolean }, at: { readonly x: number; readonly y: number }, label: string, knob: unknown) {
  const id = handleId(name, grip);
  const on = selected !== null && handleId(name, selected) === id;
  const onKey = (event: KeyboardEvent) => {
    if (!handleKey(name, grip, event, unit)) return;
    event.preventDefault();
    event.stopPropagation();
  };
  return svg`<g class="handle${looks.lever ? ' lever-end' : ''}${on ? ' on' : ''}${looks.free ? ' free' : ''}" role="button" tabindex="0" aria-pressed=${on} data-handle=${id} aria-label=${label}
    transform=${place(at.x, at.y)} @focus=${() => useLines.getState().select(name, grip)} @blur=${keep} @keyup=${keep} @keydown=${onKey}>
    <circle class="reach" r=${TOUCH}></circle>
    ${knob}
  </g>`;
}

function pointHandle(of: HandlesOf, index: number, points: ReturnType<typeof pointsOf>) {
  const { name, chart, unit, active } = of;
  const { x, v, corner } = points[index];
  const size = active ? 5 : 3.5;
  const where = index === 0 ? ', the tail' : index === points.length - 1 ? ', the nose' : '';
  const label = `${kindOf(name).title} point ${index + 1} of ${points.length}${where}: station ${nearerEnd(boardOf(points), x, unit, 1, lengthWithUnit)}, ${kindOf(name).value} ${valueWithUnit(name, v, unit)}${corner ? ', corner' : ''}`;
  const knob = corner
    ? svg`<path class="knob" d="M0 ${-size - 1.5}L${size + 1.5} 0L0 ${size + 1.5}L${-size - 1.5} 0Z"></path>`
    : svg`<circle class="knob" r=${size}></circle>`;
  return handle(of, { index }, {}, { x: chart.x(x), y: chart.y(v) }, label, knob);
}

function leverHandle(of: HandlesOf, end: 'tail' | 'nose', curve: DesignCurve) {
  const { name, chart } = of;
  const set = endAngle(curve, end);
  const tip = leverTip(chart, curve, end);
  const deg = set ?? presentAngle(curve, end);
  const label = `${kindOf(name).title}, angle at the ${end}: ${fixed(deg, 1)} degrees${set === undefined ? ', free' : ''}`;
  return svg`
    <line class="lever${set === undefined ? ' free' : ''}" x1=${tip.fromX.toFixed(2)} y1=${tip.fromY.toFixed(2)} x2=${tip.x.toFixed(2)} y2=${tip.y.toFixed(2)}></line>
    ${handle(of, { end }, { lever: true, free: set === undefined }, tip, label, svg`<rect class="knob" x="-4" y="-4" width="8" height="8"></rect>`)}`;
}

/** The figure beside what is selected. */
function selectedFigure({ name, chart, unit, selected: grip }: HandlesOf, curve: DesignCurve, points: ReturnType<typeof pointsOf>) {
  if (!grip) return nothing;
  let at: { readonly x: number; readonly y: number };
  let text: string;
  if ('end' in grip) {
    at = leverTip(chart, curve, grip.end);
    text = `${fixed(endAngle(curve, grip.end) ?? presentAngle(curve, grip.end), 1)}°`;
  } else {
    const p = points[grip.index];
    if (!p) return nothing;
    at = { x: chart.x(p.x), y: chart.y(p.v) };
    text = `${nearerEnd(boardOf(points), p.x, unit, 1)} · ${lineText(name, p.v, unit)}`;
  }
  const width = text.length * 6.6 + 12;
  const left = at.x + 12 + width > chart.width ? at.x - 12 - width : at.x + 12;
  const top = at.y < 34 ? at.y + 10 : at.y - 30;
  return svg`<g class="figure-tag" transform="translate(${left.toFixed(1)} ${top.toFixed(1)})" aria-hidden="true">
    <rect width=${width} height="19"></rect>
    <text x=${width / 2} y="13.5">${text}</text>
  </g>`;
}

/** All handles of a curve. */
export function handlesDrawing(of: HandlesOf, curve: DesignCurve) {
  const points = pointsOf(curve);
  return svg`<g class="handles${of.active ? ' active' : ''}">
    ${of.active ? (['tail', 'nose'] as const).map((end) => leverHandle(of, end, curve)) : nothing}
    ${points.map((_, index) => pointHandle(of, index, points))}
    ${selectedFigure(of, curve, points)}
  </g>`;
}
