/**
 * The closed outlines of the box's parts in the section square to the rail: shaped here alone, for the station card,
 * the rib cards and the sweeps that make solids. Corners are (o, z), o outboard from the rib-end line and z up, mm,
 * counter-clockwise. A part has the same number of corners at every run, so that its rings can be swept: where a
 * face has no height its corners fall together. Sole and cap are drawn planed, and end where planing cuts through.
 */
import { innerAt, panelAt, panelProbe, type PanelProbe } from '../hull/panel';
import type { RailSection } from '../types';
import { passes, type Line } from './passes';
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
  /** Height of deck (face 1) or bottom (-1) at o: finished outside, and inner face; the latter at another plan place where a part is carried on past the section. */
  outside(c: RailSection, face: 1 | -1, o: number): number;
  inside(c: RailSection, face: 1 | -1, o: number, past?: readonly [x: number, y: number]): number;
}

/**
 * Corners of a planed face, on the side `up` (1 or -1) of the face that is kept at height `kept`: from (0, z0) to the
 * box face at (w, z1), or to where it meets the kept face before that.
 */
function planed(w: number, kept: number, z0: number, z1: number, up: 1 | -1): readonly [inner: readonly [number, number], outer: readonly [number, number]] {
  const [thick0, thick1] = [Math.max(0, up * (z0 - kept)), up * (z1 - kept)];
  return [[0, kept + up * thick0], thick1 >= 0 ? [w, z1] : [(w * thick0) / (thick0 - thick1), kept]];
}

/** What is left of a strip that planing takes whole, mm: a body keeps an inside. */
const HAIR = 1e-3;
/** Shares of a strip's width between its edges at which it is held to a skin that is not flat across. */
const ACROSS = [0.25, 0.5, 0.75] as const;
/** A skin that bows away from the straight pass by more than this midway stands off it all across, mm. */
const BOWED = 0.01;
/** Places of a ring at which an inner face is asked for, and one more for who asks by himself: along a sweep each place's foot goes on from its own last. */
const LAST_PLACE = ACROSS.length + 2;
const placeProbes = (): PanelProbe[] => Array.from({ length: LAST_PLACE + 1 }, panelProbe);
/** A strip this far over the bottom skin at both edges is clear of it between, mm. */
const CLEAR = 2;

/**
 * What is left of a strip between o = a and w and two heights where both faces of the box are planed to lines: six corners,
 * on the side away from the sole a cut one and one where it meets the planed face, and on the other likewise.
 */
function within(a: number, w: number, low: number, high: number, { floor, roof }: { readonly floor: Line; readonly roof: Line }): SectionRing {
  /** Where a line leaves the height it is to stay clear of; at w where it never does. */
  const leaves = (line: Line, at: number) => {
    const [d0, d1] = [line(a) - at, line(w) - at];
    return d0 * d1 < 0 ? a + ((w - a) * d0) / (d0 - d1) : w;
  };
  const [bottom, top] = [(o: number) => Math.max(low, floor(o)), (o: number) => Math.min(high, roof(o))];
  const [turnLow, turnHigh] = [leaves(floor, low), leaves(roof, high)];
  // Where planing leaves nothing of its outer edge, it ends before that: both faces are straight from the last turn on.
  const last = Math.max(a, ...[turnLow, turnHigh].filter((o) => o < w));
  const [h0, h1] = [top(last) - bottom(last), top(w) - bottom(w)];
  const end = h1 >= 0 ? w : h0 > 0 ? last + ((w - last) * h0) / (h0 - h1) : last;
  const under = (o: number) => [o, bottom(o)] as const;
  const over = (o: number) => [o, Math.max(bottom(o) + HAIR, top(o))] as const;
  return [under(a), under(Math.min(turnLow, end)), under(end), over(end), over(Math.min(turnHigh, end)), over(a)];
}

