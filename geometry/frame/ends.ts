/**
 * The ends of the board inside the outer skins: solid nose and tail blocks where the box cannot go, and how
 * far the stringer reaches.
 */
import type { Plan } from '../types';

/** Least length of a block that closes a square end, mm; own choice. */
const LEAST_BLOCK = 20;
/** Half-breadths under this are left off a block: its tip is sanded to the outer skins anyway, mm. */
const TIP = 0.2;

/** Corners nearer than this to another or to an end are one with it, mm. */
const APART = 0.5;

/** The plan of a block: half-breadths at stations from tail to nose, (x, y) pairs. */
export interface BlockPlan {
  readonly end: 'tail' | 'nose';
  readonly x0: number;
  readonly x1: number;
  readonly half: Float64Array;
  /** Stations between its ends where its plan may turn a corner: where the strips stop, where the sides end. */
  readonly corners: readonly number[];
  /** Station of its inner face on the centreline, where the stringer stops. */
  readonly inner: number;
}

/**
 * The block at one end, or undefined where the box itself closes the end. It begins where cap and sole touch,
 * or where the two sides' boxes meet, and reaches to the end between the outer skins; a square end that the
 * boxes run to is closed between them by a block of LEAST_BLOCK. A box that runs round an end needs none.
 */
export function blockAt(plan: Plan, end: 'tail' | 'nose'): BlockPlan | undefined {
  const { rail, hull } = plan;
  const { samples } = rail;
  const tail = end === 'tail';
  const strips = rail.cap.s1 > rail.cap.s0 ? rail.cap : rail.sole;
  const stop = tail ? strips.s0 : strips.s1;
  const reached = tail ? stop < 1e-6 : stop > rail.face.length - 1e-6;
  const line = tail ? rail.face.tail : rail.face.nose;
  if (reached && line.kind !== 'open') return undefined;
  const at = sampleAt(plan, stop);
  // Distances from this end, so that both ends are laid alike.
  const from = (x: number) => (tail ? x : hull.length - x);
  const points: [number, number][] = [];
  const corners: number[] = [];
  const add = (x: number, y: number) => points.push([from(x), Math.max(0, y)]);
  const inner = line.kind === 'open' ? Math.max(LEAST_BLOCK, from(at.ribX)) : from(at.ribX);
  const order = (i: number) => (tail ? samples.n - 1 - i : i);
  if (inner > from(at.ribX) + 1e-9) {
    // Between the boxes: the rib-end line from the block's inner face to where the strips stop.
    points.push([inner, ribHalf(plan, tail ? inner : hull.length - inner)]);
    for (let i = 0; i < samples.n; i++) {
      const k = order(i);
      const d = from(samples.ribX[k]);
      if (d < inner - 1e-6 && (tail ? samples.s[k] > stop + 1e-6 : samples.s[k] < stop - 1e-6)) add(samples.ribX[k], samples.ribY[k]);
    }
  }
  add(at.ribX, at.ribY);
  corners.push(from(at.ribX));
  if (!reached) {
    add(at.x, at.y);
    corners.push(from(at.x));
    for (let i = 0; i < samples.n; i++) {
      const k = order(i);
      if (tail ? samples.s[k] < stop - 1e-6 : samples.s[k] > stop + 1e-6) add(samples.x[k], samples.y[k]);
    }
  }
  if (line.kind === 'open') {
    // The block's side goes on along its tangent to the plane of the board's end, or is cut off there.
    while (points.length > 2 && points[points.length - 2][0] <= 0) points.pop();
    const [lx, ly] = points[points.length - 1];
    const k = tail ? 0 : samples.n - 1;
    const slope = (tail ? -1 : 1) * (samples.ty[k] / samples.tx[k]);
    if (lx > 0) corners.push(lx);
    else points.pop();
    points.push([0, Math.max(0, ly + slope * lx)]);
  }
  // Stations must fall toward the end, and tips without width are left off.
  const kept: [number, number][] = [];
  for (const [d, y] of points) if (kept.length === 0 || d < kept[kept.length - 1][0] - 1e-6) kept.push([d, y]);
  const trimmed = trimTips(kept);
  if (trimmed.length < 2) return undefined;
  const ordered = tail ? trimmed.slice().reverse() : trimmed;
  const half = Float64Array.from(ordered.flatMap(([d, y]) => [tail ? d : hull.length - d, y]));
  const [x0, x1] = [half[0], half[half.length - 2]];
  return {
    end, x0, x1, half, inner: tail ? inner : hull.length - inner,
    corners: corners.map((d) => (tail ? d : hull.length - d)).sort((a, b) => a - b)
      .filter((x, i, all) => x > x0 + APART && x < x1 - APART && (i === 0 || x > all[i - 1] + APART)),
  };
}

