/** Ribs and stringer as solids: their cutting lines' smooth stretches as curves, the rest as the lines they are. */
import { chordParameters, interpolateCubic } from '../../curves/interpolate';
import { loopArea, reversed, turnsOf } from '../../curves/polygon';
import type { Plan } from '../../types';
import { framePlates, type FramePlate } from '../frameBodies';
import type { Point3 } from '../mesh';
import { gone, lineBetween, ShellBuilder, wallBetween, wayAlong, type Brep, type CurveData } from './shell';

/** A line that turns by more than this at a point has a corner there, radians: own choice, 12 degrees. */
const CORNER = 0.21;
/** The curvature of a line jumps at a point where it is more than so many times, and so much, per mm, greater on one side: own choice. */
const JOINT_TIMES = 3;
const JOINT = 0.02;
/** Points nearer than this are one, mm. */
const ONE_POINT = 1e-6;
/** A stretch of as many points is drawn as a curve. */
const CURVED = 4;

type Point2 = readonly [number, number];

/** A closed loop's stretches between its corners and where rounds run into edges, each with both its ends; a loop without either in two. */
function stretchesOf(loop: ArrayLike<number>): Point2[][] {
  const points: Point2[] = [];
  for (let i = 0; i + 1 < loop.length; i += 2) {
    const p: Point2 = [loop[i], loop[i + 1]];
    const last = points[points.length - 1];
    if (!last || Math.hypot(p[0] - last[0], p[1] - last[1]) > ONE_POINT) points.push(p);
  }
  while (points.length > 1 && Math.hypot(points[0][0] - points[points.length - 1][0], points[0][1] - points[points.length - 1][1]) <= ONE_POINT) points.pop();
  const n = points.length;
  const length = (i: number): number => Math.hypot(points[(i + 1) % n][0] - points[i % n][0], points[(i + 1) % n][1] - points[i % n][1]);
  const turns = turnsOf(points, true).map(Math.abs);
  const bent = points.map((_, i) => (turns[i] + turns[(i + 1) % n]) / 2 / length(i));
  // A curve through an edge and the round that it runs into would swing about both.
  const joint = (i: number): boolean => {
    const [less, more] = [bent[(i + n - 1) % n], bent[i]].sort((x, y) => x - y);
    return more > JOINT_TIMES * less && more - less > JOINT;
  };
  const corners = points.flatMap((_, i) => (turns[i] > CORNER || joint(i) ? [i] : []));
  const cuts = corners.length > 1 ? corners : [0, Math.floor(n / 2)];
  return cuts.flatMap((from, k) => {
    const to = k + 1 < cuts.length ? cuts[k + 1] : cuts[0] + n;
    const stretch = Array.from({ length: to - from + 1 }, (_, i) => points[(from + i) % n]);
    return stretch.length >= CURVED ? [stretch] : stretch.slice(1).map((p, i) => [stretch[i], p]);
  });
}

/** A stretch as it lies in the plate: its spline, or nothing where it is a straight line. */
interface Drawn {
  readonly stretch: readonly Point2[];
  readonly spline?: ReturnType<typeof interpolateCubic>;
}

function drawn(stretch: readonly Point2[]): Drawn {
  if (stretch.length === 2) return { stretch };
  const flat = Float64Array.from(stretch.flat());
  return { stretch, spline: interpolateCubic(chordParameters(flat, 2), flat, 2) };
}

/** A stretch's line at a depth of the plate. */
function curveAt({ stretch, spline }: Drawn, depth: number, place: FramePlate['place']): CurveData {
  if (!spline) return lineBetween(place(...stretch[0], depth), place(...stretch[1], depth));
  const { knots, points: flat } = spline;
  const points = new Float64Array((flat.length / 2) * 3);
  for (let i = 0; 2 * i < flat.length; i++) points.set(place(flat[2 * i], flat[2 * i + 1], depth), 3 * i);
  return { degree: 3, knots, points };
}

/** A frame as a solid plate, its cutting lines to both sides of its plane. */
function plateBrep({ id, kind, shape, thickness, place }: FramePlate): Brep {
  const shell = new ShellBuilder();
  const half = thickness / 2;
  const loops = [shape.outline, ...shape.holes].map((loop, i) => stretchesOf((loopArea(loop) > 0) === (i === 0) ? loop : reversed(loop)).map((stretch) => {
    const line = drawn(stretch);
    return { under: curveAt(line, -half, place), over: curveAt(line, half, place) };
  }));
  for (const { under, over } of loops.flat()) shell.patch(wallBetween(under, over), true);
  const o = place(0, 0, 0);
  const axis = ([x, y, z]: Point3, way: number) => [way * (x - o[0]), way * (y - o[1]), way * (z - o[2])] as const;
  for (const facing of [1, -1] as const) {
    const borders = loops.map((loop) => loop.map(({ under, over }) => wayAlong(facing === 1 ? over : under)));
    shell.face({ origin: place(0, 0, facing * half), normal: axis(place(0, 0, 1), facing), along: axis(place(1, 0, 0), 1) }, true, facing === 1 ? borders : borders.map(gone));
  }
  return shell.build(id, kind, 'centre');
}

/** Stringer and ribs in their places. */
export const frameBreps = (plan: Plan): { readonly id: string; readonly make: () => Brep }[] => framePlates(plan, 'cut').map((each) => ({ id: each.id, make: () => plateBrep(each) }));
