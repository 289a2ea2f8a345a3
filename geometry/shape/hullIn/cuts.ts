/** What a body's cuts tell of its main lines, as a table of offsets; and points of its outside to steer by. */
import { firstBeyond } from '../../curves/chords';
import { BuildError } from '../../errors';
import type { OffsetRow, OffsetTable } from '../offsets';
import type { OutlineEnds } from '../outlineFit';
import type { Triangles } from './body';
import { cutSizes, slicesOf, type Slice } from './slices';
import { medianOf } from './steer';

/** Cuts along the board, and points that steer. Own choice: the round's radius is seen by several. */
const CUTS = 121;
const STEERING = 3000;
/** What lies farther out than this from the widest place of its cut is the rail's, mm. Own choice. */
const RAIL = 45;

/** Stations of the cuts: even, and closer toward the ends. */
export function stationsOf(length: number): number[] {
  const step = length / (CUTS - 1);
  const even = Array.from({ length: CUTS - 2 }, (_, i) => (i + 1) * step);
  const near = [0.5, 1, 2, 4, 8, 13, 19].filter((x) => x < step);
  return [...near, ...even, ...near.map((x) => length - x)].sort((a, b) => a - b);
}

/** Thickness that a tip has at least to begin the fit with, mm. Own choice. */
const LEAST_TIP = 3;

/** A line through (a, b) pairs at 0, by the two given. */
const carried = (a: readonly [number, number], b: readonly [number, number], to: number): number => a[1] + ((to - a[0]) * (b[1] - a[1])) / (b[0] - a[0]);

type Row = ReturnType<typeof cutSizes>;
const halfOf = (row: Row): number => (row.starboard - row.port) / 2;

/** An end's breadth goes with its distance to a power: of a square one about 0, of a round one a half, of a pointed one 1. Between them, by own choice. */
const POWER = { square: 0.21, round: 0.737 } as const;
/** Breadths over distances that differ by a smaller share are on one straight line to the tip. Own choice. */
const ON_ONE = 0.01;

/**
 * What kind of end the cuts run into: from `near`, the cuts by their distance from it. Of few triangles the nearest run straight
 * to the tip, as those of a pointed end do: what they stand for shows beyond them. `chord`: how far such a round one runs straight.
 */
function endOf(near: readonly { readonly d: number; readonly half: number }[]): { readonly kind: 'square' | 'round' | 'pointed'; readonly half: number; readonly chord: number } {
  const at = (d: number) => near.reduce((best, row) => (Math.abs(row.d - d) < Math.abs(best.d - d) ? row : best));
  const power = (from: number, to: number) => {
    const [a, b] = [at(from), at(to)];
    return Math.log(a.half / b.half) / Math.log(a.d / b.d);
  };
  const tip = power(0.5, 2);
  if (tip < POWER.square) return { kind: 'square', half: carried([at(0.5).d, at(0.5).half], [at(2).d, at(2).half], 0), chord: 0 };
  const bent = near.find(({ d, half }) => Math.abs(half / d / (near[0].half / near[0].d) - 1) > ON_ONE)?.d ?? Infinity;
  if (tip < POWER.round) return { kind: 'round', half: 0, chord: 0 };
  return power(2 * bent, 8 * bent) < POWER.round ? { kind: 'round', half: 0, chord: bent } : { kind: 'pointed', half: 0, chord: 0 };
}

