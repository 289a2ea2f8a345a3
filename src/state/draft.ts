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
/** The newest that came since the last frame; older ones are dropped. */
let next: Draft | null = null;
/** The coming frame paints. */
let coming = false;
/** What draws by frames itself: it asks for the frame in which a draft is painted. */
const drawers = new Set<() => void>();

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
 * In the frame, after the hand's move has been heard: the next draft is made while this one is painted, and page and stage
 * are laid out and drawn once.
 */
function paintNext(): void {
  coming = false;
  if (!next) return;
  draft = next;
  next = null;
  paintAll();
}

/** Puts a draft in the place of the one before, painted in the coming frame; null drops it: all is painted as it is settled. */
export function putDraft(newest: Draft | null): void {
  next = newest;
  if (newest) {
    if (coming) return;
    coming = true;
    requestAnimationFrame(paintNext);
    // After the painters in the same frame: callbacks of a frame come in the order in which they were asked for.
    for (const draw of drawers) draw();
  } else if (draft) {
    draft = null;
    paintAll();
  }
}

/** Calls when a draft has come, before the frame that paints it; until the function it returns is called. */
export function beforeDraft(draw: () => void): () => void {
  drawers.add(draw);
  return () => {
    drawers.delete(draw);
  };
}

/** Whether a draft is painted or about to be. */
export const draftStands = (): boolean => (next ?? draft) !== null;

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
