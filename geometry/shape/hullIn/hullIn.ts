/**
 * A whole board brought in as a body of triangles: laid to the board's axes, cut across, its main lines fitted to the cuts
 * as a table of offsets is, then all lines at once brought onto points of its outside, and the distances that are left.
 */
import { graphSpline } from '../../curves/graph';
import { graphRange } from '../../curves/range';
import { LEAST_POINT_STEP } from '../../design/cross';
import { checkDesign } from '../../design/read';
import type { Design, LengthCurveDesign, LengthCurveName } from '../../design/schema';
import { BuildError, type FieldError } from '../../errors';
import { buildHull } from '../../hull/hull';
import { said, type Said } from '../../said';
import type { Hull } from '../../types';
import { fitOffsets } from '../offsetsFit';
import { relayRibs, stretchCompanions } from '../stretch';
import type { Triangles } from './body';
import { noiseOf, steeringPoints, stationsOf, tableOf } from './cuts';
import { outsidePlace, outsideOf, type Zone } from './distance';
import { heldLines } from './free';
import { extentOf, shifted, turnBody, type Turn } from './pose';
import { type OffMap, mapOf } from './map';
import { remarksOn } from './remarks';
import { slicesOf, type Slice } from './slices';
import { evenly, spreadLength, spreadMain } from './spread';
import { equationsOf, missesOf, stepOf, type Misses } from './steer';

/** Rounds at each number of points along the side lines. */
const ROUNDS = 7;
/** Points along the side lines, few first. */
const SIDE_POINTS = [3, 5, 9] as const;
/** How often the body is cut, laid better each time. */
const PASSES = 3;
/** What is good enough not to ask for more points, mm. */
const ENOUGH = { greatest: 0.1, rms: 0.03 } as const;
/** Closest tolerance of the main lines, mm, and how many times a cut's own noise it is at least. */
const TOLERANCE = { least: 0.08, noise: 4 } as const;
/** Side lines to begin with: an ordinary board's. */
const BEGIN: Readonly<Record<Exclude<LengthCurveName, 'rocker' | 'thickness'>, number>> = { crown: 0.08, concave: 0.01, vee: 0.01, apex: 0.4, fullness: 0.55, tuck: 12, turn: 15 };

/** A hull, or undefined where these lines make none, or crowd their points. */
function built(design: Design): Hull | undefined {
  const { points } = design.lines.outline;
  if (points.some((p, i) => i > 0 && p.x - points[i - 1].x < LEAST_POINT_STEP)) return undefined;
  try {
    return buildHull(design);
  } catch (error) {
    if (error instanceof BuildError || error instanceof RangeError) return undefined;
    throw error;
  }
}

/** What a fit has come to. */
interface Steered {
  readonly design: Design;
  readonly hull: Hull;
  readonly points: Float32Array;
  readonly misses: Misses;
  /** How the body was turned so far, one after the other. */
  readonly turns: readonly Turn[];
}

type Point = readonly [number, number, number];

/** Damping to begin with, and how often a round is tried with ten times more of it. */
const DAMPING = 1e-3;
const TRIES = 4;
/** A round that gains less than this share is the last. */
const LAST_GAIN = 0.02;

/** One round: the lines and the body's turn that miss less, by the equations; undefined where none does. */
function round({ design, hull, points, misses, turns }: Steered, about: Point, pitched: number): (Steered & { readonly gain: number }) | undefined {
  const equations = equationsOf(design, hull, points, misses.median, about, pitched + pitchOf(turns));
  const before = missesOf(hull, points, equations.limit).cost;
  for (let i = 0, damping = DAMPING; i < TRIES; i++, damping *= 10) {
    const found = stepOf(equations, damping);
    if (!found) continue;
    const next = { ...design, lines: equations.freedom.stepped(found.step) };
    const body = built(next);
    if (!body) continue;
    const moved = turnBody({ positions: points, indices: NONE }, found.turn, about).positions;
    const after = missesOf(body, moved, equations.limit);
    if (after.cost < before) return { design: next, hull: body, points: moved, misses: after, turns: [...turns, found.turn], gain: 1 - after.cost / before };
  }
  return undefined;
}
const NONE = new Uint32Array(0);

const rmsOf = (r: Float64Array): number => Math.sqrt(r.reduce((sum, v) => sum + v * v, 0) / Math.max(1, r.length));
const greatestOf = (r: Float64Array): number => r.reduce((most, v) => Math.max(most, Math.abs(v)), 0);
const SIDES = Object.keys(BEGIN) as (keyof typeof BEGIN)[];