/** The cuts as a table of offsets, its ends carried on where the rail round or a tip hides them. At a round end no breadth is taken nearer than so many times as far as it runs straight, or so many millimetres. */
export function tableOf(slices: readonly Slice[], length: number, off = 1): { table: OffsetTable; ends: OutlineEnds } {
  const rows = slices.map(cutSizes).filter((row) => Number.isFinite(row.starboard) && Number.isFinite(row.port));
  if (rows.length < 12) throw new BuildError({ field: 'surface', value: `${rows.length} of ${slices.length} cuts`, allowed: 'a surface from tail to nose', message: 'too little of the board is there' });
  const ends = (['tail', 'nose'] as const).map((end) => {
    const d = (x: number) => (end === 'tail' ? x : length - x);
    const near = rows.map((row) => ({ d: d(row.x), half: halfOf(row), row })).sort((a, b) => a.d - b.d);
    const { kind, half, chord } = endOf(near);
    const clear = kind === 'round' ? 30 : 0;
    const sound = near.filter(({ d: at, row }) => at >= clear && Number.isFinite(row.low));
    if (sound.length < 4) throw new BuildError({ field: 'centreline', value: `nothing near the ${end}`, allowed: 'a deck and a bottom along the centreline', message: 'the body is open along its centreline' });
    const [a, b] = [sound[0], sound[kind === 'round' ? 2 : 3]];
    return {
      clear, half, kind, near: kind === 'round' && (off > 1 || chord > 0) ? off * Math.max(1, chord) : 0,
      rocker: carried([a.d, a.row.low], [b.d, b.row.low], 0),
      // Of sides that are not alike a tip lies beside the middle, and thickness carried on to there is none, or less.
      thickness: Math.max(LEAST_TIP, carried([a.d, a.row.high - a.row.low], [b.d, b.row.high - b.row.low], 0)),
    };
  });
  const inner = rows.map((row, i): OffsetRow => {
    const sound = row.x >= ends[0].clear && length - row.x >= ends[1].clear && Number.isFinite(row.low);
    return { x: row.x, line: i + 2, ...(row.x >= ends[0].near && length - row.x >= ends[1].near ? { halfBreadth: halfOf(row) } : {}), ...(sound ? { rocker: row.low, thickness: row.high - row.low } : {}) };
  });
  const tip = (k: 0 | 1): OffsetRow => ({ x: k * length, line: k * (inner.length + 1) + 1, halfBreadth: ends[k].half, rocker: ends[k].rocker, thickness: ends[k].thickness });
  const [tail, nose] = ends.map(({ kind }) => kind === 'round');
  return { table: { length, rows: [tip(0), ...inner, tip(1)] }, ends: { ...(tail ? { tailAngleDeg: 90 } : {}), ...(nose ? { noseAngleDeg: 90 } : {}) } };
}

/** How much neighbouring values jump about a fair line: from their fourth differences, whose noise is the root of 70 times theirs. */
export function noiseOf(values: readonly number[]): number {
  const jumps = values.slice(4).map((v, i) => (v - 4 * values[i + 3] + 6 * values[i + 2] - 4 * values[i + 1] + values[i]) / Math.sqrt(70));
  return 1.4826 * medianOf(jumps);
}

/** A body of more corners than this steers by them already. Own choice. */
const MANY = STEERING;
/** A corner whose triangles look so differently, as the length of their normals' mean, is on a sharp edge: what is beside it may be flat. Own choice: a right angle's is 0.7. */
const SHARP = 0.85;

/** The corners of a body on no sharp edge, (x, y, z) in a row. */
function smoothCorners({ positions: p, indices }: Triangles): number[] {
  const sums = new Float64Array(p.length);
  const counts = new Uint32Array(p.length / 3);
  for (let i = 0; i < indices.length; i += 3) {
    const [a, b, c] = [3 * indices[i], 3 * indices[i + 1], 3 * indices[i + 2]];
    const [ux, uy, uz, vx, vy, vz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2], p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
    const [nx, ny, nz] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
    const size = Math.hypot(nx, ny, nz);
    if (!(size > 0)) continue;
    for (const k of [a, b, c]) {
      sums[k] += nx / size;
      sums[k + 1] += ny / size;
      sums[k + 2] += nz / size;
      counts[k / 3]++;
    }
  }
  return Array.from(counts).flatMap((n, i) => (Math.hypot(sums[3 * i], sums[3 * i + 1], sums[3 * i + 2]) > SHARP * n ? [p[3 * i], p[3 * i + 1], p[3 * i + 2]] : []));
}

/**
 * Whether a place lies far from any corner of a body: farther than its corners are apart where they are even. A body's corners lie
 * on what it was made of; what is between them runs along chords, inside of it where there are few.
 */
