/**
 * Rib outlines in their own station plane, whole, both sides: between the inner skins, notched over the
 * stringer, with the stepped tab at each end and lightening holes.
 *
 * A rib is a plate with square-cut edges standing in a channel whose faces slope along the board. Everywhere
 * the profile is the one that fits over the whole thickness: it touches a skin or a strip at one face of the
 * plate and stands clear at the other.
 */
import { innerAt, panelProbe } from '../hull/panel';
import { tabOf, type TabShape } from '../rail/tab';
import type { Plan, RibAtRail } from '../types';
import { breathing, EVERY, type Plate, type Rounding } from './holes';

/** Steps along each of the rib's curved edges, one side: as many at least, and no longer than this, mm. */
const EDGE_POINTS = 24;
const EDGE_STEP = 12;
/** Stations over a rib's thickness at which it is held to the skins, no farther apart than this, mm. */
const PLATE_STEP = 6;
/** Timber left beside the stringer for the rib's label, mm, where the least web is less; own choice. */
export const LABEL_LAND = 16;

/** A plate's cutting lines: outline counter-clockwise, holes clockwise, (p, z) pairs. */
export interface PlateShape {
  readonly outline: Float64Array;
  readonly holes: readonly Float64Array[];
}

/** A rib as cut. */
export interface RibShape extends PlateShape {
  readonly tab?: TabShape;
  /** Half-breadth at which the rib's ends are cut off square. */
  readonly end: number;
  /** Half-lap notch over the stringer: half its width, and its floor. */
  readonly notch: { readonly half: number; readonly floor: number };
  /** Height of the rib at the centreline, bottom and deck edge. */
  readonly bottom: number;
  readonly deck: number;
}

/** Half of a notch's whole width over a plate of this thickness, mm. */
export const notchHalf = (plan: Plan, thickness: number): number => (thickness + plan.design.frames.notchFit) / 2;

/** How far notch floors lie apart: the fit again, but never an overlap, for a notch too shallow holds the parts apart. */
export const floorFit = (plan: Plan): number => Math.max(0, plan.design.frames.notchFit);

/** Stations over a plate of this half thickness about x, its two faces among them, on the board and no farther apart than PLATE_STEP, mm. */
function plateStations(x: number, half: number, length: number): number[] {
  const steps = Math.max(1, Math.ceil((2 * half) / PLATE_STEP));
  return Array.from({ length: steps + 1 }, (_, i) => Math.min(length, Math.max(0, x - half + (2 * half * i) / steps)));
}

/** Why a rib cannot be cut: its ends lie inside the stringer's notch, or it has no height somewhere. */
export type RibFault = 'narrow' | 'thin';

/** Least height and least reach beyond the notch of a rib that holds together, mm; own choice. */
const LEAST_RIB = 1;

/**
 * A rib's cutting lines, whole, or why there are none. How many points it has depends only on its
 * breadth, its tab's kind and its holes.
 */
function ribShape(plan: Plan, rib: RibAtRail, rounding: Rounding, inner: typeof innerAt): RibShape | RibFault {
  const { design, hull } = plan;
  const half = design.frames.ribThickness / 2;
  const stations = plateStations(rib.x, half, hull.length);
  const [low, high] = ([[-1, hull.bottom, design.skins.bottom], [1, hull.deck, design.skins.deck]] as const).map(([face, panel, skin]) => {
    // Each station's own probe: along its walk outboard the next foot is foreseen.
    const probes = stations.map(panelProbe);
    return (y: number): number =>
      stations.reduce((inside, x, i) => {
        const { z } = inner(panel, face, skin, x, y, probes[i]);
        return face === 1 ? Math.min(inside, z) : Math.max(inside, z);
      }, face * Infinity);
  });
  const end = rib.over.end.y;
  const notch = notchHalf(plan, design.frames.stringerThickness);
  if (!(end - notch >= LEAST_RIB)) return 'narrow';
  const steps = Math.max(EDGE_POINTS, Math.ceil((end - notch) / EDGE_STEP));
  const edge = (f: (y: number) => number): Float64Array => {
    const out = new Float64Array(2 * steps + 2);
    for (let i = 0; i <= steps; i++) {
      const y = notch + ((end - notch) * i) / steps;
      out[2 * i] = y;
      out[2 * i + 1] = f(y);
    }
    return out;
  };
  const band: Plate = { low: edge(low), high: edge(high) };
  for (let i = 1; i < band.low.length; i += 2) if (!(band.high[i] - band.low[i] >= LEAST_RIB)) return 'thin';
  const bottom = low(0);
  const deck = high(0);
  const floor = (bottom + deck) / 2 + floorFit(plan) / 2;
  const tab = tabOf(design, rib);
  // Starboard half from the notch's floor round to the deck on the centreline, then its mirror image.
  const kept = (i: number) => i === steps || i % EVERY[rounding] === 0;
  const starboard: number[] = [notch, floor];
  for (let i = 0; i <= steps; i++) if (kept(i)) starboard.push(band.low[2 * i], band.low[2 * i + 1]);
  for (const [y, z] of tab?.corners ?? []) starboard.push(y, z);
  for (let i = steps; i >= 0; i--) if (kept(i)) starboard.push(band.high[2 * i], band.high[2 * i + 1]);
  starboard.push(0, deck);
  const outline = new Float64Array(2 * starboard.length - 2);
  outline.set(starboard);
  for (let i = starboard.length - 4, at = starboard.length; i >= 0; i -= 2, at += 2) {
    outline[at] = -starboard[i];
    outline[at + 1] = starboard[i + 1];
  }
  const web = design.frames.leastWeb;
  const right = breathing(band, notch + Math.max(web, LABEL_LAND), end - web, web, notch + LABEL_LAND, end, design.frames.kerf, rounding);
  return {
    outline, holes: [...right, ...right.map(mirroredLoop)], tab, end, bottom, deck, notch: { half: notch, floor },
  };
}

/** A loop mirrored across the centreline, keeping its sense of turning. */
function mirroredLoop(loop: Float64Array): Float64Array {
  const out = new Float64Array(loop.length);
  for (let i = 0, k = loop.length - 2; i < loop.length; i += 2, k -= 2) {
    out[i] = -loop[k];
    out[i + 1] = loop[k + 1];
  }
  return out;
}

/** A rib with its cutting lines. */
export interface CutRib {
  readonly index: number;
  readonly x: number;
  readonly rib: RibAtRail;
  readonly shape: RibShape;
}

/** Every rib that can be cut, tail first as the plan has them, and those that cannot with the reason; holes as for the cut, or as they are seen on a stage; skins' inner faces by `inner`. */
export function cutRibs(plan: Plan, rounding: Rounding = 'cut', inner = innerAt): { ribs: CutRib[]; faults: { rib: RibAtRail; fault: RibFault }[] } {
  const ribs: CutRib[] = [];
  const faults: { rib: RibAtRail; fault: RibFault }[] = [];
  for (const rib of plan.rail.ribs) {
    const shape = ribShape(plan, rib, rounding, inner);
    if (typeof shape === 'string') faults.push({ rib, fault: shape });
    else ribs.push({ index: rib.index, x: rib.x, rib, shape });
  }
  return { ribs, faults };
}
