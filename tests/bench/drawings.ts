/** What the curves of a drawing cost: points of rational B-splines, by ours and by verb, of the degrees that drawings have. */
import { rationalAt, type Rational } from '../../geometry/curves/rational';
import { loadVerb } from '../support/kernels';
import type { Section } from './report';
import { time } from './timing';

const DEGREES = [1, 2, 3, 5] as const;
const POINTS = 24;
const PLACES = 4000;
/** Points may differ by so much, units of the drawing: its lines are some hundreds long. */
const ALIKE = 1e-9;

/** Core call of verb's: a point without its class about it. */
interface Curves {
  readonly eval: { readonly Eval: { rationalCurvePoint(curve: object, u: number): number[] } };
}

/** A wave of control points with weights about 1, clamped. */
function wave(degree: number): Rational {
  const inner = POINTS - degree;
  const knots = [...new Array<number>(degree).fill(0), ...Array.from({ length: inner + 1 }, (_, i) => i / inner), ...new Array<number>(degree).fill(1)];
  const points = Array.from({ length: POINTS }, (_, i) => [i * 20, 80 * Math.sin(i / 3)]).flat();
  return { degree, knots, points, weights: Array.from({ length: POINTS }, (_, i) => 1 + 0.4 * Math.cos(i)) };
}

export function drawingsSection(): Section {
  const verb = loadVerb() as unknown as Curves;
  const us = Array.from({ length: PLACES }, (_, i) => ((i * 0.6180339887) % 1) * 0.999);
  const rows = DEGREES.map((degree) => {
    const curve = wave(degree);
    const theirs = {
      degree, knots: [...curve.knots],
      controlPoints: curve.weights.map((w, i) => [curve.points[2 * i] * w, curve.points[2 * i + 1] * w, w]),
    };
    const worst = Math.max(...us.map((u) => {
      const { x, y } = rationalAt(curve, u);
      const [vx, vy] = verb.eval.Eval.rationalCurvePoint(theirs, u);
      return Math.hypot(x - vx, y - vy);
    }));
    if (!(worst <= ALIKE)) throw new Error(`points of degree ${degree} differ by ${worst}`);
    const [ours, byVerb] = time([
      () => us.forEach((u) => rationalAt(curve, u)),
      () => us.forEach((u) => verb.eval.Eval.rationalCurvePoint(theirs, u)),
    ], PLACES, 40);
    return { degree, ours, byVerb, worst };
  });
  const ns = (least: number) => `${(least * 1e6).toFixed(0)} ns`;
  return {
    title: 'A drawing\'s curves',
    tables: [{
      title: `A point of a rational B-spline of ${POINTS} control points, ${PLACES} places; least times a point`,
      head: ['degree', 'ours (rationalAt)', 'verb', 'times ours', 'greatest difference'],
      rows: rows.map((r) => [String(r.degree), ns(r.ours.least), ns(r.byVerb.least), (r.byVerb.least / r.ours.least).toFixed(1), r.worst.toExponential(1)]),
    }],
    remarks: ['verb in the page would be 40 kB of script more; it makes code from text, which the page forbids, and takes a worker\'s own listener.'],
    targets: [],
    data: { rows },
  };
}
