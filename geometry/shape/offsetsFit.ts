/** Lines fitted to a table of offsets: the fewest points found that pass every row within a stated tolerance. */
import { evalSpline } from '../curves/bspline';
import { LEAST_POINT_STEP } from '../design/cross';
import { checkDesign, type ReadResult } from '../design/read';
import { MAX_POINTS, type Design, type LengthCurveDesign } from '../design/schema';
import { everMoreKnots, takeOutKnots, type FitData, type KnotFit } from './leastSquares';
import { OFFSET_COLUMNS, type OffsetColumn, type OffsetTable } from './offsets';
import { fitOutline, type OutlineEnds } from './outlineFit';
import { relayRibs, stretchCompanions, stretchCurve, stretchOutline } from './stretch';

/** Tolerance unless asked otherwise, mm: a sharp pencil line. */
export const FIT_TOLERANCE = 0.25;

export interface OffsetFitOptions {
  /** Farthest any row may lie from its curve, mm: along z for rocker and thickness, square to the outline in plan. */
  readonly tolerance?: number;
  /** End directions of the outline the maker knows (90 is round); absent: fitted. */
  readonly ends?: OutlineEnds;
  /** Rows at which the outline has a corner, by their order among those with a half-breadth. */
  readonly corners?: readonly number[];
}

/** How well one curve passes its rows. */
export interface FitMiss {
  /** Points of the curve, rows it was fitted to. */
  readonly points: number;
  readonly rows: number;
  /** Rows for each number the fit was free to choose: near 1 the curve only threads its rows and may stray between them. */
  readonly rowsPerFreedom: number;
  /** Greatest and root-mean-square distance of the rows from the curve, mm; station and row of the greatest. */
  readonly greatest: number;
  readonly rms: number;
  readonly x: number;
  readonly line: number;
  /** Whether the greatest lies within the tolerance. */
  readonly met: boolean;
}

export interface OffsetFit {
  readonly length: number;
  readonly tolerance: number;
  readonly lines: Partial<Pick<Design['lines'], 'outline' | 'rocker' | 'thickness'>>;
  readonly misses: Partial<Record<OffsetColumn, FitMiss>>;
  /** Whether every curve meets the tolerance. */
  readonly met: boolean;
}

const degrees = (slope: number): number => (Math.atan(slope) * 180) / Math.PI;

/**
 * A length curve by least squares. A C2 cubic is fixed by its values at its knots and its end slopes, so the
 * fitted B-spline and the design curve with points at its knots are the same curve.
 */
function fitLength(x: Float64Array, v: Float64Array, tolerance: number): { curve: LengthCurveDesign; fit?: KnotFit; data: FitData } {
  const data: FitData = { t: x, dim: 1, rows: v };
  const last = x.length - 1;
  // Fewer rows than a cubic has freedom: the batten through the rows.
  if (x.length < 4) return { curve: { points: Array.from(x, (at, i) => ({ x: at, v: v[i] })) }, data };
  let best: KnotFit | undefined;
  for (const fit of everMoreKnots(data, tolerance, MAX_POINTS - 2, LEAST_POINT_STEP)) {
    if (!best || fit.miss.greatest < best.miss.greatest) best = fit;
    if (fit.miss.greatest <= tolerance) break;
  }
  if (!best) return { curve: { points: [{ x: x[0], v: v[0] }, { x: x[last], v: v[last] }] }, data };
  if (best.miss.greatest <= tolerance) best = takeOutKnots(data, best, tolerance, LEAST_POINT_STEP);
  const row = new Float64Array(3);
  const basis = new Float64Array(12);
  const at = (u: number) => (evalSpline(best.spline, u, row, basis), { v: row[0], d: row[1] });
  return {
    curve: {
      points: [{ x: x[0], v: v[0] }, ...best.inner.map((u) => ({ x: u, v: at(u).v })), { x: x[last], v: v[last] }],
      tailSlopeDeg: degrees(at(x[0]).d),
      noseSlopeDeg: degrees(at(x[last]).d),
    },
    fit: best,
    data,
  };
}

/**
 * Fit lines to a table: each measured column gives its line, the rest stay out. Least squares with the ends kept (see
 * `leastSquares`), the number of points raised until the greatest miss lies within the tolerance, then points removed
 * that are not needed: the fewest found, not proved the fewest there are. Where no curve of at most 200 points meets
 * the tolerance, the closest is returned with `met` false. Throws a RangeError for a tolerance that is not more than
 * 0, and a BuildError where the rows make an outline that folds back.
 */
export function fitOffsets(table: OffsetTable, options: OffsetFitOptions = {}): OffsetFit {
  const { tolerance = FIT_TOLERANCE, ends = {}, corners } = options;
  if (!(tolerance > 0)) throw new RangeError(`tolerance: ${tolerance} given; more than 0 mm allowed`);
  const lines: { -readonly [K in keyof OffsetFit['lines']]: OffsetFit['lines'][K] } = {};
  const misses: Partial<Record<OffsetColumn, FitMiss>> = {};
  for (const column of OFFSET_COLUMNS) {
    const rows = table.rows.flatMap((r) => (r[column] === undefined ? [] : [{ x: r.x, v: r[column], line: r.line }]));
    if (rows.length < 2) continue;
    const x = Float64Array.from(rows, (r) => r.x);
    const v = Float64Array.from(rows, (r) => r.v);
    if (column === 'halfBreadth') {
      const data = Float64Array.from(rows.flatMap((r) => [r.x, r.v]));
      const { outline, miss } = fitOutline(data, tolerance, ends, corners);
      lines.outline = outline;
      misses.halfBreadth = {
        points: outline.points.length, rows: rows.length, rowsPerFreedom: rows.length / (outline.points.length + 2), greatest: miss.greatest, rms: Math.sqrt(miss.squares / rows.length),
        x: x[miss.index], line: rows[miss.index].line, met: miss.greatest <= tolerance,
      };
    } else {
      const { curve, fit } = fitLength(x, v, tolerance);
      const miss = fit?.miss ?? { greatest: 0, index: 0, squares: 0 };
      lines[column] = curve;
      misses[column] = {
        points: curve.points.length, rows: rows.length, rowsPerFreedom: rows.length / (curve.points.length + 2), greatest: miss.greatest, rms: Math.sqrt(miss.squares / rows.length),
        x: x[miss.index], line: rows[miss.index].line, met: miss.greatest <= tolerance,
      };
    }
  }
  return { length: table.length, tolerance, lines, misses, met: Object.values(misses).every((m) => m.met) };
}

/**
 * A design with its lines replaced by fitted ones. Lines the table did not measure, the companions and the ribs are
 * stretched to the new length. Returns the checked design, or the fields that do not fit.
 */
export function withOffsets(design: Design, fit: OffsetFit): ReadResult {
  const { points } = design.lines.outline;
  const kx = fit.length / points[points.length - 1].x;
  const to = fit.length;
  const { lines, frames } = design;
  return checkDesign({
    ...design,
    lines: {
      ...stretchCompanions(lines, kx, to),
      outline: fit.lines.outline ?? stretchOutline(lines.outline, kx, 1, to),
      rocker: fit.lines.rocker ?? stretchCurve(lines.rocker, kx, 1, to),
      thickness: fit.lines.thickness ?? stretchCurve(lines.thickness, kx, 1, to),
    },
    frames: kx === 1 ? frames : { ...frames, ribs: relayRibs(frames.ribs, kx) },
  });
}
