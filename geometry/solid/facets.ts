/** How finely a board's bodies are faceted: for files by counts that are the same for every board, for a stage as finely as can be seen. */
import { breaks, evalOnSpan, findSpan, type Spline } from '../curves/bspline';
import type { Rounding } from '../frame/holes';
import { heightsAcross, panelProbe } from '../hull/panel';
import type { Hull, Plan } from '../types';

/** A skin's edge in plan at its rows, tail to nose. */
type Edge = readonly (readonly [number, number])[];

export interface Facets {
  /** Times the counts of what is not chosen here. */
  readonly detail: number;
  /** Runs of a sweep's rings, the ends among them; rising. */
  rings(s0: number, s1: number): number[];
  /** Runs of the rows of the bottom skin between its landings, which stand on `landed` rows in all. */
  rows(s0: number, s1: number, landed: number): number[];
  /** Outline parameters of the rows of deck and round, tail to nose. */
  readonly us: readonly number[];
  /** Steps across half a skin of this edge, and across the half of a block whose side this is: a multiple of five. */
  columns(face: 1 | -1, edge: Edge): number;
  blockColumns(side: Edge): number;
  /** Of ribs and stringer. */
  readonly rounding: Rounding;
}

/** Rings along each swept strip, and rows and columns of the skins' and round's grids. All counts are times the detail. */
const SWEEP_RINGS = 192;
const SKIN_ROWS = 128;
const SKIN_COLUMNS = 20;
const BLOCK_COLUMNS = 10;

/** As many facets for every board, so that a mesh keeps its lengths while a board changes. `detail`: how many times finer, a whole number; chords stray from curves by less than its square. */
export const evenFacets = (plan: Plan, detail: number): Facets => ({
  detail,
  rings: (s0, s1) => spread(plan, s0, s1, SWEEP_RINGS * detail),
  rows(s0, s1, landed) {
    const rows = SKIN_ROWS * detail - landed;
    return Array.from({ length: rows + 1 }, (_, i) => s0 + ((s1 - s0) * i) / rows);
  },
  us: thickened(plan.hull, SKIN_ROWS * detail),
  columns: () => SKIN_COLUMNS * detail,
  blockColumns: () => BLOCK_COLUMNS * detail,
  rounding: 'seen',
});

/**
 * Runs of a sweep's rings: half of them even, the others the closer the tighter the rail bends, so that chords stray from
 * it alike everywhere (as the spacing's square times the curvature).
 */
function spread(plan: Plan, s0: number, s1: number, rings: number): number[] {
  const { kappa, step, n } = plan.rail.samples;
  const count = Math.max(1, Math.ceil((s1 - s0) / step));
  const sums = new Float64Array(count + 1);
  for (let i = 0; i < count; i++) {
    const at = Math.min(n - 1, Math.round((s0 + ((i + 0.5) * (s1 - s0)) / count) / step));
    sums[i + 1] = sums[i] + Math.sqrt(Math.abs(kappa[at]));
  }
  const whole = sums[count];
  for (let i = 0; i <= count; i++) sums[i] = i / count + (whole > 0 ? sums[i] / whole : i / count);
  return evenly(sums, 0, count, rings - 1).map((at, i) => (i === rings - 1 ? s1 : s0 + ((s1 - s0) * at) / count));
}

/** Places of a rising list of sums, whole or between, at which it has grown by even steps from one of its places to another; as many as `stepsFor` has where no count is given. */
function evenly(sums: ArrayLike<number>, from: number, to: number, count?: number): number[] {
  const last = sums.length - 2;
  const grown = (place: number): number => {
    const k = Math.min(last, Math.floor(place));
    return sums[k] + (sums[k + 1] - sums[k]) * (place - k);
  };
  const [low, high] = [grown(from), grown(to)];
  const steps = count ?? stepsFor(high - low);
  let k = Math.min(last, Math.floor(from));
  return Array.from({ length: steps + 1 }, (_, i) => {
    if (i === 0 || i === steps) return i === 0 ? from : to;
    const want = low + ((high - low) * i) / steps;
    while (k < last && sums[k + 1] < want) k++;
    return k + (want - sums[k]) / (sums[k + 1] - sums[k]);
  });
}

