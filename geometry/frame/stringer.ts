/**
 * The stringer: a plate on the centreline between the inner skins, notched from the deck for every rib,
 * lightened between them, and split by finger joints where it is longer than the sheet.
 */
import { leastWidthBox } from '../curves/polygon';
import { innerAt, panelProbe } from '../hull/panel';
import type { Plan } from '../types';
import { breathing, type Plate, type Rounding } from './holes';
import { floorFit, notchHalf, type PlateShape, type RibShape } from './ribProfile';
import { stringerEnds } from './ends';

/** Points along the bottom edge, and along the deck edge between two notches: as many at least, and no farther apart than this, mm. */
const BOTTOM_POINTS = 96;
const BAY_POINTS = 24;
const EDGE_STEP = 12;
/** On a stage they lie so much farther apart. */
const STAGED = 1.5;
/** Places across half its thickness at which it is held to the skins, no farther apart than this, mm. */
const PLATE_STEP = 4;
/** Half the length of a finger, mm, and least height of one; own choice. */
export const FINGER_HALF = 10;
const FINGER_HEIGHT = 6;

/** A rib's crossing of the stringer: station, half the notch's width, its floor. */
interface Crossing {
  readonly rib: number;
  readonly x: number;
  readonly half: number;
  readonly floor: number;
}

/** The stringer whole, before it is split. */
export interface StringerPlan {
  readonly x0: number;
  readonly x1: number;
  readonly crossings: readonly Crossing[];
  /** Heights of its edges at a station: over its whole thickness. */
  readonly low: (x: number) => number;
  readonly high: (x: number) => number;
}

/** Lay the stringer against the ribs it crosses, tail to nose. `ribs` are the plan's ribs with their shapes; skins' inner faces by `inner`. */
export function layStringer(plan: Plan, ribs: readonly { readonly index: number; readonly x: number; readonly shape: RibShape }[], inner = innerAt): StringerPlan {
  const { design, hull } = plan;
  const side = design.frames.stringerThickness / 2;
  const { x0, x1 } = stringerEnds(plan);
  const half = notchHalf(plan, design.frames.ribThickness);
  const across = Math.max(1, Math.ceil(side / PLATE_STEP));
  const outer = (face: 1 | -1): ((x: number) => number) => {
    const panel = face === 1 ? hull.deck : hull.bottom;
    const skin = face === 1 ? design.skins.deck : design.skins.bottom;
    // Each place across has its own probe: along its walk to the nose the next foot is foreseen.
    const probes = Array.from({ length: across + 1 }, panelProbe);
    return tabled(x0, x1, (x, out) => {
      // Over the whole thickness: wherever between centreline and side the skin stands farthest in.
      out[0] = face * Infinity;
      for (let i = 0; i <= across; i++) {
        const { z, zx } = inner(panel, face, skin, x, (side * i) / across, probes[i]);
        if (face * z < face * out[0]) [out[0], out[1]] = [z, zx];
      }
    });
  };
  return {
    x0, x1,
    crossings: ribs
      .filter((r) => r.x - half > x0 && r.x + half < x1)
      .map((r) => ({ rib: r.index, x: r.x, half, floor: r.shape.notch.floor - floorFit(plan) }))
      .sort((a, b) => a.x - b.x),
    low: outer(-1),
    high: outer(1),
  };
}

/** Intervals of the table behind an edge of the stringer: at most 25 mm each on the longest board. */
const TABLE = 128;

/**
 * A function given with its slope, tabled over [x0, x1] and read back by cubic Hermite pieces: the edges are
 * asked for thousands of times. The error is h^4/384 of the fourth derivative, under a micrometre here.
 */
function tabled(x0: number, x1: number, f: (x: number, out: Float64Array) => void): (x: number) => number {
  const h = (x1 - x0) / TABLE;
  const values = new Float64Array(2 * TABLE + 2);
  const out = new Float64Array(2);
  for (let i = 0; i <= TABLE; i++) {
    f(x0 + i * h, out);
    values.set(out, 2 * i);
  }
  return (x) => {
    const at = Math.min(TABLE, Math.max(0, (x - x0) / h));
    const i = Math.min(TABLE - 1, Math.floor(at));
    const t = at - i;
    const r = 1 - t;
    return r * r * (1 + 2 * t) * values[2 * i] + t * t * (3 - 2 * t) * values[2 * i + 2]
      + t * r * h * (r * values[2 * i + 1] - t * values[2 * i + 3]);
  };
}

