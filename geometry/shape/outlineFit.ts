/**
 * An outline fitted to plan points. The parametric least-squares spline gives the number and places of the points;
 * then the design's own curve through them (chord-length parameters, set end directions) is brought onto the rows by
 * Gauss-Newton: each inner point moved square to the curve, each free end direction turned, so that the sum of squared
 * distances from the rows to the curve is least. Distances are to the nearest point of the curve (feet renewed each
 * round; The NURBS Book, section 9.4, calls this parameter correction).
 */
import { Matrix, QrDecomposition } from 'ml-matrix';
import { evalSpline, type Spline } from '../curves/bspline';
import { chordParameters, interpolateCubic } from '../curves/interpolate';
import { buildOutline } from '../curves/outline';
import { frameAt, planeFrame } from '../curves/plane';
import { LEAST_POINT_STEP } from '../design/cross';
import { MAX_POINTS, type OutlineDesign } from '../design/schema';
import { BuildError } from '../errors';
import { everMoreKnots, type FitData, type KnotFit, type Miss } from './leastSquares';
import { cardinals, parametersOf } from './line';
import { footGrid, footOn } from './project';

/** End directions known beforehand, degrees as in the design. */
export type OutlineEnds = Pick<OutlineDesign, 'tailAngleDeg' | 'noseAngleDeg'>;

/** The same of a piece between corners: at a corner it ends naturally. */
interface PieceEnds extends OutlineEnds {
  readonly cornerAft?: boolean;
  readonly cornerFore?: boolean;
}

/** Rows used to bring the curve onto the data; the verdict is on all of them. Own choice. */
const STEERING_ROWS = 240;
/** A parametric fit that misses by more tolerances than this is not worth steering while more points may be had. */
const HOPELESS = 4;
const ROUNDS = 12;
/** Up to so many rows, a curve through all of them is tried when nothing simpler meets the tolerance. */
const THREADED_ROWS = 100;
/** End directions the design allows, degrees. */
const ANGLE = { min: -60, max: 90 } as const;
const DEG = 180 / Math.PI;
/** An end on the centreline that comes out steeper than this is round, where that is no farther off. Own choice, degrees. */
const STEEP = 85;

/** Signed distances of the rows from an outline and their feet. */
function distances(spline: Spline, rows: Float64Array): { miss: Miss; u: Float64Array; signed: Float64Array } {
  const grid = footGrid(spline);
  const n = rows.length / 2;
  const u = new Float64Array(n);
  const signed = new Float64Array(n);
  let greatest = 0;
  let index = 0;
  let squares = 0;
  for (let i = 0; i < n; i++) {
    const foot = footOn(spline, grid, rows[2 * i], rows[2 * i + 1]);
    u[i] = foot.u;
    signed[i] = foot.signed;
    squares += foot.distance ** 2;
    if (foot.distance > greatest) {
      greatest = foot.distance;
      index = i;
    }
  }
  return { miss: { greatest, index, squares }, u, signed };
}

/** At most STEERING_ROWS of the rows, evenly along the outline, both ends among them. */
function fewer(rows: Float64Array): Float64Array {
  const n = rows.length / 2;
  if (n <= STEERING_ROWS) return rows;
  const along = chordParameters(rows, 2);
  const step = along[n - 1] / (STEERING_ROWS - 1);
  const kept: number[] = [];
  for (let i = 0; i < n - 1; i++) if (along[i] >= kept.length * step) kept.push(i);
  kept.push(n - 1);
  return Float64Array.from(kept.flatMap((i) => [rows[2 * i], rows[2 * i + 1]]));
}

/** The design outline through the knots of a parametric fit, its free ends directed as the fit leaves them. */
function fromFit(data: FitData, fit: KnotFit, ends: PieceEnds): OutlineDesign {
  const { t } = data;
  const row = new Float64Array(6);
  const basis = new Float64Array(12);
  const { rows } = data;
  const end = rows.length - 2;
  const inner = fit.inner.map((u) => {
    evalSpline(fit.spline, u, row, basis);
    return { x: row[0], y: row[1] };
  });
  const angle = (u: number, sign: 1 | -1) => {
    evalSpline(fit.spline, u, row, basis);
    return Math.min(ANGLE.max, Math.max(ANGLE.min, Math.atan2(sign * row[3], row[2]) * DEG));
  };
  return {
    points: [{ x: rows[0], y: rows[1] }, ...inner, { x: rows[end], y: rows[end + 1] }],
    tailAngleDeg: ends.cornerAft ? undefined : (ends.tailAngleDeg ?? angle(t[0], 1)),
    noseAngleDeg: ends.cornerFore ? undefined : (ends.noseAngleDeg ?? angle(t[t.length - 1], -1)),
  };
}

