/** The finished hull as a solid of its own surfaces, exactly: deck and bottom trimmed where the rail round meets them. */
import { controlCount } from '../../curves/bspline';
import { findRoot } from '../../curves/roots';
import type { Hull, Panel } from '../../types';
import { borders, curvePoint, ShellBuilder, wayAlong, type Brep, type CurveData, type SurfaceData, type Way } from './shell';

/** A panel: x = X(u), y = v Y(u), which is linear, hence thirds; z by its Bezier heights. */
function panelSurface({ spline: { knots, points } }: Panel): SurfaceData {
  const rows = controlCount(knots);
  const own = new Float64Array(12 * rows);
  for (let i = 0; i < rows; i++) {
    for (let j = 0; j < 4; j++) own.set([points[6 * i], (points[6 * i + 1] * j) / 3, points[6 * i + 2 + j]], 12 * i + 3 * j);
  }
  return { degreeU: 3, degreeV: 3, knotsU: knots, knotsV: Float64Array.of(0, 0, 0, 0, 1, 1, 1, 1), points: own };
}

/** What lies this near the centreline lies on it, mm. */
const ON_CENTRE = 1e-4;

/** The rail round: two Bezier arcs, tuck to apex to deck, joined at the apex by a knot of three. */
function roundSurface({ round: { knots, points } }: Hull): SurfaceData {
  const own = points.slice();
  // At a pointed or round end both sides' rounds meet on the centreline.
  for (const from of [0, own.length - 21]) {
    for (let i = from + 1; i < from + 21; i += 3) if (Math.abs(own[i]) < ON_CENTRE) own[i] = 0;
  }
  return { degreeU: 3, degreeV: 3, knotsU: knots, knotsV: Float64Array.of(0, 0, 0, 0, 0.5, 0.5, 0.5, 1, 1, 1, 1), points: own };
}

/** Parameter at which a curve whose coordinate `axis` rises comes to a value, or the end that is nearer to it. */
function parameterAt(curve: CurveData, axis: 0 | 1, value: number): number {
  const [first, last] = [curve.knots[0], curve.knots[curve.knots.length - 1]];
  const over = (t: number) => curvePoint(curve, t)[axis] - value;
  return over(first) >= 0 ? first : over(last) <= 0 ? last : findRoot(over, first, last, 1e-12);
}

/**
 * The hull, both sides in one solid. Its surfaces are those that all else is worked out from, so the file is exact; where
 * the round meets deck and bottom the edge is the round's own border, which lies on them to the loft's error.
 */
export function hullBrep(hull: Hull): Brep {
  const shell = new ShellBuilder();
  const round = roundSurface(hull);
  const roundEdges = borders(round);
  shell.patch(round, false, true);
  const ends: Record<'tail' | 'nose', Way[]> = { tail: [], nose: [] };
  for (const face of ['bottom', 'deck'] as const) {
    const surface = panelSurface(hull[face]);
    const { v0: centre, u0, u1 } = borders(surface);
    const edge = face === 'deck' ? roundEdges.v1 : roundEdges.v0;
    const rim = wayAlong(edge, false);
    const [first, last] = [edge.knots[0], edge.knots[edge.knots.length - 1]].map((t) => curvePoint(edge, t));
    // A round end's rim comes to the centreline inside the board; a square end's lies off it.
    const [c0, c1] = [first, last].map((p, i) => (p[1] > 0 ? centre.knots[i === 0 ? 0 : centre.knots.length - 1] : parameterAt(centre, 0, p[0])));
    const across = (row: CurveData, p: readonly number[]): Way | undefined => (p[1] > 0 ? { curve: row, t0: 0, t1: parameterAt(row, 1, p[1]) } : undefined);
    const [tail, nose] = [across(u0, first), across(u1, last)];
    const loop: Way[] = [
      { curve: centre, t0: c0, t1: c1 }, ...(nose ? [nose] : []), rim, ...(tail ? [{ ...tail, t0: tail.t1, t1: tail.t0 }] : []),
    ];
    shell.trimmed(surface, face === 'deck', loop);
    // The end's plane: bottom out, round up, deck back.
    if (tail) ends.tail.push(face === 'bottom' ? tail : { ...tail, t0: tail.t1, t1: tail.t0 });
    if (nose) ends.nose.push(face === 'bottom' ? nose : { ...nose, t0: nose.t1, t1: nose.t0 });
  }
  for (const end of ['tail', 'nose'] as const) {
    if (ends[end].length < 2) continue;
    const [bottom, deck] = ends[end];
    const starboard = [bottom, wayAlong(end === 'tail' ? roundEdges.u0 : roundEdges.u1), deck];
    shell.acrossEnd(starboard, end === 'tail' ? 0 : hull.length, end === 'nose' ? 1 : -1);
  }
  return shell.build('hull', 'hull', 'centre');
}
