/**
 * Volume, centre and plan area of the finished hull by the divergence theorem: over the closed surface
 * V = integral of z dx dy, the flux of (0, 0, z). Vertical faces (transom, centreline) add nothing.
 * Gauss-Legendre along the length; across, the panels' polynomials are integrated exactly.
 */
import { breaks, evalSpline, type Spline } from '../curves/bspline';
import { GAUSS5_W, GAUSS5_X } from '../curves/quadrature';
import type { Panel } from '../types';
import { parameterAtX } from './panel';

/** Integrals over a plan region between the centreline and a curve (x(u), y(u)): of z, of x z, of z^2 / 2, of 1. */
interface Moments {
  z: number;
  xz: number;
  zz: number;
  area: number;
}

const basis = new Float64Array(12);
const row = new Float64Array(18);
const edge = new Float64Array(63);

/** Integral over [0, y] of the panel's height and half its square at station x (columns in `row`). */
function stripIntegrals(panel: Panel, x: number, y: number, guess: number): { z: number; zz: number; u: number } {
  const u = parameterAtX(panel.spline, x, guess);
  evalSpline(panel.spline, u, row, basis);
  const breadth = row[1];
  if (breadth <= 1e-12 || y <= 0) return { z: 0, zz: 0, u };
  let z = 0;
  let zz = 0;
  const top = y / breadth;
  for (let i = 0; i < 5; i++) {
    const v = top * GAUSS5_X[i];
    const w = 1 - v;
    const h = w * w * w * row[2] + 3 * w * w * v * row[3] + 3 * w * v * v * row[4] + v * v * v * row[5];
    z += GAUSS5_W[i] * h;
    zz += (GAUSS5_W[i] * h * h) / 2;
  }
  return { z: z * y, zz: zz * y, u };
}

/** Moments of a panel over the plan region inside one edge curve of the round (control point `index`). */
function panelMoments(panel: Panel, round: Spline, index: number): Moments {
  const out = { z: 0, xz: 0, zz: 0, area: 0 };
  const spans = breaks(round.knots);
  let guess = Number.NaN;
  for (let k = 0; k + 1 < spans.length; k++) {
    const h = spans[k + 1] - spans[k];
    for (let i = 0; i < 5; i++) {
      evalSpline(round, spans[k] + h * GAUSS5_X[i], edge, basis);
      const x = edge[index * 3];
      const y = edge[index * 3 + 1];
      const dx = edge[21 + index * 3] * GAUSS5_W[i] * h;
      const part = stripIntegrals(panel, x, y, guess);
      guess = part.u;
      out.z += part.z * dx;
      out.xz += x * part.z * dx;
      out.zz += part.zz * dx;
      out.area += y * dx;
    }
  }
  return out;
}

/** Moments of the rail round's flux of z over its plan projection, upward positive. */
function roundMoments(round: Spline): Moments {
  const out = { z: 0, xz: 0, zz: 0, area: 0 };
  const spans = breaks(round.knots);
  for (let k = 0; k + 1 < spans.length; k++) {
    const h = spans[k + 1] - spans[k];
    for (let i = 0; i < 5; i++) {
      evalSpline(round, spans[k] + h * GAUSS5_X[i], edge, basis);
      for (let arc = 0; arc < 2; arc++) {
        for (let j = 0; j < 5; j++) {
          const v = GAUSS5_X[j];
          const w = 1 - v;
          const b = [w * w * w, 3 * w * w * v, 3 * w * v * v, v * v * v];
          const d = [-3 * w * w, 3 * w * w - 6 * w * v, 6 * w * v - 3 * v * v, 3 * v * v];
          let x = 0, z = 0, xu = 0, yu = 0, xv = 0, yv = 0;
          for (let c = 0; c < 4; c++) {
            const p = (arc * 3 + c) * 3;
            x += b[c] * edge[p];
            z += b[c] * edge[p + 2];
            xu += b[c] * edge[21 + p];
            yu += b[c] * edge[21 + p + 1];
            xv += d[c] * edge[p];
            yv += d[c] * edge[p + 1];
          }
          // Starboard, u tail to nose, v tuck to deck: outward flux of (0, 0, z) is z (x_v y_u - x_u y_v) turned out.
          const flux = (xv * yu - xu * yv) * GAUSS5_W[i] * GAUSS5_W[j] * h;
          out.z += z * flux;
          out.xz += x * z * flux;
          out.zz += ((z * z) / 2) * flux;
        }
      }
    }
  }
  return out;
}

/** Volume (mm3, both halves), centre of volume, and plan area (mm2, both halves) of the finished hull. */
export function hullVolume(deck: Panel, bottom: Panel, round: Spline): { volume: number; centre: { x: number; z: number }; planArea: number } {
  const top = panelMoments(deck, round, 6);
  const low = panelMoments(bottom, round, 0);
  const side = roundMoments(round);
  const apex = panelMoments(deck, round, 3);
  const half = top.z - low.z + side.z;
  return {
    volume: 2 * half,
    centre: { x: (top.xz - low.xz + side.xz) / half, z: (top.zz - low.zz + side.zz) / half },
    planArea: 2 * apex.area,
  };
}
