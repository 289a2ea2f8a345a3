/** The foot of a point on an outline, whose stations rise along it. */
import { breaks, evalSpline, type Spline } from '../curves/bspline';

const basis = new Float64Array(12);
const row = new Float64Array(6);

/** A foot: parameter, signed distance (positive outboard, on the left of the tail-to-nose tangent), distance. */
export interface Foot {
  readonly u: number;
  readonly signed: number;
  readonly distance: number;
}

function squareAt(curve: Spline, x: number, y: number, u: number): number {
  evalSpline(curve, u, row, basis);
  return (row[0] - x) ** 2 + (row[1] - y) ** 2;
}

/** Places along a curve from which the search for a foot starts: eight a span, x and y with each parameter. */
export interface FootGrid {
  readonly u: Float64Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
}

/** Lay the starting places of `footOn` along a curve. */
export function footGrid(curve: Spline): FootGrid {
  const spans = breaks(curve.knots);
  const n = (spans.length - 1) * 8 + 1;
  const grid = { u: new Float64Array(n), x: new Float64Array(n), y: new Float64Array(n) };
  for (let i = 0; i < n; i++) {
    const k = Math.min(spans.length - 2, i >> 3);
    const u = i === n - 1 ? spans[spans.length - 1] : spans[k] + ((spans[k + 1] - spans[k]) * (i & 7)) / 8;
    evalSpline(curve, u, row, basis);
    grid.u[i] = u;
    grid.x[i] = row[0];
    grid.y[i] = row[1];
  }
  return grid;
}

/** The grid's nearest place: outward from its station, x rising along an outline, until the stations alone lie farther. */
function nearestOf({ x: xs, y: ys }: FootGrid, x: number, y: number): number {
  let low = 0;
  let high = xs.length - 1;
  while (high - low > 1) {
    const mid = (low + high) >> 1;
    if (xs[mid] < x) low = mid;
    else high = mid;
  }
  let best = low;
  let least = Infinity;
  const consider = (i: number) => {
    const dx = (xs[i] - x) ** 2;
    const d = dx + (ys[i] - y) ** 2;
    if (d < least) {
      least = d;
      best = i;
    }
    return dx <= least;
  };
  for (let i = high; i < xs.length && consider(i); i++);
  for (let i = low; i >= 0 && consider(i); i--);
  return best;
}

/**
 * The nearest point of an outline to (x, y): the nearest of the grid, then Newton on the distance's slope
 * (Piegl & Tiller, The NURBS Book, 2nd ed. 1997, section 6.1), kept between the grid's neighbours by bisection.
 */
export function footOn(curve: Spline, grid: FootGrid, x: number, y: number): Foot {
  const best = nearestOf(grid, x, y);
  let low = grid.u[Math.max(0, best - 1)];
  let high = grid.u[Math.min(grid.u.length - 1, best + 1)];
  let u = grid.u[best];
  const slope = (at: number) => {
    evalSpline(curve, at, row, basis);
    return (row[0] - x) * row[2] + (row[1] - y) * row[3];
  };
  if (slope(low) >= 0) u = low;
  else if (slope(high) <= 0) u = high;
  else {
    for (let i = 0; i < 60 && high - low > 1e-12 * high; i++) {
      const f = slope(u);
      if (f > 0) high = u;
      else low = u;
      const bend = row[2] ** 2 + row[3] ** 2 + (row[0] - x) * row[4] + (row[1] - y) * row[5];
      const next = bend > 0 ? u - f / bend : Number.NaN;
      const step = next > low && next < high ? next : (low + high) / 2;
      if (Math.abs(step - u) < 1e-12 * grid.u[grid.u.length - 1]) break;
      u = step;
    }
  }
  const distance = Math.sqrt(squareAt(curve, x, y, u));
  const side = row[2] * (y - row[1]) - row[3] * (x - row[0]);
  return { u, signed: side < 0 ? -distance : distance, distance };
}
