/**
 * Curvature combs, inflections and figures of fairness. A curve is called fair when its curvature plot is
 * continuous and has few monotone pieces (G. Farin, Curves and Surfaces for CAGD, 5th ed. 2002, ch. 23; from
 * memory), so the peaks between those pieces are marked and counted.
 */
import { breaks, evalSpline, type Spline } from '../curves/bspline';
import { GAUSS5_W, GAUSS5_X } from '../curves/quadrature';
import { findRoot } from '../curves/roots';
import { isOutline, splineOf, type DesignCurve } from './line';

/** A place on a design curve: spline parameter, station, value (half-breadth for the outline) and curvature there. */
interface CurveMark {
  readonly u: number;
  readonly x: number;
  readonly v: number;
  readonly kappa: number;
}

/** How fair a curve is, in figures. */
export interface FairnessFigures {
  /** Length of the curve, mm. */
  readonly length: number;
  /** Integral of squared curvature over the length, 1/mm: the batten's bending energy over half its stiffness. */
  readonly bending: number;
  /** Integral of the squared change of curvature along the curve, 1/mm3. */
  readonly variation: number;
  /** Greatest curvature, either sign, 1/mm, and its station. */
  readonly greatest: { readonly kappa: number; readonly x: number };
  readonly inflections: number;
  readonly peaks: number;
}

/** A curvature comb with its marks. */
export interface Comb {
  /**
   * Teeth, five numbers each: x, v, nx, ny, kappa (1/mm). A tooth drawn from (x, v) to (x, v) - scale kappa n
   * stands on the round side of the curve. For the outline v is the half-breadth, n points inboard and kappa is
   * positive where the outline is round; for a length curve n points up and kappa is positive where it hollows.
   */
  readonly teeth: Float64Array;
  /** First tooth of each smooth piece: a corner ends one piece and starts the next. */
  readonly pieces: readonly number[];
  /** Where the curvature changes sign inside a smooth piece, refined to 1e-7 of the parameter. */
  readonly inflections: readonly CurveMark[];
  /** Where the curvature is greatest or least between its neighbours: the ends of its monotone pieces. */
  readonly peaks: readonly CurveMark[];
  readonly figures: FairnessFigures;
}

/** How a comb is sampled. */
export interface CombOptions {
  /** Teeth per span between two points. */
  readonly perSpan?: number;
  /**
   * For ratios along the length (crown, vee, apex, fullness): x and v have different units, so the comb shows
   * the second derivative v'' over x in place of a curvature, and the figures are integrals over x.
   */
  readonly ratio?: boolean;
}

/** Teeth per span unless asked otherwise. */
const COMB_TEETH = 12;
/** Flatter than this, 1/mm, is straight: a radius of a kilometre; for a ratio, the same over a metre of half-breadth. */
const STRAIGHT = 1e-6;
const STRAIGHT_RATIO = 1e-9;
/** Places per span at which signs are compared. */
const PROBES = 16;

interface CurveProbe {
  x: number;
  v: number;
  nx: number;
  ny: number;
  kappa: number;
  /** Change of curvature along the curve, 1/mm2. */
  rate: number;
  /** Length of curve per parameter. */
  speed: number;
}

/** Fills `out` at parameter u; `span` holds C''' of the cubic piece in which u lies. */
type Probe = (u: number, third: readonly number[], out: CurveProbe) => void;

const basis = new Float64Array(12);
const row = new Float64Array(6);

function outlineProbe(spline: Spline): Probe {
  return (u, third, out) => {
    evalSpline(spline, u, row, basis);
    const [x, y, dx, dy, ddx, ddy] = row;
    const speed = Math.hypot(dx, dy);
    out.x = x;
    out.v = y;
    out.nx = dy / speed;
    out.ny = -dx / speed;
    out.speed = speed;
    out.kappa = (dy * ddx - dx * ddy) / speed ** 3;
    out.rate = ((dy * third[0] - dx * third[1]) / speed ** 3 - (3 * out.kappa * (dx * ddx + dy * ddy)) / speed ** 2) / speed;
  };
}

function graphProbe(spline: Spline, ratio: boolean): Probe {
  return (u, third, out) => {
    evalSpline(spline, u, row, basis);
    const [v, d1, d2] = row;
    const speed = ratio ? 1 : Math.sqrt(1 + d1 * d1);
    out.x = u;
    out.v = v;
    out.nx = ratio ? 0 : -d1 / speed;
    out.ny = 1 / speed;
    out.speed = speed;
    out.kappa = d2 / speed ** 3;
    out.rate = ratio ? third[0] : (third[0] / speed ** 3 - (3 * d1 * d2 * d2) / speed ** 5) / speed;
  };
}

