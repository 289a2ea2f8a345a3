/**
 * A drawing of a board as other programs write it: curves, what the file calls them, and its unit. Reading is in
 * `drawingSvg` and `drawingDxf`, finding a board's lines in `drawingLines`, fitting in `drawingFit`.
 */
import { endsOf, isStraight, mapped, backward, type At, type Rational } from '../curves/rational';
import { shorten } from '../design/fields';
import type { FieldError } from '../errors';
import { said, type Said } from '../said';

/** Longest text and most pieces of curves read: own choices, far above any drawing of a board. */
export const DRAWING_LIMIT = 40_000_000;
export const MOST_PIECES = 200_000;
/** Millimetres of a CSS pixel, 96 to the inch (CSS Values 4, section 6.2). */
export const PIXEL = 25.4 / 96;
/** Ends this share of the drawing's size apart touch. Own choice: a fiftieth of a millimetre on two metres. */
const TOUCHING = 1e-5;

/** One curve of a drawing: pieces that follow each other, y up, in the drawing's own unit. */
export interface DrawnCurve {
  /** What the file calls it, and where in it that stands: line 6, 1 first, or of a binary one its byte. */
  readonly name: string;
  readonly place: string;
  readonly layer: string;
  readonly pieces: readonly Rational[];
  readonly closed: boolean;
}

export interface DrawnPlan {
  readonly curves: readonly DrawnCurve[];
  /** Millimetres of one of its units; left out where the file does not say. */
  readonly unit?: number;
  /** What of the file was left out. */
  readonly notes: readonly Said[];
}

export type DrawingRead = { readonly ok: true; readonly drawing: DrawnPlan } | { readonly ok: false; readonly errors: readonly FieldError[] };

/** A drawing that cannot be read, with the place in its file. */
export class DrawingFault extends Error {
  constructor(readonly fault: FieldError) {
    super('the drawing cannot be read');
  }
}

/** Where in a file something stands. */
export const placeOf = (place: string, what: string, layer?: string): string =>
  `${place}, ${shorten(what, 60)}${layer ? ` on layer “${shorten(layer, 40)}”` : ''}`;

/** Where a curve stands in its file. */
export const whereOf = ({ place, name, layer }: Pick<DrawnCurve, 'place' | 'name' | 'layer'>): string => placeOf(place, name, layer);

/** Ends the reading of a file: where, what stands there, what may stand there, why. */
export function fail(field: string, value: Said, allowed: Said, message: Said): never {
  throw new DrawingFault({ field, value: typeof value === 'string' ? shorten(value, 60) : value, allowed, message });
}

/** Counts what is left out, to be told in one note. */
export class LeftOut {
  private readonly counts = new Map<string, number>();
  add(what: string): void {
    this.counts.set(what, (this.counts.get(what) ?? 0) + 1);
  }
  get notes(): Said[] {
    return [...this.counts].map(([what, count]) => said('Left out: {count} {what}.', { count, what: shorten(what, 100) }));
  }
}

/** The corners of what encloses curves' control points: they lie within. */
export interface DrawnBox {
  readonly low: At;
  readonly high: At;
}

export function boxOf(curves: readonly Pick<DrawnCurve, 'pieces'>[]): DrawnBox {
  const [low, high] = [{ x: Infinity, y: Infinity }, { x: -Infinity, y: -Infinity }];
  for (const { pieces } of curves) {
    for (const { points } of pieces) {
      for (let i = 0; i < points.length; i += 2) {
        low.x = Math.min(low.x, points[i]);
        high.x = Math.max(high.x, points[i]);
        low.y = Math.min(low.y, points[i + 1]);
        high.y = Math.max(high.y, points[i + 1]);
      }
    }
  }
  return { low, high };
}

const sizeOf = ({ low, high }: DrawnBox): number => Math.max(high.x - low.x, high.y - low.y);

/** A curve moved, turned, mirrored or scaled. */
export const mappedCurve = (curve: DrawnCurve, map: readonly number[]): DrawnCurve => ({ ...curve, pieces: curve.pieces.map((piece) => mapped(piece, map)) });

