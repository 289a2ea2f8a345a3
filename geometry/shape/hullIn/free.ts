/** What a fit is free to choose of a board's lines, as a row of numbers; and what a unit of each moves. */
import { evalSpline, type Spline } from '../../curves/bspline';
import { graphSpline } from '../../curves/graph';
import { interpolateCubic } from '../../curves/interpolate';
import { frameAt, planeFrame } from '../../curves/plane';
import { graphRange } from '../../curves/range';
import { fieldRange } from '../../design/fields';
import type { Design, LengthCurveName, OutlineDesign } from '../../design/schema';
import { buildOutline } from '../../curves/outline';
import { cornersOf, parametersOf, setEnds } from '../line';

type Lines = Design['lines'];
const RAD = Math.PI / 180;

/** The length curves, in the order in which their numbers stand. */
export const LENGTH_LINES = ['rocker', 'thickness', 'crown', 'concave', 'vee', 'apex', 'fullness', 'tuck', 'turn'] as const satisfies readonly LengthCurveName[];

/** What a value of each is like: a change of it counts in these. */
export const LIKE: Readonly<Record<LengthCurveName, number>> = {
  rocker: 20, thickness: 20, crown: 0.05, concave: 0.05, vee: 0.05, apex: 0.2, fullness: 0.3, tuck: 10, turn: 10,
};

/** The numbers of one line: where they begin, and the spline of what a unit of each adds. */
interface Block {
  readonly at: number;
  readonly count: number;
  readonly unit: Spline;
}

/** What can be chosen. The last number is the length: how far the nose goes forward. */
export interface Freedom {
  readonly count: number;
  readonly outline: Block;
  readonly lines: Readonly<Record<LengthCurveName, Block>>;
  /** The lines after a step; each value is held within the board file's range. */
  stepped(step: ArrayLike<number>): Lines;
}

/** The cardinal splines of a curve, its set end tangents among them: columns point by point, then tail and nose. */
function columns(t: Float64Array, corners: readonly number[], ends: { start: boolean; end: boolean }): Spline {
  const n = t.length;
  const dim = n + [ends.start, ends.end].filter(Boolean).length;
  const unit = new Float64Array(n * dim);
  for (let i = 0; i < n; i++) unit[i * dim + i] = 1;
  const lean = (k: number) => Array.from({ length: dim }, (_, i) => (i === k ? 1 : 0));
  return interpolateCubic(t, unit, dim, corners, { start: ends.start ? lean(n) : undefined, end: ends.end ? lean(dim - 1) : undefined });
}

const DEGREES = { low: -79, high: 79 } as const;
const within = (v: number, low: number, high: number): number => Math.min(high, Math.max(low, v));

/** What is free in these lines: every value of the length curves, slopes at ends where they are set, and the outline across. */
export function freedomOf(lines: Lines): Freedom {
  let count = 0;
  const block = (curve: Lines[keyof Lines]): Block => {
    const unit = columns(parametersOf(curve), cornersOf(curve), setEnds(curve));
    const at = count;
    count += unit.dim;
    return { at, count: unit.dim, unit };
  };
  const outline = block(lines.outline);
  const blocks = Object.fromEntries(LENGTH_LINES.map((name) => [name, block(lines[name])])) as Record<LengthCurveName, Block>;
  count++;
  return { count, outline, lines: blocks, stepped: (step) => steppedLines(lines, outline, blocks, step, step[count - 1]) };
}

/** Lines with every value within the board file's range: a curve put on more points may swing past it. */
export function heldLines(lines: Lines): Lines {
  const free = freedomOf(lines);
  return free.stepped(new Float64Array(free.count));
}

function steppedLines(lines: Lines, outline: Block, blocks: Readonly<Record<LengthCurveName, Block>>, step: ArrayLike<number>, longer: number): Lines {
  const out: Partial<Record<LengthCurveName, Lines['rocker']>> = {};
  for (const name of LENGTH_LINES) {
    const curve = lines[name];
    const { at } = blocks[name];
    const limits = fieldRange(['lines', name, 'points', 0, 'v']) ?? { min: -Infinity, max: Infinity };
    let k = at + curve.points.length;
    const slope = (deg: number | undefined) => (deg === undefined ? undefined : within(Math.atan(Math.tan(deg * RAD) + step[k++]) / RAD, DEGREES.low, DEGREES.high));
    const [tailSlopeDeg, noseSlopeDeg] = [slope(curve.tailSlopeDeg), slope(curve.noseSlopeDeg)];
    out[name] = {
      points: keptWithin(name, curve.points.map((p, i) => ({ x: i === curve.points.length - 1 ? p.x + longer : p.x, v: within(p.v + step[at + i], limits.min, limits.max) })), limits),
      ...(tailSlopeDeg === undefined ? {} : { tailSlopeDeg }), ...(noseSlopeDeg === undefined ? {} : { noseSlopeDeg }),
    };
  }
  return { ...(out as Required<typeof out>), outline: steppedOutline(lines.outline, outline, step, longer) };
}

