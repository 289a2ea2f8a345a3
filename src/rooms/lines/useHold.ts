/**
 * Taking hold of a point or an end's lever and moving it, with mouse, finger or pen. While it moves, each place
 * is checked and planned as a draft; released, it is one step of history; Escape or a lost pointer cancels it.
 */
import { type Dispatch, type PointerEvent, type SetStateAction, useEffect, useRef, useState } from 'react';
import type { Design } from '../../../geometry/design/schema';
import { type DesignCurve, isOutline, type LineName } from '../../../geometry/shape/line';
import { useDesign } from '../../state/design';
import type { Unit } from '../../say/units';
import { NO_ZOOM, type Chart, type Zoom, zoomAbout } from './chart';
import { type End, movePoint, presentAngle, setEndAngle, stationMoves } from './edits';
import { lengthSteps, pointsOf, valueSteps } from './kinds';
import { selectHandle } from './nudge';
import { type Grip, sketchEdit, useLines } from './lines';

/** How near a press must be to take hold, px: a fingertip needs more than a mouse. */
const REACH = { mouse: 13, touch: 22 } as const;
/** Movement that makes a press a drag, px. */
const STIR = 3;
/** Length of an end's lever on the page, px. */
export const LEVER = 34;
/** Two presses so near in time (ms) and place (px) are a double one. */
const DOUBLE = { time: 400, apart: 10 } as const;
/** A drag turns an end in steps of this, degrees. */
const TURN_STEP = 0.1;

interface Hold {
  readonly kind: 'point' | 'lever' | 'pan' | 'ruler';
  readonly grip: Grip | null;
  readonly base: Design;
  readonly fromX: number;
  readonly fromY: number;
  readonly zoom: Zoom;
  moved: boolean;
}

/** A rounded multiple of a step. */
const toStep = (v: number, step: number): number => Math.round(v / step) * step;

/** Px that a lever's end keeps from the drawing's edge. */
const EDGE = 10;

/** How much of a way of `by` px from `at` stays within a drawing `size` px wide or high. */
const staying = (at: number, by: number, size: number): number => (by === 0 ? 1 : Math.min(1, Math.max(0, ((by > 0 ? size - EDGE : EDGE) - at) / by)));

/** The tip of an end's lever on the page: outward along the tangent, so that it never covers the curve; shorter where the drawing ends. */
export function leverTip(chart: Chart, curve: DesignCurve, end: End): { x: number; y: number; fromX: number; fromY: number } {
  const points = pointsOf(curve);
  const { x, v } = end === 'tail' ? points[0] : points[points.length - 1];
  const deg = (presentAngle(curve, end) * Math.PI) / 180;
  const out = end === 'tail' ? -1 : 1;
  // The outline's nose angle falls toward the centreline; a slope rises to the right at either end.
  const rise = isOutline(curve) && end === 'nose' ? -Math.sin(deg) : out * Math.sin(deg);
  const [dx, dy] = [out * Math.cos(deg) * chart.kx, -rise * chart.kv];
  const size = Math.hypot(dx, dy);
  const [fromX, fromY] = [chart.x(x), chart.y(v)];
  const [byX, byY] = [(dx / size) * LEVER, (dy / size) * LEVER];
  const share = Math.min(staying(fromX, byX, chart.width), staying(fromY, byY, chart.height));
  return { fromX, fromY, x: fromX + byX * share, y: fromY + byY * share };
}

/** The angle, degrees as the file counts it, that puts an end's lever under a place on the page. */
function angleUnder(chart: Chart, curve: DesignCurve, end: End, px: number, py: number): number {
  const { fromX, fromY } = leverTip(chart, curve, end);
  const along = ((px - fromX) / chart.kx) * (end === 'tail' ? -1 : 1);
  const up = (fromY - py) / chart.kv;
  const rise = isOutline(curve) ? -up : end === 'tail' ? -up : up;
  return (Math.atan2(rise, along) * 180) / Math.PI;
}

interface HoldOptions {
  readonly name: LineName;
  readonly chart: Chart | null;
  readonly unit: Unit;
  readonly frozen: boolean;
  readonly zoom: Zoom;
  readonly setZoom: Dispatch<SetStateAction<Zoom>>;
  readonly onRuler: (station: number) => void;
  /** Two quick presses on the ground. */
  readonly onAdd: (station: number, value: number) => void;
}

