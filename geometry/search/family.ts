/** A family from one board: its lines scaled, its construction at its real sizes; and each board's figures in a row. */
import { graphSpline } from '../curves/graph';
import { graphRange } from '../curves/range';
import { findRoot } from '../curves/roots';
import { buildOutline, widestPoint } from '../curves/outline';
import { valueText } from '../design/fields';
import { checkDesign, type ReadResult } from '../design/read';
import type { Design } from '../design/schema';
import type { FieldError } from '../errors';
import { range, said, size as given } from '../said';
import type { FindingLevel, Plan, Stop } from '../types';
import { relayRibs, stretchCompanions, stretchCurve, stretchOutline } from '../shape/stretch';

/** Sizes of the finished board, mm. What is left out stays as it is. */
export interface BoardSize {
  readonly length?: number;
  /** Full width at the widest place. */
  readonly width?: number;
  /** Greatest thickness on the centreline. */
  readonly thickness?: number;
}

/** What a size of a board may be, mm: what a board file can hold at all. Own choice. */
const SIZE_RANGES: Readonly<Record<keyof BoardSize, { readonly min: number; readonly max: number }>> = {
  length: { min: 500, max: 6000 }, width: { min: 100, max: 2000 }, thickness: { min: 10, max: 300 },
};

/** What a size may be, as it is told. */
export function sizeRange(name: keyof BoardSize): ReturnType<typeof range> {
  const { min, max } = SIZE_RANGES[name];
  return range(min, max);
}

/** What is wrong with a size to be given to a board, mm: nothing where it lies in its range. */
export function sizeFaults(name: keyof BoardSize, value: number | undefined): readonly FieldError[] {
  const { min, max } = SIZE_RANGES[name];
  return value !== undefined && value >= min && value <= max
    ? []
    : [{ field: name, value: value === undefined ? 'nothing' : given(value), allowed: sizeRange(name), message: 'is out of range' }];
}

/** Overall sizes of a design, mm: length, greatest full width and greatest thickness on the centreline, and the stations of these. */
interface OverallSize extends Required<BoardSize> {
  readonly widestAt: number;
  readonly thickestAt: number;
}

/** The overall sizes of a design, mm. Throws a BuildError for an outline that folds. */
export function overallSize({ lines }: Pick<Design, 'lines'>): OverallSize {
  const { points } = lines.outline;
  const widest = widestPoint(buildOutline(lines.outline));
  const { max, xMax } = graphRange(graphSpline(lines.thickness));
  return { length: points[points.length - 1].x, width: 2 * widest.halfBreadth, widestAt: widest.x, thickness: max, thickestAt: xMax };
}

/** Length, greatest full width and greatest centreline thickness of a design, mm. Throws a BuildError for an outline that folds. */
export function boardSize(design: Design): Required<BoardSize> {
  const { length, width, thickness } = overallSize(design);
  return { length, width, thickness };
}

/** Where a width is met, mm. */
const MET = 1e-9;

/**
 * Root of `miss`, which rises nearly in proportion, by `whole` from nothing to here: by secants, three or four where a bracket
 * takes ten; by that where they do not settle.
 */
function rootNear(miss: (k: number) => number, guess: number, whole: number): number {
  let [k, f] = [guess, miss(guess)];
  let slope = whole / guess;
  for (let i = 0; i < 6; i++) {
    if (Math.abs(f) < MET) return k;
    const next = k - f / slope;
    const then = miss(next);
    slope = (then - f) / (next - k);
    [k, f] = [next, then];
  }
  return findRoot(miss, guess * 0.8, guess * 1.25, 1e-10);
}

/**
 * A board scaled to the sizes given, from what it is `now`. Outline: along by length, across by width (found by root, so that the width is
 * met to 1e-6 mm). Rocker: along and up by length, so that its slopes stay. Thickness: along by length, up by
 * thickness. Crown, concave, vee, apex and fullness are ratios and keep their values; tuck and turn, like strips,
 * skins, frames and stock, are construction and keep their real sizes. Ribs are re-spaced, at about their old
 * spacing. Returns the checked design, or the fields that no longer fit.
 */
export function scaleBoard(design: Design, size: BoardSize, now = boardSize(design)): ReadResult {
  const wrong = (['length', 'width', 'thickness'] as const).filter((k) => size[k] !== undefined && !(size[k] > 0 && size[k] < Infinity));
  if (wrong.length > 0) {
    return { ok: false, errors: wrong.map((k) => ({ field: k, value: Number.isFinite(size[k]) ? given(size[k] ?? 0) : valueText(size[k]), allowed: said('more than {none}', { none: given(0) }), message: 'is not a size for a board' })) };
  }
  const to = size.length ?? now.length;
  const kx = to / now.length;
  const kz = (size.thickness ?? now.thickness) / now.thickness;
  const { lines, frames } = design;
  const across = (ky: number) => stretchOutline(lines.outline, kx, ky, to);
  const width = size.width ?? now.width;
  const miss = (ky: number) => 2 * widestPoint(buildOutline(across(ky))).halfBreadth - width;
  const scaled: Design = {
    ...design,
    lines: {
      ...lines,
      ...stretchCompanions(lines, kx, to),
      outline: across(rootNear(miss, width / now.width, width)),
      rocker: stretchCurve(lines.rocker, kx, kx, to),
      thickness: stretchCurve(lines.thickness, kx, kz, to),
    },
    frames: { ...frames, ribs: relayRibs(frames.ribs, kx) },
  };
  return checkDesign(scaled);
}

/** Where a spacer row stops, quoted as builders measure it: along the centreline from the nearer end, mm. */
interface RowEnds {
  readonly row: number;
  readonly fromTail: number;
  readonly fromNose: number;
  readonly length: number;
  readonly causes: readonly [tail: Stop['cause'], nose: Stop['cause']];
}

/** One board of a family in figures: mm, rad, mm3, kg. */
export interface FamilyRow {
  readonly name: string;
  readonly length: number;
  readonly width: number;
  readonly thickness: number;
  readonly ribs: number;
  readonly rows: readonly RowEnds[];
  readonly bevel: { readonly min: number; readonly max: number };
  readonly cover: number;
  readonly volume: number;
  /** Left out where the caller gave no way of weighing. */
  readonly mass?: number;
  readonly findings: Readonly<Record<FindingLevel, number>>;
}

/** The mass of a planned board, kg, or undefined where it cannot be found. */
export type Weigh = (plan: Plan) => number | undefined;

/** Where the rows of a plan stop, stretch by stretch: stations from both ends, mm. */
export const rowEnds = ({ rail, hull }: Plan): readonly RowEnds[] => rail.rows.map((r) => ({
  row: r.row, fromTail: r.tail.x, fromNose: hull.length - r.nose.x, length: r.length, causes: [r.tail.cause, r.nose.cause],
}));

/** The figures of one plan for a strip of boards side by side. */
export function familyRow(plan: Plan, weigh?: Weigh): FamilyRow {
  const { hull, rail, design } = plan;
  const count = (level: FindingLevel) => plan.findings.filter((f) => f.level === level).length;
  return {
    name: design.name,
    length: hull.length,
    width: 2 * hull.widest.halfBreadth,
    thickness: graphRange(hull.lines.thickness).max,
    ribs: design.frames.ribs.length,
    rows: rowEnds(plan),
    bevel: { min: rail.range.bevel.min, max: rail.range.bevel.max },
    cover: rail.range.cover.min,
    volume: hull.volume,
    mass: weigh?.(plan),
    findings: { cannot: count('cannot'), check: count('check'), note: count('note') },
  };
}
