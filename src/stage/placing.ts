/** Where labels stand over the stage: none covers another or what must be seen, and none crosses a leader. Page px, y down. */

export interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** Whether a box covers any of these. Asked for every spot of every label in every picture. */
function covers(boxes: readonly Box[], left: number, top: number, right: number, bottom: number): boolean {
  for (const box of boxes) if (box.left < right && left < box.right && box.top < bottom && top < box.bottom) return true;
  return false;
}

export interface LeaderFoot {
  readonly x: number;
  readonly y: number;
}

export interface LabelWanted extends LeaderFoot {
  readonly width: number;
  readonly height: number;
  /** Leader lengths tried in turn, down is positive; and how far left of its foot the label begins, as a share of its width. */
  readonly leaders: readonly number[];
  readonly shares: readonly number[];
}

export interface LabelSpot {
  readonly left: number;
  readonly top: number;
  readonly leader: number;
  readonly share: number;
}

const PAD = 3;
/** How far a label reaches past its leader at the least. */
const EDGE = 2;
/** Leaders nearer to one another than this are one to the eye. */
const APART = 4;

/** The ground that is taken. */
export class Ground {
  private readonly boxes: Box[];
  private readonly lines: Box[] = [];

  constructor(readonly size: { readonly width: number; readonly height: number }, taken: readonly Box[]) {
    this.boxes = [...taken];
  }

  /**
   * The first spot that is free, `last` before all others so that a label keeps its ground; taken with it. `ahead`: feet of
   * leaders that are still to come, each of which may go down anywhere below its foot; one on the same line gives way.
   */
  take({ x, y, width, height, leaders, shares }: LabelWanted, ahead: readonly LeaderFoot[], last?: Pick<LabelSpot, 'leader' | 'share'>): LabelSpot | null {
    const spotOf = (leader: number, share: number): LabelSpot => ({
      left: x - (leader === 0 ? width * share : Math.min(width - EDGE, Math.max(EDGE, width * share))),
      top: y + leader + (leader > 0 ? 0 : leader < 0 ? -height : -height / 2), leader, share,
    });
    const lineOf = (leader: number, wide: number): Box => ({ left: x - wide, right: x + wide, top: Math.min(y, y + leader), bottom: Math.max(y, y + leader) });
    const free = ({ left, top, leader }: LabelSpot): boolean => {
      const box = { left: left - PAD, top: top - PAD, right: left + width + PAD, bottom: top + height + PAD };
      if (box.left < 0 || box.right > this.size.width || box.top < 0 || box.bottom > this.size.height) return false;
      if (covers(this.boxes, box.left, box.top, box.right, box.bottom) || covers(this.lines, box.left, box.top, box.right, box.bottom)) return false;
      if (ahead.some((foot) => Math.abs(foot.x - x) > APART && foot.x > box.left && foot.x < box.right && foot.y < box.bottom)) return false;
      const line = lineOf(leader, APART);
      return leader === 0 || (!covers(this.boxes, x - 1, line.top, x + 1, line.bottom) && !covers(this.lines, line.left, line.top, line.right, line.bottom));
    };
    const tried = leaders.flatMap((leader) => shares.map((share) => spotOf(leader, share)));
    const kept = last && tried.find(({ leader, share }) => leader === last.leader && share === last.share);
    const spot = (kept && free(kept) ? kept : tried.find(free)) ?? null;
    if (!spot) return null;
    this.boxes.push({ left: spot.left - PAD, top: spot.top - PAD, right: spot.left + width + PAD, bottom: spot.top + height + PAD });
    if (spot.leader !== 0) this.lines.push(lineOf(spot.leader, 1));
    return spot;
  }
}