/** One Gauss-Newton step, or undefined where the rows do not settle it. */
function steer(outline: OutlineDesign, rows: Float64Array, ends: PieceEnds): OutlineDesign | undefined {
  const spline = buildOutline(outline);
  const last = outline.points.length - 1;
  const t = parametersOf(outline);
  const { cornerAft = false, cornerFore = false } = ends;
  const unit = cardinals(t, [], { start: !cornerAft, end: !cornerFore });
  const zeros = new Float64Array(t.length);
  const lean = interpolateCubic(t, zeros, 1, [], { start: [1], end: cornerFore ? undefined : [0] });
  const leanEnd = interpolateCubic(t, zeros, 1, [], { start: cornerAft ? undefined : [0], end: [1] });
  const tail = (outline.tailAngleDeg ?? 0) / DEG;
  const nose = (outline.noseAngleDeg ?? 0) / DEG;
  const turns = [
    ...(ends.tailAngleDeg === undefined && !cornerAft ? [{ key: 'tailAngleDeg' as const, spline: lean, x: -Math.sin(tail), y: Math.cos(tail) }] : []),
    ...(ends.noseAngleDeg === undefined && !cornerFore ? [{ key: 'noseAngleDeg' as const, spline: leanEnd, x: -Math.sin(nose), y: -Math.cos(nose) }] : []),
  ];
  const { u, signed } = distances(spline, rows);
  const frame = planeFrame();
  const way = outline.points.map((_, i) => {
    frameAt(spline, t[i], frame);
    return { x: -frame.nx, y: -frame.ny };
  });
  const inner = last - 1;
  const columns = inner + turns.length;
  if (columns === 0 || u.length < columns) return undefined;
  const jacobian = new Matrix(u.length, columns);
  const basis = new Float64Array(12);
  const values = new Float64Array(3 * t.length);
  u.forEach((at, r) => {
    frameAt(spline, at, frame);
    const nx = -frame.nx;
    const ny = -frame.ny;
    evalSpline(unit, at, values, basis);
    for (let j = 1; j < last; j++) jacobian.set(r, j - 1, values[j] * (nx * way[j].x + ny * way[j].y));
    turns.forEach((turn, k) => {
      evalSpline(turn.spline, at, values, basis);
      jacobian.set(r, inner + k, values[0] * (nx * turn.x + ny * turn.y));
    });
  });
  const qr = new QrDecomposition(jacobian);
  if (!qr.isFullRank()) return undefined;
  const step = qr.solve(Matrix.columnVector([...signed])).to1DArray();
  const next: OutlineDesign = {
    ...outline,
    points: outline.points.map((p, i) => (i === 0 || i === last ? p : { x: p.x + step[i - 1] * way[i].x, y: p.y + step[i - 1] * way[i].y })),
  };
  turns.forEach((turn, k) => {
    next[turn.key] = Math.min(ANGLE.max, Math.max(ANGLE.min, (outline[turn.key] ?? 0) + step[inner + k] * DEG));
  });
  return next;
}

interface Fitted {
  readonly outline: OutlineDesign;
  readonly miss: Miss;
}

/** An outline with its miss, or undefined where it folds back, crosses the centreline or crowds its points. */
function judged(outline: OutlineDesign, rows: Float64Array): Fitted | undefined {
  if (outline.points.some((p, i) => i > 0 && !(p.x - outline.points[i - 1].x >= LEAST_POINT_STEP))) return undefined;
  try {
    return { outline, miss: distances(buildOutline(outline), rows).miss };
  } catch (error) {
    if (error instanceof BuildError || error instanceof RangeError) return undefined;
    throw error;
  }
}

