/**
 * A hull brought onto points of a body by damped Gauss-Newton (Levenberg 1944, Marquardt 1963): all values of all lines at
 * once, and the turns by which the body is off the board's axes. A point's distance hangs on the lines' values at its own
 * station, and each value on its curve's numbers by the cardinal splines; large misses count less (Huber 1964).
 */
import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import { cubicAt } from '../../curves/bezier';
import { evalSpline } from '../../curves/bspline';
import { frameAt, planeFrame } from '../../curves/plane';
import { valueAt } from '../../curves/graph';
import type { Design, LengthCurveName } from '../../design/schema';
import { bottomRise, deckFall, roundControls } from '../../hull/sections';
import type { Hull } from '../../types';
import { outsidePlace, outsideOf, roundSectionOf, type RoundSection } from './distance';
import { freedomOf, LENGTH_LINES, LIKE, outlineMoves, type Freedom } from './free';
import type { Turn } from './pose';

/** Turns of the body, and its shifts. */
const TURNS = ['roll', 'pitch', 'yaw', 'across', 'along'] as const;
/** A miss beyond so many mm, or so many times the usual one, counts as itself and no more as its square. */
const HUBER = { mm: 0.4, times: 3 } as const;
/** What a line's bend may cost against a miss of a millimetre at each point, as a share. Own choice: enough to settle what no point tells. */
const STIFF = 0.002;
/** The same for straying from where it was. */
const TIED = 0.0005;

/** How far the body is pitched from how it was laid, radians, before that counts. Own choice: a sixth of a degree. */
const LEVEL = 0.003;

/** Distances of all points and how large they are: the sum by Huber, and the median. */
export interface Misses {
  readonly r: Float64Array;
  readonly cost: number;
  readonly median: number;
}

/** A median of sizes. */
export function medianOf(values: ArrayLike<number>): number {
  const sizes = Float64Array.from(values, Math.abs).sort();
  return sizes.length === 0 ? 0 : sizes[sizes.length >> 1];
}

const limitOf = (median: number): number => Math.max(HUBER.mm, HUBER.times * 1.4826 * median);

/** How far points (x, y, z in a row) lie off a hull. `limit`: as of another hull, so that costs compare. */
export function missesOf(hull: Hull, points: Float32Array, limit?: number): Misses {
  const find = outsideOf(hull);
  const at = outsidePlace();
  const r = new Float64Array(points.length / 3);
  for (let i = 0; i < r.length; i++) r[i] = find(points[3 * i], points[3 * i + 1], points[3 * i + 2], at).r;
  const median = medianOf(r);
  const k = limit ?? limitOf(median);
  let cost = 0;
  for (const v of r) cost += Math.abs(v) <= k ? v * v : 2 * k * Math.abs(v) - k * k;
  return { r, cost, median };
}

/** The normal equations of one round. */
export interface Equations {
  readonly freedom: Freedom;
  readonly matrix: Matrix;
  readonly right: Matrix;
  readonly limit: number;
}

type Values = Record<LengthCurveName, number>;

/** Deck and bottom at a distance y from the centreline by the local values, and their slopes outward. */
function deckOf(v: Values, y: number, b: number): readonly [number, number] {
  const [fall, slope] = deckFall(v.crown, y, b);
  return [v.rocker + v.thickness - fall, -slope];
}
function bottomOf(v: Values, y: number, b: number): readonly [number, number] {
  const [rise, slope] = bottomRise(v.vee, v.concave, y, b);
  return [v.rocker + rise, slope];
}

/** Steps by which the round's values are tried, a small share of what each is like. */
const TRY = 1e-4;

