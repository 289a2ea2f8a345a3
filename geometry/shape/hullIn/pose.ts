/** How a body from a file lies: guessed from its shape, confirmed by the maker, and brought to the board's own axes. */
import { EigenvalueDecomposition, Matrix } from 'ml-matrix';
import { BuildError } from '../../errors';
import { range } from '../../said';
import { UNIT_MM, type TableUnit } from '../lengths';
import { areaOf, type Triangles } from './body';

/** How a body is to be taken; what is left out is guessed. */
export interface PoseAsked {
  readonly unit?: TableUnit;
  /** Turned end for end, or bottom up, from what was guessed. */
  readonly endForEnd?: boolean;
  readonly overturned?: boolean;
}

/** A body in the board's axes, mm: x from its tail, y to starboard, z up, its lowest point at 0. */
export interface Posed {
  readonly body: Triangles;
  readonly unit: TableUnit;
  readonly length: number;
  readonly width: number;
  readonly depth: number;
}

/** Lengths of a board, mm. */
const LENGTHS = range(600, 6000);
/** Lengths that are likely, and units in the order in which one is tried. */
const LIKELY = [1300, 4000] as const;
const UNITS: readonly TableUnit[] = ['mm', 'inch', 'm', 'cm', 'foot'];
/** A file whose own axes lie so near to the body's keeps them: its maker laid them there. 3 degrees. */
const NEAR = Math.cos((3 * Math.PI) / 180);
/** What a board is at least: longer than wide, wider than deep, by so many times. */
const SLENDER = [1.6, 2] as const;

type Axis = [number, number, number];

/** The surface's middle and its three axes, the longest first: the eigenvectors of its second moments. */
function axesOf(body: Triangles): { middle: Axis; axes: Axis[] } {
  const { positions: p, indices } = body;
  const sum: Axis = [0, 0, 0];
  const second = new Float64Array(9);
  let area = 0;
  const each = (take: (at: Axis, weight: number) => void) => {
    for (let i = 0; i < indices.length; i += 3) {
      const [a, b, c] = [3 * indices[i], 3 * indices[i + 1], 3 * indices[i + 2]];
      take([(p[a] + p[b] + p[c]) / 3, (p[a + 1] + p[b + 1] + p[c + 1]) / 3, (p[a + 2] + p[b + 2] + p[c + 2]) / 3], areaOf(body, i / 3));
    }
  };
  each((at, weight) => {
    area += weight;
    for (let d = 0; d < 3; d++) sum[d] += weight * at[d];
  });
  if (!(area > 0)) throw new BuildError({ field: 'surface', value: 'no area', allowed: 'the surface of a board', message: 'the triangles have no area' });
  const middle = sum.map((v) => v / area) as Axis;
  each((at, weight) => {
    for (let r = 0; r < 3; r++) for (let s = 0; s < 3; s++) second[3 * r + s] += (weight / area) * (at[r] - middle[r]) * (at[s] - middle[s]);
  });
  const { eigenvectorMatrix: v, realEigenvalues: values } = new EigenvalueDecomposition(Matrix.from1DArray(3, 3, second), { assumeSymmetric: true });
  const order = [0, 1, 2].sort((a, b) => values[b] - values[a]);
  return { middle, axes: order.map((k) => [v.get(0, k), v.get(1, k), v.get(2, k)]) };
}

/** The file's own axes where all lie near to the body's. */
function snapped(axes: readonly Axis[]): Axis[] {
  const near = axes.map((axis) => axis.map((v) => (Math.abs(v) > NEAR ? Math.sign(v) : 0)) as Axis);
  return near.every((axis) => axis.some((v) => v !== 0)) ? near : [...axes];
}

const cross = (a: Axis, b: Axis): Axis => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const minus = (a: Axis): Axis => [-a[0], -a[1], -a[2]];

/** The body on axes that run to the nose and up; y to starboard, which turns right-handed axes round. */
function laid({ positions: p, indices }: Triangles, middle: Axis, x: Axis, z: Axis, scale: number): Triangles {
  // Starboard is to the right of who looks to the nose: x cross z.
  const y = cross(x, z);
  const out = new Float32Array(p.length);
  for (let i = 0; i < p.length; i += 3) {
    const [a, b, c] = [p[i] - middle[0], p[i + 1] - middle[1], p[i + 2] - middle[2]];
    out[i] = scale * (a * x[0] + b * x[1] + c * x[2]);
    out[i + 1] = scale * (a * y[0] + b * y[1] + c * y[2]);
    out[i + 2] = scale * (a * z[0] + b * z[1] + c * z[2]);
  }
  return { positions: out, indices };
}

