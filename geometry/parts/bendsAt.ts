/** How the strips bend at one place of the rail. */
import type { BendState, StripBending, StripId } from './types';

/** One strip's bend at one run. */
export interface BendHere {
  readonly strip: StripId;
  /** Radius of the strip's own curve there (outer skins: of the cylinder), mm; infinite where it is straight. */
  readonly radius: number;
  /** Fibre strain at the worst corner of its section. */
  readonly strain: number;
  readonly state: BendState;
  readonly dryLimit: number;
  readonly steamLimit: number;
}

const RANK: Readonly<Record<BendState, number>> = { dry: 0, steam: 1, no: 2 };

/** The worse of two states, the first where they are alike. */
export const worseBend = (a: BendState, b: BendState): BendState => (RANK[b] > RANK[a] ? b : a);

/**
 * Every strip that is there at run s (mm), in `bending`'s order. Figures lie straight between the bending's own
 * nodes; the state is that of the zone, which steams a short dry stretch between two steamed ones with them, and
 * where two zones meet the worse of the two.
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
    const states = b.zones.filter((zone) => s >= zone.s0 && s <= zone.s1).map((zone) => zone.state);
    const state = states.reduce<BendState>(worseBend, 'dry');
    return [{ strip: b.strip, radius: 1 / bend, strain: at(b.strain), state, dryLimit: b.dryLimit, steamLimit: b.steamLimit }];
  });
}