/** What the round at a foot does where its local values change: the point at (arc, t), as inset and height. */
function roundOf(base: RoundSection, v0: Values, y: number, ny: number) {
  const [tuck0, turn0] = [base.inset[0], base.inset[6]];
  // How an inset follows what is aimed at where room is short (`sections.ts`): the fifth power of what is left of it.
  const ease = (inset: number, aimed: number) => Math.min(1, Math.max(0, inset / aimed)) ** 5;
  const [easeTuck, easeTurn] = [ease(tuck0, v0.tuck), ease(turn0, v0.turn)];
  const at = (inset: number) => Math.max(0, y + inset * ny);
  const [deck0, bottom0] = [deckOf(v0, at(turn0), y), bottomOf(v0, at(tuck0), y)];
  const controls = new Float64Array(14);
  const put = (i: number, inset: number, z: number) => {
    controls[2 * i] = inset;
    controls[2 * i + 1] = z;
  };
  return (v: Values, arc: 0 | 1, t: number, out: [number, number]): void => {
    const tuck = tuck0 + easeTuck * (v.tuck - v0.tuck);
    const turn = turn0 + easeTurn * (v.turn - v0.turn);
    const [deck, bottom] = [deckOf(v, at(turn), y), bottomOf(v, at(tuck), y)];
    roundControls({
      turn, tuck, full: v.fullness, apex: v.apex, zTurn: base.z[6] + deck[0] - deck0[0], zTuck: base.z[0] + bottom[0] - bottom0[0],
      deckSlope: base.deckSlope + ny * (deck[1] - deck0[1]), bottomSlope: base.bottomSlope + ny * (bottom[1] - bottom0[1]),
    }, put);
    for (const d of [0, 1] as const) {
      const k = 6 * arc + d;
      [out[d]] = cubicAt(controls[k], controls[k + 2], controls[k + 4], controls[k + 6], t);
    }
  };
}

/** Sets up a round: every point's row is added to the normal equations as it is found. */
export function equationsOf(design: Design, hull: Hull, points: Float32Array, median: number, about: readonly [number, number, number], pitched: number): Equations {
  const freedom = freedomOf(design.lines);
  const n = freedom.count + TURNS.length;
  const normal = new Float64Array(n * n);
  const right = new Float64Array(n);
  const limit = limitOf(median);
  const find = outsideOf(hull);
  const section = roundSectionOf(hull);
  const moves = outlineMoves(freedom, design.lines.outline);
  const across = new Float64Array(freedom.outline.count + 1);
  const base: RoundSection = { inset: new Float64Array(7), z: new Float64Array(7), deckSlope: 0, bottomSlope: 0 };
  const at = outsidePlace();
  const frame = planeFrame();
  const basis = new Float64Array(12);
  const row = new Float64Array(n);
  const used: number[] = [];
  const local: Partial<Record<LengthCurveName, number>> = {};
  const columns = new Float64Array(3 * Math.max(...LENGTH_LINES.map((name) => freedom.lines[name].count)));
  const values = {} as Values;
  const [from, to]: [[number, number], [number, number]] = [[0, 0], [0, 0]];
  const put = (k: number, v: number) => {
    if (v === 0) return;
    row[k] = v;
    used.push(k);
  };
  for (let i = 0; i < points.length; i += 3) {
    const [px, py, pz] = [points[i], points[i + 1], points[i + 2]];
    find(px, py, pz, at);
    used.length = 0;
    const [nx, ny, nz] = [at.nx, at.ny, at.nz];
    const [dx, dy, dz] = [px - about[0], py - about[1], pz - about[2]];
    put(freedom.count, ny * -dz + nz * dy);
    put(freedom.count + 1, nx * dz - nz * dx);
    put(freedom.count + 2, nx * -dy + ny * dx);
    put(freedom.count + 3, ny);
    put(freedom.count + 4, nx);
    if (at.zone === 'end' && nx > 0) put(freedom.count - 1, -1);
    if (at.zone !== 'end') {
      frameAt(hull.outline, at.u, frame);
      const rail = at.zone === 'rail';
      const x = rail ? frame.x : px;
      for (const name of LENGTH_LINES) {
        values[name] = valueAt(hull.lines[name], x);
        local[name] = 0;
      }
      let out = 0;
      if (rail) {
        section(at.u, base);
        const y = Math.max(1e-3, frame.y);
        const round = roundOf(base, { ...values }, y, frame.ny);
        round(values, at.arc, at.t, from);
        const side = py < 0 ? -1 : 1;
        const inward = nx * frame.nx + side * ny * frame.ny;
        for (const name of LENGTH_LINES) {
          const was = values[name];
          const step = TRY * LIKE[name];
          values[name] = was + step;
          round(values, at.arc, at.t, to);
          values[name] = was;
          local[name] = -(inward * (to[0] - from[0]) + nz * (to[1] - from[1])) / step;
        }
        out = inward;
      } else {
        const Y = Math.max(1, frame.y);
        const y = Math.min(Y, Math.abs(py));
        const v = y / Y;
        if (at.zone === 'deck') {
          local.rocker = -nz;
          local.thickness = -nz;
          local.crown = nz * y * v;
          out = -nz * values.crown * v * v;
        } else {
          local.rocker = -nz;
          local.vee = -nz * y;
          local.concave = nz * y * (3 * v - 2 * v * v);
          out = -nz * values.concave * (3 * v * v - 4 * v * v * v);
        }
      }
      for (const name of LENGTH_LINES) {
        const d = local[name] ?? 0;
        if (d === 0) continue;
        const { at: first, count, unit } = freedom.lines[name];
        evalSpline(unit, x, columns, basis);
        for (let k = 0; k < count; k++) put(first + k, d * columns[k]);
      }
      if (out !== 0) {
        moves(at.u, across);
        for (let k = 0; k < freedom.outline.count; k++) put(freedom.outline.at + k, out * across[k]);
        put(freedom.count - 1, out * across[freedom.outline.count]);
      }
    }
    const weight = Math.abs(at.r) <= limit ? 1 : limit / Math.abs(at.r);
    for (const k of used) {
      const w = weight * row[k];
      right[k] -= w * at.r;
      for (const j of used) if (j <= k) normal[k * n + j] += w * row[j];
    }
  }
  settle(design, freedom, points.length / 3, normal, right, n);
  // A rocker that leans as a whole tells next to nothing of how the board lay: it stays near to how it was laid.
  const level = (TIED * points.length) / 3 / LEVEL ** 2;
  normal[(freedom.count + 1) * (n + 1)] += level;
  right[freedom.count + 1] -= level * pitched;
  // The lower half alone was summed.
  for (let k = 0; k < n; k++) for (let j = 0; j < k; j++) normal[j * n + k] = normal[k * n + j];
  return { freedom, matrix: Matrix.from1DArray(n, n, normal), right: Matrix.columnVector(right), limit };
}

