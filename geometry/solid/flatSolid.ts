/** A flat shape as a closed solid for printing and milling: every corner of every line is a corner of both faces, as a file of 32-bit corners has it. */
import type { FlatShape } from '../frame/types';
import type { Mesh } from '../types';
import { plate } from './mesh';

/** The shape, outline and holes taken out, as a plate between z = 0 and z = thickness (mm). */
export const flatSolid = ({ outline, holes }: FlatShape, thickness: number): Mesh =>
  plate(cornersOf(outline), holes.map(cornersOf), thickness, (x, y, depth) => [x, y, depth + thickness / 2]);

/** A loop's corners as a 32-bit mesh keeps them, none twice in a row. */
function cornersOf(loop: ArrayLike<number>): number[] {
  const corners: number[] = [];
  const repeats = (x: number, y: number, at: number): boolean => corners[at] === x && corners[at + 1] === y;
  for (let i = 0; i + 1 < loop.length; i += 2) {
    const [x, y] = [Math.fround(loop[i]), Math.fround(loop[i + 1])];
    if (!repeats(x, y, corners.length - 2)) corners.push(x, y);
  }
  if (corners.length > 2 && repeats(corners[0], corners[1], corners.length - 2)) corners.length -= 2;
  return corners;
}
