/** Boards plain enough for closed forms: straight outlines, flat rocker, linear thickness. */
import type { Design, LengthCurveDesign } from '../../geometry/design/schema';
import { blankDesign } from '../../geometry/design/defaults';

/** A value held level from tail to nose. */
export const level = (length: number, v: number): LengthCurveDesign => ({ points: [{ x: 0, v }, { x: length, v }] });

/** Sizes of a wedge board, mm. */
export interface Wedge {
  readonly length: number;
  /** Half-breadth at tail and nose; straight between. */
  readonly tailHalf: number;
  readonly noseHalf: number;
  /** Thickness at tail, at the ridge and at the nose; the ridge is a corner `ridgeAt` from the tail. */
  readonly tail: number;
  readonly ridge: number;
  readonly nose: number;
  readonly ridgeAt: number;
}

/**
 * A board of planes: flat bottom on the bench, no crown, straight sides, thickness rising straight to a ridge
 * and falling straight from it. The rail sizes are the blank board's unless `rail` says otherwise.
 */
export function wedgeDesign(w: Wedge, rail: Partial<Design['rail']> = {}): Design {
  const base = blankDesign();
  const at = (v: number) => level(w.length, v);
  return {
    ...base,
    lines: {
      outline: { points: [{ x: 0, y: w.tailHalf }, { x: w.length, y: w.noseHalf }] },
      rocker: at(0),
      thickness: { points: [{ x: 0, v: w.tail }, { x: w.ridgeAt, v: w.ridge, corner: true }, { x: w.length, v: w.nose }] },
      crown: at(0), concave: at(0), vee: at(0), apex: at(0.5), fullness: at(0.5), tuck: at(5), turn: at(5),
    },
    frames: { ...base.frames, ribs: Array.from({ length: 9 }, (_, i) => ((i + 1) * w.length) / 10) },
    rail: { ...base.rail, ...rail },
  };
}
