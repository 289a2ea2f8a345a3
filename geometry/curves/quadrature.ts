/** Gauss-Legendre rules on [0, 1] (Abramowitz & Stegun, table 25.4; from memory, checked by exactness in tests). */
export const GAUSS5_X = [0.04691007703066802, 0.23076534494715845, 0.5, 0.7692346550528415, 0.9530899229693319];
export const GAUSS5_W = [0.11846344252809454, 0.23931433524968324, 0.28444444444444444, 0.23931433524968324, 0.11846344252809454];

/** Three points: exact to degree five. */
export const GAUSS3_X = [0.1127016653792583, 0.5, 0.8872983346207417];
export const GAUSS3_W = [5 / 18, 4 / 9, 5 / 18];

/** The integral of f over [a, b] by one five-point rule: exact to degree nine. */
export function gauss5(f: (x: number) => number, a: number, b: number): number {
  const h = b - a;
  let sum = 0;
  for (let i = 0; i < 5; i++) sum += GAUSS5_W[i] * f(a + h * GAUSS5_X[i]);
  return sum * h;
}
