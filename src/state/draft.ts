/**
 * The draft: the plan of a board under a dragging hand. It is painted outside React (src/ui/painter.ts), since a move must
 * not wait for all that follows a settled plan, and stands until a settled plan is rendered in its place or it is dropped.
 */
import type { Plan } from '../../geometry/types';
import type { InkedBody } from './jobKinds';
import { useJobs } from './jobs';

export interface Draft {
  readonly plan: Plan;
  readonly bodies: readonly InkedBody[];
}

type Painter = (draft: Draft | null) => void;

const painters = new Set<Painter>();
let draft: Draft | null = null;
/** The newest that came since the last frame's was painted; older ones are dropped. */
let next: Draft | null = null;
/** One was painted, and its frame is not yet on the screen. */
let painted = false;

/** Paints in one go; one painter that throws does not keep the others from painting. */
function paintAll(): void {
  for (const paint of painters) {
    try {
      paint(draft);
    } catch (error) {
      reportError(error);
    }
  }
}

/**
 * In the task, not in the frame's own callbacks: what the stage is asked to draw from there is drawn a frame later,
 * and page and stage would not change together.
 */
function paintNext(): void {
  if (!next) return;
  draft = next;
  next = null;
  painted = true;
  requestAnimationFrame(() => {
    painted = false;
    if (next) setTimeout(paintNext);
  });
  paintAll();
}

/** Puts a draft in the place of the one before, painted once a frame at most; null drops it: all is painted as it is settled. */
export function putDraft(newest: Draft | null): void {
  next = newest;
  if (newest) {
    if (!painted) paintNext();
  } else if (draft) {
    draft = null;
    paintAll();
  }
}

/** The draft that is painted, null where what is settled is. */
export const draftNow = (): Draft | null => draft;

/** Calls with each draft to paint, and with null where one is dropped; until the function it returns is called. */
export function eachDraft(paint: Painter): () => void {
  painters.add(paint);
  return () => {
    painters.delete(paint);
  };
}

// A settled plan takes the draft's place: nothing is painted here, so that the board before it never shows between the two.
useJobs.subscribe(({ plan: { result } }, { plan: before }) => {
  if (result !== before.result) draft = next = null;
});
