/** A SPLINE of a DXF file: by its control points or, where there are none, by the points it was drawn through. */
import { chordParameters, interpolateCubic } from '../curves/interpolate';
import { MOST_DEGREE, type At, type Rational } from '../curves/rational';
import { range, said } from '../said';
import { fail, type DrawnCurve } from './drawing';
import { all, figure, nameOf, points, type Entity } from './drawingTags';

/** Degree of a spline. Own choice. */
const DEGREES = range(1, MOST_DEGREE, 'count');
/** How many points a closed spline is carried on for at either end: what an end does to it fades by 2 + the root of 3 a point where they are even, to rounding here. */
const WRAPPED = 40;

function byControls(entity: Entity, controls: readonly At[]): Rational {
  const where = nameOf(entity);
  const n = controls.length;
  const degree = figure(entity, 71);
  const [least, most] = DEGREES.value;
  if (!Number.isInteger(degree) || degree < least || degree > most) fail(where, degree, DEGREES, 'the degree of a spline');
  if (n <= degree) fail(where, said('{n} control points', { n }), said('{least} or more', { least: degree + 1 }), said('too few for a spline of degree {degree}', { degree }));
  const knots = all(entity, 40);
  if (knots.length !== n + degree + 1) fail(where, said('{n} knots', { n: knots.length }), said('{n}', { n: n + degree + 1 }), said('so many knots go with {points} control points of degree {degree}', { points: n, degree }));
  const down = knots.findIndex((knot, i) => i > 0 && knot < knots[i - 1]);
  if (down > 0 || !(knots[n] > knots[degree])) fail(where, String(knots[Math.max(0, down)]), 'rising knots', 'its knots fall, or are all the same');
  const given = all(entity, 41);
  if (given.length !== 0 && given.length !== n) fail(where, said('{n} weights', { n: given.length }), said('{n}, or none', { n }), 'a weight goes with each control point');
  const bad = given.findIndex((weight) => !(weight > 0));
  if (bad >= 0) fail(where, said('weight {i}: {weight}', { i: bad + 1, weight: given[bad] }), 'more than 0', 'a control point that repels the curve, or is none');
  return { degree, knots, points: controls.flatMap(({ x, y }) => [x, y]), weights: given.length > 0 ? given : new Array<number>(n).fill(1) };
}

/** The way a curve leaves or reaches an end, a unit long; undefined where the file gives none. */
function tangent(entity: Entity, code: number): readonly [number, number] | undefined {
  const [x, y] = [figure(entity, code, 0), figure(entity, code + 10, 0)];
  const size = Math.hypot(x, y);
  return size > 0 ? [x / size, y / size] : undefined;
}

/**
 * The cubic through fit points: parameters by chords, as the programs that write them do unless told otherwise; at its ends along
 * the tangents given, else without bend; closed, it goes on over where it began without a break in its bend.
 */
function byFitPoints(entity: Entity, closed: boolean): Rational {
  const given = points(entity, 11, 'its fit points are not whole');
  const apart = (p: At, q: At) => p.x !== q.x || p.y !== q.y;
  const through = given.filter((p, i) => i === 0 || apart(p, given[i - 1]));
  if (closed && through.length > 1 && apart(through[0], through[through.length - 1])) through.push(through[0]);
  if (through.length < (closed ? 4 : 2)) fail(nameOf(entity), said('{n} fit points', { n: through.length - (closed && through.length > 1 ? 1 : 0) }), said('{least} or more, not in one place', { least: closed ? 3 : 2 }), 'too few for a curve to go through, and it has no control points');
  const ends = { start: tangent(entity, 12), end: tangent(entity, 13) };
  const round = closed && !ends.start && !ends.end;
  const n = through.length - 1;
  const wrapped = round ? Array.from({ length: n + 1 + 2 * WRAPPED }, (_, i) => through[(((i - WRAPPED) % n) + n) % n]) : through;
  const rows = wrapped.flatMap(({ x, y }) => [x, y]);
  const spline = interpolateCubic(chordParameters(rows, 2), rows, 2, [], ends);
  // Of one carried on at both ends, what lies between where it begins and where it is there again.
  const [from, to] = round ? [WRAPPED, WRAPPED + n + 3] : [0, spline.points.length / 2];
  return { degree: 3, knots: [...spline.knots.subarray(from, to + 4)], points: [...spline.points.subarray(2 * from, 2 * to)], weights: new Array<number>(to - from).fill(1) };
}

/** A spline, and whether it is closed. */
export function splineDrawn(entity: Entity): Pick<DrawnCurve, 'pieces' | 'closed'> {
  const controls = points(entity, 10, 'its control points are not whole');
  if (controls.length > 0) return { pieces: [byControls(entity, controls)], closed: false };
  const closed = (figure(entity, 70, 0) & 3) !== 0;
  return { pieces: [byFitPoints(entity, closed)], closed };
}