/** Where a fit is: the share done, 0 to 1, and what is done now. */
export interface HullProgress {
  readonly share: number;
  readonly title: string;
}

/** A board fitted to a body. */
export interface HullFit {
  readonly design: Design;
  /** The body laid onto the planned outside, and how far each of its corners lies off it, mm: outside it positive. */
  readonly map: OffMap;
  /** Corners of the body that were measured; how far the farthest lies off. */
  readonly corners: number;
  readonly greatest: number;
  /** Where that is. */
  readonly place: Point;
  readonly rms: number;
  /** What of the body its lines cannot hold. */
  readonly remarks: readonly Said[];
}

const lengthOf = ({ outline: { points } }: Design['lines']): number => points[points.length - 1].x;

/** The design on these lines: what lies along the board is stretched with it. */
function withLines(design: Design, lines: Design['lines'], length: number): Design {
  const kx = length / lengthOf(design.lines);
  const along = <T extends { readonly x: number }>(at: T): T => ({ ...at, x: Math.round(at.x * kx) });
  return {
    ...design, lines,
    frames: { ...design.frames, ribs: relayRibs(design.frames.ribs, kx) },
    ...(design.vent ? { vent: along(design.vent) } : {}),
    ...(design.fittings ? { fittings: design.fittings.map(along) } : {}),
  };
}

/** Turns that are none, radians: a tenth of a millimetre at the ends. */
const STILL = 1e-4;

const pitchOf = (turns: readonly Turn[]): number => turns.reduce((sum, { pitch = 0 }) => sum + pitch, 0);
/** How far turns come to, radians. */
const turnOf = (turns: readonly Turn[]): number => turns.reduce((sum, { pitch = 0, yaw = 0, roll = 0 }) => sum + Math.abs(pitch) + Math.abs(yaw) + Math.abs(roll), 0);

/** How far the body lies off a board's outside, corner by corner: of those that triangles use. */
function judged(design: Design, body: Triangles): HullFit {
  const hull = buildHull(design);
  const find = outsideOf(hull);
  const { positions: p, indices } = body;
  const off = new Float32Array(p.length / 3).fill(Number.NaN);
  const onto = new Float32Array(p.length);
  const zones: Zone[] = [];
  const at = outsidePlace();
  let [greatest, squares, corners, worst] = [0, 0, 0, 0];
  for (const i of indices) {
    if (!Number.isNaN(off[i])) continue;
    const { r, nx, ny, nz, zone } = find(p[3 * i], p[3 * i + 1], p[3 * i + 2], at);
    off[i] = r;
    zones[i] = zone;
    onto[3 * i] = p[3 * i] - r * nx;
    onto[3 * i + 1] = p[3 * i + 1] - r * ny;
    onto[3 * i + 2] = p[3 * i + 2] - r * nz;
    squares += r * r;
    corners++;
    if (Math.abs(r) > greatest) [greatest, worst] = [Math.abs(r), i];
  }
  return {
    design, map: mapOf({ positions: onto, indices }, off), corners, greatest,
    place: [p[3 * worst], p[3 * worst + 1], p[3 * worst + 2]], rms: Math.sqrt(squares / Math.max(1, corners)),
    remarks: remarksOn(body, off, zones, hull.length),
  };
}

/** A board's lines on the more points of a further stage, and its hull: the outline on the points it has where it folds back on more, or crowds them; undefined where that does not help. */
function onMore(design: Design, stage: number, count: number): { readonly design: Design; readonly hull: Hull } | undefined {
  const long = lengthOf(design.lines);
  const more = Object.fromEntries(SIDES.map((name) => [name, spreadLength(design.lines[name], count, long)])) as Record<(typeof SIDES)[number], LengthCurveDesign>;
  const main = spreadMain(design.lines, stage);
  for (const outline of [main.outline, design.lines.outline]) {
    try {
      const next = { ...design, lines: heldLines({ ...more, ...main, outline }) };
      const hull = built(next);
      if (hull) return { design: next, hull };
    } catch (error) {
      if (!(error instanceof BuildError)) throw error;
    }
  }
  return undefined;
}

/** How far from a round end breadths are taken, one after the other, until they make a board: its last cuts may run along chords. Own choice. */
const OFF_TIPS = [1, 2, 4, 8] as const;

