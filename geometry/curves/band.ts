/**
 * A banded linear system for spline collocation, factored once and solved for many right-hand sides.
 * Collocation matrices of B-splines are totally positive, so elimination without pivoting is stable
 * (de Boor, A Practical Guide to Splines, rev. ed. 2001, ch. XIII; from memory).
 */
export interface BandFactor {
  readonly n: number;
  /** Half bandwidth: entries (i, j) with |i - j| <= half. */
  readonly half: number;
  /** Row-major band storage, n rows of 2 * half + 1. */
  readonly a: Float64Array;
}

/**
 * Factor a banded matrix in place (LU without pivoting).
 * Throws a RangeError where a pivot vanishes: the collocation points do not suit the knots.
 */
export function factorBand(n: number, half: number, a: Float64Array): BandFactor {
  const w = 2 * half + 1;
  for (let k = 0; k < n; k++) {
    const pivot = a[k * w + half];
    if (!(Math.abs(pivot) > 1e-14)) throw new RangeError(`spline collocation is singular at row ${k}`);
    const last = Math.min(n - 1, k + half);
    for (let i = k + 1; i <= last; i++) {
      const f = a[i * w + (k - i + half)] / pivot;
      a[i * w + (k - i + half)] = f;
      if (f === 0) continue;
      for (let j = k + 1; j <= last; j++) a[i * w + (j - i + half)] -= f * a[k * w + (j - k + half)];
    }
  }
  return { n, half, a };
}

/** Solve for `columns` right-hand sides stored row-major in b (n rows), in place. */
export function solveBand(factor: BandFactor, b: Float64Array, columns: number): void {
  const { n, half, a } = factor;
  const w = 2 * half + 1;
  for (let k = 0; k < n; k++) {
    const last = Math.min(n - 1, k + half);
    for (let i = k + 1; i <= last; i++) {
      const f = a[i * w + (k - i + half)];
      if (f === 0) continue;
      for (let c = 0; c < columns; c++) b[i * columns + c] -= f * b[k * columns + c];
    }
  }
  for (let k = n - 1; k >= 0; k--) {
    const last = Math.min(n - 1, k + half);
    for (let j = k + 1; j <= last; j++) {
      const f = a[k * w + (j - k + half)];
      if (f === 0) continue;
      for (let c = 0; c < columns; c++) b[k * columns + c] -= f * b[j * columns + c];
    }
    const inv = 1 / a[k * w + half];
    for (let c = 0; c < columns; c++) b[k * columns + c] *= inv;
  }
}
