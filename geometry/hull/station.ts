/** The finished hull cut by station planes. */
import { evalSpline } from '../curves/bspline';
import { findRoot } from '../curves/roots';
import type { Hull } from '../types';
import { panelAt, panelProbe } from './panel';

const basis = new Float64Array(12);
const row = new Float64Array(63);

/** Point on the rail round at (u, v), v 0 at the tuck, 0.5 at the apex, 1 at the deck: writes x, y, z. */
export function roundPoint(hull: Hull, u: number, v: number, out: Float64Array, at = 0): void {
  evalSpline(hull.round, u, row, basis);
  roundIn(v, out, at);
}

/** The points at u and n + 1 even steps of v, none beyond the centreline: writes x, y, z of each from `at` on. */
export function roundAcross(hull: Hull, u: number, n: number, out: Float32Array, at: number): void {
  evalSpline(hull.round, u, row, basis);
  for (let j = 0; j <= n; j++, at += 3) {
    roundIn(j / n, out, at);
    out[at + 1] = Math.max(0, out[at + 1]);
  }
}

/** The point at v of the section in `row`. */
function roundIn(v: number, out: Float64Array | Float32Array, at: number): void {
  const arc = v < 0.5 ? 0 : 9;
  const t = v < 0.5 ? 2 * v : 2 * v - 1;
  const r = 1 - t;
  const b0 = r * r * r, b1 = 3 * r * r * t, b2 = 3 * r * t * t, b3 = t * t * t;
  for (let d = 0; d < 3; d++) out[at + d] = b0 * row[arc + d] + b1 * row[arc + 3 + d] + b2 * row[arc + 6 + d] + b3 * row[arc + 9 + d];
}

const point = new Float64Array(3);

/** Parameter u where the round's line v crosses station x, or NaN where it does not reach it. */
function roundParameterAtX(hull: Hull, v: number, x: number): number {
  const { knots } = hull.round;
  const f = (u: number) => {
    roundPoint(hull, u, v, point);
    return point[0] - x;
  };
  let a = knots[3];
  let fa = f(a);
  if (Math.abs(fa) < 1e-9) return a;
  for (let i = 4; i <= knots.length - 4; i++) {
    const b = knots[i];
    if (b <= a) continue;
    const fb = f(b);
    if (fa * fb <= 0) return findRoot(f, a, b, 1e-10, fa, fb);
    a = b;
    fa = fb;
  }
  return Number.NaN;
}

/**
 * Half section of the finished hull at station x: (y, z) pairs from the bottom on the centreline, round the
 * rail, to the deck on the centreline. `detail` points on each panel and on each arc of the round.
 */
export function stationOutline(hull: Hull, x: number, detail = 12): Float64Array {
  const out: number[] = [];
  const probe = panelProbe();
  const at = Math.min(hull.length - 1e-6, Math.max(1e-6, x));
  const edge = (v: number) => {
    const u = roundParameterAtX(hull, v, at);
    if (Number.isNaN(u)) return undefined;
    roundPoint(hull, u, v, point);
    return [point[1], point[2]] as const;
  };
  const tuckY = edge(0)?.[0] ?? 0;
  const turnY = edge(1)?.[0] ?? 0;
  for (let i = 0; i <= detail; i++) {
    const y = (tuckY * i) / detail;
    out.push(y, panelAt(hull.bottom, at, y, probe).z);
  }
  for (let i = 1; i < 2 * detail; i++) {
    const p = edge(i / (2 * detail));
    if (p) out.push(Math.max(0, p[0]), p[1]);
  }
  for (let i = detail; i >= 0; i--) {
    const y = (turnY * i) / detail;
    out.push(y, panelAt(hull.deck, at, y, probe).z);
  }
  return Float64Array.from(out);
}