/** A board by the cuts alone, to begin with, its side lines an ordinary board's or those of the pass before. Throws a BuildError where there is none. */
function beginning(present: Design, slices: readonly Slice[], length: number, tolerance: number, before: Partial<Design['lines']>): { readonly begun: Design; readonly hull: Hull } {
  const sides = Object.fromEntries(SIDES.map((name) => [name, evenly(SIDE_POINTS[0], length, () => BEGIN[name])])) as Record<(typeof SIDES)[number], LengthCurveDesign>;
  let fault: BuildError | undefined;
  for (const off of OFF_TIPS) {
    try {
      const { table, ends } = tableOf(slices, length, off);
      const { outline, rocker, thickness } = fitOffsets(table, { tolerance, ends }).lines;
      if (!outline || !rocker || !thickness) throw new BuildError({ field: 'surface', value: 'too few cuts', allowed: 'a surface from tail to nose', message: 'too little of the board is there' });
      const begun = withLines(present, heldLines({ ...sides, ...before, ...spreadMain({ outline, rocker, thickness }, 0) }), length);
      return { begun, hull: buildHull(begun) };
    } catch (error) {
      if (!(error instanceof BuildError)) throw error;
      fault ??= error;
    }
  }
  throw fault;
}

/** Fits a board to a body that lies in the board's axes. Yields where it is. Throws a BuildError where no board can be made of it. */
export function* fitBody(start: Triangles, present: Design): Generator<HullProgress, HullFit | { readonly errors: readonly FieldError[] }> {
  let body = start;
  let design = present;
  let pitched = 0;
  for (let pass = 0; pass < PASSES; pass++) {
    const last = pass === PASSES - 1;
    yield { share: 0.05 + 0.28 * pass, title: 'Cutting the body across' };
    const { high: [length, side, depth] } = extentOf(body);
    const slices = slicesOf(body, stationsOf(length));
    const about: Point = [length / 2, 0, depth / 2];
    const { table } = tableOf(slices, length);
    const even = table.rows.filter(({ x }) => x > 0.05 * length && x < 0.95 * length);
    const noise = Math.max(noiseOf(even.map((row) => row.halfBreadth ?? 0)), noiseOf(even.flatMap((row) => row.rocker ?? [])));
    yield { share: 0.08 + 0.28 * pass, title: 'Fitting outline, rocker and thickness' };
    const before = pass > 0 ? stretchCompanions(design.lines, length / lengthOf(design.lines), length) : {};
    const { begun, hull } = beginning(present, slices, length, Math.max(TOLERANCE.least, TOLERANCE.noise * noise), before);
    const points = steeringPoints(body, slices, length, side);
    let state: Steered = { design: begun, hull, points, misses: missesOf(hull, points), turns: [] };
    for (const [stage, count] of SIDE_POINTS.entries()) {
      if (stage > 0) {
        const finer = onMore(state.design, stage, count);
        if (!finer) break;
        state = { ...state, ...finer, misses: missesOf(finer.hull, state.points) };
      }
      for (let i = 0; i < ROUNDS; i++) {
        yield { share: 0.1 + 0.28 * pass + (0.25 * (stage + i / ROUNDS)) / SIDE_POINTS.length, title: 'Bringing all lines onto the body' };
        const next = round(state, about, pitched);
        if (!next) break;
        state = next;
        if (next.gain < LAST_GAIN) break;
      }
      if (greatestOf(state.misses.r) < ENOUGH.greatest && rmsOf(state.misses.r) < ENOUGH.rms) break;
      // A body that lay askew is cut again first, as it lies now.
      if (!last && turnOf(state.turns) > STILL) break;
    }
    ({ design } = state);
    for (const turn of state.turns) body = turnBody(body, turn, about);
    pitched += pitchOf(state.turns);
    if (last || turnOf(state.turns) <= STILL) break;
    body = shifted(body, [extentOf(body).low[0], 0, 0]);
  }
  yield { share: 0.9, title: 'Measuring what is left' };
  // A body may stand on a fin, or on the edges of a concave: the lowest place of the bottom's line is what rests on the bench.
  const floor = graphRange(graphSpline(design.lines.rocker)).min;
  const { rocker } = design.lines;
  const checked = checkDesign({ ...design, lines: { ...design.lines, rocker: { ...rocker, points: rocker.points.map((p) => ({ ...p, v: p.v - floor })) } } });
  return checked.ok ? judged(checked.design, shifted(body, [0, 0, floor])) : { errors: checked.errors.map(advised) };
}

/** A fault with what to do about it, where the body is sound and the present board's skins are not for it. */
const advised = (error: FieldError): FieldError => (error.field === 'lines.thickness'
  ? { ...error, message: said('{message}: make the skins thinner first, in Plan, Sizes, then fit again; or cut off a tip that no hollow board has', { message: error.message }) } : error);