/** How a piece of stringer ends: cut square, or with fingers about station x. */
export interface PieceEnd {
  readonly x: number;
  readonly fingers: boolean;
}

/**
 * Fingers of a joint about station x, bottom to deck, as (x, z) pairs: steps FINGER_HALF either side of x,
 * as many as FINGER_HEIGHT allows, an odd number so that both edges end on the tail side's piece.
 */
function fingerLine(stringer: StringerPlan, x: number): [number, number][] {
  const z0 = (at: number) => stringer.low(at);
  const z1 = (at: number) => stringer.high(at);
  const height = z1(x) - z0(x);
  const count = Math.max(1, 2 * Math.floor((Math.min(5, height / FINGER_HEIGHT) - 1) / 2) + 1);
  const line: [number, number][] = [];
  for (let k = 0; k < count; k++) {
    const at = k % 2 === 0 ? x + FINGER_HALF : x - FINGER_HALF;
    const low = k === 0 ? z0(at) : z0(x) + (height * k) / count;
    const high = k === count - 1 ? z1(at) : z0(x) + (height * (k + 1)) / count;
    line.push([at, low], [at, high]);
  }
  return line;
}

/** The cutting lines of the stringer between two ends: outline and lightening holes, for the cut or as they are seen on a stage. */
export function stringerShape(plan: Plan, stringer: StringerPlan, from: PieceEnd, to: PieceEnd, rounding: Rounding = 'cut'): PlateShape {
  const line = (end: PieceEnd): [number, number][] =>
    end.fingers ? fingerLine(stringer, end.x) : [[end.x, stringer.low(end.x)], [end.x, stringer.high(end.x)]];
  const tail = line(from);
  const nose = line(to);
  const [a, b] = [tail[0][0], nose[0][0]];
  const crossings = stringer.crossings.filter((c) => c.x > from.x && c.x < to.x);
  const outline: number[] = [];
  // Bottom edge tail to nose without its ends, which belong to the end lines.
  const stepsOver = (least: number, length: number): number => Math.ceil(Math.max(least, Math.ceil(length / EDGE_STEP)) / (rounding === 'staged' ? STAGED : 1));
  const steps = stepsOver(BOTTOM_POINTS, b - a);
  for (let i = 1; i < steps; i++) {
    const x = a + ((b - a) * i) / steps;
    outline.push(x, stringer.low(x));
  }
  for (const p of nose) outline.push(...p);
  const top = [tail[tail.length - 1][0], nose[nose.length - 1][0]];
  const stops = [...crossings.map((c) => ({ at: c.x + c.half, c })).reverse(), undefined];
  let right = top[1];
  for (const stop of stops) {
    const left = stop ? stop.at : top[0];
    const count = stepsOver(BAY_POINTS, right - left);
    for (let i = 1; i < count; i++) {
      const x = right + ((left - right) * i) / count;
      outline.push(x, stringer.high(x));
    }
    if (!stop) break;
    const { x, half, floor } = stop.c;
    outline.push(x + half, stringer.high(x + half), x + half, floor, x - half, floor, x - half, stringer.high(x - half));
    right = x - half;
  }
  for (const p of tail.slice().reverse()) outline.push(...p);
  return { outline: Float64Array.from(outline), holes: stringerHoles(plan, stringer, from, to, crossings, rounding) };
}

function stringerHoles(plan: Plan, stringer: StringerPlan, from: PieceEnd, to: PieceEnd, crossings: readonly Crossing[], rounding: Rounding): Float64Array[] {
  const web = plan.design.frames.leastWeb;
  const solid = (end: PieceEnd) => (end.fingers ? FINGER_HALF : 0) + web;
  const stands = [
    { left: from.x, right: from.x + solid(from) },
    ...crossings.map((c) => ({ left: c.x - c.half - web, right: c.x + c.half + web })),
    { left: to.x - solid(to), right: to.x },
  ];
  const holes: Float64Array[] = [];
  for (let i = 0; i + 1 < stands.length; i++) {
    const [left, right] = [stands[i].right, stands[i + 1].left];
    if (!(right + web > left - web)) continue;
    // The web is kept to edges well past the bay, so that a rising edge beyond its end counts too.
    const band = bandOf(stringer, Math.max(from.x, left - 2 * web), Math.min(to.x, right + 2 * web));
    holes.push(...breathing(band, left, right, web, left - web, right + web, plan.design.frames.kerf, rounding));
  }
  return holes;
}

