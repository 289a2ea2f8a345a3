/** The planed faces over and under the box: the straight pass of a plane from the rib-end line to the box face. */
import type { RailSection } from '../types';

/** A straight line's height at o outboard from the rib-end line, mm. */
export type Line = (o: number) => number;

/** Heights of the two passes in a section of a box `w` mm wide. A cap that stands proud of its rib ends is planed at its inner edge too, by what `planing` has over the bevel. */
export function passes(c: RailSection, w: number): { floor: Line; roof: Line } {
  const [perSole, perCap] = [Math.hypot(1, c.soleSlope), Math.hypot(1, c.capSlope)];
  const { soleBottom, capTop } = c;
  const [under, over] = [Math.max(0, c.solePlaning) * perSole, Math.max(0, c.planing) * perCap];
  const proud = Math.max(0, c.planing - w * Math.tan(c.bevel)) * perCap;
  return { floor: (o) => soleBottom + (o / w) * under, roof: (o) => capTop - (proud + (o / w) * (over - proud)) };
}