/** Bring an outline onto the rows as long as the sum of squares falls; the round that missed least is kept. */
function settle(start: OutlineDesign, rows: Float64Array, ends: PieceEnds, tolerance: number): Fitted | undefined {
  let best = judged(start, rows);
  let present = best;
  for (let round = 0; present && best && round < ROUNDS && best.miss.greatest > tolerance * 0.2; round++) {
    const stepped = steer(present.outline, rows, ends);
    const next = stepped && judged(stepped, rows);
    if (!next || next.miss.squares > present.miss.squares * 0.999) break;
    present = next;
    if (next.miss.greatest < best.miss.greatest) best = next;
  }
  return best;
}

/** An outline with one more point, where a row lies farthest from it. */
function withWorst({ outline, miss }: Fitted, rows: Float64Array): OutlineDesign {
  const point = { x: rows[2 * miss.index], y: rows[2 * miss.index + 1] };
  return { ...outline, points: [...outline.points, point].sort((a, b) => a.x - b.x) };
}

/** One search with the end directions in `ends` held and the others free, at most `most` points. */
function search(rows: Float64Array, few: Float64Array, tolerance: number, ends: PieceEnds, most: number): Fitted | undefined {
  const data: FitData = { t: chordParameters(few, 2), dim: 2, rows: few };
  /** Steered on few rows, judged on all. */
  const tried = (start: OutlineDesign) => {
    const found = settle(start, few, ends, tolerance);
    return found && (few === rows ? found : judged(found.outline, rows));
  };
  let best: Fitted | undefined;
  const met = () => best !== undefined && best.miss.greatest <= tolerance;
  let passed: KnotFit | undefined;
  for (const fit of everMoreKnots(data, tolerance, most - 2, LEAST_POINT_STEP)) {
    const hopeless = fit.miss.greatest > HOPELESS * tolerance;
    passed = hopeless && (!passed || fit.miss.greatest < passed.miss.greatest) ? fit : passed;
    const found = hopeless ? undefined : tried(fromFit(data, fit, ends));
    // Or the best so far with a point where it misses most, if that makes no more points.
    const more: Fitted | undefined = best && best.outline.points.length <= fit.inner.length + 1 ? tried(withWorst(best, rows)) : undefined;
    for (const one of [found, more]) if (one && (!best || one.miss.greatest < best.miss.greatest)) best = one;
    if (met()) break;
  }
  if (!best && passed) best = tried(fromFit(data, passed, ends));
  // The batten through every row misses none; points are removed below.
  if (!met() && data.t.length <= Math.min(most, THREADED_ROWS)) {
    const tailAngleDeg = ends.tailAngleDeg ?? best?.outline.tailAngleDeg;
    const noseAngleDeg = ends.noseAngleDeg ?? best?.outline.noseAngleDeg;
    const points = Array.from(data.t, (_, i) => ({ x: rows[2 * i], y: rows[2 * i + 1] }));
    const through = judged({ points, tailAngleDeg, noseAngleDeg }, rows);
    if (through && (!best || through.miss.greatest < best.miss.greatest)) best = through;
  }
  for (let k = 1; best && met() && k < best.outline.points.length - 1;) {
    const less = tried({ ...best.outline, points: best.outline.points.filter((_, i) => i !== k) });
    if (less && less.miss.greatest <= tolerance) best = less;
    else k++;
  }
  return best;
}

