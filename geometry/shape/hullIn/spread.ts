/** Lines put on more points: the same curve, as near as those can. */
import { evalSpline } from '../../curves/bspline';
import { graphSpline, valueAt } from '../../curves/graph';
import { buildOutline } from '../../curves/outline';
import { frameAt, planeFrame } from '../../curves/plane';
import { LEAST_POINT_STEP } from '../../design/cross';
import type { Design, LengthCurveDesign, OutlineDesign } from '../../design/schema';

type Main = Pick<Design['lines'], 'outline' | 'rocker' | 'thickness'>;

/** A length curve with `n` even points. */
export function evenly(n: number, length: number, at: (x: number) => number): LengthCurveDesign {
  return { points: Array.from({ length: n }, (_, i) => (i * length) / (n - 1)).map((x) => ({ x, v: at(x) })) };
}

/** Points of the main lines, unless more are wanted: no more than a maker can look after. */
const MAIN_POINTS = { outline: 9, along: 7 } as const;

/** How many more at each further stage. */
const MORE = { outline: 4, along: 2 } as const;

/** Places at which an outline's way and turn are summed. */
const SUMMED = 600;

/** Least way along the board from one point of an outline to the next, mm: of the board file's, and as much again for a fit to move in. */
const ROOM = 2 * LEAST_POINT_STEP;

/** An outline's points spread along it, so that from one to the next it goes as far and turns as much, each as a share of the whole; its ends as they are. Where they crowd, as many do round an end, there are fewer. */
function spread(outline: OutlineDesign, least: number): OutlineDesign {
  const spline = buildOutline(outline);
  const end = spline.knots[spline.knots.length - 1];
  const rounds = [outline.tailAngleDeg, outline.noseAngleDeg].filter((deg) => deg === 90).length;
  const few = least + 2 * rounds;
  const frame = planeFrame();
  const turns = Array.from({ length: SUMMED }, (_, i) => {
    frameAt(spline, ((i + 0.5) / SUMMED) * end, frame);
    return Math.abs(frame.kappa) * frame.speed;
  });
  const turn = turns.reduce((sum, v) => sum + v, 0);
  const row = new Float64Array(6);
  const basis = new Float64Array(12);
  const onto = (last: number) => {
    let [sum, i] = [0, 0];
    return Array.from({ length: last + 1 }, (_, k) => {
      if (k === 0) return outline.points[0];
      if (k === last) return outline.points[outline.points.length - 1];
      const weight = () => 0.5 / SUMMED + (turn > 0 ? (0.5 * turns[i]) / turn : 0.5 / SUMMED);
      while (i + 1 < SUMMED && sum + weight() < k / last) {
        sum += weight();
        i++;
      }
      evalSpline(spline, ((i + (k / last - sum) / weight()) / SUMMED) * end, row, basis);
      return { x: row[0], y: row[1] };
    });
  };
  let points = onto(Math.max(few, outline.points.length) - 1);
  while (points.length > few && points.some((p, i) => i > 0 && p.x - points[i - 1].x < ROOM)) points = onto(points.length - 2);
  return { ...outline, points };
}

/** A length curve through as many even points, its end slopes as they are. */
export function spreadLength(curve: LengthCurveDesign, least: number, length: number): LengthCurveDesign {
  const spline = graphSpline(curve);
  return { ...curve, ...evenly(Math.max(least, curve.points.length), length, (x) => valueAt(spline, x)) };
}

/** The three main lines, put on as many points as belong to a stage. */
export function spreadMain({ outline, rocker, thickness }: Main, stage: number): Main {
  const length = outline.points[outline.points.length - 1].x;
  const along = MAIN_POINTS.along + MORE.along * stage;
  return { outline: spread(outline, MAIN_POINTS.outline + MORE.outline * stage), rocker: spreadLength(rocker, along, length), thickness: spreadLength(thickness, along, length) };
}
