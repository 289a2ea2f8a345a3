/** A round board: a disc of known radius, flat or tilted, so that its outer skins are cut cylinders with closed forms. */
import { blankDesign } from '../../geometry/design/defaults';
import type { Design } from '../../geometry/design/schema';

/** Radius and depth of the disc, mm. */
export const DISC_RADIUS = 400;
export const DISC_DEPTH = 60;

/** The disc with its bottom tilted by `tilt` (radians) along its length, deck parallel to it. */
export function discDesign(tilt = 0, points = 81): Design {
  const design = structuredClone(blankDesign());
  const length = 2 * DISC_RADIUS;
  const level = (v: number) => ({ points: [{ x: 0, v }, { x: length, v }] });
  design.lines = {
    ...design.lines,
    outline: {
      // Mid-points of even arcs besides the ends would do as well; even arcs keep the chord parameter even.
      points: Array.from({ length: points }, (_, i) => {
        const a = (Math.PI * i) / (points - 1);
        const last = i === points - 1;
        return { x: last ? length : DISC_RADIUS * (1 - Math.cos(a)), y: i === 0 || last ? 0 : DISC_RADIUS * Math.sin(a) };
      }),
      tailAngleDeg: 90,
      noseAngleDeg: 90,
    },
    rocker: { points: [{ x: 0, v: 0 }, { x: length, v: length * Math.tan(tilt) }] },
    thickness: level(DISC_DEPTH),
    crown: level(0), concave: level(0), vee: level(0),
  };
  design.frames.ribs = [200, 400, 600];
  return design;
}
