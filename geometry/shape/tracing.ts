/** A picture of a plan placed under the curves: the similarity that carries picture pixels to board millimetres. */
import type { FieldError } from '../errors';
import { said, size, type Said } from '../said';

/** A point: picture pixels (x right, y down) or board millimetres. */
export type Point = readonly [x: number, y: number];

/** Two places known in both: where they are in the picture and where they are on the board. */
export interface TracingPoints {
  readonly picture: readonly [Point, Point];
  readonly board: readonly [Point, Point];
  /**
   * Whether the drawing's second axis runs up the picture, as a plan or profile is usually drawn (true, the
   * default), or down it.
   */
  readonly upright?: boolean;
}

/**
 * X = a px + c py + e, Y = b px + d py + f, the order of the SVG and canvas `matrix(a, b, c, d, e, f)`
 * (SVG 1.1, section 7.4).
 */
export interface Similarity {
  readonly matrix: readonly [a: number, b: number, c: number, d: number, e: number, f: number];
  /** Millimetres per pixel. */
  readonly scale: number;
  /** Turn of the picture's x axis on the board, radians. */
  readonly turn: number;
}

/** Closest two known points may lie: pixels in the picture, mm on the board. */
const LEAST_SPREAD = { picture: 2, board: 1 } as const;

/** Errors are of the fields picture and board. */
export type TracingResult = { ok: true; similarity: Similarity } | { ok: false; errors: FieldError[] };

function spreadError(field: 'picture' | 'board', points: readonly [Point, Point]): FieldError[] {
  const far = (apart: number): Said => (field === 'picture' ? said('{apart} pixels', { apart: Number(apart.toFixed(2)) }) : size(apart));
  const where = field === 'picture' ? 'in the picture' : 'on the board';
  if (!points.flat().every(Number.isFinite)) {
    return [{ field, value: points.flat().join(', '), allowed: 'finite numbers', message: `a known point ${where} has no place` }];
  }
  const distance = Math.hypot(points[1][0] - points[0][0], points[1][1] - points[0][1]);
  return distance >= LEAST_SPREAD[field]
    ? []
    : [{
      field, value: said('{far} apart', { far: far(distance) }), allowed: said('{least} or more apart', { least: far(LEAST_SPREAD[field]) }),
      message: `the two known points ${where} coincide: choose two far apart, such as tail and nose`,
    }];
}

/**
 * The similarity (one scale, one turn, one shift, mirrored where the picture's y runs down) that carries the two
 * known points of the picture onto theirs on the board. As complex numbers: z to m z + k, on the picture's
 * conjugate when upright; two points fix m and k. Points that coincide or are not finite are errors.
 */
export function tracingSimilarity(points: TracingPoints): TracingResult {
  const errors = [...spreadError('picture', points.picture), ...spreadError('board', points.board)];
  if (errors.length > 0) return { ok: false, errors };
  const mirror = points.upright === false ? 1 : -1;
  const [[px, py], [qx, qy]] = points.picture;
  const [[bx, by], [cx, cy]] = points.board;
  const dx = qx - px;
  const dy = mirror * (qy - py);
  const square = dx * dx + dy * dy;
  const re = ((cx - bx) * dx + (cy - by) * dy) / square;
  const im = ((cy - by) * dx - (cx - bx) * dy) / square;
  return {
    ok: true,
    similarity: {
      matrix: [re, im, -im * mirror, re * mirror, bx - re * px + im * mirror * py, by - im * px - re * mirror * py],
      scale: Math.hypot(re, im),
      turn: Math.atan2(im, re),
    },
  };
}

/** Where a point of the picture lies on the board, mm. */
export function toBoard({ matrix: [a, b, c, d, e, f] }: Similarity, [x, y]: Point): Point {
  return [a * x + c * y + e, b * x + d * y + f];
}

/** Where a point of the board lies in the picture, pixels. */
export function toPicture({ matrix: [a, b, c, d, e, f] }: Similarity, [x, y]: Point): Point {
  const det = a * d - b * c;
  return [(d * (x - e) - c * (y - f)) / det, (a * (y - f) - b * (x - e)) / det];
}
