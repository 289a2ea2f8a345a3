/** Where a walk turns sharply: more than the bend of what is drawn on either side of it would. */

/** A place of a walk in plan. */
interface Place {
  readonly u: number;
  readonly v: number;
}

/** A turn beyond this is a corner. Own choice: a drawn curve has less from one place to the next, and a maker sees as much. */
const LEAST_TURN = (5 * Math.PI) / 180;
/** A turn beyond this tells no bend of a curve: a corner beside another hides it not. Own choice. */
const SHARP = (20 * Math.PI) / 180;
/** A corner turns as much over this way to either side, mm: what jitters from place to place does not. Own choice. */
const SEEN_OVER = 8;
/** More corners than this are none: a curve drawn by few straight lines. Own choice. */
const MOST_CORNERS = 20;

/** The angle by which a way turns at q, and half the way from p over q to r. */
function turnAt(p: Place, q: Place, r: Place): { readonly turn: number; readonly way: number } {
  const [ax, ay, bx, by] = [q.u - p.u, q.v - p.v, r.u - q.u, r.v - q.v];
  return { turn: Math.atan2(ax * by - ay * bx, ax * bx + ay * by), way: (Math.hypot(ax, ay) + Math.hypot(bx, by)) / 2 };
}

/** By how much a walk turns at one of its places beyond what its bend before or after makes of it, radians; 0 at its ends. */
export function kinkAt(walk: readonly Place[], i: number): number {
  if (i <= 0 || i >= walk.length - 1) return 0;
  const here = turnAt(walk[i - 1], walk[i], walk[i + 1]);
  const bends = [i - 1, i + 1].map((k) => {
    if (k <= 0 || k >= walk.length - 1) return 0;
    const { turn, way } = turnAt(walk[k - 1], walk[k], walk[k + 1]);
    return Math.abs(turn) < SHARP ? (turn / way) * here.way : 0;
  });
  return Math.min(...bends.map((bend) => Math.abs(here.turn - bend)), Math.abs(here.turn));
}

/** Places of a walk, mm, where it has a corner, none at its ends; each with its angle in radians. */
export function kinksOf(walk: readonly Place[]): { readonly index: number; readonly turn: number }[] {
  const along = [0];
  for (let i = 1; i < walk.length; i++) along.push(along[i - 1] + Math.hypot(walk[i].u - walk[i - 1].u, walk[i].v - walk[i - 1].v));
  /** The place a way off, or the next one. */
  const off = (i: number, by: 1 | -1): number => {
    let k = i + by;
    while (k > 0 && k < walk.length - 1 && Math.abs(along[k] - along[i]) < SEEN_OVER) k += by;
    return k;
  };
  const found = walk.flatMap((_, index) => {
    if (kinkAt(walk, index) < LEAST_TURN) return [];
    const wide = [off(index, -1), index, off(index, 1)];
    const beyond = [wide[0] > 0 ? off(wide[0], -1) : -1, wide[2] < walk.length - 1 ? off(wide[2], 1) : -1];
    const turn = kinkAt([beyond[0], ...wide, beyond[1]].flatMap((k) => (k < 0 ? [] : [walk[k]])), beyond[0] < 0 ? 1 : 2);
    return turn < LEAST_TURN ? [] : [{ index, turn }];
  });
  return found.length > MOST_CORNERS ? [] : found;
}
