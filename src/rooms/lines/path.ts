/** Curves as SVG path text on a chart. */
import { breaks } from '../../../geometry/curves/bspline';
import { bezierSpans } from '../../../geometry/curves/bezier';
import { valueAt } from '../../../geometry/curves/graph';
import { halfBreadthAt, type DesignCurve, isOutline, splineOf } from '../../../geometry/shape/line';
import type { Comb } from '../../../geometry/shape/comb';
import type { Chart } from './chart';

const px = (v: number) => v.toFixed(2);

/** A design curve as a path, exact: its spans are cubics. */
export function curvePath(curve: DesignCurve, chart: Chart): string {
  const spline = splineOf(curve);
  const spans = breaks(spline.knots);
  const bezier = bezierSpans(spline);
  const { dim } = spline;
  const at = (k: number, i: number): string => {
    const row = (k * 4 + i) * dim;
    const station = dim === 2 ? bezier[row] : spans[k] + ((spans[k + 1] - spans[k]) * i) / 3;
    return `${px(chart.x(station))} ${px(chart.y(bezier[row + dim - 1]))}`;
  };
  let d = `M${at(0, 0)}`;
  for (let k = 0; k + 1 < spans.length; k++) d += `C${at(k, 1)} ${at(k, 2)} ${at(k, 3)}`;
  return d;
}

/** The value of a design curve at a station. */
export function valueOn(curve: DesignCurve, x: number): number {
  return isOutline(curve) ? halfBreadthAt(splineOf(curve), x) : valueAt(splineOf(curve), x);
}

/** Px of the middle one of a comb's teeth at its usual scale. */
const TOOTH = 22;

/**
 * Length of a tooth per curvature, in units of the drawing's value, that draws the middling tooth 22 px long;
 * 0 for a straight line. A multiple of the usual length by `scale`.
 */
export function toothScale(comb: Comb, chart: Chart, scale: number): number {
  const sizes = Array.from({ length: comb.teeth.length / 5 }, (_, i) => Math.abs(comb.teeth[i * 5 + 4])).sort((a, b) => a - b);
  const middle = sizes[Math.floor(sizes.length / 2)] ?? 0;
  const usual = middle > 0 ? middle : (sizes[sizes.length - 1] ?? 0);
  return usual > 0 ? (TOOTH * scale) / (usual * chart.kv) : 0;
}

/** A comb's teeth and the line along their tips, as paths. */
export function combPaths(comb: Comb, chart: Chart, scale: number): { teeth: string; tips: string } {
  let teeth = '';
  let tips = '';
  const starts = new Set(comb.pieces);
  for (let i = 0; i * 5 < comb.teeth.length; i++) {
    const [x, v, nx, ny, kappa] = comb.teeth.subarray(i * 5, i * 5 + 5);
    const tip = `${px(chart.x(x - scale * kappa * nx))} ${px(chart.y(v - scale * kappa * ny))}`;
    teeth += `M${px(chart.x(x))} ${px(chart.y(v))}L${tip}`;
    tips += `${starts.has(i) ? 'M' : 'L'}${tip}`;
  }
  return { teeth, tips };
}

/** The deck on the centreline over a drawing of the rocker: rocker plus thickness, at every few px. */
export function deckPath(rocker: DesignCurve, thickness: DesignCurve, chart: Chart): string {
  const [low, deep] = [splineOf(rocker), splineOf(thickness)];
  const length = rocker.points[rocker.points.length - 1].x;
  const n = Math.max(8, Math.ceil((length * chart.kx) / 6));
  return Array.from({ length: n + 1 }, (_, i) => {
    const x = (length * i) / n;
    return `${i === 0 ? 'M' : 'L'}${px(chart.x(x))} ${px(chart.y(valueAt(low, x) + valueAt(deep, x)))}`;
  }).join('');
}
