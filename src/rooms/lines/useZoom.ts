/** A drawing from a file looked at closer: by wheel, two fingers or keys about where they are, and moved under a hand; a press that moves nothing is a press. */
import { type PointerEvent, useEffect, useRef, useState } from 'react';
import { NO_ZOOM, type Zoom, zoomAbout } from './chart';

/** By a key or a button. */
const STEP = 1.5;
/** Movement that makes a press a drag, px. */
const STIR = 3;

interface Held {
  readonly x: number;
  readonly y: number;
  readonly zoom: Zoom;
  moved: boolean;
}

/** Closer only: the whole is the least. */
const closer = (zoom: Zoom, by: number, px: number, py: number): Zoom => {
  const next = zoomAbout(zoom, by, px, py);
  return next.factor > 1 ? next : NO_ZOOM;
};

/** `view` holds the drawing, px wide and high, and its buttons; `onPress` is a press on it that was no drag. */
export function useZoom(view: { readonly current: HTMLDivElement | null }, width: number, height: number, onPress: (x: number, y: number, zoom: Zoom) => void) {
  const [zoom, setZoom] = useState<Zoom>(NO_ZOOM);
  const fingers = useRef(new Map<number, { readonly x: number; readonly y: number }>());
  const held = useRef<Held | null>(null);
  const by = (factor: number) => setZoom((present) => closer(present, factor, width / 2, height / 2));
  useEffect(() => {
    const element = view.current;
    if (!element) return;
    const onWheel = (event: WheelEvent) => {
      const drawing = event.target instanceof Element ? event.target.closest('svg') : null;
      if (!drawing) return;
      event.preventDefault();
      const box = drawing.getBoundingClientRect();
      setZoom((present) => closer(present, Math.exp(-event.deltaY * 0.0018), event.clientX - box.left, event.clientY - box.top));
    };
    const onKey = (event: KeyboardEvent) => {
      const factor = { '+': STEP, '=': STEP, '-': 1 / STEP, 0: 0 }[event.key];
      if (factor === undefined || event.ctrlKey || event.metaKey || event.altKey) return;
      event.preventDefault();
      setZoom((present) => closer(present, factor, width / 2, height / 2));
    };
    element.addEventListener('wheel', onWheel, { passive: false });
    element.addEventListener('keydown', onKey);
    return () => {
      element.removeEventListener('wheel', onWheel);
      element.removeEventListener('keydown', onKey);
    };
  }, [view, width, height]);

  const place = (event: PointerEvent<SVGSVGElement>) => {
    const box = event.currentTarget.getBoundingClientRect();
    return { x: event.clientX - box.left, y: event.clientY - box.top };
  };
  const onPointerDown = (event: PointerEvent<SVGSVGElement>) => {
    if (event.button !== 0) return;
    const at = place(event);
    fingers.current.set(event.pointerId, at);
    held.current = fingers.current.size === 1 ? { ...at, zoom, moved: false } : null;
  };
  const onPointerMove = (event: PointerEvent<SVGSVGElement>) => {
    const before = fingers.current.get(event.pointerId);
    if (!before) return;
    const at = place(event);
    fingers.current.set(event.pointerId, at);
    const other = [...fingers.current].find(([id]) => id !== event.pointerId)?.[1];
    if (other) {
      const [was, now] = [before, at].map(({ x, y }) => Math.hypot(x - other.x, y - other.y));
      if (was > 1 && now > 1) setZoom((present) => closer(present, now / was, (at.x + other.x) / 2, (at.y + other.y) / 2));
      return;
    }
    const hold = held.current;
    if (!hold || hold.zoom === NO_ZOOM || (!hold.moved && Math.hypot(at.x - hold.x, at.y - hold.y) < STIR)) return;
    if (!hold.moved) event.currentTarget.setPointerCapture(event.pointerId);
    hold.moved = true;
    setZoom({ ...hold.zoom, dx: hold.zoom.dx + at.x - hold.x, dy: hold.zoom.dy + at.y - hold.y });
  };
  const onPointerCancel = (event: PointerEvent<SVGSVGElement>) => {
    fingers.current.delete(event.pointerId);
    held.current = null;
  };
  const onPointerUp = (event: PointerEvent<SVGSVGElement>) => {
    const hold = held.current;
    onPointerCancel(event);
    if (hold && !hold.moved) onPress(hold.x, hold.y, hold.zoom);
  };
  return { zoom, hand: { onPointerDown, onPointerMove, onPointerUp, onPointerCancel }, zoomIn: () => by(STEP), zoomOut: () => by(1 / STEP), fit: () => setZoom(NO_ZOOM) };
}
