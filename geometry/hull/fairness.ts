/** How fair the lines are: curvature sign changes, and the loft's error between its sections. */
import { breaks, evalSpline, type Spline } from '../curves/bspline';
import { frameAt, planeFrame } from '../curves/plane';

/** Stations where the curvature of the outline changes sign: corners and changes too flat to see are left out. */
export function outlineInflections(outline: Spline): number[] {
  const frame = planeFrame();
  const out: number[] = [];
  const spans = breaks(outline.knots);
  for (let k = 0; k + 1 < spans.length; k++) {
    let before = 0;
    for (let i = 1; i < 16; i++) {
      frameAt(outline, spans[k] + ((spans[k + 1] - spans[k]) * i) / 16, frame);
      // 1e-6 per mm is a radius of a kilometre: straight.
      const sign = Math.abs(frame.kappa) < 1e-6 ? 0 : Math.sign(frame.kappa);
      if (sign * before < 0) out.push(frame.x);
      if (sign !== 0) before = sign;
    }
  }
  return out;
}

/** Stations where the second derivative of a length curve changes sign. */
export function graphInflections(graph: Spline): number[] {
  const basis = new Float64Array(12);
  const values = new Float64Array(3);
  const out: number[] = [];
  let before = 0;
  let at = 0;
  for (const x of breaks(graph.knots)) {
    evalSpline(graph, x, values, basis);
    const d2 = values[2];
    // The second derivative of a cubic spline is linear between knots: its zero is exact.
    if (before * d2 < 0 && Math.abs(before) > 1e-8 && Math.abs(d2) > 1e-8) {
      out.push(at + ((x - at) * before) / (before - d2));
    }
    before = d2;
    at = x;
  }
  return out;
}

/**
 * Greatest distance between a lofted spline and the section rule it was lofted from, midway between its
 * sections, over the last `columns` columns (heights), mm.
 */
export function loftError(lofted: Spline, rule: (u: number, out: Float64Array, at: number) => void, parameters: Float64Array): number {
  const basis = new Float64Array(12);
  const got = new Float64Array(lofted.dim * 3);
  const want = new Float64Array(lofted.dim);
  let worst = 0;
  for (let i = 0; i + 1 < parameters.length; i++) {
    const u = (parameters[i] + parameters[i + 1]) / 2;
    evalSpline(lofted, u, got, basis);
    rule(u, want, 0);
    for (let c = 0; c < lofted.dim; c++) worst = Math.max(worst, Math.abs(got[c] - want[c]));
  }
  return worst;
}
