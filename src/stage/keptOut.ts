/** What lies over the stage and must not be covered, nor lie over the board: words, tools, panels. */
import type { Box } from './placing';

const KEEP_OUT = '[data-keep-out], .panel';

/** Their boxes, px from an element's corner; one that is not shown has no size. */
export function keptOut(from: Element): Box[] {
  const frame = from.getBoundingClientRect();
  return [...document.querySelectorAll(KEEP_OUT)].map((kept) => {
    const { left, top, right, bottom } = kept.getBoundingClientRect();
    return { left: left - frame.left, top: top - frame.top, right: right - frame.left, bottom: bottom - frame.top };
  });
}

/** Calls when one of them changes its size, until the call that comes back is made. */
export function watchKeptOut(changed: () => void): () => void {
  const watcher = new ResizeObserver(changed);
  for (const kept of document.querySelectorAll(KEEP_OUT)) watcher.observe(kept);
  return () => watcher.disconnect();
}
