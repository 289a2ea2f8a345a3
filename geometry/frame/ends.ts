/**
 * The ends of the board inside the outer skins: nose and tail blocks where the box cannot go, rings or solid, and how
 * far the stringer reaches.
 */
import { frameAt, planeFrame } from '../curves/plane';
import { BuildError } from '../errors';
import { offsetAt, planLine } from '../rail/planLine';
import { runOf } from '../rail/query';
import { innerFace } from '../rail/laid';
import type { Plan, PlanLine } from '../types';

/** Width of a ring along the box face where the maker names none, mm: own choice. */
export const RING_WIDTH = 40;
/** A ring whose hole would be shorter along the board, or less than half as wide, is left solid, mm: own choice. */
const LEAST_HOLE = 20;
/** Spacing of points along a hole's edge and along the outline, mm. */
const HOLE_STEP = 2;
/** Half-breadths under this are left off a block: its tip is sanded to the outer skins anyway, mm. */
const TIP = 0.2;
/** Corners nearer than this to another or to an end are one with it, mm. */
const APART = 0.5;
/** The hole of a ring across a square end turns its corner within this, mm, so that its edge stays one function of the station. */
const TURN = 0.01;

/** The inner face lies on the strips' ends where they are no farther apart than this, mm: samples miss a line by less. */
const SAME = 0.05;

/** A stretch of run, one side, that a block reaches over beside its body: between sole and cap, or from the sole to the deck. */
export interface BesideBlock {
  readonly kind: 'tongue' | 'over';
  readonly s0: number;
  readonly s1: number;
}

/** The plan of a block: half-breadths at stations from tail to nose, (x, y) pairs. */
export interface BlockPlan {
  readonly end: 'tail' | 'nose';
  readonly x0: number;
  readonly x1: number;
  readonly half: Float64Array;
  /** The same less what stands over a sole that runs on: the body, from skin to skin. */
  readonly body: Float64Array;
  /** The edge of a ring's hole, from its crown to the inner face or the other way, stations rising; absent where the block is solid. */
  readonly hole?: Float64Array;
  /** Whether the hole opens at once, across a square end: from its crown to the next point. */
  readonly square: boolean;
  /** Stations between its ends where its body may turn a corner: where the strips stop, where the sides end. */
  readonly corners: readonly number[];
  /** Station of its inner face. */
  readonly inner: number;
  /** Station at which the stringer stops: the inner face, or the crown of a ring's hole. */
  readonly crown: number;
  readonly beside: readonly BesideBlock[];
  /** Where the outer skins butt on it: run, and stations of its landing's inner and outer corner; absent where they go round it. */
  readonly landing?: { readonly s: number; readonly face: number; readonly outline: number };
}

const known = new WeakMap<Plan, Partial<Record<'tail' | 'nose', { readonly block: BlockPlan | undefined }>>>();

/**
 * The block at one end, or undefined where the box itself closes the end. It begins where the strips end, and reaches
 * to the end between the outer skins, or to the finished outline from where they butt on it; a square end that the boxes
 * run to is closed between them. A box that runs round an end needs none. Kept while the plan lives.
 */
export function blockAt(plan: Plan, end: 'tail' | 'nose'): BlockPlan | undefined {
  const kept = known.get(plan) ?? {};
  known.set(plan, kept);
  return (kept[end] ??= { block: layBlock(plan, end) }).block;
}

