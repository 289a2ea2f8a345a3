/**
 * The least change that meets linear targets: least-distance programming by non-negative least squares
 * (C. L. Lawson & R. J. Hanson, Solving Least Squares Problems, 1974, ch. 23, LDP; from memory).
 */
import { fcnnlsVector } from 'ml-fcnnls';

/** Conditions g . z >= h, one row of `g` and one number of `h` each. */
export interface Conditions {
  readonly g: readonly (readonly number[])[];
  readonly h: readonly number[];
}

/** Least remainder of the non-negative problem that still counts as a solution: below, the conditions contradict. */
const CONTRADICTION = 1e-9;
/** How far a condition of length one may be missed and still count as met. */
const MET = 1e-10;
/** Gradients at which the non-negative solver stops, tried in turn: it may cycle on a finer one than rounding allows. */
const GRADIENTS = [1e-11, 1e-9, 1e-7, 1e-5] as const;

/** The non-negative solution, or undefined where the solver cycles on every gradient. */
function nonNegative(e: number[][], f: number[]): number[] | undefined {
  for (const gradientTolerance of GRADIENTS) {
    try {
      return fcnnlsVector(e, f, { gradientTolerance, maxIterations: 30 * e[0].length }).K.to1DArray();
    } catch (error) {
      if (!(error instanceof Error && error.message.startsWith('Maximum number of iterations'))) throw error;
    }
  }
  return undefined;
}

/**
 * LDP on a few conditions: with E the columns (g_k, h_k) and f = (0, ..., 0, 1), the non-negative u that brings E u
 * nearest f leaves a remainder r, and the shortest z is -r_j / r_(n+1).
 */
function shortest(n: number, rows: readonly (readonly number[])[]): number[] | undefined {
  const e = Array.from({ length: n + 1 }, (_, j) => rows.map((row) => row[j]));
  const u = nonNegative(e, [...new Array<number>(n).fill(0), 1]);
  if (!u) return undefined;
  const r = e.map((row, j) => row.reduce((sum, v, k) => sum + v * u[k], 0) - (j === n ? 1 : 0));
  return -r[n] < CONTRADICTION ? undefined : r.slice(0, n).map((v) => (v === 0 ? 0 : -v / r[n]));
}

/**
 * The shortest z of `n` numbers with g z >= h, or undefined where no z meets all the conditions (or, which tests have
 * not seen since conditions join singly, where rounding keeps the solver from settling). Conditions join the
 * programme one at a time, the worst missed first, so that those which never bear cost nothing.
 */
export function leastChange(n: number, { g, h }: Conditions): number[] | undefined {
  // Each condition scaled to length one, so that none drowns another in the normal equations.
  const rows = g.map((row, k) => {
    const size = Math.hypot(...row, h[k]) || 1;
    return [...row, h[k]].map((v) => v / size);
  });
  let z = new Array<number>(n).fill(0);
  const within: number[][] = [];
  for (let round = 0; round <= rows.length; round++) {
    let worst: number[] | undefined;
    let missed = MET;
    for (const row of rows) {
      let miss = row[n];
      for (let j = 0; j < n; j++) miss -= row[j] * z[j];
      if (miss > missed && !within.includes(row)) {
        missed = miss;
        worst = row;
      }
    }
    if (!worst) return z;
    within.push(worst);
    const next = shortest(n, within);
    if (!next) return undefined;
    z = next;
  }
  return z;
}