/** The third derivative of each cubic piece, from the second derivative at its quarter points. */
function thirdDerivatives(spline: Spline, spans: readonly number[]): number[][] {
  const out: number[][] = [];
  const a = new Float64Array(6);
  const { dim } = spline;
  for (let k = 0; k + 1 < spans.length; k++) {
    const h = spans[k + 1] - spans[k];
    evalSpline(spline, spans[k] + h / 4, a, basis);
    const low = Array.from({ length: dim }, (_, d) => a[2 * dim + d]);
    evalSpline(spline, spans[k] + (3 * h) / 4, a, basis);
    out.push(low.map((v, d) => (a[2 * dim + d] - v) / (h / 2)));
  }
  return out;
}

/** Knots at which the tangent may break: multiplicity three inside. */
function cornerKnots(spline: Spline): Set<number> {
  const { knots } = spline;
  const found = new Set<number>();
  for (let i = 4; i + 2 < knots.length - 4; i++) if (knots[i] === knots[i + 2]) found.add(knots[i]);
  return found;
}

const emptyProbe = (): CurveProbe => ({ x: 0, v: 0, nx: 0, ny: 0, kappa: 0, rate: 0, speed: 1 });

/**
 * Comb, marks and figures of a design curve. The outline throws a BuildError where it folds back.
 */
export function combOf(curve: DesignCurve, options: CombOptions = {}): Comb {
  const { perSpan = COMB_TEETH, ratio = false } = options;
  const spline = splineOf(curve);
  const probe = isOutline(curve) ? outlineProbe(spline) : graphProbe(spline, ratio);
  const spans = breaks(spline.knots);
  const thirds = thirdDerivatives(spline, spans);
  const corners = cornerKnots(spline);
  const straight = ratio ? STRAIGHT_RATIO : STRAIGHT;
  const at = emptyProbe();
  const teeth: number[] = [];
  const pieces: number[] = [0];
  const inflections: CurveMark[] = [];
  const peaks: CurveMark[] = [];
  let length = 0;
  let bending = 0;
  let variation = 0;
  let greatest = { kappa: 0, x: 0 };
  // Last sign seen, and where, of the curvature and of its rate of change.
  let bend = { u: 0, sign: 0, f: 0 };
  let turn = { u: 0, sign: 0, f: 0 };
  const mark = (u: number, third: readonly number[]): CurveMark => {
    probe(u, third, at);
    return { u, x: at.x, v: at.v, kappa: at.kappa };
  };
  for (let k = 0; k + 1 < spans.length; k++) {
    const a = spans[k];
    const h = spans[k + 1] - a;
    const third = thirds[k];
    const closes = k + 2 === spans.length || corners.has(spans[k + 1]);
    const inside = (t: number) => a + h * (t === 0 ? 1e-9 : t === 1 ? 1 - 1e-9 : t);
    for (let i = 0; i < perSpan + (closes ? 1 : 0); i++) {
      probe(inside(i / perSpan), third, at);
      teeth.push(at.x, at.v, at.nx, at.ny, at.kappa);
    }
    for (let i = 0; i < 5; i++) {
      probe(a + h * GAUSS5_X[i], third, at);
      const ds = GAUSS5_W[i] * h * at.speed;
      length += ds;
      bending += at.kappa ** 2 * ds;
      variation += at.rate ** 2 * ds;
    }
    for (let i = 0; i <= PROBES; i++) {
      const u = inside(i / PROBES);
      probe(u, third, at);
      const { kappa, rate, x } = at;
      if (Math.abs(kappa) > Math.abs(greatest.kappa)) greatest = { kappa, x };
      const bent = Math.abs(kappa) < straight ? 0 : Math.sign(kappa);
      if (bent * bend.sign < 0) {
        const f = (w: number) => (probe(w, third, at), at.kappa);
        inflections.push(mark(bend.u >= a ? findRoot(f, bend.u, u, 1e-7 * h, bend.f, kappa) : a, third));
      }
      if (bent !== 0) bend = { u, sign: bent, f: kappa };
      // The rate jumps at a knot: a change of sign across one is a peak at the knot itself.
      const turned = Math.abs(rate) * h < straight / 10 ? 0 : Math.sign(rate);
      if (turned * turn.sign < 0) {
        const f = (w: number) => (probe(w, third, at), at.rate);
        peaks.push(mark(turn.u >= a ? findRoot(f, turn.u, u, 1e-7 * h, turn.f, rate) : a, third));
      }
      if (turned !== 0) turn = { u, sign: turned, f: rate };
    }
    if (closes && k + 2 < spans.length) {
      pieces.push(teeth.length / 5);
      bend = { u: 0, sign: 0, f: 0 };
      turn = { u: 0, sign: 0, f: 0 };
    }
  }
  return {
    teeth: Float64Array.from(teeth),
    pieces,
    inflections,
    peaks,
    figures: { length, bending, variation, greatest, inflections: inflections.length, peaks: peaks.length },
  };
}
