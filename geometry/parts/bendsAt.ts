/** How the strips bend at one place of the rail. */
import { methodRank, type MethodHere } from '../wood/ladder';
import type { BendLimits } from '../wood/limits';
import type { StripBending, StripId } from './types';

/** One strip's bend at one run. */
export interface BendHere extends MethodHere {
  readonly strip: StripId;
  /** Radius of the strip's own curve there (outer skins: of the cylinder), mm; infinite where it is straight. */
  readonly radius: number;
  /** Fibre strain at the worst corner of its section. */
  readonly strain: number;
  readonly limits: BendLimits;
}

/** The more troublesome of two methods, the first where they are alike. */
export const worseMethod = <T extends MethodHere>(a: T, b: T): T =>
  (methodRank(b.method) > methodRank(a.method) || (a.method === b.method && b.n > a.n) ? b : a);

/**
 * Every strip that is there at run s (mm), in `bending`'s order. Figures lie straight between the bending's own
 * nodes; the method is that of the zone, and where
 * two zones meet the more troublesome of the two.
 */
export function bendsAt(bending: readonly StripBending[], s: number): BendHere[] {
  return bending.flatMap((b): BendHere[] => {
    const last = b.s.length - 1;
    if (!(s >= b.s[0] && s <= b.s[last])) return [];
    let low = 0;
    let high = last;
    while (high - low > 1) {
      const mid = (low + high) >> 1;
      if (b.s[mid] <= s) low = mid;
      else high = mid;
    }
    const share = high === low ? 0 : (s - b.s[low]) / (b.s[high] - b.s[low]);
    const at = (values: Float64Array) => values[low] + (values[high] - values[low]) * share;
    const bend = Math.hypot(at(b.planCurvature), b.strip.kind === 'outer-skin' ? 0 : at(b.profileCurvature));
    const { method, n } = b.zones.filter((zone) => s >= zone.s0 && s <= zone.s1).reduce<MethodHere>(worseMethod, { method: 'cold', n: 1 });
    return [{ strip: b.strip, radius: 1 / bend, strain: at(b.strain), method, n, limits: b.limits }];
  });
}
