/** How far a point lies off the finished outside of a hull, to first order in that distance; and which part of it is nearest. */
import { cubicAt } from '../../curves/bezier';
import { evalSpline, type Spline } from '../../curves/bspline';
import { frameAt, planeFrame, type PlaneFrame } from '../../curves/plane';
import { panelAt, panelProbe } from '../../hull/panel';
import type { Hull } from '../../types';
import { footGrid, footOn } from '../project';

/** The part of the outside that is nearest. */
export type Zone = 'deck' | 'bottom' | 'rail' | 'end';

/** A point's place on the outside: signed distance (outside it positive), unit normal, and what the round is there. */
export interface OutsidePlace {
  r: number;
  nx: number;
  ny: number;
  nz: number;
  zone: Zone;
  /** Foot on the outline; how far in from there the point lies. */
  u: number;
  inset: number;
  /** On the round: the arc, 0 below the apex and 1 above it, and the parameter along it. */
  arc: 0 | 1;
  t: number;
  /** Height of the round's apex there. */
  apex: number;
}

export const outsidePlace = (): OutsidePlace => ({ r: 0, nx: 0, ny: 0, nz: 1, zone: 'deck', u: 0, inset: 0, arc: 0, t: 0, apex: 0 });

/** What counts as being there, mm. */
const HAIR = 0.02;
/** A round that reaches less far in than this is that of a tip, mm. */
const TIP = 2;

/** Places along an arc from which the nearest is sought. */
const STARTS = 6;

/** How far in from the outline the round's seven points lie, of a row of them. */
function insetsOf(row: Float64Array, { x, y, nx, ny }: PlaneFrame, out: Float64Array): void {
  for (let i = 0; i < 7; i++) out[i] = (row[3 * i] - x) * nx + (row[3 * i + 1] - y) * ny;
}

/** Sets `out` to where a point lies. Starboard's half is meant: a point to port is mirrored, and its normal with it. */
export type Finder = (x: number, y: number, z: number, out: OutsidePlace) => OutsidePlace;

