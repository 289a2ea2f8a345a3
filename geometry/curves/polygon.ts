/** Polygons as flat arrays of (x, y) pairs, mm: area, bounds, hull and the least-width box. */

/** Signed area of a closed loop, mm2: positive counter-clockwise (shoelace formula). */
export function loopArea(loop: ArrayLike<number>): number {
  let sum = 0;
  const n = loop.length;
  for (let i = 0; i < n; i += 2) {
    const j = i + 2 < n ? i + 2 : 0;
    sum += loop[i] * loop[j + 1] - loop[j] * loop[i + 1];
  }
  return sum / 2;
}

/** First moment of a closed loop's area about x = 0, mm3: signed as its area (Green's theorem). */
export function loopMoment(loop: ArrayLike<number>): number {
  let sum = 0;
  const n = loop.length;
  for (let i = 0; i < n; i += 2) {
    const j = i + 2 < n ? i + 2 : 0;
    sum += (loop[i] + loop[j]) * (loop[i] * loop[j + 1] - loop[j] * loop[i + 1]);
  }
  return sum / 6;
}

/** A loop with its points in the opposite order. */
export function reversed(loop: ArrayLike<number>): Float64Array {
  const out = new Float64Array(loop.length);
  for (let i = 0; i < loop.length; i += 2) {
    out[i] = loop[loop.length - 2 - i];
    out[i + 1] = loop[loop.length - 1 - i];
  }
  return out;
}

/** Turn of a line at each of its points, radians, left positive; 0 at the ends of an open one. */
export function turnsOf(p: readonly (readonly [number, number])[], closed: boolean): number[] {
  const n = p.length;
  return p.map(([x, y], i) => {
    if (!closed && (i === 0 || i === n - 1)) return 0;
    const [[ax, ay], [bx, by]] = [p[(i + n - 1) % n], p[(i + 1) % n]];
    const [ux, uy, vx, vy] = [x - ax, y - ay, bx - x, by - y];
    return Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy);
  });
}

/** Turn points about the origin by `angle` (radians, counter-clockwise), then move them by (dx, dy). */
export function turned(points: ArrayLike<number>, angle: number, dx = 0, dy = 0): Float64Array {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  const out = new Float64Array(points.length);
  for (let i = 0; i < points.length; i += 2) {
    out[i] = c * points[i] - s * points[i + 1] + dx;
    out[i + 1] = s * points[i] + c * points[i + 1] + dy;
  }
  return out;
}

/** An axis-aligned box. */
export interface Bounds {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

/** Bounds of points; inside out where there are none. */
export function boundsOf(points: ArrayLike<number>): Bounds {
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i < points.length; i += 2) {
    x0 = Math.min(x0, points[i]);
    x1 = Math.max(x1, points[i]);
    y0 = Math.min(y0, points[i + 1]);
    y1 = Math.max(y1, points[i + 1]);
  }
  return { x0, y0, x1, y1 };
}

/**
 * Points by x, then y, as indices. A loop that runs once along and once back, as a blank's edges do, is merged from its
 * two runs; any other is sorted.
 */
function ordered(points: ArrayLike<number>): Int32Array {
  const n = points.length / 2;
  const before = (a: number, b: number): boolean => points[2 * a] < points[2 * b] || (points[2 * a] === points[2 * b] && points[2 * a + 1] < points[2 * b + 1]);
  let turn = 0;
  while (turn + 1 < n && before(turn, turn + 1)) turn++;
  let end = turn;
  while (end + 1 < n && before(end + 1, end)) end++;
  const order = new Int32Array(n);
  if (end + 1 < n) {
    for (let i = 0; i < n; i++) order[i] = i;
    return order.sort((a, b) => points[2 * a] - points[2 * b] || points[2 * a + 1] - points[2 * b + 1]);
  }
  for (let i = 0, along = 0, back = end; i < n; i++) order[i] = back <= turn || (along <= turn && !before(back, along)) ? along++ : back--;
  return order;
}