/** Slabs across the length by which ends and sides are told apart. */
const SLABS = 40;

/** For each slab, from one end to the other: half-breadth, and the mean height of top and bottom in the middle third and in the outer ones. */
function portrait({ positions: p }: Triangles, x0: number, x1: number): { half: number; top: number; low: number; topOut: number; lowOut: number }[] {
  const slabs = Array.from({ length: SLABS }, () => ({ half: 0, top: -Infinity, low: Infinity, topOut: -Infinity, lowOut: Infinity }));
  const slabOf = (x: number) => slabs[Math.min(SLABS - 1, Math.max(0, Math.floor(((x - x0) / (x1 - x0)) * SLABS)))];
  for (let i = 0; i < p.length; i += 3) {
    const slab = slabOf(p[i]);
    slab.half = Math.max(slab.half, Math.abs(p[i + 1]));
  }
  for (let i = 0; i < p.length; i += 3) {
    const slab = slabOf(p[i]);
    const share = Math.abs(p[i + 1]) / slab.half;
    if (share < 0.3) {
      slab.top = Math.max(slab.top, p[i + 2]);
      slab.low = Math.min(slab.low, p[i + 2]);
    } else if (share > 0.5 && share < 0.8) {
      slab.topOut = Math.max(slab.topOut, p[i + 2]);
      slab.lowOut = Math.min(slab.lowOut, p[i + 2]);
    }
  }
  return slabs;
}

const mean = (values: readonly number[]): number => {
  const sound = values.filter(Number.isFinite);
  return sound.length === 0 ? 0 : sound.reduce((a, b) => a + b, 0) / sound.length;
};

/** Whether the body lies bottom up, and nose aft, as it is laid: the deck is the rounder side across, the nose the narrower end, and the ends rise. */
function wrongWay(body: Triangles, x0: number, x1: number): { overturned: boolean; endForEnd: boolean } {
  const slabs = portrait(body, x0, x1);
  const middle = slabs.slice(SLABS * 0.3, SLABS * 0.7);
  const half = Math.max(...slabs.map((slab) => slab.half));
  const bowTop = mean(middle.map((slab) => slab.top - slab.topOut));
  const bowLow = mean(middle.map((slab) => slab.lowOut - slab.low));
  const ends = (from: number, to: number, of: (slab: (typeof slabs)[number]) => number) => mean(slabs.slice(from, to).map(of));
  const mid = (slab: (typeof slabs)[number]) => (slab.top + slab.low) / 2;
  const rise = ends(1, 3, mid) + ends(SLABS - 3, SLABS - 1, mid) - 2 * mean(middle.map(mid));
  const overturned = bowTop - bowLow + 0.3 * rise < 0;
  const breadth = ends(1, 5, (slab) => slab.half) - ends(SLABS - 5, SLABS - 1, (slab) => slab.half);
  const lift = (ends(SLABS - 3, SLABS - 1, mid) - ends(1, 3, mid)) * (overturned ? -1 : 1);
  return { overturned, endForEnd: breadth / half + (8 * lift) / (x1 - x0) < 0 };
}

/** The body turned about its y axis so that the bottom is level at half its length, as a board is laid to measure rocker (common practice, no source). */
function levelled(body: Triangles, x0: number, x1: number): Triangles {
  const slabs = portrait(body, x0, x1);
  const k = SLABS / 2;
  const low = (i: number) => slabs[i].low;
  const slope = mean([2, 3, 4].map((d) => (low(k - 1 + d) - low(k - d)) / (((2 * d - 1) * (x1 - x0)) / SLABS)));
  if (!Number.isFinite(slope)) return body;
  return turnBody(body, { pitch: Math.atan(slope) }, [(x0 + x1) / 2, 0, 0]);
}

/** A small turn of a body, radians, and its shifts, mm. */
export interface Turn {
  readonly roll?: number;
  readonly pitch?: number;
  readonly yaw?: number;
  readonly across?: number;
  readonly along?: number;
}