function bandOf(stringer: StringerPlan, a: number, b: number): Plate {
  const n = Math.max(BAY_POINTS, Math.ceil((b - a) / EDGE_STEP));
  const edge = (f: (x: number) => number) => Float64Array.from({ length: 2 * n + 2 }, (_, i) => {
    const x = a + ((b - a) * (i >> 1)) / n;
    return i % 2 === 0 ? x : f(x);
  });
  return { low: edge(stringer.low), high: edge(stringer.high) };
}

/** Joint stations and how well they serve: pieces, and whether each fits the sheet. */
export interface StringerSplit {
  readonly ends: readonly PieceEnd[];
  readonly fits: boolean;
}

/** Steps at which joints are tried, mm. */
const JOINT_STEP = 10;
/** More than an edge rises between two of its table's places, mm. */
const SAG = 1;

/**
 * Split the stringer into the fewest pieces whose least-width box fits a sheet of these sizes (margins taken
 * off, turned by `grain` radians at most where it is told), joints clear of every rib by a web, preferably mid-bay and the pieces even. Where no joint helps,
 * `fits` is false and the stringer stays whole.
 */
export function splitStringer(plan: Plan, stringer: StringerPlan, long: number, short: number, grain?: number): StringerSplit {
  const { x0, x1, crossings } = stringer;
  const clear = FINGER_HALF + plan.design.frames.leastWeb;
  const nodes = [x0];
  for (let x = x0 + 2 * clear; x < x1 - 2 * clear; x += JOINT_STEP) {
    if (crossings.every((c) => Math.abs(c.x - x) >= c.half + clear)) nodes.push(x);
  }
  nodes.push(x1);
  const n = nodes.length;
  const end = (i: number): PieceEnd => ({ x: nodes[i], fingers: i > 0 && i < n - 1 });
  let [floor, roof] = [Infinity, -Infinity];
  for (let k = 0; k <= TABLE; k++) {
    const x = x0 + ((x1 - x0) * k) / TABLE;
    floor = Math.min(floor, stringer.low(x));
    roof = Math.max(roof, stringer.high(x));
  }
  const tall = roof - floor + SAG;
  const fits = (i: number, j: number): boolean => {
    const [a, b] = [nodes[i] - (i > 0 ? FINGER_HALF : 0), nodes[j] + (j < n - 1 ? FINGER_HALF : 0)];
    if (b - a > long) return false;
    // However it is turned it is no longer than its box's diagonal, and as it stands no wider than the whole stringer is tall: most pieces need no box.
    if (tall <= short && Math.hypot(b - a, tall) <= long) return true;
    const points: number[] = [];
    for (let k = 0; k <= 16; k++) {
      const x = Math.min(x1, Math.max(x0, a + ((b - a) * k) / 16));
      points.push(x, stringer.low(x), x, stringer.high(x));
    }
    const box = leastWidthBox(points, grain);
    return box.length <= long && box.width <= short;
  };
  if (fits(0, n - 1)) return { ends: [end(0), end(n - 1)], fits: true };
  const bay = (i: number): number => {
    if (i === 0 || i === n - 1) return 0;
    let [left, right] = [x0, x1];
    for (const { x } of crossings) {
      if (x < nodes[i]) left = Math.max(left, x);
      if (x > nodes[i]) right = Math.min(right, x);
    }
    return Math.abs(nodes[i] - (left + right) / 2) / (right - left);
  };
  const best = new Float64Array(n).fill(Infinity);
  const back = new Int32Array(n).fill(-1);
  best[0] = 0;
  // A part of what fits, fits: the first node a piece may start from only moves forward.
  let first = 0;
  for (let j = 1; j < n; j++) {
    const off = bay(j);
    while (first < j && !fits(first, j)) first++;
    for (let i = first; i < j; i++) {
      const least = best[i] + 1000 + 10 * off;
      if (least >= best[j]) continue;
      const cost = least + ((nodes[j] - nodes[i]) / (x1 - x0)) ** 2;
      if (cost < best[j]) {
        best[j] = cost;
        back[j] = i;
      }
    }
  }
  if (best[n - 1] === Infinity) return { ends: [end(0), end(n - 1)], fits: false };
  const path = [n - 1];
  while (path[0] > 0) path.unshift(back[path[0]]);
  return { ends: path.map(end), fits: true };
}
