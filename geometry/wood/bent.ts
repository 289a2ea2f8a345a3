/** What a bend leaves in a strip and asks of its joints. */

/** Pressure over a pad that glues well, MPa: 100 pounds a square inch, as makers of glue for timber ask (read). */
export const GLUE_PRESSURE = (100 * 4.4482216152605) / (25.4 * 25.4);

/** What timber bears square to its grain before it dents, MPa: about redcedar's (from memory). */
export const BEARS_ACROSS = 3.2;

/**
 * Share of its bending strength that codes let a strip keep when it is glued to a curve, from the ratio of radius to
 * thickness: 1 - 2000 (t / R)^2 (curvature factor of glued laminated timber, US practice; read). Undefined under 63,
 * where the rule gives half and less and no longer speaks of timber (own choice).
 */
export function keptOnCurve(radiusOverThickness: number): number | undefined {
  const kept = 1 - 2000 / (radiusOverThickness * radiusOverThickness);
  return kept > 0.5 ? kept : undefined;
}

/**
 * Share of its strength along the grain that a strip keeps whose grain runs out one part in `runOut`: Hankinson's
 * formula with exponent 1.75 for bending and 0.07 of the strength across (Wood Handbook, ch. 5; from memory).
 */
export function keptAcross(runOut: number): number {
  const slope = Math.atan(1 / runOut);
  const [exponent, across] = [1.75, 0.07];
  return across / (Math.sin(slope) ** exponent + across * Math.cos(slope) ** exponent);
}

/** Share of their form's curvature that n equal layers keep, which slip on each other until they are glued: 1 - 1 / n^2 (provable). */
export const layersKeep = (n: number): number => 1 - 1 / (n * n);

/**
 * Greatest shear, MPa, in a lap l long and w wide (mm) that holds a couple (N mm) in its own plane: the corner farthest
 * from its middle, as a round shaft's rim (polar moment of the glued rectangle; provable).
 */
export function lapShear(couple: number, l: number, w: number): number {
  return (couple * Math.hypot(l / 2, w / 2)) / ((l * w * (l * l + w * w)) / 12);
}
