/**
 * Least-squares cubic B-splines through the ends of the data: Piegl & Tiller, The NURBS Book, 2nd ed. 1997,
 * section 9.4.1 (normal equations 9.65 to 9.67) on knots of their equations 9.68 and 9.69, and the fewest knots
 * that meet a tolerance, found by splitting, moving and taking out.
 */
import { controlCount, cubicBasis, evalSpline, findSpan, type Spline } from '../curves/bspline';
import { factorBand, solveBand } from '../curves/band';

/** Data in rows of `dim` numbers at strictly increasing parameters. */
export interface FitData {
  readonly t: Float64Array;
  readonly dim: number;
  readonly rows: Float64Array;
}

/** Clamped cubic knots over [a, b] with the inner knots given. */
export function clampedKnots(a: number, b: number, inner: readonly number[]): Float64Array {
  return Float64Array.from([a, a, a, a, ...inner, b, b, b, b]);
}

/** Inner knots for `count` inner knots by the data's own spread: every span holds data (The NURBS Book, eqs. 9.68, 9.69). */
export function spreadKnots(t: Float64Array, count: number): number[] {
  const d = t.length / (count + 1);
  return Array.from({ length: count }, (_, k) => {
    const j = k + 1;
    const i = Math.floor(j * d);
    const alpha = j * d - i;
    return (1 - alpha) * t[i - 1] + alpha * t[i];
  });
}

/**
 * The cubic spline on clamped `knots` that passes through the first and last data row and minimises the sum of
 * squared distances of the others at their parameters. The inner rows must lie so that no basis function is empty
 * of data (Schoenberg-Whitney); a RangeError otherwise.
 */
export function leastSquares(data: FitData, knots: Float64Array): Spline {
  const { t, dim, rows } = data;
  const m = t.length - 1;
  const n = controlCount(knots);
  const points = new Float64Array(n * dim);
  points.set(rows.subarray(0, dim), 0);
  points.set(rows.subarray(m * dim), (n - 1) * dim);
  const inner = n - 2;
  if (inner <= 0) return { dim, knots, points };
  const band = new Float64Array(inner * 7);
  const right = new Float64Array(inner * dim);
  const basis = new Float64Array(12);
  let span = 3;
  for (let k = 1; k < m; k++) {
    span = findSpan(knots, t[k], span);
    cubicBasis(knots, span, t[k], basis);
    for (let a = 0; a < 4; a++) {
      const i = span - 3 + a - 1;
      if (i < 0 || i >= inner) continue;
      for (let b = 0; b < 4; b++) {
        const j = span - 3 + b - 1;
        if (j >= 0 && j < inner) band[i * 7 + (j - i + 3)] += basis[a] * basis[b];
      }
      for (let d = 0; d < dim; d++) {
        let rest = rows[k * dim + d];
        if (span === 3) rest -= basis[0] * points[d];
        if (span === n - 1) rest -= basis[3] * points[(n - 1) * dim + d];
        right[i * dim + d] += basis[a] * rest;
      }
    }
  }
  solveBand(factorBand(inner, 3, band), right, dim);
  points.set(right, dim);
  return { dim, knots, points };
}

/** How far data lies from a spline at its parameters. */
export interface Miss {
  readonly greatest: number;
  readonly index: number;
  readonly squares: number;
}

const basis = new Float64Array(12);
const buffer = new Float64Array(6);

/** Distances of the data rows from a spline at the same parameters; `each` collects them if given. */
export function missOf({ t, dim, rows }: FitData, spline: Spline, each?: Float64Array): Miss {
  let greatest = 0;
  let index = 0;
  let squares = 0;
  let span = 3;
  for (let k = 0; k < t.length; k++) {
    span = evalSpline(spline, t[k], buffer, basis, span);
    let square = 0;
    for (let d = 0; d < dim; d++) square += (buffer[d] - rows[k * dim + d]) ** 2;
    if (each) each[k] = Math.sqrt(square);
    squares += square;
    if (square > greatest) {
      greatest = square;
      index = k;
    }
  }
  return { greatest: Math.sqrt(greatest), index, squares };
}