/** The pointer handlers of one drawing, and whether something is held. */
export function useHold({ name, chart, unit, frozen, zoom, setZoom, onRuler, onAdd }: HoldOptions) {
  const hold = useRef<Hold | null>(null);
  const fingers = useRef(new Map<number, { x: number; y: number }>());
  const tapped = useRef<{ x: number; y: number; at: number } | null>(null);
  const [held, setHeld] = useState<Hold['kind'] | null>(null);

  const giveUp = () => {
    if (hold.current?.grip && hold.current.moved) useDesign.getState().dropDraft();
    hold.current = null;
    setHeld(null);
    useLines.getState().set({ trouble: null });
  };

  useEffect(() => {
    if (held !== 'point' && held !== 'lever') return;
    const onKey = (event: KeyboardEvent) => {
      if (event.key !== 'Escape') return;
      event.stopPropagation();
      event.preventDefault();
      giveUp();
    };
    window.addEventListener('keydown', onKey, { capture: true });
    return () => window.removeEventListener('keydown', onKey, { capture: true });
  }, [held]);

  /** What lies nearest under a press, within reach. Points go before levers. */
  const under = (px: number, py: number, reach: number): Grip | null => {
    if (!chart || frozen) return null;
    const { design } = useDesign.getState();
    let best: Grip | null = null;
    let least = reach;
    pointsOf(design.lines[name]).forEach((p, index) => {
      const d = Math.hypot(chart.x(p.x) - px, chart.y(p.v) - py);
      if (d <= least) {
        least = d;
        best = { index };
      }
    });
    if (best) return best;
    for (const end of ['tail', 'nose'] as const) {
      const tip = leverTip(chart, design.lines[name], end);
      if (Math.hypot(tip.x - px, tip.y - py) <= reach) return { end };
    }
    return null;
  };

  /** Where the drawing lay at the last press: it keeps still under a hand, and to look again would make the browser lay out the page for every move. */
  const corner = useRef({ left: 0, top: 0 });
  const place = (event: PointerEvent<SVGSVGElement>) => ({ x: event.clientX - corner.current.left, y: event.clientY - corner.current.top });

  const onPointerDown = (event: PointerEvent<SVGSVGElement>) => {
    if (!chart || event.button !== 0) return;
    corner.current = event.currentTarget.getBoundingClientRect();
    const at = place(event);
    fingers.current.set(event.pointerId, at);
    if (fingers.current.size > 1) {
      // A second finger: from holding to zooming.
      if (hold.current) giveUp();
      return;
    }
    const grip = under(at.x, at.y, event.pointerType === 'mouse' ? REACH.mouse : REACH.touch);
    const kind = grip ? ('index' in grip ? 'point' : 'lever') : at.y > chart.height - chart.ruler ? 'ruler' : 'pan';
    event.currentTarget.setPointerCapture(event.pointerId);
    hold.current = { kind, grip, base: useDesign.getState().design, fromX: at.x, fromY: at.y, zoom, moved: false };
    setHeld(kind);
    if (grip) selectHandle(name, grip);
    else if (useLines.getState().line !== name) useLines.getState().open(name);
    if (kind === 'ruler') onRuler(chart.station(at.x));
  };

  const onPointerMove = (event: PointerEvent<SVGSVGElement>) => {
    const at = place(event);
    const before = fingers.current.get(event.pointerId);
    if (!chart || !before) return;
    if (fingers.current.size === 2) {
      const other = [...fingers.current].find(([id]) => id !== event.pointerId)?.[1] ?? at;
      const [was, now] = [Math.hypot(before.x - other.x, before.y - other.y), Math.hypot(at.x - other.x, at.y - other.y)];
      fingers.current.set(event.pointerId, at);
      if (was > 1 && now > 1) {
        setZoom((present) => {
          const next = zoomAbout(present, now / was, (at.x + other.x) / 2, (at.y + other.y) / 2);
          return { ...next, dx: next.dx + (at.x - before.x) / 2, dy: next.dy + (at.y - before.y) / 2 };
        });
      }
      return;
    }
    fingers.current.set(event.pointerId, at);
    const now = hold.current;
    if (!now) return;
    if (!now.moved && Math.hypot(at.x - now.fromX, at.y - now.fromY) < STIR) return;
    now.moved = true;
    if (now.kind === 'ruler') onRuler(chart.station(at.x));
    else if (now.kind === 'pan') setZoom({ ...now.zoom, dx: now.zoom.dx + at.x - now.fromX, dy: now.zoom.dy + at.y - now.fromY });
    else if (now.grip) drag(chart, now, now.grip, at);
  };

  const drag = (on: Chart, { base, fromX, fromY }: Hold, grip: Grip, at: { x: number; y: number }) => {
    const curve = base.lines[name];
    if ('end' in grip) {
      const deg = toStep(angleUnder(on, curve, grip.end, at.x, at.y), TURN_STEP);
      sketchEdit(name, setEndAngle(base, name, grip.end, Math.round(deg * 10) / 10), {});
      return;
    }
    const p = pointsOf(curve)[grip.index];
    const x = stationMoves(curve, grip.index) ? toStep(p.x + (at.x - fromX) / on.kx, lengthSteps(unit).drag) : p.x;
    const v = toStep(p.v - (at.y - fromY) / on.kv, valueSteps(name, unit).drag);
    sketchEdit(name, movePoint(base, name, grip.index, x, v), { wanted: { x, v } });
  };

  const onPointerUp = (event: PointerEvent<SVGSVGElement>) => {
    fingers.current.delete(event.pointerId);
    const now = hold.current;
    if (!now) return;
    hold.current = null;
    setHeld(null);
    if (now.grip && now.moved) useDesign.getState().keepDraft();
    const last = tapped.current;
    tapped.current = null;
    if (now.kind !== 'pan' || now.moved || frozen || !chart) return;
    if (last && event.timeStamp - last.at < DOUBLE.time && Math.hypot(now.fromX - last.x, now.fromY - last.y) < DOUBLE.apart) {
      onAdd(chart.station(now.fromX), chart.value(now.fromY));
    } else tapped.current = { x: now.fromX, y: now.fromY, at: event.timeStamp };
  };

  const onPointerCancel = (event: PointerEvent<SVGSVGElement>) => {
    fingers.current.delete(event.pointerId);
    if (hold.current) giveUp();
  };

  return { held, onPointerDown, onPointerMove, onPointerUp, onPointerCancel, reset: () => setZoom(NO_ZOOM) };
}