/** Most times that a curve is drawn back into its range, and how much farther than it swings out, as a share of that. */
const EASED = 60;
const BACK = 1.5;

/** Points whose curve keeps within limits between them too: where it swings out, the two points about that place are drawn back; if that does not do, each to the middle of its neighbours. */
function eased(points: { x: number; v: number }[], limits: { readonly min: number; readonly max: number }): { x: number; v: number }[] {
  for (let i = 0; i < EASED; i++) {
    const { min, xMin, max, xMax } = graphRange(graphSpline({ points }));
    if (min >= limits.min && max <= limits.max) break;
    const [x, by] = min < limits.min ? [xMin, limits.min - min] : [xMax, limits.max - max];
    const after = Math.max(1, points.findIndex((p) => p.x >= x));
    points = points.map((p, k) => {
      if (i > EASED / 2) return { x: p.x, v: (points[Math.max(0, k - 1)].v + 2 * p.v + points[Math.min(points.length - 1, k + 1)].v) / 4 };
      return k === after || k === after - 1 ? { x: p.x, v: p.v + BACK * by } : p;
    });
  }
  return points;
}

/** Main lines keep to what they were fitted to. */
const keptWithin = (name: LengthCurveName, points: { x: number; v: number }[], limits: { readonly min: number; readonly max: number }) =>
  (name === 'rocker' || name === 'thickness' ? points : eased(points, limits));

/** Which way each number of the outline moves it: points square to the curve, ends along the end's plane or not at all, then the end angles. */
function steppedOutline(curve: OutlineDesign, { at }: Block, step: ArrayLike<number>, longer: number): OutlineDesign {
  const t = parametersOf(curve);
  const spline = buildOutline(curve);
  const frame = planeFrame();
  const last = t.length - 1;
  const points = curve.points.map((p, i) => {
    if (i === 0 || i === last) return { x: i === last ? p.x + longer : p.x, y: p.y > 0 ? within(p.y + step[at + i], 0.5, 1000) : 0 };
    frameAt(spline, t[i], frame);
    return { ...p, x: p.x - step[at + i] * frame.nx, y: Math.max(0.5, p.y - step[at + i] * frame.ny) };
  });
  let k = at + curve.points.length;
  // Round stays round.
  const angle = (deg: number | undefined) => (deg === undefined ? undefined : deg === 90 ? (k++, deg) : within(deg + step[k++] / RAD, -59, 89));
  const [tailAngleDeg, noseAngleDeg] = [angle(curve.tailAngleDeg), angle(curve.noseAngleDeg)];
  return { points, ...(tailAngleDeg === undefined ? {} : { tailAngleDeg }), ...(noseAngleDeg === undefined ? {} : { noseAngleDeg }) };
}

/** How far the outline moves outward at u by a unit of each of its numbers, and last by the board's length: fills `out`. */
export function outlineMoves({ outline }: Freedom, curve: OutlineDesign): (u: number, out: Float64Array) => void {
  const t = parametersOf(curve);
  const spline = buildOutline(curve);
  const frame = planeFrame();
  const last = t.length - 1;
  const tail = (curve.tailAngleDeg ?? 0) * RAD;
  const nose = (curve.noseAngleDeg ?? 0) * RAD;
  const way = curve.points.map((p, i) => {
    if (i === 0 || i === last) return { x: 0, y: p.y > 0 ? 1 : 0 };
    frameAt(spline, t[i], frame);
    return { x: -frame.nx, y: -frame.ny };
  });
  if (curve.tailAngleDeg !== undefined) way.push(curve.tailAngleDeg === 90 ? { x: 0, y: 0 } : { x: -Math.sin(tail), y: Math.cos(tail) });
  if (curve.noseAngleDeg !== undefined) way.push(curve.noseAngleDeg === 90 ? { x: 0, y: 0 } : { x: -Math.sin(nose), y: -Math.cos(nose) });
  const values = new Float64Array(3 * outline.count);
  const basis = new Float64Array(12);
  return (u, out) => {
    frameAt(spline, u, frame);
    evalSpline(outline.unit, u, values, basis);
    out[outline.count] = -values[last] * frame.nx;
    for (let i = 0; i < outline.count; i++) out[i] = -values[i] * (frame.nx * way[i].x + frame.ny * way[i].y);
  };
}