/** A fit on some inner knots. */
export interface KnotFit {
  readonly inner: readonly number[];
  readonly spline: Spline;
  readonly miss: Miss;
}

/** Up to this many inner knots each is moved about for the best place; beyond, spans that miss are split. Own choice. */
const MOVED_KNOTS = 10;
/** Once knots are many, this many tries without the miss falling by a twentieth end the search. Own choice. */
const PATIENCE = 6;
/** Rows looked at while knots are moved; the verdict is always on all of them. Own choice. */
const MOVING_ROWS = 300;

function thinned(data: FitData): FitData {
  const n = data.t.length;
  if (n <= MOVING_ROWS) return data;
  const keep = Array.from({ length: MOVING_ROWS }, (_, i) => Math.round((i * (n - 1)) / (MOVING_ROWS - 1)));
  return {
    t: Float64Array.from(keep, (i) => data.t[i]), dim: data.dim,
    rows: Float64Array.from(keep.flatMap((i) => [...data.rows.subarray(i * data.dim, (i + 1) * data.dim)])),
  };
}

/** Whether a plan curve's first column rises by `least` or more from knot to knot, ends included. */
function stepsRise(spline: Spline, inner: readonly number[], least: number): boolean {
  const { points, knots } = spline;
  let before = points[0];
  for (const u of [...inner, knots[knots.length - 1]]) {
    evalSpline(spline, u, buffer, basis);
    if (!(buffer[0] - before >= least)) return false;
    before = buffer[0];
  }
  return true;
}

/** The fit on some inner knots, or undefined where they crowd or leave a basis function without data. */
function tryFit(data: FitData, inner: readonly number[], least: number): KnotFit | undefined {
  const { t } = data;
  const knots = clampedKnots(t[0], t[t.length - 1], inner);
  for (let i = 4; i < knots.length - 3; i++) if (!(knots[i] - knots[i - 1] >= least)) return undefined;
  // Schoenberg-Whitney by hand: one row for each inner control point, inside its support, in order.
  let row = 1;
  for (let i = 1; i < knots.length - 5; i++) {
    while (row < t.length - 1 && t[row] <= knots[i]) row++;
    if (row >= t.length - 1 || t[row] >= knots[i + 4]) return undefined;
    row++;
  }
  let spline: Spline;
  try {
    spline = leastSquares(data, knots);
  } catch (error) {
    // Rows that only just reach into a basis function leave it to rounding: as good as none.
    if (error instanceof RangeError) return undefined;
    throw error;
  }
  if (data.dim === 2 && !stepsRise(spline, inner, least)) return undefined;
  const miss = missOf(data, spline);
  return Number.isFinite(miss.greatest) ? { inner, spline, miss } : undefined;
}

const better = (a: KnotFit | undefined, b: KnotFit | undefined): KnotFit | undefined =>
  a === undefined ? b : b === undefined || a.miss.greatest <= b.miss.greatest ? a : b;

/** Move each knot in turn to where the greatest miss is least: a few thirds of its room either way, halved each round. */
function moveKnots(data: FitData, start: KnotFit, goal: number, least: number): KnotFit {
  const { t } = data;
  let best = start;
  for (let reach = 0.4; reach > 0.04 && best.miss.greatest > goal; reach /= 2) {
    for (let k = 0; k < best.inner.length; k++) {
      const low = k === 0 ? t[0] : best.inner[k - 1];
      const high = k + 1 === best.inner.length ? t[t.length - 1] : best.inner[k + 1];
      const at = best.inner[k];
      for (const to of [at - reach * (at - low), at + reach * (high - at)]) {
        best = better(best, tryFit(data, best.inner.map((u, i) => (i === k ? to : u)), least)) ?? best;
      }
    }
  }
  return best;
}

