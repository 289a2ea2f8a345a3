/** Planks as bought, and what can be ripped from them: strips and spacers, deck and bottom skin. */
import type { Design } from '../design/schema';

export type Plank = NonNullable<Design['timber']['planks']>[number];

/** Planed off a plank's two edges together before anything is ripped from it or glued to it, mm: own choice. */
export const PLANK_EDGES = 3;
/** Trimmed off the ends of a plank as bought, both together, mm: own choice. */
export const PLANK_ENDS = 20;

/** What is left of a plank once its edges are shot and its ends trimmed, mm. */
export const plankRoom = ({ length, width, thickness }: Plank): { readonly length: number; readonly width: number; readonly thickness: number } =>
  ({ length: length - PLANK_ENDS, width: width - PLANK_EDGES, thickness });

/** Strips of a width that a saw with this kerf rips from `room`, all mm: n strips take n - 1 cuts between them, n w + (n - 1) k <= room. */
export const ripsAcross = (room: number, strip: number, kerf: number): number => Math.max(0, Math.floor((room + kerf) / (strip + kerf) + 1e-9));

/** The ways a section lies in a plank: what the fence is set to across the plank's width, and what is then ripped from its thickness. */
export function liesIn(plank: Plank, width: number, thickness: number): { readonly fence: number; readonly second: number }[] {
  const room = plankRoom(plank);
  const ways = width === thickness ? [{ fence: width, second: width }] : [{ fence: thickness, second: width }, { fence: width, second: thickness }];
  return room.length > 0 ? ways.filter(({ fence, second }) => fence <= room.width && second <= room.thickness) : [];
}

/** A length that planks give, and the first kind of plank that does. */
export interface RipLength {
  readonly type: number;
  readonly length: number;
}

/** Lengths of the strips of a section that the design's planks give, as many as wanted; undefined where it has no plank that gives it, and it is bought ready. */
export function ripLengths({ timber }: Design, width: number, thickness: number): RipLength[] | undefined {
  const found = (timber.planks ?? []).flatMap((plank, type) => (liesIn(plank, width, thickness).length > 0 ? [{ type, length: plankRoom(plank).length }] : []));
  const first = found.filter(({ length }, i) => found.findIndex((one) => one.length === length) === i);
  return first.length > 0 ? first : undefined;
}
