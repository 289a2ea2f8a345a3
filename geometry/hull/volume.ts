/**
 * Volume, centre and plan area of the finished hull by the divergence theorem: over the closed surface
 * V = integral of z dx dy, the flux of (0, 0, z). Vertical faces (transom, centreline) add nothing.
 * Gauss-Legendre along the length; across, the panels' polynomials are integrated exactly.
 */
import { breaks, evalFirst, type Spline } from '../curves/bspline';
import { GAUSS3_W, GAUSS3_X, GAUSS5_W, GAUSS5_X } from '../curves/quadrature';
import { parameterAtX } from '../curves/station';
import type { Panel } from '../types';

/** Integrals over a plan region between the centreline and a curve (x(u), y(u)): of z, of x z, of z^2 / 2, of 1. */
interface Moments {
  z: number;
  xz: number;
  zz: number;
  area: number;
}

const basis = new Float64Array(12);
const row = new Float64Array(18);
const edge = new Float64Array(42);

const moments = (): Moments => ({ z: 0, xz: 0, zz: 0, area: 0 });

/** Add to `out` what a panel has over the plan strip of [0, y] at station x, dx wide. `guess` of the parameter there; returns the parameter. */
function addStrip(out: Moments, panel: Panel, x: number, y: number, dx: number, guess: number): number {
  const u = parameterAtX(panel.spline, x, guess);
  evalFirst(panel.spline, u, row, basis);
  const breadth = row[1];
  let z = 0;
  let zz = 0;
  if (breadth > 1e-12 && y > 0) {
    const top = y / breadth;
    for (let i = 0; i < 5; i++) {
      const v = top * GAUSS5_X[i];
      const w = 1 - v;
      const h = w * w * w * row[2] + 3 * w * w * v * row[3] + 3 * w * v * v * row[4] + v * v * v * row[5];
      z += GAUSS5_W[i] * h;
      zz += (GAUSS5_W[i] * h * h) / 2;
    }
  }
  out.z += z * y * dx;
  out.xz += x * (z * y) * dx;
  out.zz += zz * y * dx;
  out.area += y * dx;
  return u;
}

/** Cubic Bernstein polynomials and their derivatives at the Gauss points, 4 and 4 each. */
const bernstein = Float64Array.from(GAUSS5_X.flatMap((v) => {
  const w = 1 - v;
  return [w * w * w, 3 * w * w * v, 3 * w * v * v, v * v * v, -3 * w * w, 3 * w * w - 6 * w * v, 6 * w * v - 3 * v * v, 3 * v * v];
}));

/** Add to `out` the round's flux of z over its plan projection, upward positive, of the section in `edge` with weight `by`. */
function addRound(out: Moments, by: number): void {
  for (let arc = 0; arc < 2; arc++) {
    for (let j = 0; j < 5; j++) {
      let x = 0, z = 0, xu = 0, yu = 0, xv = 0, yv = 0;
      for (let c = 0; c < 4; c++) {
        const p = (arc * 3 + c) * 3;
        const b = bernstein[8 * j + c];
        const d = bernstein[8 * j + 4 + c];
        x += b * edge[p];
        z += b * edge[p + 2];
        xu += b * edge[21 + p];
        yu += b * edge[21 + p + 1];
        xv += d * edge[p];
        yv += d * edge[p + 1];
      }
      // Starboard, u tail to nose, v tuck to deck: outward flux of (0, 0, z) is z (x_v y_u - x_u y_v) turned out.
      const flux = (xv * yu - xu * yv) * GAUSS5_W[j] * by;
      out.z += z * flux;
      out.xz += x * z * flux;
      out.zz += ((z * z) / 2) * flux;
    }
  }
}

/** Volume (mm3, both halves), centre of volume, and plan area (mm2, both halves) of the finished hull. */
export function hullVolume(deck: Panel, bottom: Panel, round: Spline): { volume: number; centre: { x: number; z: number }; planArea: number } {
  const [top, low, side] = [moments(), moments(), moments()];
  let area = 0;
  let [span, onTop, onLow] = [-1, Number.NaN, Number.NaN];
  const spans = breaks(round.knots);
  for (let k = 0; k + 1 < spans.length; k++) {
    // Spans are so short that three points along each give the volume to a hundred-millionth.
    const h = spans[k + 1] - spans[k];
    for (let i = 0; i < 3; i++) {
      const by = GAUSS3_W[i] * h;
      span = evalFirst(round, spans[k] + h * GAUSS3_X[i], edge, basis, span);
      // The panels reach to the round's deck line and tuck line, the plan to its apex: control points 6, 0 and 3.
      onTop = addStrip(top, deck, edge[18], edge[19], edge[39] * by, onTop);
      onLow = addStrip(low, bottom, edge[0], edge[1], edge[21] * by, onLow);
      area += edge[10] * edge[30] * by;
      addRound(side, by);
    }
  }
  const half = top.z - low.z + side.z;
  return {
    volume: 2 * half,
    centre: { x: (top.xz - low.xz + side.xz) / half, z: (top.zz - low.zz + side.zz) / half },
    planArea: 2 * area,
  };
}
