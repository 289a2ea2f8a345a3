/** Rib outlines in their own station plane: between the inner skins, with the stepped tab at the end. */
import { innerAt, panelProbe } from '../hull/panel';
import type { Plan, RibAtRail } from '../types';

/** Points along each of the rib's curved edges. */
const EDGE_POINTS = 24;

/**
 * Starboard half of a rib as a closed polygon of (y, z) pairs, counter-clockwise: bottom edge from the
 * centreline out, rib end with the stepped tab, deck edge back. The stringer is not cut out here.
 *
 * The tab fills the gap behind the rows over strip width - spacer width, and reaches the box face above the
 * rows where a slot is left. Lengths square to the rail are longer in the station plane by 1 / cos(plan
 * angle); heights follow the strips' slope along the rail.
 */
export function ribHalfProfile(plan: Plan, rib: RibAtRail): Float64Array {
  const { design, hull } = plan;
  const { section } = rib;
  const { stripWidth, spacerWidth, spacerHeight } = design.rail;
  const probe = panelProbe();
  const out: number[] = [];
  for (let i = 0; i <= EDGE_POINTS; i++) {
    const y = (rib.ribY * i) / EDGE_POINTS;
    out.push(y, innerAt(hull.bottom, -1, design.skins.bottom, rib.x, y, probe).z);
  }
  if (rib.hasTab) {
    // One mm outboard in the station plane is -ny square to the rail and ty along it.
    const outboard = 1 / -section.ny;
    const at = (square: number, z: number, slope: number) => {
      const y = square * outboard;
      out.push(rib.ribY + y, z + slope * section.ty * y);
    };
    const rise = Math.hypot(1, section.soleSlope) * spacerHeight * rib.rows;
    const back = rib.rows > 0 ? stripWidth - spacerWidth : stripWidth;
    at(0, section.soleTop, section.soleSlope);
    at(back, section.soleTop, section.soleSlope);
    if (rib.rows > 0 && rib.slot > 1e-6) {
      at(back, section.soleTop + rise, section.soleSlope);
      at(stripWidth, section.soleTop + rise, section.soleSlope);
      at(stripWidth, section.capBottom, section.capSlope);
    } else {
      at(back, section.capBottom, section.capSlope);
    }
    at(0, section.capBottom, section.capSlope);
  }
  for (let i = EDGE_POINTS; i >= 0; i--) {
    const y = (rib.ribY * i) / EDGE_POINTS;
    out.push(y, innerAt(hull.deck, 1, design.skins.deck, rib.x, y, probe).z);
  }
  return Float64Array.from(out);
}

/** Stringer as a closed polygon of (x, z) pairs between the inner faces on the centreline, tail to nose and back. */
export function stringerProfile(plan: Plan): Float64Array {
  const { design, hull, rail } = plan;
  const tail = rail.face.tail.kind === 'round' ? rail.ribEnd.tail.x : rail.meets.tail ? rail.ribEnd.tail.x : 0.5;
  const nose = rail.face.nose.kind === 'open' ? hull.length - 0.5 : rail.ribEnd.nose.x;
  const n = 96;
  const probe = panelProbe();
  const out: number[] = [];
  for (let i = 0; i <= n; i++) {
    const x = tail + ((nose - tail) * i) / n;
    out.push(x, innerAt(hull.bottom, -1, design.skins.bottom, x, 0, probe).z);
  }
  for (let i = n; i >= 0; i--) {
    const x = tail + ((nose - tail) * i) / n;
    out.push(x, innerAt(hull.deck, 1, design.skins.deck, x, 0, probe).z);
  }
  return Float64Array.from(out);
}
