/** Kerf: cutting lines moved outward by half the width a laser burns away, so that the part comes out to size. */
import { EndType, JoinType, inflatePathsD, type PathD } from 'clipper2-ts';
import { loopArea } from '../curves/polygon';
import type { FlatShape } from './types';

/** Sharp corners stay sharp up to this many times the offset, as clipper's mitre limit counts it. */
const MITRE_LIMIT = 4;
/** Decimal places to which clipper rounds: a tenth of a micrometre. */
const PLACES = 4;

/**
 * A shape's cutting lines with half the kerf added all round: the outline grows, holes shrink, marks stay.
 * Takes the kerf in mm, 0 or more. Throws a RangeError where a hole or the outline vanishes or falls apart,
 * naming which: the part is finer than the beam.
 */
export function kerfCompensated(shape: FlatShape, kerf: number): FlatShape {
  if (!(kerf >= 0)) throw new RangeError(`kerf ${kerf} mm: must be 0 or more`);
  if (kerf === 0) return shape;
  return {
    outline: grown(shape.outline, kerf / 2, 'outline'),
    holes: shape.holes.map((h, i) => grown(h, -kerf / 2, `hole ${i + 1}`)),
    marks: shape.marks,
  };
}

/** A loop moved outward by d (inward where negative), keeping its sense of turning. */
function grown(loop: Float64Array, d: number, name: string): Float64Array {
  const sense = Math.sign(loopArea(loop));
  const path: PathD = [];
  for (let i = 0; i < loop.length; i += 2) path.push({ x: loop[i], y: loop[i + 1] });
  if (sense < 0) path.reverse();
  const out = inflatePathsD([path], d, JoinType.Miter, EndType.Polygon, MITRE_LIMIT, PLACES);
  if (out.length !== 1) throw new RangeError(`${name}: ${out.length === 0 ? 'nothing is left' : 'falls apart'} at a kerf of ${2 * Math.abs(d)} mm`);
  const points = sense < 0 ? out[0].slice().reverse() : out[0];
  return Float64Array.from(points.flatMap((p) => [p.x, p.y]));
}