/** Where spans that hold a row missing by more than the tolerance would be split: the middle of their data, worst first. */
function splits(data: FitData, fit: KnotFit, tolerance: number): number[] {
  const { t } = data;
  const each = new Float64Array(t.length);
  missOf(data, fit.spline, each);
  const edges = [t[0], ...fit.inner, t[t.length - 1]];
  const worst: { at: number; miss: number }[] = [];
  let k = 0;
  for (let s = 0; s + 1 < edges.length; s++) {
    const from = k;
    let miss = 0;
    while (k < t.length && (t[k] < edges[s + 1] || s + 2 === edges.length)) miss = Math.max(miss, each[k++]);
    const middle = (from + k - 1) / 2;
    const at = (t[Math.floor(middle)] + t[Math.ceil(middle)]) / 2;
    if (k - from >= 2 && miss > tolerance && at > edges[s] && at < edges[s + 1]) worst.push({ at, miss });
  }
  return worst.sort((a, b) => b.miss - a.miss).map((w) => w.at);
}

const withKnots = (inner: readonly number[], more: readonly number[]): number[] => [...inner, ...more].sort((a, b) => a - b);

/** How many of the worst spans are tried, one at a time, while knots are few. */
const SPLITS_TRIED = 4;

/** The best fit with one of the worst spans split or, once knots are many, with all of them split that there is room for. */
function splitFit(data: FitData, fit: KnotFit, tolerance: number, least: number, room: number, one: boolean): KnotFit | undefined {
  const at = splits(data, fit, tolerance).slice(0, room);
  if (at.length === 0) return undefined;
  const all = one ? undefined : tryFit(data, withKnots(fit.inner, at), least);
  if (all) return all;
  return at.slice(0, SPLITS_TRIED).reduce<KnotFit | undefined>((best, u) => better(best, tryFit(data, withKnots(fit.inner, [u]), least)), undefined);
}

/**
 * Fits on ever more inner knots, each the best found for its number: yields from none up to `most`, moving knots
 * while they are few and splitting every span that misses once they are many. Stops when no more can be placed
 * among the data, `least` apart, or more of them no longer help. The caller stops when it is satisfied.
 */
export function* everMoreKnots(data: FitData, tolerance: number, most: number, least: number): Generator<KnotFit> {
  const few = thinned(data);
  let fit = tryFit(data, [], least);
  if (!fit) return;
  yield fit;
  let mark = { greatest: fit.miss.greatest, tries: 0 };
  for (let count = 1; count <= Math.min(most, data.t.length - 4);) {
    const moving = count <= MOVED_KNOTS;
    const split = splitFit(data, fit, tolerance, least, most - fit.inner.length, moving);
    let next = better(split, tryFit(data, spreadKnots(data.t, count), least));
    if (moving) {
      const start = better(split && tryFit(few, split.inner, least), tryFit(few, spreadKnots(few.t, count), least));
      const moved = start && moveKnots(few, start, tolerance * 0.9, least);
      next = better(next, moved && tryFit(data, moved.inner, least));
    }
    if (!next) return;
    count = Math.max(count, next.inner.length) + 1;
    fit = next;
    yield fit;
    const gained = fit.miss.greatest < mark.greatest * 0.95;
    mark = gained ? { greatest: fit.miss.greatest, tries: 0 } : { ...mark, tries: mark.tries + 1 };
    if (!moving && mark.tries >= PATIENCE) return;
  }
}

/** Remove, one by one, each inner knot without which the fit still meets the tolerance. */
export function takeOutKnots(data: FitData, start: KnotFit, tolerance: number, least: number): KnotFit {
  let fit = start;
  for (let k = 0; k < fit.inner.length;) {
    const less = tryFit(data, fit.inner.filter((_, i) => i !== k), least);
    if (less && less.miss.greatest <= tolerance) fit = less;
    else k++;
  }
  return fit;
}
