/** Bracketed root finding. */

/**
 * A root of f in [a, b], where f(a) and f(b) differ in sign: Brent's method
 * (R. P. Brent, Algorithms for Minimization without Derivatives, 1973, ch. 4; from memory).
 * Returns a point within `tolerance` of a sign change. Throws a RangeError if the ends do not bracket one.
 */
export function findRoot(f: (x: number) => number, a: number, b: number, tolerance = 1e-7, fa = f(a), fb = f(b)): number {
  if (fa === 0) return a;
  if (fb === 0) return b;
  if (!(fa * fb < 0)) throw new RangeError(`no sign change between ${a} and ${b}`);
  let c = a;
  let fc = fa;
  let d = b - a;
  let e = d;
  for (let i = 0; i < 100; i++) {
    if (fb * fc > 0) {
      c = a;
      fc = fa;
      d = e = b - a;
    }
    if (Math.abs(fc) < Math.abs(fb)) {
      a = b;
      b = c;
      c = a;
      fa = fb;
      fb = fc;
      fc = fa;
    }
    const tol = 2e-16 * Math.abs(b) + tolerance / 2;
    const m = (c - b) / 2;
    if (Math.abs(m) <= tol || fb === 0) return b;
    if (Math.abs(e) < tol || Math.abs(fa) <= Math.abs(fb)) {
      d = e = m;
    } else {
      let p: number;
      let q: number;
      const s = fb / fa;
      if (a === c) {
        p = 2 * m * s;
        q = 1 - s;
      } else {
        const r = fa / fc;
        const t = fb / fc;
        p = s * (2 * m * r * (r - t) - (b - a) * (t - 1));
        q = (r - 1) * (t - 1) * (s - 1);
      }
      if (p > 0) q = -q;
      else p = -p;
      if (2 * p < Math.min(3 * m * q - Math.abs(tol * q), Math.abs(e * q))) {
        e = d;
        d = p / q;
      } else {
        d = e = m;
      }
    }
    a = b;
    fa = fb;
    b += Math.abs(d) > tol ? d : m > 0 ? tol : -tol;
    fb = f(b);
  }
  return b;
}