/** Outline parameters for grid rows: evenly in u, thickened toward both ends. */
function thickened({ outline }: Hull, rows: number): number[] {
  const spans = breaks(outline.knots);
  const end = spans[spans.length - 1];
  return Array.from({ length: rows + 1 }, (_, i) => {
    const t = i / rows;
    return end * (0.5 * t + 0.25 * (1 - Math.cos(Math.PI * t)));
  });
}

/**
 * What a chord on a stage may stray from its curve, mm: a tenth of a pixel on a board of 1.5 m over 500 px, where it is drawn
 * large; a drag's bodies then lie well within 0.05 mm of the settled ones. The bevel that colours the cap runs straight between rings: rad.
 */
const SAG = 0.03;
const TURN = (0.02 * Math.PI) / 180;
/** Rings and rows lie no farther apart, mm. */
const FARTHEST = 60;
/** Steps are a multiple of this, so that their number, and with it how the triangles hang together, mostly stays while a board changes; few ones of the lesser. */
const [STEPS, FEW] = [8, 2];
/** Steps across a half, at most. */
const MOST_COLUMNS = 20;
const COLUMNS = 5;
/** Looks along a panel for the most that it is curved across, and the parts of its half that each compares. */
const LOOKS = 8;
const PARTS_ACROSS = 8;

/** A whole number of steps, as many as are needed at least. */
const stepsFor = (needed: number): number => {
  const unit = needed > 2 * STEPS ? STEPS : FEW;
  return unit * Math.max(1, Math.ceil(needed / unit));
};

/** Just as fine as chords must be to stray by less than can be seen: a third of the facets, where they are wanted. */
export function stageFacets(plan: Plan): Facets {
  const { hull, rail } = plan;
  const { step, n } = rail.samples;
  const sums = chordsAlong(plan);
  const along = (s0: number, s1: number): number[] => {
    const [from, to] = [s0, s1].map((s) => Math.min(n - 1, Math.max(0, s / step)));
    const runs = evenly(sums, from, to).map((place) => place * step);
    [runs[0], runs[runs.length - 1]] = [s0, s1];
    return runs;
  };
  return {
    detail: 1, rings: along, rows: along, us: roundRows(hull.round),
    columns: (face, edge) => columnsOf(plan, face, edge),
    blockColumns: (side) => Math.max(columnsOf(plan, 1, side), columnsOf(plan, -1, side)),
    rounding: 'staged',
  };
}

/** Chords that the rail wants from its start to each sample: of its two edges in space, as they bend, and of its bevel. */
function chordsAlong({ design, rail: { samples: a, cap } }: Plan): Float64Array {
  const { n, step } = a;
  const sums = new Float64Array(n);
  const most = step / FARTHEST;
  const bend = (line: Float64Array, i: number): number => line[i - 1] - 2 * line[i] + line[i + 1];
  const { rail: { stripWidth, outerLayers, outerThickness } } = design;
  const out = (outerLayers * outerThickness) / stripWidth;
  /** Of an inner face, as far out as the outer skins reach: straight on over the box face. */
  const beyond = (end: Float64Array, face: Float64Array, i: number): number => Math.abs((1 + out) * bend(face, i) - out * bend(end, i));
  /** Of the sample before. */
  let last = most;
  for (let i = 1; i < n; i++) {
    let here = last;
    if (i + 1 < n) {
      const face = Math.hypot(bend(a.x, i), bend(a.y, i));
      const end = Math.hypot(bend(a.ribX, i), bend(a.ribY, i));
      const up = Math.max(Math.abs(bend(a.soleTop, i)), Math.abs(bend(a.capTop, i)), beyond(a.deckRib, a.deckFace, i), beyond(a.bottomRib, a.bottomFace, i));
      const turn = a.s[i - 1] >= cap.s0 && a.s[i + 1] <= cap.s1 ? Math.abs(bend(a.bevel, i)) / TURN : 0;
      // A chord h long strays from a curve by an eighth of h squared times its second derivative.
      const wanted = Math.sqrt(Math.max(Math.hypot(Math.max(face, end), up) / SAG, turn) / 8);
      here = wanted > most ? wanted : most;
    }
    sums[i] = sums[i - 1] + (last + here) / 2;
    last = here;
  }
  return sums;
}

