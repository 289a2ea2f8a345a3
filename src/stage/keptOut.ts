/** What lies over the stage and must not be covered, nor lie over the board: words, tools, panels. */
import type { Box } from './placing';

const WORDS = '[data-keep-out]';
const KEEP_OUT = `${WORDS}, .panel`;

/** Their boxes, px from an element's corner; one that is not shown has no size. */
export function keptOut(from: Element): Box[] {
  const frame = from.getBoundingClientRect();
  return [...document.querySelectorAll(KEEP_OUT)].map((kept) => {
    const { left, top, right, bottom } = kept.getBoundingClientRect();
    return { left: left - frame.left, top: top - frame.top, right: right - frame.left, bottom: bottom - frame.top };
  });
}

/** Calls when one of them changes its size, comes or goes, until the call that comes back is made. */
export function watchKeptOut(changed: () => void): () => void {
  const watcher = new ResizeObserver(changed);
  const watched = new WeakSet<Element>();
  const look = (which: string) => {
    for (const kept of document.querySelectorAll(which)) {
      if (watched.has(kept)) continue;
      watched.add(kept);
      watcher.observe(kept);
    }
  };
  look(KEEP_OUT);
  // A room's own words come when its code is there. A panel changes the stage's own size where it takes of it. Nothing is measured here, whatever else changes on the page.
  const comers = new MutationObserver(() => look(WORDS));
  comers.observe(document.body, { childList: true, subtree: true });
  return () => {
    comers.disconnect();
    watcher.disconnect();
  };
}
