/** Affine stretching of lines: what scaling a board and fitting it to a new length have in common. */
import type { Design, LengthCurveDesign, LengthCurveName, OutlineDesign } from '../design/schema';

const RIGHT = 90;

/** An angle of a stretched curve: the tangent's rise over run scales by ky / kx; an upright tangent stays upright. */
function stretchAngle(deg: number, ratio: number): number {
  return deg === RIGHT ? RIGHT : (Math.atan(Math.tan((deg * Math.PI) / 180) * ratio) * 180) / Math.PI;
}

/**
 * A length curve stretched by kx along the board and kv in its value: exact, since interpolation is affine
 * along x and v. `to` is the exact station of the last point, so that rounding never separates it from the nose.
 */
export function stretchCurve(curve: LengthCurveDesign, kx: number, kv: number, to: number): LengthCurveDesign {
  const last = curve.points.length - 1;
  const slope = (deg: number | undefined) => (deg === undefined ? undefined : stretchAngle(deg, kv / kx));
  return {
    ...curve,
    points: curve.points.map((p, i) => ({ ...p, x: i === last ? to : p.x * kx, v: p.v * kv })),
    ...(curve.tailSlopeDeg === undefined ? {} : { tailSlopeDeg: slope(curve.tailSlopeDeg) }),
    ...(curve.noseSlopeDeg === undefined ? {} : { noseSlopeDeg: slope(curve.noseSlopeDeg) }),
  };
}

/** An outline stretched by kx along the board and ky across; round ends stay round, other end angles follow. */
export function stretchOutline(outline: OutlineDesign, kx: number, ky: number, to: number): OutlineDesign {
  const last = outline.points.length - 1;
  return {
    ...outline,
    points: outline.points.map((p, i) => ({ ...p, x: i === last ? to : p.x * kx, y: p.y * ky })),
    ...(outline.tailAngleDeg === undefined ? {} : { tailAngleDeg: stretchAngle(outline.tailAngleDeg, ky / kx) }),
    ...(outline.noseAngleDeg === undefined ? {} : { noseAngleDeg: stretchAngle(outline.noseAngleDeg, ky / kx) }),
  };
}

/**
 * Ribs for a board stretched by kx, at about their old spacing: the first and last keep their share of the
 * length, the number between follows the length, and an uneven spacing keeps its pattern. Laid to the millimetre.
 */
export function relayRibs(ribs: readonly number[], kx: number): number[] {
  const n = ribs.length;
  if (n < 2) return ribs.map((x) => Math.round(x * kx));
  const count = Math.max(2, Math.round((n - 1) * kx) + 1);
  return Array.from({ length: count }, (_, i) => {
    const at = (i * (n - 1)) / (count - 1);
    const k = Math.min(n - 2, Math.floor(at));
    return Math.round(kx * (ribs[k] + (at - k) * (ribs[k + 1] - ribs[k])));
  });
}

/** Lines that a change of length alone leaves as they are but for their stations: all but the three main ones. */
const COMPANIONS: readonly LengthCurveName[] = ['crown', 'concave', 'vee', 'apex', 'fullness', 'tuck', 'turn'];

/** Companion lines stretched along the board only: ratios and the rail round keep their values. */
export function stretchCompanions(lines: Design['lines'], kx: number, to: number): Pick<Design['lines'], (typeof COMPANIONS)[number]> {
  return Object.fromEntries(COMPANIONS.map((name) => [name, stretchCurve(lines[name], kx, 1, to)])) as Pick<
    Design['lines'],
    (typeof COMPANIONS)[number]
  >;
}