function clearOf(body: Triangles, length: number, side: number): (x: number, y: number, z: number) => boolean {
  const corners = body.positions.length / 3;
  if (corners > MANY) return () => true;
  // The board's surface is about twice its plan.
  const apart = Math.sqrt((4 * length * side) / corners);
  const smooth = smoothCorners(body);
  return (x, y, z) => {
    for (let i = 0; i < smooth.length; i += 3) if (Math.hypot(smooth[i] - x, smooth[i + 1] - y, smooth[i + 2] - z) < apart) return false;
    return true;
  };
}

/** Points of the outside, thinned so that they lie about evenly, closer along the rails: (x, y, z) in a row. */
export function steeringPoints(body: Triangles, slices: readonly Slice[], length: number, side: number): Float32Array {
  const stations = slices.map(({ x }) => x);
  const halves = slices.map((slice) => halfOf(cutSizes(slice)) || 0);
  const clear = clearOf(body, length, side);
  const between: number[] = [];
  for (const { x, pieces } of slices) for (let i = 0; i < pieces.length; i += 4) if (clear(x, pieces[i], pieces[i + 1])) between.push(x, pieces[i], pieces[i + 1]);
  const fill = (cell: number): Map<number, number[]> => {
    const cells = new Map<number, number[]>();
    const put = (x: number, y: number, z: number) => {
      const edge = Math.abs(y) > halves[Math.min(slices.length - 1, firstBeyond(stations, x))] - RAIL;
      const across = edge ? cell / 6 : cell;
      const id = ((Math.floor(x / cell) * 2 + (edge ? 1 : 0)) * 4096 + Math.floor((y + side) / across)) * 4096 + Math.floor((z + 500) / across);
      if (!cells.has(id)) cells.set(id, [x, y, z]);
    };
    const { positions: p } = body;
    for (let i = 0; i < p.length; i += 3) put(p[i], p[i + 1], p[i + 2]);
    for (let i = 0; i < between.length; i += 3) put(between[i], between[i + 1], between[i + 2]);
    return cells;
  };
  // The board's surface is about twice its plan; half of the points go along the rails.
  let cell = Math.sqrt((4 * length * side) / STEERING) * 2;
  let cells = fill(cell);
  for (let i = 0; i < 4 && cells.size > 1.3 * STEERING; i++) {
    cell *= Math.sqrt(cells.size / STEERING);
    cells = fill(cell);
  }
  return Float32Array.from([...cells.values()].flat());
}

/** Cuts that a silhouette is drawn from. */
const DRAWN = 80;

/** A body's silhouettes: at stations from the tail its reach to port and starboard, and its lowest and highest point; and the cut at half its length. */
export interface Silhouette {
  readonly x: readonly number[];
  readonly port: readonly number[];
  readonly starboard: readonly number[];
  readonly low: readonly number[];
  readonly high: readonly number[];
  readonly middle: Float64Array;
}

/** The silhouettes of a body that lies in the board's axes. */
export function silhouetteOf(body: Triangles, length: number): Silhouette {
  const slices = slicesOf(body, Array.from({ length: DRAWN }, (_, i) => (length * (i + 0.5)) / DRAWN)).filter(({ pieces }) => pieces.length > 0);
  const heights = slices.map(({ pieces }) => pieces.filter((_, i) => i % 2 === 1));
  const sides = slices.map(({ pieces }) => pieces.filter((_, i) => i % 2 === 0));
  const least = (values: Float64Array) => values.reduce((a, b) => Math.min(a, b), Infinity);
  const most = (values: Float64Array) => values.reduce((a, b) => Math.max(a, b), -Infinity);
  const { pieces } = slices[slices.length >> 1] ?? { pieces: new Float64Array(0) };
  // A scan's cut is thinned: it is only looked at.
  const every = Math.max(1, Math.ceil(pieces.length / 4 / 800));
  return {
    x: slices.map(({ x }) => x), port: sides.map(least), starboard: sides.map(most), low: heights.map(least), high: heights.map(most),
    middle: pieces.filter((_, i) => Math.floor(i / 4) % every === 0),
  };
}
