/** A board's portrait: plan and widest station as points, small enough to draw many side by side. */
import { breaks, evalSpline } from '../curves/bspline';
import { stationOutline } from '../hull/station';
import { sectionAt } from '../rail/query';
import { stopsOf } from '../rail/laid';
import { nearestSample } from '../rail/samples';
import type { Plan } from '../types';

/** Starboard half, mm; mirrored for port. */
export interface Portrait {
  readonly length: number;
  readonly halfBreadth: number;
  /** Outline and box face in plan, (x, y) pairs, tail to nose. */
  readonly outline: Float64Array;
  readonly face: Float64Array;
  /** Ribs from the centreline to the rib-end line. */
  readonly ribs: readonly { readonly x: number; readonly y: number }[];
  /** Where the spacer rows stop, on the box face. */
  readonly stops: readonly { readonly row: number; readonly end: 'tail' | 'nose'; readonly x: number; readonly y: number }[];
  /** Half station where the rail is widest: (y, z) pairs, centreline bottom to centreline deck. */
  readonly station: Float64Array;
  /** The box there: from the rib-end line to the box face, sole's underside to cap's top, (y0, y1, z0, z1). */
  readonly box: readonly [number, number, number, number];
}

/** Parts a span of the outline is drawn in, and points of the face. */
const PARTS = 10;
const FACE_POINTS = 160;

/** The portrait of a planned board. */
export function portraitOf(plan: Plan): Portrait {
  const { hull, rail } = plan;
  const { samples } = rail;
  const spans = breaks(hull.outline.knots);
  const at = new Float64Array(6);
  const basis = new Float64Array(12);
  const outline: number[] = [];
  for (let k = 0; k + 1 < spans.length; k++) {
    for (let i = k === 0 ? 0 : 1; i <= PARTS; i++) {
      evalSpline(hull.outline, spans[k] + ((spans[k + 1] - spans[k]) * i) / PARTS, at, basis);
      outline.push(at[0], at[1]);
    }
  }
  const face: number[] = [];
  let widest = 0;
  for (let k = 0; k <= FACE_POINTS; k++) {
    const i = Math.round(((samples.n - 1) * k) / FACE_POINTS);
    face.push(samples.x[i], samples.y[i]);
    if (samples.y[i] > samples.y[widest]) widest = i;
  }
  const section = sectionAt(plan, samples.s[widest]);
  const [inner, outer] = [Math.min(section.ribY, section.y), Math.max(section.ribY, section.y)];
  return {
    length: hull.length,
    halfBreadth: hull.widest.halfBreadth,
    outline: Float64Array.from(outline),
    face: Float64Array.from(face),
    ribs: rail.ribs.map(({ x, ribY }) => ({ x, y: ribY })),
    stops: stopsOf(rail).map((stop) => ({
      row: stop.row, end: stop.end, x: stop.x, y: samples.y[nearestSample(samples, stop.s)],
    })),
    station: stationOutline(hull, section.x),
    box: [inner, outer, section.soleBottom, section.capTop],
  };
}
