/**
 * Fair this: move a curve's points least for the smoothest curvature.
 *
 * What is minimised. With a_j the move of point j (across the curve: along v for a length curve, square to the
 * outline for the outline), C the curve through the moved points and n its normal,
 *
 *   sum a_j^2 + lambda * integral (n . C^(k))^2 dt,   k = 3 ('variation') or k = 2 ('bending').
 *
 * k = 2 is the linearised bending energy of the batten, which the natural cubic spline makes least among all
 * curves through its points (Holladay's theorem; J. H. Ahlberg, E. N. Nilson & J. L. Walsh, The Theory of Splines
 * and Their Applications, 1967, from memory); it pulls a curve straight. k = 3 is the change of that curvature: it
 * leaves an even bend alone and takes out only what makes the bend uneven, so it is the default. Both are quadratic
 * in the moves, so the least is one linear least-squares problem, solved by its singular values for every lambda
 * at once.
 *
 * For the outline, dt is chord length and the frame is the present curve's, renewed until it settles; and each span
 * of length h counts h^(2k-1) times its integral, the square of its departure from a straight (k = 2) or even (k = 3)
 * bend in millimetres. Without that a round tip, a hundred times as curved as the middle, would be all that counts.
 *
 * lambda is raised until one point reaches the move limit; or it is infinite, when the smoothest curve of all
 * lies within the limit.
 */
import { Matrix, SingularValueDecomposition } from 'ml-matrix';
import { breaks, evalSpline, type Spline } from '../curves/bspline';
import { frameAt, planeFrame } from '../curves/plane';
import { graphRange } from '../curves/range';
import { combOf, type FairnessFigures } from './comb';
import { cardinals, cornersOf, isOutline, parametersOf, setEnds, splineOf, type DesignCurve } from './line';
import { footGrid, footOn } from './project';

/** Which integral is made small. */
export type FairMeasure = 'variation' | 'bending';

export interface FairOptions {
  /** No point moves farther than this, in the curve's own unit (mm, or the ratio). More than 0. */
  readonly limit: number;
  /** Indices of points that stay. Corners always stay, and the ends unless `freeEnds`. */
  readonly keep?: readonly number[];
  /** Let the end points of a length curve move too. The outline's ends always stay. */
  readonly freeEnds?: boolean;
  readonly measure?: FairMeasure;
  /** Values a length curve may hold: a point that would leave them stays where it was drawn (see `held`). */
  readonly range?: { readonly min: number; readonly max: number };
  /** Weigh the integral by this instead of raising it to the limit: mm^3 (bending), mm^5 (variation), a number (outline). */
  readonly lambda?: number;
}

export interface FairResult<C extends DesignCurve> {
  readonly curve: C;
  /** Move of each point along its direction: up for a length curve, outboard for the outline. */
  readonly moves: readonly number[];
  readonly greatestMove: { readonly index: number; readonly amount: number };
  /** Farthest the curve itself moved anywhere, and the station: never less than the points' own. */
  readonly curveMove: { readonly amount: number; readonly x: number };
  /** Points that stayed because they would have left `range`. */
  readonly held: readonly number[];
  /** Weight reached; Infinity when the smoothest curve of all lies within the limit. */
  readonly lambda: number;
  /** The integral that was made small, before and after: value^2 mm^-3 or mm^-5; for the outline mm2. */
  readonly roughness: { readonly before: number; readonly after: number };
  /** Figures of the whole curve before and after, by true curvature (v'' for ratios: see CombOptions). */
  readonly before: FairnessFigures;
  readonly after: FairnessFigures;
}

/** A quadratic functional of point moves: roughness(a) = |R a + r|^2. */
export interface Roughness {
  /** Rows by free points. */
  readonly rows: Matrix;
  readonly rest: Float64Array;
  /** Index of the point behind each column. */
  readonly free: readonly number[];
}