function layBlock(plan: Plan, end: 'tail' | 'nose'): BlockPlan | undefined {
  const { rail, hull, design } = plan;
  const ended = rail.ends[end];
  if (!ended && rail.face[end].kind !== 'open') return undefined;
  const tail = end === 'tail';
  const last = tail ? 0 : rail.face.length;
  const stop = ended?.s ?? last;
  const sole = tail ? rail.sole.s0 : rail.sole.s1;
  const under = ended?.cause === 'touch' && Math.abs(sole - stop) > 1e-3;
  const face = innerFace(rail, hull.length, end);
  const whole = sideOf(plan, end, face, stop);
  const body = under ? sideOf(plan, end, face, sole) : whole;
  if (!whole || !body) return undefined;
  const { half } = whole;
  const [x0, x1] = [half[0], half[half.length - 2]];
  // As the strips' samples have it, so that block and strips share one plane; where it comes to a tip, the tip's own.
  const inner = tail ? Math.max(x1, face) : Math.min(x0, face);
  const hole = holeOf(plan, end, tail ? x1 : x0);
  const stretch = (kind: BesideBlock['kind'], a: number, b: number): BesideBlock => ({ kind, s0: Math.min(a, b), s1: Math.max(a, b) });
  const step = ended?.skinsTo === undefined ? undefined : landingAt(plan, ended.skinsTo);
  return {
    end, x0, x1, half, body: body.half, inner, ...(step && ended?.skinsTo !== undefined ? { landing: { s: ended.skinsTo, face: step.face[0], outline: step.outline[0] } } : {}), crown: hole ? crownOf(hole.edge, tail, design.frames.stringerThickness / 2) : inner,
    ...(hole ? { hole: hole.edge } : {}), square: hole?.square ?? false,
    corners: body.corners.sort((a, b) => a - b).filter((x, i, all) => x > x0 + APART && x < x1 - APART && (i === 0 || x > all[i - 1] + APART)),
    beside: [
      ...(ended && ended.rowsTo !== stop ? [stretch('tongue', stop, ended.rowsTo)] : []),
      ...(under ? [stretch('over', stop, sole)] : []),
    ],
  };
}

/**
 * One side of a block in plan: along the rib-end line from its inner face to run `to`, out to the box face there, and
 * along that to the end; where the outer skins butt on it, out once more at their end and along the finished outline. (x, y) pairs, stations rising, and the stations where it turns a corner.
 */
