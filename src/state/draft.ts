/**
 * The draft: the plan of a board under a dragging hand. It is painted outside React (src/ui/painter.ts), since a move must
 * not wait for all that follows a settled plan, and stands until a settled plan is rendered in its place or it is dropped.
 */
import type { Plan } from '../../geometry/types';
import type { DrawnBody } from './jobKinds';
import { useJobs } from './jobs';

export interface Draft {
  readonly plan: Plan;
  readonly bodies: readonly DrawnBody[];
}

type Painter = (draft: Draft | null) => void;

const painters = new Set<Painter>();
let draft: Draft | null = null;
/** What came and is not painted yet, the oldest first. */
let waiting: Draft[] = [];
/** The coming frame paints. */
let coming = false;
/** Drafts that came since the last frame, and whether one may be made up for: a frame passed without one. */
let came = 0;
let missed = true;
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

const askFrame = (): void => {
  coming = true;
  requestAnimationFrame(paintNext);
};

/** After the painters in the same frame: callbacks of a frame come in the order in which they were asked for. */
const askDrawers = (): void => {
  for (const draw of drawers) draw();
};

/**
 * In the frame, after the hand's move has been heard: the next draft is made while this one is painted, and page and stage
 * are laid out and drawn once. Goes on until a frame came without a draft.
 */
function paintNext(): void {
  coming = false;
  missed = came === 0 || (missed && came === 1);
  const [next] = waiting;
  if (came > 0 || next) askFrame();
  came = 0;
  if (!next) return;
  waiting = waiting.slice(1);
  draft = next;
  paintAll();
  // When all of this frame is drawn: what was asked for within it could be drawn with it.
  if (waiting.length > 0) setTimeout(askDrawers);
}

/**
 * Puts a draft in the place of the one before, painted in the coming frame; null drops it: all is painted as it is settled.
 * Where a draft missed its frame it comes beside the next one, which then waits a frame, so that each move of the hand is
 * seen: one late draft costs a frame's delay, until a frame without a draft takes it back. More than one never waits. Moves
 * that come faster than frames are another matter: none missed its frame, the newest wins and nothing is delayed.
 */
export function putDraft(newest: Draft | null): void {
  if (!newest) {
    waiting = [];
    if (!draft) return;
    draft = null;
    paintAll();
    return;
  }
  came++;
  if (came > (missed ? 2 : 1)) waiting = [];
  waiting.push(newest);
  if (!coming) askFrame();
  if (came === 1) askDrawers();
}

/** Calls when a draft has come, before the frame that paints it; until the function it returns is called. */
export function beforeDraft(draw: () => void): () => void {
  drawers.add(draw);
  return () => {
    drawers.delete(draw);
  };
}

/** Whether a draft is painted or about to be. */
export const draftStands = (): boolean => draft !== null || waiting.length > 0;

/** The draft that is painted, null where what is settled is. */
export const draftNow = (): Draft | null => draft;

/** The plan that is painted: a draft's while one stands, else the settled one given. */
export const paintedPlan = <P extends Plan | null>(settled: P): Plan | P => draft?.plan ?? settled;

/** Calls with each draft to paint, and with null where one is dropped; until the function it returns is called. */
export function eachDraft(paint: Painter): () => void {
  painters.add(paint);
  return () => {
    painters.delete(paint);
  };
}

// A settled plan takes the draft's place: nothing is painted here, so that the board before it never shows between the two.
useJobs.subscribe(({ plan: { result } }, { plan: before }) => {
  if (result === before.result) return;
  draft = null;
  waiting = [];
});