const GAUSS3 = [
  [0.5 - Math.sqrt(0.15), 5 / 18],
  [0.5, 8 / 18],
  [0.5 + Math.sqrt(0.15), 5 / 18],
] as const;

/**
 * The roughness of a spline through points, as a linear map of the free points' moves. `spline` is the present
 * curve (one or two columns), `unit` its cardinal splines, `directions` the way each point moves (rows of dim).
 * Three Gauss points a span: exact for one column, where the integrand is at most a square. A curve of two columns
 * is weighed span by span, as said at the head of this file.
 */
export function roughnessOf(spline: Spline, unit: Spline, directions: Float64Array, free: readonly number[], order: 2 | 3): Roughness {
  const { dim } = spline;
  const n = unit.dim;
  const spans = breaks(spline.knots);
  const count = (spans.length - 1) * GAUSS3.length;
  const rows = new Matrix(count, free.length);
  const rest = new Float64Array(count);
  const basis = new Float64Array(12);
  const frame = planeFrame();
  /** The wanted derivative of every column of a spline at three places of a span, rows of dim. */
  const derivatives = (s: Spline, a: number, h: number): Float64Array => {
    const d = new Float64Array(3 * s.dim);
    const buffer = new Float64Array(3 * s.dim);
    GAUSS3.forEach(([t], g) => {
      evalSpline(s, a + h * t, buffer, basis);
      d.set(buffer.subarray(2 * s.dim), g * s.dim);
    });
    if (order === 2) return d;
    const reach = h * (GAUSS3[2][0] - GAUSS3[0][0]);
    const third = new Float64Array(s.dim);
    for (let c = 0; c < s.dim; c++) third[c] = (d[2 * s.dim + c] - d[c]) / reach;
    for (let g = 0; g < 3; g++) d.set(third, g * s.dim);
    return d;
  };
  for (let k = 0; k + 1 < spans.length; k++) {
    const a = spans[k];
    const h = spans[k + 1] - a;
    const own = derivatives(spline, a, h);
    const units = derivatives(unit, a, h);
    GAUSS3.forEach(([t, w], g) => {
      const at = k * 3 + g;
      const weight = Math.sqrt(w * h * (dim === 1 ? 1 : h ** (2 * order - 1)));
      const normal = dim === 1 ? [1] : (frameAt(spline, a + h * t, frame), [-frame.nx, -frame.ny]);
      for (let d = 0; d < dim; d++) rest[at] += weight * normal[d] * own[g * dim + d];
      free.forEach((j, c) => {
        let across = 0;
        for (let d = 0; d < dim; d++) across += normal[d] * directions[j * dim + d];
        rows.set(at, c, weight * across * units[g * n + j]);
      });
    });
  }
  return { rows, rest, free };
}

/** Moves that minimise |a|^2 + lambda |R a + r|^2, as a function of lambda; Infinity gives the least moves to the least roughness. */
export function leastMoves({ rows, rest }: Roughness): (lambda: number) => Float64Array {
  const svd = new SingularValueDecomposition(rows, { autoTranspose: true });
  const s = svd.diagonal;
  const u = svd.leftSingularVectors;
  const v = svd.rightSingularVectors;
  const load = s.map((_, i) => {
    let sum = 0;
    for (let r = 0; r < rest.length; r++) sum += u.get(r, i) * rest[r];
    return sum;
  });
  const nothing = Math.max(...s) * 1e-11;
  return (lambda) => {
    const out = new Float64Array(rows.columns);
    s.forEach((sigma, i) => {
      const f = lambda === Infinity ? (sigma > nothing ? 1 / sigma : 0) : (lambda * sigma) / (1 + lambda * sigma * sigma);
      for (let j = 0; j < out.length; j++) out[j] -= v.get(j, i) * f * load[i];
    });
    return out;
  };
}

const greatest = (moves: ArrayLike<number>): number => {
  let most = 0;
  for (let i = 0; i < moves.length; i++) most = Math.max(most, Math.abs(moves[i]));
  return most;
};

