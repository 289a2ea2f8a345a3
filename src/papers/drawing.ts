/**
 * What a template is before it becomes SVG, DXF or PDF: lines and labels on named layers, full size, mm,
 * y up. A sketch is one part; a drawing is sketches laid out side by side.
 */
import vectorText from '@jscad/modeling/src/text/vectorText.js';
import anyAscii from 'any-ascii';
import type { FlatShape } from '../../geometry/frame/types';

/**
 * Layers of every template: `cut` through; `score` lightly or draw; `label` letters as single strokes;
 * `stock` the board or sheet it is cut from; `note` what the paper says of itself, not for the machine.
 */
export const DRAWING_LAYERS = ['cut', 'score', 'label', 'stock', 'note'] as const;
export type DrawingLayer = (typeof DRAWING_LAYERS)[number];

/** A line through (x, y) pairs. */
export interface Stroke {
  readonly layer: DrawingLayer;
  readonly points: ArrayLike<number>;
  readonly closed: boolean;
}

/** One part on its own, lower left corner at (0, 0). */
export interface Sketch {
  readonly id: string;
  readonly title: string;
  readonly strokes: readonly Stroke[];
  readonly width: number;
  readonly height: number;
}

interface Placed {
  readonly sketch: Sketch;
  readonly x: number;
  readonly y: number;
}

export interface Drawing {
  readonly id: string;
  readonly title: string;
  /** Said under the title, a line each. */
  readonly notes?: readonly string[];
  readonly placed: readonly Placed[];
  readonly width: number;
  readonly height: number;
}

/** Height of capital letters of labels that name none of their own, mm. */
const TEXT_HEIGHT = 4;

/** Single-stroke letters, mm: baseline start at (x, y), turned counter-clockwise by `turn`. */
function letters(text: string, x: number, y: number, height: number, layer: DrawingLayer, turn = 0): Stroke[] {
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  // The stroke font's capitals stand one and a half times its nominal height.
  return vectorText({ height: height / 1.5, align: 'left' }, anyAscii(text)).map((line) => ({
    layer,
    closed: false,
    points: line.flatMap(([u, v]) => [x + u * c - v * s, y + u * s + v * c]),
  }));
}

/** A figure of a file, to a tenth of a micrometre and no "-0". */
export const tidy = (value: number): number => Math.round(value * 1e4) / 1e4 + 0;

/** Bounds of strokes; infinite, inside out, where there are none. */
function strokeBounds(strokes: readonly Pick<Stroke, 'points'>[]): { x0: number; y0: number; x1: number; y1: number } {
  const b = { x0: Infinity, y0: Infinity, x1: -Infinity, y1: -Infinity };
  for (const { points } of strokes) {
    for (let i = 0; i + 1 < points.length; i += 2) {
      b.x0 = Math.min(b.x0, points[i]);
      b.x1 = Math.max(b.x1, points[i]);
      b.y0 = Math.min(b.y0, points[i + 1]);
      b.y1 = Math.max(b.y1, points[i + 1]);
    }
  }
  return b;
}

/** Strokes moved by (dx, dy) after a turn about the origin, radians. */
export function moved(strokes: readonly Stroke[], dx: number, dy: number, turn = 0): Stroke[] {
  const [c, s] = turn === 0 ? [1, 0] : [Math.cos(turn), Math.sin(turn)];
  return strokes.map((stroke) => {
    const points = new Float64Array(stroke.points.length);
    for (let i = 0; i + 1 < points.length; i += 2) {
      points[i] = stroke.points[i] * c - stroke.points[i + 1] * s + dx;
      points[i + 1] = stroke.points[i] * s + stroke.points[i + 1] * c + dy;
    }
    return { ...stroke, points };
  });
}

/** A flat shape's lines on their layers, where the shape lies. */
export function shapeStrokes(shape: FlatShape): Stroke[] {
  const loops = [shape.outline, ...shape.holes].map((points): Stroke => ({ layer: 'cut', points, closed: true }));
  const marks = shape.marks.flatMap((mark): Stroke[] => {
    const { kind, points, text, height = TEXT_HEIGHT } = mark;
    if (kind !== 'label') return [{ layer: 'score', points, closed: false }];
    const turn = points.length >= 4 ? Math.atan2(points[3] - points[1], points[2] - points[0]) : 0;
    return text && points.length >= 2 ? letters(text, points[0], points[1], height, 'label', turn) : [];
  });
  const named = shape.marks.flatMap(({ kind, points, text }) =>
    kind !== 'label' && text && points.length >= 2 ? letters(text, points[0] + 1, points[1] + 1, TEXT_HEIGHT * 0.75, 'label') : []);
  return [...loops, ...marks, ...named];
}

/** Strokes as a sketch with its lower left corner at (0, 0). */
export function sketchOf(id: string, title: string, strokes: readonly Stroke[]): Sketch {
  const b = strokeBounds(strokes);
  if (!Number.isFinite(b.x0)) return { id, title, strokes: [], width: 0, height: 0 };
  return { id, title, strokes: moved(strokes, -b.x0, -b.y0), width: b.x1 - b.x0, height: b.y1 - b.y0 };
}

/** Space between parts laid out side by side, mm. */
const SKETCH_SPACE = 12;

/**
 * Sketches in rows no wider than `limit` (a wider one has its row to itself), first at the top.
 * `page` is the height that a row should not straddle where it fits within one; then a new row starts.
 */
export function stacked(id: string, title: string, sketches: readonly Sketch[], limit: number, page = Infinity): Drawing {
  const at: { sketch: Sketch; x: number; top: number }[] = [];
  let [x, top, row, width] = [0, 0, 0, 0];
  for (const sketch of sketches) {
    if (x > 0 && x + sketch.width > limit) {
      x = 0;
      top += row + SKETCH_SPACE;
      row = 0;
    }
    const left = page - (top % page);
    if (Number.isFinite(page) && sketch.height > left && sketch.height <= page) {
      x = 0;
      top += left;
      row = 0;
    }
    at.push({ sketch, x, top });
    x += sketch.width + SKETCH_SPACE;
    row = Math.max(row, sketch.height);
    width = Math.max(width, x - SKETCH_SPACE);
  }
  const height = at.reduce((most, { sketch, top: t }) => Math.max(most, t + sketch.height), 0);
  return { id, title, width, height, placed: at.map(({ sketch, x: px, top: t }) => ({ sketch, x: px, y: height - t - sketch.height })) };
}

const inPlace = new WeakMap<Drawing, readonly Stroke[]>();

/** Every stroke of a drawing in its own place, the same each time. */
export function drawingStrokes(drawing: Drawing): readonly Stroke[] {
  const kept = inPlace.get(drawing);
  if (kept) return kept;
  const strokes = drawing.placed.flatMap(({ sketch, x, y }) => moved(sketch.strokes, x, y));
  inPlace.set(drawing, strokes);
  return strokes;
}

/** What is drawn when it is first asked for, and kept. */
export function once<T>(make: () => T): () => T {
  let made: { readonly it: T } | undefined;
  return () => (made ??= { it: make() }).it;
}