const startOf = ({ pieces }: DrawnCurve): At => endsOf(pieces[0])[0];
const endOf = ({ pieces }: DrawnCurve): At => endsOf(pieces[pieces.length - 1])[1];
const turned = (curve: DrawnCurve): DrawnCurve => ({ ...curve, pieces: curve.pieces.map(backward).reverse() });

/**
 * Curves of one layer that touch end to end made one, where no third one ends there; one that comes back to where it
 * began is closed. Programs write an outline in as many pieces as it was drawn in.
 */
function joined(curves: readonly DrawnCurve[]): DrawnCurve[] {
  const within = TOUCHING * sizeOf(boxOf(curves));
  const near = (a: At, b: At) => Math.hypot(a.x - b.x, a.y - b.y) <= within;
  const closing = (curve: DrawnCurve): DrawnCurve =>
    (!curve.closed && near(startOf(curve), endOf(curve)) && !(curve.pieces.length === 1 && isStraight(curve.pieces[0])) ? { ...curve, closed: true } : curve);
  const cell = Math.max(within, Number.MIN_VALUE) * 4;
  const done = new Map<number, DrawnCurve>();
  const place = new Map(curves.map((curve, i) => [curve, i]));
  const open = new Set<DrawnCurve>();
  /** Open ends by the cell they lie in. */
  const ends = new Map<string, { readonly curve: DrawnCurve; readonly at: At }[]>();
  const cellsAbout = ({ x, y }: At, layer: string) => {
    const [i, j] = [Math.round(x / cell), Math.round(y / cell)];
    return [-1, 0, 1].flatMap((di) => [-1, 0, 1].map((dj) => `${i + di} ${j + dj} ${layer}`));
  };
  const keyOf = ({ x, y }: At, layer: string) => `${Math.round(x / cell)} ${Math.round(y / cell)} ${layer}`;
  const endsAt = (at: At, layer: string) => cellsAbout(at, layer).flatMap((key) => ends.get(key) ?? []).filter((end) => near(end.at, at));
  for (const [i, curve] of curves.entries()) {
    const whole = closing(curve);
    if (whole.closed) {
      done.set(i, whole);
      continue;
    }
    open.add(curve);
    for (const at of [startOf(curve), endOf(curve)]) {
      const key = keyOf(at, curve.layer);
      ends.set(key, [...(ends.get(key) ?? []), { curve, at }]);
    }
  }
  /** The one other curve that ends where this one does. */
  const nextOf = (of: DrawnCurve, at: At): DrawnCurve | undefined => {
    const here = endsAt(at, of.layer);
    const other = here.find(({ curve }) => curve !== of);
    return here.length === 2 && other && open.has(other.curve) ? other.curve : undefined;
  };
  for (const seed of open) {
    if (!open.delete(seed)) continue;
    const chain = [seed];
    for (const forward of [true, false]) {
      let last = seed;
      let at = forward ? endOf(seed) : startOf(seed);
      for (let next = nextOf(last, at); next; next = nextOf(last, at)) {
        open.delete(next);
        const along = near(startOf(next), at);
        at = along ? endOf(next) : startOf(next);
        if (forward) chain.push(along ? next : turned(next));
        else chain.unshift(along ? turned(next) : next);
        last = next;
      }
    }
    // It is called after its first in the file: that is the seed.
    done.set(place.get(seed) ?? 0, closing({ ...seed, pieces: chain.flatMap(({ pieces }) => pieces) }));
  }
  return [...done].sort(([a], [b]) => a - b).map(([, curve]) => curve);
}

/** What readers have in common: curves joined, an empty drawing and one far too large told, faults as errors. */
export function readDrawing(read: () => { readonly curves: readonly DrawnCurve[]; readonly unit?: number; readonly left: LeftOut }): DrawingRead {
  try {
    const { curves, unit, left } = read();
    if (curves.length === 0) fail('', 'no curve', 'lines, arcs, ellipses, Bezier curves or splines', 'there is nothing in this drawing that a line of a board could be');
    return { ok: true, drawing: { curves: joined(curves), ...(unit === undefined ? {} : { unit }), notes: left.notes } };
  } catch (error) {
    if (error instanceof DrawingFault) return { ok: false, errors: [error.fault] };
    throw error;
  }
}