/** The rings of a run's box, layers of outer skin `outerThickness` mm thick, from sections of that run. As made where that is known. */
export function boxRings(run: Run, outerThickness: number): BoxRings {
  const probes = { deck: panelProbe(), bottom: panelProbe() };
  const feet = { deck: placeProbes(), bottom: placeProbes() };
  const { deck, bottom } = run.hull;
  const lift = (c: RailSection, o: number) => {
    const made = run.ev.made?.(c.s);
    return made ? made.lift + made.tilt * o : 0;
  };
  const outside = (c: RailSection, face: 1 | -1, o: number): number => {
    const [x, y] = [c.ribX - o * c.nx, c.ribY - o * c.ny];
    return face === 1 ? panelAt(deck, x, y, probes.deck).z + lift(c, o) : panelAt(bottom, x, y, probes.bottom).z;
  };
  /** The inner face at o; `nth` place of a ring at which it is asked for, which has a probe of its own. */
  const innerFace = (c: RailSection, face: 1 | -1, o: number, nth: number, x = c.ribX - o * c.nx, y = c.ribY - o * c.ny): number => {
    const { deckSkin, bottomSkin } = sizesOnRun(run, c.s);
    return face === 1 ? innerAt(deck, 1, deckSkin, x, y, feet.deck[nth]).z + lift(c, o) : innerAt(bottom, -1, bottomSkin, x, y, feet.bottom[nth]).z;
  };
  const inside: BoxRings['inside'] = (c, face, o, past) => innerFace(c, face, o, LAST_PLACE, ...(past ?? []));
  /** Between two corners of a strip's planed face, from the first on: that of the pass, but for what a skin that stands farther in takes off it. */
  const relieved = (c: RailSection, face: 1 | -1, kept: number, [o0, z0]: SectionRing[number], [o1, z1]: SectionRing[number]): SectionRing =>
    ACROSS.map((t, i) => {
      const [o, z] = [o0 + t * (o1 - o0), z0 + t * (z1 - z0)];
      if (face === 1 ? c.deckHollow > BOWED : c.soleHollow < -BOWED) return [o, face === 1 ? Math.max(kept, z) : Math.min(kept, z)] as const;
      const skin = innerFace(c, face, o, i);
      return [o, face === 1 ? Math.max(kept, Math.min(z, skin)) : Math.min(kept, Math.max(z, skin))] as const;
    });
  return {
    outside,
    inside,
    sole(c) {
      const w = sizesOnRun(run, c.s).stripWidth;
      const [inner, outer] = planed(w, c.soleTop, c.soleBottom, c.soleBottom + Math.max(0, c.solePlaning) * Math.hypot(1, c.soleSlope), -1);
      return [inner, ...relieved(c, -1, c.soleTop, inner, outer), outer, [outer[0], c.soleTop], [0, c.soleTop]];
    },
    cap(c) {
      const w = sizesOnRun(run, c.s).stripWidth;
      const slant = Math.hypot(1, c.capSlope);
      // A cap that stands proud of its rib ends is planed at its inner edge too, by what `planing` has over the bevel.
      const proud = Math.max(0, c.planing - w * Math.tan(c.bevel));
      const [inner, outer] = planed(w, c.capBottom, c.capTop - proud * slant, c.capTop - Math.max(0, c.planing) * slant, 1);
      // Where sole and rows are planed through, so is its lower face.
      const clear = c.capBottom > Math.max(c.bottomRib, c.bottomFace) + CLEAR;
      const [low0, low1] = [0, outer[0]].map((o, i) => (clear ? c.capBottom : Math.max(c.capBottom, innerFace(c, -1, o, i))));
      const top = [outer, ...relieved(c, 1, c.capBottom, outer, inner), inner];
      return [[0, low0], [outer[0], low1], ...top.map(([o, z]) => [o, Math.max(z, outer[0] > 0 ? low0 + ((low1 - low0) * o) / outer[0] : low0)] as const)];
    },
    row(c, k) {
      const { stripWidth: w, spacerWidth, spacerHeight } = sizesOnRun(run, c.s);
      const rise = spacerHeight * Math.hypot(1, c.soleSlope);
      const z = c.soleTop + (k - 1) * rise;
      return within(w - spacerWidth, w, z, z + rise, passes(c, w));
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
      return within(0, w, c.soleTop, top, passes(c, w));
    },
    over(c) {
      const w = sizesOnRun(run, c.s).stripWidth;
      const low = [0, ...ACROSS, 1].map((share, i) => [w * share, Math.max(c.soleTop, innerFace(c, -1, w * share, i))] as const);
      return [...low, ...low.map(([o, z], i) => [o, Math.max(z, innerFace(c, 1, o, i))] as const).reverse()];
    },
    outerSkin(c, layer) {
      const b = sizesOnRun(run, c.s).stripWidth + layer * outerThickness;
      const a = b - outerThickness;
      return [[a, outside(c, -1, a)], [b, outside(c, -1, b)], [b, innerFace(c, 1, b, 0)], [a, innerFace(c, 1, a, 1)]];
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