/** The first lambda at which a move reaches the limit, to a ten-millionth; Infinity where none does. */
function lambdaAt(limit: number, movesAt: (lambda: number) => Float64Array, top: number): number {
  if (greatest(movesAt(Infinity)) <= limit) return Infinity;
  let low = -60;
  let high = low;
  const reach = (e: number) => greatest(movesAt(10 ** e)) - limit;
  while (reach(high) < 0) {
    low = high;
    high += 0.5;
    if (high > top) return Infinity;
  }
  for (let i = 0; i < 60 && high - low > 1e-9; i++) {
    const mid = (low + high) / 2;
    if (reach(mid) < 0) low = mid;
    else high = mid;
  }
  return 10 ** low;
}

function checkOptions(curve: DesignCurve, options: FairOptions): void {
  if (!(options.limit > 0) || !Number.isFinite(options.limit)) throw new RangeError(`limit: ${options.limit} given; more than 0 allowed`);
  if (options.lambda !== undefined && !(options.lambda >= 0)) throw new RangeError(`lambda: ${options.lambda} given; 0 or more allowed`);
  for (const i of options.keep ?? []) {
    if (!Number.isInteger(i) || i < 0 || i >= curve.points.length) {
      throw new RangeError(`keep: point ${i} given; 0 to ${curve.points.length - 1} allowed`);
    }
  }
}

/** Directions in which the points move, rows of dim: up, or outboard square to the outline. */
function directionsOf(curve: DesignCurve, spline: Spline): Float64Array {
  if (!isOutline(curve)) return new Float64Array(curve.points.length).fill(1);
  const t = parametersOf(curve);
  const frame = planeFrame();
  const out = new Float64Array(t.length * 2);
  t.forEach((u, i) => {
    frameAt(spline, u, frame);
    out.set([-frame.nx, -frame.ny], i * 2);
  });
  return out;
}

function moved<C extends DesignCurve>(curve: C, directions: Float64Array, moves: ArrayLike<number>): C {
  const points = isOutline(curve)
    ? curve.points.map((p, i) => ({ ...p, x: p.x + directions[2 * i] * moves[i], y: p.y + directions[2 * i + 1] * moves[i] }))
    : curve.points.map((p, i) => ({ ...p, v: p.v + moves[i] }));
  return { ...curve, points } as C;
}

/** Farthest the curve moved. Exact for a length curve (extremes of the difference spline), else by feet on the old one. */
function curveMove(before: DesignCurve, after: DesignCurve): { amount: number; x: number } {
  const a = splineOf(before);
  const b = splineOf(after);
  if (!isOutline(before)) {
    const { min, xMin, max, xMax } = graphRange({ ...a, points: b.points.map((v, i) => v - a.points[i]) });
    return -min > max ? { amount: -min, x: xMin } : { amount: max, x: xMax };
  }
  const grid = footGrid(a);
  const row = new Float64Array(6);
  const basis = new Float64Array(12);
  const spans = breaks(b.knots);
  let most = { amount: 0, x: 0 };
  for (let k = 0; k + 1 < spans.length; k++) {
    for (let i = 0; i <= 24; i++) {
      evalSpline(b, spans[k] + ((spans[k + 1] - spans[k]) * i) / 24, row, basis);
      const [x, y] = row;
      const { distance } = footOn(a, grid, x, y);
      if (distance > most.amount) most = { amount: distance, x };
    }
  }
  return most;
}

/** Rounds of renewing the outline's frame and chord lengths, and the change of moves at which they have settled, mm. */
const ROUNDS = 30;
const SETTLED = 1e-7;

interface Solved<C extends DesignCurve> {
  readonly present: C;
  readonly moves: Float64Array;
  readonly lambda: number;
  readonly before: number;
  readonly after: number;
}

