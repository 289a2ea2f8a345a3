/**
 * Plane rational B-splines of any degree: what a drawing's lines, arcs, ellipses, Bezier curves and splines all are
 * exactly. verb evaluates them too, no faster (`npm run bench -- --only drawings`); it brings 40 kB compressed, code made from text,
 * a line on the console and, in a worker, its own listener in place of ours.
 */

/** Rows of `points` are (x, y), not multiplied by their weight. Knots: points + degree + 1, non-decreasing; not clamped where an end is not. */
export interface Rational {
  readonly degree: number;
  readonly knots: readonly number[];
  readonly points: readonly number[];
  readonly weights: readonly number[];
}

export interface At {
  readonly x: number;
  readonly y: number;
}

/** Parameters between which a curve is defined. */
const domain = ({ degree, knots }: Rational): readonly [number, number] => [knots[degree], knots[knots.length - 1 - degree]];

/** The highest degree there is: far above any drawing's. Own choice. */
export const MOST_DEGREE = 11;
/** Control points of a span, each (wx, wy, w). */
const row = new Float64Array(3 * (MOST_DEGREE + 1));

/** The point at u: de Boor's scheme in homogeneous coordinates (Piegl & Tiller, The NURBS Book, 2nd ed. 1997, sections 4.2 and 5.2). */
export function rationalAt({ degree: p, knots, points, weights }: Rational, u: number): At {
  let low = p;
  let high = knots.length - 1 - p;
  while (high - low > 1) {
    const mid = (low + high) >> 1;
    if (u < knots[mid]) high = mid;
    else low = mid;
  }
  // The last span that is one, where u is the curve's end.
  while (low > p && knots[low] === knots[low + 1]) low--;
  for (let j = 0; j <= p; j++) {
    const i = low - p + j;
    const w = weights[i];
    row[3 * j] = points[2 * i] * w;
    row[3 * j + 1] = points[2 * i + 1] * w;
    row[3 * j + 2] = w;
  }
  for (let r = 1; r <= p; r++) {
    for (let j = p; j >= r; j--) {
      const i = low - p + j;
      const span = knots[i + p - r + 1] - knots[i];
      const a = span > 0 ? (u - knots[i]) / span : 0;
      for (let d = 3 * j; d < 3 * j + 3; d++) row[d] = row[d - 3] + a * (row[d] - row[d - 3]);
    }
  }
  return { x: row[3 * p] / row[3 * p + 2], y: row[3 * p + 1] / row[3 * p + 2] };
}

/** The Bezier curve of these control points, (x, y) each; two make a straight line. */
export function bezier(...points: readonly number[]): Rational {
  const n = points.length / 2;
  return { degree: n - 1, knots: Array.from({ length: 2 * n }, (_, i) => (i < n ? 0 : 1)), points, weights: new Array<number>(n).fill(1) };
}

/** Whether a curve is one straight line. */
export const isStraight = ({ degree, weights }: Rational): boolean => degree === 1 && weights.length === 2;

/**
 * The arc c + u cos t + v sin t, t from `from` to `to`: of a circle where u and v are square and as long, else of an ellipse.
 * In quarters at most, each a rational quadratic (The NURBS Book, section 7.3).
 */
export function arc(c: At, u: At, v: At, from: number, to: number): Rational {
  const n = Math.max(1, Math.ceil(Math.abs(to - from) / (Math.PI / 2) - 1e-9));
  const step = (to - from) / n;
  const w = Math.cos(step / 2);
  const points: number[] = [];
  const weights: number[] = [];
  const knots = [0, 0, 0];
  const put = (t: number, weight: number) => {
    points.push(c.x + (u.x * Math.cos(t) + v.x * Math.sin(t)) / weight, c.y + (u.y * Math.cos(t) + v.y * Math.sin(t)) / weight);
    weights.push(weight);
  };
  put(from, 1);
  for (let k = 0; k < n; k++) {
    put(from + (k + 0.5) * step, w);
    put(k + 1 === n ? to : from + (k + 1) * step, 1);
    knots.push(k + 1, k + 1);
  }
  knots.push(n);
  return { degree: 2, knots, points, weights };
}

/** A curve under x' = a x + c y + e, y' = b x + d y + f: exact, since weights stay. */
export function mapped(curve: Rational, [a, b, c, d, e, f]: readonly number[]): Rational {
  const points = curve.points.map((_, i) => (i % 2 === 0
    ? a * curve.points[i] + c * curve.points[i + 1] + e
    : b * curve.points[i - 1] + d * curve.points[i] + f));
  return { ...curve, points };
}

/** A curve run from its other end. */
export function backward(curve: Rational): Rational {
  const [first, last] = [curve.knots[0], curve.knots[curve.knots.length - 1]];
  const n = curve.weights.length;
  return {
    degree: curve.degree,
    knots: curve.knots.map((_, i) => first + last - curve.knots[curve.knots.length - 1 - i]),
    points: curve.points.map((_, i) => curve.points[2 * (n - 1 - (i >> 1)) + (i & 1)]),
    weights: curve.weights.toReversed(),
  };
}

/** First and last point. */
export function endsOf(curve: Rational): readonly [At, At] {
  const [from, to] = domain(curve);
  return [rationalAt(curve, from), rationalAt(curve, to)];
}

/** Halvings of a span at most. */
const DEEPEST = 16;

/**
 * Points along a curve, first and last among them, so close that three places between two of them lie within `sag` of
 * their chord and, where the curve is not straight, no two are farther apart than `step`. Written to `out` as (x, y).
 */
export function sampled(curve: Rational, sag: number, step: number, out: number[]): void {
  const [from, to] = domain(curve);
  const first = rationalAt(curve, from);
  out.push(first.x, first.y);
  const straight = curve.degree === 1;
  const cut = (a: number, pa: At, b: number, pb: At, deep: number): void => {
    const [dx, dy] = [pb.x - pa.x, pb.y - pa.y];
    const chord = Math.hypot(dx, dy);
    const off = (p: At) => (chord > 0 ? Math.abs((p.x - pa.x) * dy - (p.y - pa.y) * dx) / chord : Math.hypot(p.x - pa.x, p.y - pa.y));
    const middle = rationalAt(curve, (a + b) / 2);
    const near = straight || (chord <= step && [middle, rationalAt(curve, a + (b - a) / 4), rationalAt(curve, b - (b - a) / 4)].every((p) => off(p) <= sag));
    if (near || deep === 0) {
      out.push(pb.x, pb.y);
      return;
    }
    cut(a, pa, (a + b) / 2, middle, deep - 1);
    cut((a + b) / 2, middle, b, pb, deep - 1);
  };
  let a = from;
  let pa = first;
  for (const b of curve.knots) {
    if (!(b > a) || b > to) continue;
    const pb = rationalAt(curve, b);
    cut(a, pa, b, pb, DEEPEST);
    a = b;
    pa = pb;
  }
}