function sideOf(plan: Plan, end: 'tail' | 'nose', inner: number, to: number): { half: Float64Array; corners: number[] } | undefined {
  const { rail, hull } = plan;
  const { samples } = rail;
  const tail = end === 'tail';
  // Distances from this end, so that both ends are laid alike.
  const from = (x: number) => (tail ? x : hull.length - x);
  const at = sampleAt(plan, to);
  const points: [number, number][] = [];
  const corners = [from(at.ribX)];
  const add = (x: number, y: number) => points.push([from(x), Math.max(0, y)]);
  /** Samples in order toward the end, beyond run `to` or before it. */
  const walk = (beyond: boolean, each: (k: number) => void) => {
    for (let i = 0; i < samples.n; i++) {
      const k = tail ? samples.n - 1 - i : i;
      const off = tail ? to - samples.s[k] : samples.s[k] - to;
      if (beyond ? off > 1e-6 : off < -1e-6) each(k);
    }
  };
  const depth = from(inner);
  if (depth > from(at.ribX) + SAME) {
    points.push([depth, ribHalf(plan, inner)]);
    walk(false, (k) => {
      if (from(samples.ribX[k]) < depth - 1e-6) add(samples.ribX[k], samples.ribY[k]);
    });
  }
  add(at.ribX, at.ribY);
  if (tail ? to > 1e-6 : to < rail.face.length - 1e-6) {
    add(at.x, at.y);
    corners.push(from(at.x));
    const skinsTo = rail.ends[end]?.skinsTo;
    walk(true, (k) => {
      if (skinsTo === undefined || (tail ? samples.s[k] > skinsTo : samples.s[k] < skinsTo)) add(samples.x[k], samples.y[k]);
    });
    if (skinsTo !== undefined) {
      const { face, outline, u } = landingAt(plan, skinsTo);
      add(...face);
      add(...outline);
      corners.push(from(face[0]), from(outline[0]));
      outlineTo(plan, end, u, add);
    }
  }
  if (rail.face[end].kind === 'open') {
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
  const trimmed = trimTips(falling(points));
  if (trimmed.length < 2) return undefined;
  return { half: stationsOf(trimmed, tail, hull.length), corners: corners.map((d) => (tail ? d : hull.length - d)) };
}

/** Where outer skins end at a run: the corners of the step there in plan, on the box face and on the outline, and the outline's parameter. */
export function landingAt(plan: Plan, s: number): { face: [number, number]; outline: [number, number]; u: number } {
  const run = runOf(plan);
  const u = run.map.parameterAt(s);
  const { x, y, nx, ny } = frameAt(plan.hull.outline, u, planeFrame());
  const { faceOffset } = run.sizes;
  return { face: [x + faceOffset * nx, y + faceOffset * ny], outline: [x, y], u };
}

/** The outline's points from parameter u to an end of the board, no farther apart than its steps, each told to `add`. */
function outlineTo({ hull: { outline } }: Pick<Plan, 'hull'>, end: 'tail' | 'nose', u: number, add: (x: number, y: number) => void): void {
  const last = end === 'tail' ? outline.knots[0] : outline.knots[outline.knots.length - 1];
  const frame = planeFrame();
  const steps = Math.max(1, Math.ceil((Math.abs(last - u) * frameAt(outline, u, frame).speed) / HOLE_STEP));
  for (let i = 1; i <= steps; i++) {
    frameAt(outline, u + ((last - u) * i) / steps, frame);
    add(frame.x, frame.y);
  }
}

/** The bottom skin's edge beyond where the outer skins butt, from there to the end: under the block it reaches to the outline. `count` points, the first the landing's inner corner. */
export function landedEdge(plan: Plan, end: 'tail' | 'nose', s: number, count: number): [number, number][] {
  const { face, outline, u } = landingAt(plan, s);
  const { knots } = plan.hull.outline;
  const last = end === 'tail' ? knots[0] : knots[knots.length - 1];
  return [face, outline, ...Array.from({ length: count - 2 }, (_, i): [number, number] => {
    const { x, y } = frameAt(plan.hull.outline, u + (last - u) * Math.sin((Math.PI * (i + 1)) / (2 * (count - 2))), planeFrame());
    return [x, Math.max(0, y)];
  })];
}

/** Points whose distance falls all the way; others are left out. */
function falling(points: readonly [number, number][]): [number, number][] {
  const kept: [number, number][] = [];
  for (const p of points) if (kept.length === 0 || p[0] < kept[kept.length - 1][0] - 1e-6) kept.push(p);
  return kept;
}

/** Falling distances from an end as (x, y) pairs of rising station. */
const stationsOf = (points: readonly [number, number][], tail: boolean, length: number): Float64Array =>
  Float64Array.from((tail ? points.slice().reverse() : points).flatMap(([d, y]) => [tail ? d : length - d, y]));

/**
 * The hole of a ring: the box face's parallel a ring's width further in, from where the two sides' come together to the
 * inner face; at a square end as far from that too. Undefined where the block is solid, by choice or for want of a hole.
 * A block is a ring unless the maker says otherwise, but for the small ones that only close an end.
 */
function holeOf(plan: Plan, end: 'tail' | 'nose', inner: number): { edge: Float64Array; square: boolean } | undefined {
  const { design, hull, rail } = plan;
  if ((design.ends?.[end]?.block ?? (rail.ends[end]?.cause === 'bend' ? 'ring' : 'solid')) === 'solid') return undefined;
  const tail = end === 'tail';
  const width = design.ends?.ringWidth ?? RING_WIDTH;
  const line = width >= 2 * design.rail.stripWidth ? parallelAt(plan, rail.face.offset + width) : undefined;
  if (!line) return undefined;
  const from = (x: number) => (tail ? x : hull.length - x);
  const depth = from(inner);
  const least = rail.face[end].kind === 'open' ? width : 0;
  const { pieces } = line;
  const piece = tail ? pieces[0] : pieces[pieces.length - 1];
  const steps = Math.max(1, Math.ceil((piece.s1 - piece.s0) / HOLE_STEP));
  const frame = planeFrame();
  const points: [number, number][] = [];
  for (let i = 0; i <= steps && (points.length === 0 || points[points.length - 1][0] < depth); i++) {
    const t = tail ? i / steps : 1 - i / steps;
    offsetAt(hull.outline, line.offset, piece.u0 + (piece.u1 - piece.u0) * t, frame);
    const d = from(frame.x);
    if (d >= least && (points.length === 0 || d > points[points.length - 1][0] + 1e-6)) points.push([d, Math.max(0, frame.y)]);
  }
  const last = points.length - 1;
  if (last < 1 || points[last][0] < depth) return undefined;
  const [[d0, y0], [d1, y1]] = [points[last - 1], points[last]];
  points[last] = [depth, y0 + ((y1 - y0) * (depth - d0)) / (d1 - d0)];
  const [first, y] = points[0];
  const square = y > TIP;
  if (square) points.splice(0, 1, [first, 0], [first + TURN, y]);
  else points[0] = [first, 0];
  if (depth - first < LEAST_HOLE || Math.max(...points.map((p) => p[1])) < LEAST_HOLE / 4) return undefined;
  return { edge: stationsOf(points.reverse(), tail, hull.length), square };
}

/** Station on the inside of a ring where its hole is as wide as the stringer, `side` half its thickness. */
function crownOf(hole: Float64Array, tail: boolean, side: number): number {
  const n = hole.length / 2;
  for (let i = 1; i < n; i++) {
    const [a, b] = tail ? [i - 1, i] : [n - i, n - 1 - i];
    const [y0, y1] = [hole[2 * a + 1], hole[2 * b + 1]];
    if (y1 >= side) return hole[2 * a] + ((hole[2 * b] - hole[2 * a]) * (side - y0)) / (y1 - y0);
  }
  return hole[tail ? hole.length - 2 : 0];
}

/** The outline's parallel, or undefined where nothing of it is left. */
function parallelAt({ hull }: Plan, offset: number): PlanLine | undefined {
  try {
    return planLine(hull.outline, offset, 'ends.ringWidth');
  } catch (error) {
    if (error instanceof BuildError) return undefined;
    throw error;
  }
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

/** Half-breadth of a line of a block's plan at a station, straight between its points; that of its nearer end beyond it. */
export function halfAt(half: Float64Array, x: number): number {
  let i = 0;
  while (i + 4 < half.length && half[i + 2] < x) i += 2;
  const t = Math.min(1, Math.max(0, (x - half[i]) / (half[i + 2] - half[i])));
  return half[i + 1] * (1 - t) + half[i + 3] * t;
}

/** Breadth of a ring's hole at a station, one side, mm; 0 where there is none. */
export const holeAt = ({ hole }: Pick<BlockPlan, 'hole'>, x: number): number => (hole && x >= hole[0] && x <= hole[hole.length - 2] ? halfAt(hole, x) : 0);

/**
 * Stations at which the stringer ends: at a block's inner face or on the inside of a ring, and where the rib-end line is
 * as wide as its square end, so that no corner of it is in the box. A board with a waist narrower than that has it over
 * the longest stretch that is wide enough.
 */
export function stringerEnds(plan: Plan): { x0: number; x1: number } {
  const { samples } = plan.rail;
  const side = plan.design.frames.stringerThickness / 2;
  const wide = (i: number) => samples.ribY[i] >= side && samples.s[i] >= plan.rail.boxFrom && samples.s[i] <= plan.rail.boxTo;
  let [first, last] = [samples.n - 1, samples.n - 1];
  for (let i = 0, from = 0; i < samples.n; i++) {
    if (!wide(i)) from = i + 1;
    else if (i - from >= last - first) [first, last] = [from, i];
  }
  /** Station between a sample that is wide enough and its neighbour that is not. */
  const edge = (i: number, beyond: number): number => {
    if (beyond < 0 || beyond >= samples.n || !(samples.ribY[beyond] < side)) return samples.ribX[i];
    const t = (samples.ribY[i] - side) / (samples.ribY[i] - samples.ribY[beyond]);
    return samples.ribX[i] + t * (samples.ribX[beyond] - samples.ribX[i]);
  };
  const tail = blockAt(plan, 'tail');
  const nose = blockAt(plan, 'nose');
  return {
    x0: Math.max(tail ? tail.crown : -Infinity, edge(first, first - 1)),
    x1: Math.min(nose ? nose.crown : Infinity, edge(last, last + 1)),
  };
}