/** The least of the sum with the points in `stays` held. */
function solveFair<C extends DesignCurve>(curve: C, options: FairOptions, stays: ReadonlySet<number>): Solved<C> {
  const order = options.measure === 'bending' ? 2 : 3;
  const free = curve.points.flatMap((_, i) => (stays.has(i) ? [] : [i]));
  const spline = splineOf(curve);
  const directions = directionsOf(curve, spline);
  const moves = new Float64Array(curve.points.length);
  const start = roughnessOf(spline, cardinals(parametersOf(curve), cornersOf(curve), setEnds(curve)), directions, [], order);
  const before = start.rest.reduce((sum, r) => sum + r * r, 0);
  let lambda = options.lambda ?? (free.length === 0 ? Infinity : 0);
  let after = before;
  let present = curve;
  for (let round = 0; round < (isOutline(curve) ? ROUNDS : 1) && free.length > 0; round++) {
    const s = round === 0 ? spline : splineOf(present);
    const unit = cardinals(parametersOf(present), cornersOf(curve), setEnds(curve));
    const rough = roughnessOf(s, unit, directions, free, order);
    // The rest is reckoned from the curve as drawn: take the present moves back out.
    const here = rough.rows.mmul(Matrix.columnVector(free.map((i) => moves[i]))).to1DArray();
    const rest = rough.rest.map((r, i) => r - here[i]);
    const movesAt = leastMoves({ ...rough, rest });
    lambda = options.lambda ?? lambdaAt(options.limit, movesAt, 60);
    const next = movesAt(lambda);
    if (options.lambda !== undefined && greatest(next) > options.limit) {
      throw new RangeError(`lambda: ${lambda} given moves a point ${greatest(next)}, beyond the limit ${options.limit}`);
    }
    let change = 0;
    free.forEach((i, c) => {
      change = Math.max(change, Math.abs(moves[i] - next[c]));
      moves[i] = next[c];
    });
    const all = rough.rows.mmul(Matrix.columnVector([...next])).to1DArray();
    after = rest.reduce((sum, r, i) => sum + (r + all[i]) ** 2, 0);
    present = moved(curve, directions, moves);
    if (change < SETTLED) break;
  }
  return { present, moves, lambda, before, after };
}

/**
 * Fair a design curve: see the head of this file for what is minimised. Points keep their stations (length
 * curves) or move square to the outline; end tangents, corners and kept points stay. `ratio` as in CombOptions.
 * Throws a RangeError for options outside their range and a BuildError where the faired outline folds back.
 * Between its points the curve may still swing out of the schema's range: the caller runs the board through
 * `checkDesign`.
 */
export function fairCurve<C extends DesignCurve>(curve: C, options: FairOptions & { readonly ratio?: boolean }): FairResult<C> {
  checkOptions(curve, options);
  const last = curve.points.length - 1;
  const stays = new Set([...(options.keep ?? []), ...cornersOf(curve)]);
  if (options.freeEnds !== true || isOutline(curve)) stays.add(0).add(last);
  const held: number[] = [];
  let solved = solveFair(curve, options, stays);
  const leaves = (present: DesignCurve): number[] => {
    const { range } = options;
    if (!range || isOutline(present)) return [];
    return present.points.flatMap((p, i) => (!stays.has(i) && (p.v < range.min || p.v > range.max) ? [i] : []));
  };
  for (let out = leaves(solved.present); out.length > 0; out = leaves(solved.present)) {
    for (const i of out) stays.add(i);
    held.push(...out);
    solved = solveFair(curve, options, stays);
  }
  const { present, moves, lambda, before, after } = solved;
  let index = 0;
  moves.forEach((m, i) => {
    if (Math.abs(m) > Math.abs(moves[index])) index = i;
  });
  return {
    curve: present,
    moves: [...moves],
    greatestMove: { index, amount: Math.abs(moves[index]) },
    curveMove: curveMove(curve, present),
    held: held.sort((a, b) => a - b),
    lambda,
    roughness: { before, after },
    before: combOf(curve, options).figures,
    after: combOf(present, options).figures,
  };
}
