/** Keys that work wherever the page is not being typed into. */
import { useEffect } from 'react';
import { saveBoard } from '../state/boardFile';
import { useDesign } from '../state/design';
import { stepFine, stepRib, stepStop } from '../state/station';
import { useView } from '../state/view';

function typing(target: EventTarget | null): boolean {
  return target instanceof Element && target.closest('input:not([type="checkbox"]), select, textarea, [contenteditable]') !== null;
}

function onKey(event: KeyboardEvent): void {
  const { undo, redo } = useDesign.temporal.getState();
  const command = event.ctrlKey || event.metaKey;
  if (typing(event.target) || event.altKey) return;
  if (command && event.key.toLowerCase() === 'z') {
    if (event.shiftKey) redo();
    else undo();
  } else if (command && event.key.toLowerCase() === 's') void saveBoard(event.shiftKey);
  else if (command && event.key.toLowerCase() === 'y') redo();
  else if (command) return;
  else if (event.key === 'ArrowRight') (event.shiftKey ? stepRib : stepFine)(1);
  else if (event.key === 'ArrowLeft') (event.shiftKey ? stepRib : stepFine)(-1);
  else if (event.key === 'ArrowUp') (event.shiftKey ? stepStop : stepRib)(1);
  else if (event.key === 'ArrowDown') (event.shiftKey ? stepStop : stepRib)(-1);
  else if (event.key === 'Escape') useView.getState().open(null);
  else return;
  event.preventDefault();
}

/** Arrow keys move the cursor (with Shift, or up and down, rib by rib; with Shift up and down, stop by stop); Ctrl Z and Ctrl Shift Z undo
 * and redo; Ctrl S saves, with Shift to another file. */
export function useKeys(): void {
  useEffect(() => {
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, []);
}
