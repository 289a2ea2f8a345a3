/** Swipes of one finger to the left or right. */
import { type PointerEvent, useRef } from 'react';

/** Shortest swipe, px; and how much more across than up and down it must go. */
const LEAST = 56;
const SLOPE = 1.6;

/** Handlers for an element whose style has `touch-action: pan-y`. `way`: 1 for a finger that goes left, -1 for right. */
export function useSwipe(onSwipe: (way: 1 | -1) => void) {
  const from = useRef<{ readonly id: number; readonly x: number; readonly y: number } | null>(null);
  return {
    onPointerDown: (event: PointerEvent) => {
      from.current = event.pointerType === 'mouse' ? null : { id: event.pointerId, x: event.clientX, y: event.clientY };
    },
    onPointerUp: (event: PointerEvent) => {
      const start = from.current;
      from.current = null;
      if (!start || start.id !== event.pointerId) return;
      const across = event.clientX - start.x;
      if (Math.abs(across) >= LEAST && Math.abs(across) > SLOPE * Math.abs(event.clientY - start.y)) onSwipe(across < 0 ? 1 : -1);
    },
    onPointerCancel: () => {
      from.current = null;
    },
  };
}