/**
 * Convex hull, counter-clockwise, no three of its points in line: A. M. Andrew's monotone chain, Information
 * Processing Letters 9 (1979) 216-219 (from memory). Fewer than three points come back as they are, sorted.
 */
export function convexHull(points: ArrayLike<number>): Float64Array {
  const order = ordered(points);
  const n = order.length;
  const ring = new Int32Array(2 * n);
  let top = 0;
  // Along for the lower half, back for the upper; each half's last point is the other's first.
  for (let pass = 0; pass < 2 && n >= 3; pass++) {
    const floor = top;
    for (let i = 0; i < n; i++) {
      const c = order[pass === 0 ? i : n - 1 - i];
      while (top - floor >= 2) {
        const a = ring[top - 2];
        const b = ring[top - 1];
        const turn = (points[2 * b] - points[2 * a]) * (points[2 * c + 1] - points[2 * a + 1])
          - (points[2 * b + 1] - points[2 * a + 1]) * (points[2 * c] - points[2 * a]);
        if (turn > 0) break;
        top--;
      }
      ring[top++] = c;
    }
    top--;
  }
  if (n < 3) for (; top < n; top++) ring[top] = order[top];
  const out = new Float64Array(2 * top);
  for (let i = 0; i < top; i++) {
    out[2 * i] = points[2 * ring[i]];
    out[2 * i + 1] = points[2 * ring[i] + 1];
  }
  return out;
}

/** A box round a polygon: turn the polygon by `turn` and its box is `length` along x and `width` along y. */
export interface LeastBox {
  readonly turn: number;
  readonly length: number;
  readonly width: number;
}

/**
 * The box of least width round some points. The least width of a convex polygon is reached with a side along
 * one of its edges (M. E. Houle and G. T. Toussaint, IEEE PAMI 10 (1988) 761-765; from memory); the opposite
 * vertex only ever moves forward as the edge does: rotating calipers. `length` is the extent along that edge,
 * `turn` lies in (-pi/2, pi/2]. `within` keeps it to +-within of 0, for timber whose grain must run along x.
 * Throws a RangeError for fewer than three points not in line, or no edge within that turn.
 */
export function leastWidthBox(points: ArrayLike<number>, within = Math.PI): LeastBox {
  const hull = convexHull(points);
  const n = hull.length / 2;
  if (n < 3) throw new RangeError('a box needs three points that are not in line');
  let width = Infinity;
  let turn = 0;
  let far = 1;
  for (let i = 0; i < n; i++) {
    const j = i + 1 < n ? i + 1 : 0;
    const x = hull[2 * i];
    const y = hull[2 * i + 1];
    const ex = hull[2 * j] - x;
    const ey = hull[2 * j + 1] - y;
    const l = Math.sqrt(ex * ex + ey * ey);
    if (i === 0) far = j;
    let at = (ex * (hull[2 * far + 1] - y) - ey * (hull[2 * far] - x)) / l;
    for (let k = 0; k < n; k++) {
      const next = far + 1 < n ? far + 1 : 0;
      const height = (ex * (hull[2 * next + 1] - y) - ey * (hull[2 * next] - x)) / l;
      // A billionth of a millimetre of grace carries the caliper over vertices in line but for rounding.
      if (!(height >= at - 1e-9)) break;
      far = next;
      at = height;
    }
    if (at >= width) continue;
    let angle = -Math.atan2(ey, ex);
    if (angle <= -Math.PI / 2) angle += Math.PI;
    else if (angle > Math.PI / 2) angle -= Math.PI;
    if (Math.abs(angle) > within) continue;
    width = at;
    turn = angle;
  }
  if (width === Infinity) throw new RangeError('no edge of the hull lies within that turn');
  const c = Math.cos(turn);
  const s = Math.sin(turn);
  let low = Infinity;
  let high = -Infinity;
  for (let k = 0; k < n; k++) {
    const along = c * hull[2 * k] - s * hull[2 * k + 1];
    low = Math.min(low, along);
    high = Math.max(high, along);
  }
  return { turn, length: high - low, width };
}
