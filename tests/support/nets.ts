/** The hull's surfaces as plain bicubic control nets, which any NURBS kernel can take. */
import { breaks, controlCount, type Spline } from '../../geometry/curves/bspline';
import type { Panel } from '../../geometry/types';

/** A non-rational bicubic net: rows along u, each of points along v. Clamped knots, degree + 1 at each end. */
export interface Net {
  readonly knotsU: readonly number[];
  readonly knotsV: readonly number[];
  readonly points: readonly (readonly (readonly number[])[])[];
}

/** A panel as a net: x = X(u), y = v Y(u) (linear, hence thirds), z by its Bezier heights. */
export function panelNet({ spline }: Panel): Net {
  const { knots, points } = spline;
  const row = (i: number) => [0, 1, 2, 3].map((j) => [points[i * 6], (points[i * 6 + 1] * j) / 3, points[i * 6 + 2 + j]]);
  return {
    knotsU: Array.from(knots),
    knotsV: [0, 0, 0, 0, 1, 1, 1, 1],
    points: Array.from({ length: controlCount(knots) }, (_, i) => row(i)),
  };
}

/** The rail round as a net: two Bezier arcs joined at the apex by a knot of three at v = 1/2. */
export function roundNet({ knots, points }: Spline): Net {
  const row = (i: number) => Array.from({ length: 7 }, (_, j) => Array.from(points.subarray(i * 21 + 3 * j, i * 21 + 3 * j + 3)));
  return {
    knotsU: Array.from(knots),
    knotsV: [0, 0, 0, 0, 0.5, 0.5, 0.5, 1, 1, 1, 1],
    points: Array.from({ length: controlCount(knots) }, (_, i) => row(i)),
  };
}

/** `count` parameters spread over a knot vector, none on a knot: the same fractions of every span in turn. */
export function inside(knots: ArrayLike<number>, count: number): number[] {
  const spans = breaks(Float64Array.from(knots));
  return Array.from({ length: count }, (_, i) => {
    const at = ((i + 0.5) / count) * (spans.length - 1);
    const k = Math.min(spans.length - 2, Math.floor(at));
    // Irrational stride within the span, so that no two spans are sampled alike.
    const t = 0.02 + 0.96 * ((i * Math.SQRT2) % 1);
    return spans[k] + (spans[k + 1] - spans[k]) * t;
  });
}