/** A body turned about a point: by roll round x, by pitch the nose down, by yaw the nose to starboard, then shifted. */
export function turnBody({ positions: p, indices }: Triangles, { roll = 0, pitch = 0, yaw = 0, across = 0, along = 0 }: Turn, about: readonly [number, number, number]): Triangles {
  const out = new Float32Array(p.length);
  const [cr, sr, cp, sp, cy, sy] = [Math.cos(roll), Math.sin(roll), Math.cos(pitch), Math.sin(pitch), Math.cos(yaw), Math.sin(yaw)];
  for (let i = 0; i < p.length; i += 3) {
    const [x, y, z] = [p[i] - about[0], p[i + 1] - about[1], p[i + 2] - about[2]];
    const [y1, z1] = [cr * y - sr * z, sr * y + cr * z];
    const [x2, z2] = [cp * x + sp * z1, cp * z1 - sp * x];
    out[i] = cy * x2 - sy * y1 + about[0] + along;
    out[i + 1] = sy * x2 + cy * y1 + about[1] + across;
    out[i + 2] = z2 + about[2];
  }
  return { positions: out, indices };
}

/** Least and greatest of a body's coordinates. */
export function extentOf({ positions: p }: Triangles): { low: Axis; high: Axis } {
  const low: Axis = [Infinity, Infinity, Infinity];
  const high: Axis = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < p.length; i++) {
    const d = i % 3;
    if (p[i] < low[d]) low[d] = p[i];
    if (p[i] > high[d]) high[d] = p[i];
  }
  return { low, high };
}

/** The body moved so that this place is the origin. */
export const shifted = ({ positions, indices }: Triangles, origin: readonly [number, number, number]): Triangles =>
  ({ positions: positions.map((v, i) => v - origin[i % 3]), indices });

/** The body with its tail at x = 0, its lowest point at z = 0, and y = 0 midway between its sides. */
function settled(body: Triangles): Triangles {
  const { low, high } = extentOf(body);
  return shifted(body, [low[0], (low[1] + high[1]) / 2, low[2]]);
}

/** The unit in which a length is a likely one of a board; the file's own where it states one. */
function unitFor(length: number): TableUnit {
  return UNITS.find((unit) => length * UNIT_MM[unit] >= LIKELY[0] && length * UNIT_MM[unit] <= LIKELY[1]) ?? 'mm';
}

/** A body of any orientation brought to the board's axes. Throws a BuildError where it is no board by its size or shape. */
export function poseOf(raw: Triangles, asked: PoseAsked = {}, stated?: TableUnit): Posed {
  const { middle, axes } = axesOf(raw);
  const [x, , z] = snapped(axes);
  const own = axes.every((axis) => axis.some((v) => Math.abs(v) > NEAR));
  let body = laid(raw, middle, x, z, 1);
  const box = extentOf(body);
  const guess = wrongWay(body, box.low[0], box.high[0]);
  const [back, over] = [guess.endForEnd !== (asked.endForEnd ?? false), guess.overturned !== (asked.overturned ?? false)];
  const rawLength = box.high[0] - box.low[0];
  const unit = asked.unit ?? stated ?? unitFor(rawLength);
  body = laid(raw, middle, back ? minus(x) : x, over ? minus(z) : z, UNIT_MM[unit]);
  if (!own) {
    const { low, high } = extentOf(body);
    body = levelled(body, low[0], high[0]);
  }
  body = settled(body);
  const { high: [length, y, depth] } = extentOf(body);
  const width = 2 * y;
  if (!(length >= LENGTHS.value[0] && length <= LENGTHS.value[1])) {
    throw new BuildError({ field: 'length', value: { of: 'mm', value: length, decimals: 1 }, allowed: LENGTHS, message: 'is not that of a board: choose the unit the file is in' });
  }
  if (length < SLENDER[0] * width || width < SLENDER[1] * depth) {
    throw new BuildError({
      field: 'shape', value: { of: 'mm', value: [length, width, depth], between: 'by', decimals: 0 }, allowed: 'longer than wide, and wider than deep, as a board is', message: 'this does not look like a board',
    });
  }
  return { body, unit, length, width, depth };
}
