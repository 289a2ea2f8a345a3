/** The planed faces over and under the box: the straight pass of a plane from the rib-end line to the box face. */
import type { RailSection } from '../types';

/** A straight line's height at o outboard from the rib-end line, mm. */
export type Line = (o: number) => number;

/** Height of the pass under a section of a box `w` mm wide, at o. */
export const floorAt = (c: RailSection, w: number, o: number): number =>
  c.soleBottom + (o / w) * Math.max(0, c.solePlaning) * Math.sqrt(1 + c.soleSlope * c.soleSlope);

/** Height of the pass over it. A cap that stands proud of its rib ends is planed at its inner edge too, by what `planing` has over the bevel. */
export function roofAt(c: RailSection, w: number, o: number): number {
  const over = Math.max(0, c.planing);
  const proud = Math.max(0, c.planing - w * Math.tan(c.bevel));
  return c.capTop - (proud + (o / w) * (over - proud)) * Math.sqrt(1 + c.capSlope * c.capSlope);
}

/** Both passes in a section. */
export const passes = (c: RailSection, w: number): { floor: Line; roof: Line } => ({ floor: (o) => floorAt(c, w, o), roof: (o) => roofAt(c, w, o) });