/** Cut a list of (distance, half-breadth) off where it is narrower than TIP at either end. */
function trimTips(points: readonly [number, number][]): [number, number][] {
  let out = points.slice();
  for (let turn = 0; turn < 2; turn++) {
    while (out.length > 1 && out[0][1] < TIP && out[1][1] < TIP) out.shift();
    if (out.length > 1 && out[0][1] < TIP) {
      const [[d0, y0], [d1, y1]] = out;
      out[0] = [d0 + ((d1 - d0) * (TIP - y0)) / (y1 - y0), TIP];
    }
    out = out.reverse();
  }
  return out;
}

/** Box-face and rib-end points at a run, linear between samples. */
function sampleAt(plan: Plan, s: number): { x: number; y: number; ribX: number; ribY: number } {
  const { samples } = plan.rail;
  const i = Math.min(samples.n - 2, Math.max(0, Math.floor(s / samples.step)));
  const t = (s - samples.s[i]) / (samples.s[i + 1] - samples.s[i]);
  const mix = (v: Float64Array) => v[i] * (1 - t) + v[i + 1] * t;
  return { x: mix(samples.x), y: mix(samples.y), ribX: mix(samples.ribX), ribY: mix(samples.ribY) };
}

/** Half-breadth of the rib-end line at a station, linear between samples; that of its nearer end outside. */
export function ribHalf(plan: Plan, x: number): number {
  const { samples } = plan.rail;
  for (let i = 0; i + 1 < samples.n; i++) {
    const [a, b] = [samples.ribX[i], samples.ribX[i + 1]];
    if (x >= a && x <= b && b > a) return samples.ribY[i] + ((samples.ribY[i + 1] - samples.ribY[i]) * (x - a)) / (b - a);
  }
  return x < samples.ribX[0] ? samples.ribY[0] : samples.ribY[samples.n - 1];
}

/** Half-breadth of a block at a station, linear between its points. */
export function blockHalf(block: BlockPlan, x: number): number {
  const { half } = block;
  let i = 0;
  while (i + 4 < half.length && half[i + 2] < x) i += 2;
  const t = Math.min(1, Math.max(0, (x - half[i]) / (half[i + 2] - half[i])));
  return half[i + 1] * (1 - t) + half[i + 3] * t;
}

/**
 * Stations at which the stringer ends: at a block's inner face, and where the rib-end line is as wide as its
 * square end, so that no corner of it is in the box.
 */
export function stringerEnds(plan: Plan): { x0: number; x1: number } {
  const { samples } = plan.rail;
  const side = plan.design.frames.stringerThickness / 2;
  const wide = (i: number) => samples.ribY[i] >= side && samples.s[i] >= plan.rail.boxFrom && samples.s[i] <= plan.rail.boxTo;
  let first = 0;
  while (first < samples.n - 1 && !wide(first)) first++;
  let last = samples.n - 1;
  while (last > first && !wide(last)) last--;
  /** Station between a sample that is wide enough and its neighbour that is not. */
  const edge = (i: number, beyond: number): number => {
    if (beyond < 0 || beyond >= samples.n || !(samples.ribY[beyond] < side)) return samples.ribX[i];
    const t = (samples.ribY[i] - side) / (samples.ribY[i] - samples.ribY[beyond]);
    return samples.ribX[i] + t * (samples.ribX[beyond] - samples.ribX[i]);
  };
  const tail = blockAt(plan, 'tail');
  const nose = blockAt(plan, 'nose');
  return {
    x0: Math.max(tail ? tail.inner : -Infinity, edge(first, first - 1)),
    x1: Math.min(nose ? nose.inner : Infinity, edge(last, last + 1)),
  };
}