/** The fewest points found for a piece without corners, at most `most`; undefined where none holds together. */
function fitPiece(rows: Float64Array, tolerance: number, ends: PieceEnds, most: number): Fitted | undefined {
  const n = rows.length / 2;
  const { tailAngleDeg: tail, noseAngleDeg: nose } = ends;
  if (n < 4) {
    const points = Array.from({ length: n }, (_, i) => ({ x: rows[2 * i], y: rows[2 * i + 1] }));
    return judged({ points, ...(tail === undefined ? {} : { tailAngleDeg: tail }), ...(nose === undefined ? {} : { noseAngleDeg: nose }) }, rows);
  }
  const few = fewer(rows);
  const ways = (said: number | undefined, y: number, corner: boolean | undefined) => (said !== undefined ? [said] : y === 0 && !corner ? [undefined, ANGLE.max] : [undefined]);
  let best: Fitted | undefined;
  for (const tailAngleDeg of ways(tail, rows[1], ends.cornerAft)) {
    for (const noseAngleDeg of ways(nose, rows[2 * n - 1], ends.cornerFore)) {
      const met = best !== undefined && best.miss.greatest <= tolerance;
      const found = search(rows, few, tolerance, { ...ends, tailAngleDeg, noseAngleDeg }, best && met ? best.outline.points.length - 1 : most);
      const wins = found && (!best || (met ? found.miss.greatest <= tolerance : found.miss.greatest < best.miss.greatest));
      if (wins) best = found;
    }
  }
  for (const [key, said, y] of [['tailAngleDeg', tail, rows[1]], ['noseAngleDeg', nose, rows[2 * n - 1]]] as const) {
    if (!best || said !== undefined || y !== 0 || !((best.outline[key] ?? 0) > STEEP) || best.outline[key] === ANGLE.max) continue;
    const held: PieceEnds = { ...ends, tailAngleDeg: best.outline.tailAngleDeg, noseAngleDeg: best.outline.noseAngleDeg, [key]: ANGLE.max };
    const steered = settle({ ...best.outline, [key]: ANGLE.max }, few, held, tolerance);
    const round = steered && judged(steered.outline, rows);
    if (round && round.miss.greatest <= Math.max(tolerance, best.miss.greatest)) best = round;
  }
  return best;
}

/** Pieces fitted from corner to corner and put together; undefined where one does not hold together. */
function fitBroken(rows: Float64Array, tolerance: number, ends: OutlineEnds, corners: readonly number[]): Fitted | undefined {
  const cuts = [0, ...corners, rows.length / 2 - 1];
  const points: OutlineDesign['points'][number][] = [];
  const angles: { tailAngleDeg?: number; noseAngleDeg?: number } = {};
  for (let k = 0; k + 1 < cuts.length; k++) {
    const [first, last] = [k === 0, k + 2 === cuts.length];
    const piece = rows.slice(2 * cuts[k], 2 * cuts[k + 1] + 2);
    const found = fitPiece(piece, tolerance, {
      ...(first ? { tailAngleDeg: ends.tailAngleDeg } : { cornerAft: true }), ...(last ? { noseAngleDeg: ends.noseAngleDeg } : { cornerFore: true }),
    }, MAX_POINTS - points.length - 2 * (cuts.length - 2 - k));
    if (!found) return undefined;
    const { points: own, tailAngleDeg, noseAngleDeg } = found.outline;
    if (first && tailAngleDeg !== undefined) angles.tailAngleDeg = tailAngleDeg;
    if (last && noseAngleDeg !== undefined) angles.noseAngleDeg = noseAngleDeg;
    points.push(...own.slice(0, last ? undefined : -1).map((p, i) => (i === 0 && !first ? { ...p, corner: true } : p)));
  }
  return judged({ points, ...angles }, rows);
}

/**
 * The outline with the fewest points found that passes the rows within the tolerance, or the closest. `rows` are
 * (x, y) pairs, tail to nose; the first and last are the outline's ends. An end on the centreline whose direction is
 * not said is tried pointed, at the best angle, and round; round wins where it needs fewer points, or the other is next to round. `corners`: rows at
 * which it has a corner, rising; it goes without where it lies closer then. Chord lengths are taken along the few rows
 * that steer, so that the jitter of a dense table does not lengthen them. Throws a BuildError where no outline through
 * the rows holds together.
 */
export function fitOutline(rows: Float64Array, tolerance: number, ends: OutlineEnds, corners: readonly number[] = []): Fitted {
  const broken = corners.length > 0 ? fitBroken(rows, tolerance, ends, corners) : undefined;
  const smooth = broken && broken.miss.greatest <= tolerance ? undefined : fitPiece(rows, tolerance, ends, MAX_POINTS);
  const best = broken && smooth ? (smooth.miss.greatest < broken.miss.greatest ? smooth : broken) : (broken ?? smooth);
  if (!best) {
    throw new BuildError({
      field: 'halfBreadth', value: `${rows.length / 2} rows`, allowed: 'half-breadths that rise and fall along the board', message: 'no outline through these offsets holds together',
    });
  }
  return best;
}
