/**
 * The closed outlines of the box's parts in the section square to the rail: shaped here alone, for the station card,
 * the rib cards and the sweeps that make solids. Corners are (o, z), o outboard from the rib-end line and z up, mm,
 * counter-clockwise. A part has the same number of corners at every run, so that its rings can be swept: where a
 * face has no height its corners fall together. Sole and cap are drawn planed, and end where planing cuts through.
 */
import { innerAt, panelAt, panelProbe } from '../hull/panel';
import type { RailSection } from '../types';
import { sizesOnRun, type Run } from './run';

export type SectionRing = readonly (readonly [o: number, z: number])[];

export interface BoxRings {
  sole(c: RailSection): SectionRing;
  cap(c: RailSection): SectionRing;
  /** Row k, 1 on the sole. */
  row(c: RailSection, k: number): SectionRing;
  /** The hollow behind and over `rows` spacer rows. */
  hollow(c: RailSection, rows: number): SectionRing;
  /** A block's tongue between sole and cap, and a block over a sole that runs on under it. */
  tongue(c: RailSection): SectionRing;
  over(c: RailSection): SectionRing;
  /** Layer from the box out, 1 first; from the finished bottom to the inner deck face. */
  outerSkin(c: RailSection, layer: number): SectionRing;
  /** Height of deck (face 1) or bottom (-1) at o: finished outside, and inner face. */
  outside(c: RailSection, face: 1 | -1, o: number): number;
  inside(c: RailSection, face: 1 | -1, o: number): number;
}

/**
 * Corners of a planed face, on the side `up` (1 or -1) of the face that is kept at height `kept`: from (0, z0) to the
 * box face at (w, z1), or to where it meets the kept face before that.
 */
function planed(w: number, kept: number, z0: number, z1: number, up: 1 | -1): readonly [inner: readonly [number, number], outer: readonly [number, number]] {
  const [thick0, thick1] = [Math.max(0, up * (z0 - kept)), up * (z1 - kept)];
  return [[0, kept + up * thick0], thick1 >= 0 ? [w, z1] : [(w * thick0) / (thick0 - thick1), kept]];
}

/** The rings of a run's box, layers of outer skin `outerThickness` mm thick, from sections of that run. As made where that is known. */
export function boxRings(run: Run, outerThickness: number): BoxRings {
  const probes = { deck: panelProbe(), deckIn: panelProbe(), bottom: panelProbe(), bottomIn: panelProbe() };
  const { deck, bottom } = run.hull;
  const lift = (c: RailSection, o: number) => {
    const made = run.ev.made?.(c.s);
    return made ? made.lift + made.tilt * o : 0;
  };
  const outside = (c: RailSection, face: 1 | -1, o: number): number => {
    const [x, y] = [c.ribX - o * c.nx, c.ribY - o * c.ny];
    return face === 1 ? panelAt(deck, x, y, probes.deck).z + lift(c, o) : panelAt(bottom, x, y, probes.bottom).z;
  };
  const inside = (c: RailSection, face: 1 | -1, o: number): number => {
    const [x, y] = [c.ribX - o * c.nx, c.ribY - o * c.ny];
    const { deckSkin, bottomSkin } = sizesOnRun(run, c.s);
    return face === 1 ? innerAt(deck, 1, deckSkin, x, y, probes.deckIn).z + lift(c, o) : innerAt(bottom, -1, bottomSkin, x, y, probes.bottomIn).z;
  };
  return {
    outside,
    inside,
    sole(c) {
      const w = sizesOnRun(run, c.s).stripWidth;
      const [inner, outer] = planed(w, c.soleTop, c.soleBottom, c.soleBottom + Math.max(0, c.solePlaning) * Math.hypot(1, c.soleSlope), -1);
      return [inner, outer, [outer[0], c.soleTop], [0, c.soleTop]];
    },
    cap(c) {
      const w = sizesOnRun(run, c.s).stripWidth;
      const slant = Math.hypot(1, c.capSlope);
      // A cap that stands proud of its rib ends is planed at its inner edge too, by what `planing` has over the bevel.
      const proud = Math.max(0, c.planing - w * Math.tan(c.bevel));
      const [inner, outer] = planed(w, c.capBottom, c.capTop - proud * slant, c.capTop - Math.max(0, c.planing) * slant, 1);
      return [[0, c.capBottom], [outer[0], c.capBottom], outer, inner];
    },
    row(c, k) {
      const { stripWidth: w, spacerWidth, spacerHeight } = sizesOnRun(run, c.s);
      const rise = spacerHeight * Math.hypot(1, c.soleSlope);
      const z = c.soleTop + (k - 1) * rise;
      return [[w - spacerWidth, z], [w, z], [w, z + rise], [w - spacerWidth, z + rise]];
    },
    hollow(c, rows) {
      const { stripWidth: w, spacerWidth, spacerHeight } = sizesOnRun(run, c.s);
      const stack = Math.min(Math.max(0, c.gap), rows * spacerHeight) * Math.hypot(1, c.soleSlope);
      const top = Math.min(c.capBottom, c.soleTop + stack);
      const back = w - spacerWidth;
      return [[0, c.soleTop], [back, c.soleTop], [back, top], [w, top], [w, c.capBottom], [0, c.capBottom]];
    },
    tongue(c) {
      const w = sizesOnRun(run, c.s).stripWidth;
      const top = Math.max(c.soleTop, c.capBottom);
      return [[0, c.soleTop], [w, c.soleTop], [w, top], [0, top]];
    },
    over(c) {
      const w = sizesOnRun(run, c.s).stripWidth;
      return [[0, c.soleTop], [w, c.soleTop], [w, Math.max(c.soleTop, inside(c, 1, w))], [0, Math.max(c.soleTop, inside(c, 1, 0))]];
    },
    outerSkin(c, layer) {
      const b = sizesOnRun(run, c.s).stripWidth + layer * outerThickness;
      const a = b - outerThickness;
      return [[a, outside(c, -1, a)], [b, outside(c, -1, b)], [b, inside(c, 1, b)], [a, inside(c, 1, a)]];
    },
  };
}

/** How far a corner may lie off the line of its neighbours and be none, mm: below what a drawing or a saw can show. */
const FLAT = 1e-6;

/** A ring without the corners that make none: those that fall together, lie between their neighbours, or are the tip of a spike. */
export function tidied(ring: SectionRing): SectionRing {
  for (let i = 0; i < ring.length; i++) {
    const [a, b, c] = [ring[(i + ring.length - 1) % ring.length], ring[i], ring[(i + 1) % ring.length]];
    const [ux, uz, vx, vz] = [b[0] - a[0], b[1] - a[1], c[0] - b[0], c[1] - b[1]];
    const long = Math.max(Math.hypot(ux, uz), Math.hypot(vx, vz));
    if (Math.abs(ux * vz - uz * vx) <= FLAT * long) return tidied(ring.filter((_, k) => k !== i));
  }
  return ring;
}