/** Outline parameters of rows, as close as the lines of the round along the board want them: between knots their second derivatives run straight, nearly so square to them. */
function roundRows(round: Spline): number[] {
  const { knots, dim } = round;
  const basis = new Float64Array(12);
  const row = new Float64Array(3 * dim);
  const at = breaks(knots);
  const PARTS = 4;
  const places: number[] = [at[0]];
  const sums: number[] = [0];
  /** How much any of its lines bends at u, by a span's polynomial: the greatest second derivative, square to the line. */
  const bent = (span: number, u: number): number => {
    evalOnSpan(round, span, u, row, basis);
    let most = 0;
    for (let d = dim; d < 2 * dim; d += 3) {
      const [vx, vy, vz, ax, ay, az] = [row[d], row[d + 1], row[d + 2], row[dim + d], row[dim + d + 1], row[dim + d + 2]];
      const [long, along] = [vx * vx + vy * vy + vz * vz, vx * ax + vy * ay + vz * az];
      most = Math.max(most, ax * ax + ay * ay + az * az - (long > 0 ? (along * along) / long : 0));
    }
    return Math.sqrt(most);
  };
  for (let i = 0; i + 1 < at.length; i++) {
    const span = findSpan(knots, (at[i] + at[i + 1]) / 2);
    const [first, last] = [bent(span, at[i]), bent(span, at[i + 1])];
    const h = (at[i + 1] - at[i]) / PARTS;
    for (let k = 0; k < PARTS; k++) {
      const curved = first + ((last - first) * (k + 0.5)) / PARTS;
      places.push(k + 1 === PARTS ? at[i + 1] : at[i] + (k + 1) * h);
      sums.push(sums[sums.length - 1] + h * Math.max(1 / FARTHEST, Math.sqrt(curved / (8 * SAG))));
    }
  }
  return evenly(sums, 0, sums.length - 1).map((place) => {
    const k = Math.min(places.length - 2, Math.floor(place));
    return places[k] + (places[k + 1] - places[k]) * (place - k);
  });
}

/** Steps across a half of deck (1) or bottom (-1) out to an edge, as many as its section wants where it is curved most. */
function columnsOf({ hull }: Plan, face: 1 | -1, edge: Edge): number {
  const panel = face === 1 ? hull.deck : hull.bottom;
  const probe = panelProbe();
  const heights = new Float64Array(PARTS_ACROSS + 1);
  let most = 0;
  for (let i = 1; i < LOOKS; i++) {
    const [x, y] = edge[Math.round(((edge.length - 1) * i) / LOOKS)];
    heightsAcross(panel, x, 0, y, PARTS_ACROSS, probe, heights);
    for (let j = 1; j < PARTS_ACROSS; j++) most = Math.max(most, Math.abs(heights[j - 1] - 2 * heights[j] + heights[j + 1]));
  }
  // A second difference is the square of a part's width times the second derivative.
  const needed = Math.sqrt((most * PARTS_ACROSS * PARTS_ACROSS) / (8 * SAG));
  return Math.min(MOST_COLUMNS, COLUMNS * Math.max(1, Math.ceil(needed / COLUMNS)));
}
