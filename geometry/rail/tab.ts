/**
 * The stepped tab at a rib's end, as cut: a plate with square edges between a sole and a cap that slope along
 * the board. It is as high as fits over its whole thickness, touching a strip at one face and clear of it at
 * the other. That is exact, not cautious: a square-edged plate holds two parallel strips g apart when it is
 * g / cos(a) - t tan(a) high, and that is what comes out.
 */
import { loopArea } from '../curves/polygon';
import { parallelCurvature } from '../curves/plane';
import type { Design } from '../design/schema';
import type { RibAtRail } from '../types';
import { LEAST_FINGER, type BoxSizes } from './sizes';

/** The stepped tab of a rib, starboard: half-breadths and heights in the station plane, as cut. */
export interface TabShape {
  /** Half-breadth of the rib end, of the lower finger's end, and of the box face. */
  readonly end: number;
  readonly back: number;
  readonly face: number;
  /** Heights at the rib end: underside of the tab on the sole, top under the cap. */
  readonly low: number;
  readonly high: number;
  /** Underside of the finger that reaches over the rows; absent where none does. */
  readonly step?: number;
  /** Corners from the sole side of the rib end round to the cap side, (y, z) pairs. */
  readonly corners: readonly (readonly [number, number])[];
}

/** Half-breadth, mm, at which a rib's square end clears the box over its whole thickness: the lesser of its two faces. */
export function ribEndOf({ frames, rail }: Design, { section, ribY }: RibAtRail): number {
  const half = frames.ribThickness / 2;
  const kappa = parallelCurvature(section.kappa, rail.stripWidth);
  // The rib-end line about the mid-plane, to second order: y'' = -kappa / cos^3 of its plan angle.
  const shift = Math.abs(section.ty / section.tx) * half + (Math.max(0, kappa) * half * half) / (2 * section.tx ** 3);
  return ribY - shift;
}

/** Sizes that a tab is cut to, mm: those of the design, or as made. */
type TabSizes = Pick<BoxSizes, 'stripWidth' | 'spacerWidth' | 'spacerHeight'>;

/** The tab of a rib whose end is cut at half-breadth `end`, starboard; undefined where the rib has none. */
export function tabOf({ frames, rail }: Design, rib: RibAtRail, end: number, sizes: TabSizes = rail): TabShape | undefined {
  if (!rib.hasTab) return undefined;
  const { section } = rib;
  const { stripWidth, spacerWidth, spacerHeight } = sizes;
  const half = frames.ribThickness / 2;
  // One mm outboard in the station plane is tx square to the rail and ty along it.
  const outward = (square: number) => end + square / section.tx;
  const sole = (y: number, above = 0) =>
    section.soleTop + above + section.soleSlope * section.ty * (y - rib.ribY) + Math.abs(section.soleSlope * section.tx) * half;
  const cap = (y: number) =>
    section.capBottom + section.capSlope * section.ty * (y - rib.ribY) - Math.abs(section.capSlope * section.tx) * half;
  const back = outward(rib.rows > 0 ? stripWidth - spacerWidth : stripWidth);
  const face = outward(stripWidth);
  const rise = Math.sqrt(1 + section.soleSlope * section.soleSlope) * spacerHeight * rib.rows;
  const finger = rib.rows > 0 && !rail.fillSlot && cap(face) - sole(face, rise) >= LEAST_FINGER;
  if (!(cap(end) > sole(end) && cap(back) > sole(back))) return undefined;
  const corners: (readonly [number, number])[] = [[end, sole(end)], [back, sole(back)]];
  if (finger) corners.push([back, sole(back, rise)], [face, sole(face, rise)], [face, cap(face)]);
  else corners.push([back, cap(back)]);
  corners.push([end, cap(end)]);
  return { end, back, face, low: sole(end), high: cap(end), ...(finger ? { step: sole(back, rise) } : {}), corners };
}

/** Timber of one rib's tab in the box of one side, mm3: its shape as cut, less what is left inboard of the rib-end line. */
export function tabVolume(design: Design, rib: RibAtRail, sizes: TabSizes = design.rail): number {
  const tab = tabOf(design, rib, ribEndOf(design, rib), sizes);
  if (!tab) return 0;
  const inboard = (rib.ribY - tab.end) * (tab.high - tab.low);
  return Math.max(0, Math.abs(loopArea(tab.corners.flat())) - inboard) * design.frames.ribThickness;
}
