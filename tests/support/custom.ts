/** Hulls whose deck follows any rule, lofted by the kernel's own loft: for surfaces no board file can hold. */
import type { Spline } from '../../geometry/curves/bspline';
import { graphSpline } from '../../geometry/curves/graph';
import { frameAt, planeFrame } from '../../geometry/curves/plane';
import { loft, loftKnots, loftParameters } from '../../geometry/hull/loft';
import { panelOf } from '../../geometry/hull/panel';
import { hullVolume } from '../../geometry/hull/volume';
import type { Hull, Panel } from '../../geometry/types';
import { level } from './plain';

/** Bezier heights of the cubic that takes four values at v = vs (Lagrange, turned to Bernstein form by blossoms). */
export function cubicThrough(vs: readonly number[], zs: readonly number[]): number[] {
  const heights = [0, 0, 0, 0];
  vs.forEach((vi, i) => {
    const others = vs.filter((_, k) => k !== i);
    const scale = zs[i] / others.reduce((p, v) => p * (vi - v), 1);
    const [a, b, c] = others;
    // The blossom of (v - a)(v - b)(v - c): its arguments' elementary symmetric means.
    for (let j = 0; j < 4; j++) {
      const ones = j;
      const e1 = ones / 3;
      const e2 = (ones * (ones - 1)) / 6;
      const e3 = ones === 3 ? 1 : 0;
      heights[j] += scale * (e3 - (a + b + c) * e2 + (a * b + a * c + b * c) * e1 - a * b * c);
    }
  });
  return heights;
}

/** A panel over an outline: `rule` gives the four Bezier heights of the section at (x, half-breadth). */
export function lofted(outline: Spline, step: number, rule: (x: number, y: number, u: number) => readonly number[]): Panel {
  const knots = loftKnots(outline.knots, [], step);
  const frame = planeFrame();
  const rows = Array.from(loftParameters(knots)).flatMap((u) => {
    const { x, y } = frameAt(outline, u, frame);
    return [x, y, ...rule(x, y, u)];
  });
  return panelOf(loft(knots, Float64Array.from(rows), 6));
}

/** A hull of the two panels with a rail round of no extent along the outline, and no lines of its own. */
export function hullOf(outline: Spline, deck: Panel, bottom: Panel): Hull {
  const knots = deck.spline.knots;
  const { points } = deck.spline;
  const low = bottom.spline.points;
  const n = knots.length - 4;
  const length = points[(n - 1) * 6];
  // Straight up from the bottom's edge to the deck's: seven points over one another.
  const round = {
    dim: 21,
    knots,
    points: Float64Array.from({ length: n * 21 }, (_, k) => {
      const [i, j, d] = [Math.floor(k / 21), Math.floor((k % 21) / 3), k % 3];
      if (d < 2) return points[i * 6 + d];
      return low[i * 6 + 5] + ((points[i * 6 + 5] - low[i * 6 + 5]) * j) / 6;
    }),
  };
  const line = graphSpline(level(length, 0));
  return {
    length, outline, deck, bottom, round,
    lines: { rocker: line, thickness: line, crown: line, concave: line, vee: line, apex: line, fullness: line, tuck: line, turn: line },
    widest: { x: 0, halfBreadth: 0 },
    fairness: { loftError: 0, inflections: { outline: [], rocker: [], thickness: [] } },
    ...hullVolume(deck, bottom, round),
  };
}
