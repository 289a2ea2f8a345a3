/** A curve of Lines as a painter draws it: the curve with what stands under it, and its comb. */
import { nothing, svg } from 'lit-html';
import type { Design } from '../../../geometry/design/schema';
import { combOf } from '../../../geometry/shape/comb';
import type { DesignCurve } from '../../../geometry/shape/line';
import type { Unit } from '../../say/units';
import { nearerEnd } from '../../say/words';
import type { Chart } from './chart';
import { boardOf, inMm, type LineKind } from './kinds';
import { combPaths, curvePath, deckPath, toothScale } from './path';
import './sheet.css';

export interface CurveOf {
  readonly kind: LineKind;
  readonly chart: Chart;
  readonly unit: Unit;
  /** The board before a drag: a comb keeps its scale, so that a change shows. */
  readonly rest: Design;
  /** An earlier board drawn behind; and the board before a proposal. */
  readonly earlier: Design | null;
  readonly before: Design | null;
  /** Least thickness: both skins, mm. */
  readonly least: number;
  /** Length of a comb's teeth against the usual; null for no comb. */
  readonly teeth: number | null;
}

const combs = new WeakMap<DesignCurve, ReturnType<typeof combOf>>();

/** The comb of a curve, found once. */
function combFor(curve: DesignCurve, ratio: boolean) {
  const known = combs.get(curve);
  if (known) return known;
  const comb = combOf(curve, { ratio });
  combs.set(curve, comb);
  return comb;
}

function combDrawing({ kind, chart, unit, rest }: CurveOf, curve: DesignCurve, scale: number) {
  const ratio = !inMm(kind.name);
  const comb = combFor(curve, ratio);
  const board = boardOf(curve.points);
  const { teeth, tips } = combPaths(comb, chart, toothScale(combFor(rest.lines[kind.name], ratio), chart, scale));
  return svg`<g class="comb">
    <path class="teeth" d=${teeth}></path>
    <path class="tips" d=${tips}></path>
    ${comb.peaks.map((mark) => svg`<circle class="peak" cx=${chart.x(mark.x).toFixed(2)} cy=${chart.y(mark.v).toFixed(2)} r="2.5"><title>The bend peaks at ${nearerEnd(board, mark.x, unit, 1)}</title></circle>`)}
    ${comb.inflections.map((mark) => svg`<g class="inflection" transform="translate(${chart.x(mark.x).toFixed(2)} ${chart.y(mark.v).toFixed(2)})"><title>Bends the other way at ${nearerEnd(board, mark.x, unit, 1)}</title><path d="M-6 -6L6 6M6 -6L-6 6"></path></g>`)}
  </g>`;
}

/** The curve and what stands under it. `over`: the thickness, on the drawing of the rocker. */
export function curveDrawing(of: CurveOf, curve: DesignCurve, over: DesignCurve | null) {
  const { kind: { name }, chart, earlier, before, rest, least, teeth } = of;
  const length = rest.lines.outline.points[rest.lines.outline.points.length - 1].x;
  const d = curvePath(curve, chart);
  // A line that a proposal leaves as it is stays ink.
  const was = before && curvePath(before.lines[name], chart);
  const changed = was !== null && was !== d;
  return svg`
    ${name === 'outline' ? svg`<path class="board" d=${`${d}V${chart.y(0).toFixed(2)}H${chart.x(0).toFixed(2)}Z`}></path>` : nothing}
    ${over ? svg`<path class="deck-line" d=${deckPath(curve, over, chart)}></path>` : nothing}
    ${name === 'thickness' ? svg`<line class="limit" x1=${chart.x(0)} x2=${chart.x(length)} y1=${chart.y(least)} y2=${chart.y(least)}></line>` : nothing}
    ${earlier ? svg`<path class="earlier" d=${curvePath(earlier.lines[name], chart)}></path>` : nothing}
    ${teeth === null ? nothing : combDrawing(of, curve, teeth)}
    ${changed ? svg`<path class="before" d=${was}></path>` : nothing}
    <path class="curve${changed ? ' proposed' : ''}" data-curve=${name} d=${d}></path>`;
}