/** Adds what keeps a line from bending, and from straying, where the points do not tell. */
function settle(design: Design, freedom: Freedom, count: number, normal: Float64Array, right: Float64Array, n: number): void {
  for (const name of LENGTH_LINES) {
    const { points } = design.lines[name];
    const { at, count: own } = freedom.lines[name];
    const stiff = name === 'rocker' || name === 'thickness' ? 0 : (STIFF * count) / LIKE[name] ** 2;
    for (let i = 1; i + 1 < points.length; i++) {
      const [h0, h1] = [points[i].x - points[i - 1].x, points[i + 1].x - points[i].x];
      const bend = [(2 * h1) / (h0 + h1), -2, (2 * h0) / (h0 + h1)];
      const now = bend[0] * points[i - 1].v + bend[1] * points[i].v + bend[2] * points[i + 1].v;
      for (let a = 0; a < 3; a++) {
        right[at + i - 1 + a] -= stiff * bend[a] * now;
        for (let b = 0; b < 3; b++) normal[(at + i - 1 + a) * n + at + i - 1 + b] += stiff * bend[a] * bend[b];
      }
    }
    for (let i = 0; i < own; i++) normal[(at + i) * n + at + i] += (TIED * count) / (i < points.length ? LIKE[name] ** 2 : 1);
  }
  for (let i = 0; i < freedom.outline.count; i++) {
    const k = freedom.outline.at + i;
    normal[k * n + k] += TIED * count;
  }
  normal[(freedom.count - 1) * n + freedom.count - 1] += 20 * TIED * count;
  for (let k = freedom.count; k < n; k++) normal[k * n + k] += 1e-9 + 1e-6 * normal[k * n + k];
}

/** The step that the equations ask for, damped: lines' numbers and turns; undefined where they settle nothing. */
export function stepOf({ freedom, matrix, right }: Equations, damping: number): { step: number[]; turn: Turn } | undefined {
  const damped = matrix.clone();
  for (let k = 0; k < damped.rows; k++) damped.set(k, k, damped.get(k, k) * (1 + damping) + 1e-12);
  const cholesky = new CholeskyDecomposition(damped);
  if (!cholesky.isPositiveDefinite()) return undefined;
  const all = cholesky.solve(right).to1DArray();
  if (!all.every(Number.isFinite)) return undefined;
  const [roll, pitch, yaw, across, along] = all.slice(freedom.count);
  return { step: all.slice(0, freedom.count), turn: { roll, pitch, yaw, across, along } };
}