/** Finds places on one hull. */
export function outsideOf(hull: Hull): Finder {
  const { outline, round, length } = hull;
  const grid = footGrid(outline);
  const frame = planeFrame();
  const row = new Float64Array(63);
  const basis = new Float64Array(12);
  const deck = panelProbe();
  const bottom = panelProbe();
  const points = outline.points;
  const square = [points[1] > 1e-3, points[points.length - 1] > 1e-3];
  const inset = new Float64Array(7);

  const onRound = (sx: number, sy: number, z: number, arc: 0 | 1, out: OutsidePlace): void => {
    const k = 3 * arc;
    const [a, b, c, d] = [inset[k], inset[k + 1], inset[k + 2], inset[k + 3]];
    const [e, f, g, h] = [row[3 * k + 2], row[3 * k + 5], row[3 * k + 8], row[3 * k + 11]];
    let best = 0;
    let least = Infinity;
    for (let i = 0; i <= STARTS; i++) {
      const t = i / STARTS;
      const s = 1 - t;
      const [p, q, w, v] = [s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t];
      const gap = (p * a + q * b + w * c + v * d - out.inset) ** 2 + (p * e + q * f + w * g + v * h - z) ** 2;
      if (gap < least) [least, best] = [gap, t];
    }
    let t = best;
    for (let i = 0; i < 6; i++) {
      const [y0, y1, y2] = cubicAt(a, b, c, d, t);
      const [z0, z1, z2] = cubicAt(e, f, g, h, t);
      const slope = (y0 - out.inset) * y1 + (z0 - z) * z1;
      const bend = y1 * y1 + z1 * z1 + (y0 - out.inset) * y2 + (z0 - z) * z2;
      if (!(bend > 0)) break;
      const next = Math.min(1, Math.max(0, t - slope / bend));
      if (Math.abs(next - t) < 1e-9) break;
      t = next;
    }
    out.zone = 'rail';
    out.arc = arc;
    out.t = t;
    // The surface's two tangents there: along the arc, and along the rail at the same t.
    const at = (column: number, order: number) => {
      const o = 21 * order + 3 * k + column;
      return cubicAt(row[o], row[o + 3], row[o + 6], row[o + 9], t);
    };
    const [X, Y, Z] = [at(0, 0), at(1, 0), at(2, 0)];
    const [ux, uy, uz] = [at(0, 1)[0], at(1, 1)[0], at(2, 1)[0]];
    let [nx, ny, nz] = [uy * Z[1] - uz * Y[1], uz * X[1] - ux * Z[1], ux * Y[1] - uy * X[1]];
    let size = Math.sqrt(nx * nx + ny * ny + nz * nz);
    if (!(size > 1e-12)) [nx, ny, nz, size] = [-frame.nx, -frame.ny, 0, 1];
    // Outward: away from the inward normal of the outline, or up and down where the arc lies flat.
    const way = -(nx * frame.nx + ny * frame.ny) / size + (arc === 1 ? nz : -nz) / size < 0 ? -1 / size : 1 / size;
    out.nx = nx * way;
    out.ny = ny * way;
    out.nz = nz * way;
    out.r = (sx - X[0]) * out.nx + (sy - Y[0]) * out.ny + (z - Z[0]) * out.nz;
  };

  return (x, y, z, out) => {
    const side: 1 | -1 = y < 0 ? -1 : 1;
    const sy = side * y;
    const foot = footOn(outline, grid, x, sy);
    frameAt(outline, foot.u, frame);
    out.u = foot.u;
    out.inset = -foot.signed;
    evalSpline(round, foot.u, row, basis);
    insetsOf(row, frame, inset);
    out.apex = row[11];
    const upper = z >= row[11];
    const within = inset[upper ? 6 : 0];
    onRound(x, sy, z, upper ? 1 : 0, out);
    if (out.inset >= within + HAIR) {
      const probe = panelAt(upper ? hull.deck : hull.bottom, x, sy, upper ? deck : bottom);
      const up = upper ? 1 : -1;
      const size = Math.sqrt(1 + probe.zx * probe.zx + probe.zy * probe.zy);
      const r = (up * (z - probe.z)) / size;
      // At a pointed tip the round is an upright line: what lies just behind that is nearer to it than to deck or bottom.
      if (within < TIP && out.inset < TIP && out.r > r) return mirrored(out, side);
      out.zone = upper ? 'deck' : 'bottom';
      out.r = r;
      out.nx = (-up * probe.zx) / size;
      out.ny = (-up * probe.zy) / size;
      out.nz = up / size;
    }
    // A square end's plane bounds the body too: of the two the farther out counts.
    for (const end of [0, 1]) {
      const beyond = end === 0 ? -x : x - length;
      if (square[end] && beyond > out.r) {
        out.zone = 'end';
        out.r = beyond;
        [out.nx, out.ny, out.nz] = [end === 0 ? -1 : 1, 0, 0];
      }
    }
    return mirrored(out, side);
  };
}

function mirrored(out: OutsidePlace, side: 1 | -1): OutsidePlace {
  out.ny *= side;
  return out;
}

/** The round at a foot in the plane of the outline's normal: insets and heights of its seven points, and the panels' slopes inward at its ends. */
export interface RoundSection {
  readonly inset: Float64Array;
  readonly z: Float64Array;
  deckSlope: number;
  bottomSlope: number;
}

/** Fills the round's section at u. */
export function roundSectionOf(hull: Hull): (u: number, out: RoundSection) => RoundSection {
  const { round, outline }: { round: Spline; outline: Spline } = hull;
  const row = new Float64Array(63);
  const basis = new Float64Array(12);
  const frame = planeFrame();
  const probe = panelProbe();
  return (u, out) => {
    evalSpline(round, u, row, basis);
    frameAt(outline, u, frame);
    insetsOf(row, frame, out.inset);
    for (let i = 0; i < 7; i++) out.z[i] = row[3 * i + 2];
    panelAt(hull.deck, row[18], Math.max(0, row[19]), probe);
    out.deckSlope = probe.zx * frame.nx + probe.zy * frame.ny;
    panelAt(hull.bottom, row[0], Math.max(0, row[1]), probe);
    out.bottomSlope = probe.zx * frame.nx + probe.zy * frame.ny;
    return out;
  };
}
