/**
 * Tolerance: stops, gap, bevel and cover as a value and a band, by a quick estimate of first order (derivatives
 * through the kernel, independent deviations, variances added) or by random trials (the Monte Carlo method: boards
 * drawn and planned). Bands are two standard deviations either way, or the share of boards a normal figure has within
 * them.
 */
import { endRules } from '../wood/ladder';
import { isFixed, rowsAt, solidAt } from '../rail/laid';
import { bendRoom, gapRoom, rowWalk } from '../rail/rows';
import { runAs, runOf } from '../rail/query';
import { boxOnRun, type Run } from '../rail/run';
import { emptySamples } from '../rail/samples';
import { fillBox, fillRows, fillSolid } from '../rail/section';
import type { Plan, Stop } from '../types';
import { drawBoards, type Drawn } from './carlo';
import { movable, planSpreads, type Spreads, type Places } from './spreads';
import type { Band, Banded, BandLine, Matter, RibBand, Share, StopBand, ToleranceBands, ToleranceMethod } from './types';

export interface ToleranceOptions {
  readonly method: ToleranceMethod;
  /** Boards of the random trials. */
  readonly runs?: number;
  readonly seed?: number;
  /** Places along the run that get a band. */
  readonly places?: number;
  /** Called with the share done, 0 to 1; what it returns is awaited, so that a worker may let messages in. */
  readonly onProgress?: (share: number) => void | Promise<void>;
  /** Looked at as often; once aborted, a `Cancelled` is thrown. */
  readonly signal?: { readonly aborted: boolean };
}

/** Thrown when the caller's signal is aborted. */
export class Cancelled extends Error {
  constructor() {
    super('cancelled');
    this.name = 'Cancelled';
  }
}

const DEFAULT_RUNS = 1000;
const DEFAULT_PLACES = 97;

/** Figures that carry a band, in the order in which places store them. */
export const BANDED = ['gap', 'bevel', 'cover'] as const satisfies readonly Banded[];

/** An error of this size a maker would notice: the project's own choice, mm and radians. It weighs what matters. */
const NOTICED: Readonly<Record<Banded | 'stop', number>> = { stop: 10, gap: 0.5, bevel: Math.PI / 180, cover: 0.5 };
/** Measures that bring less of the variance than this are left out of what matters. */
const LEAST_SHARE = 0.1;

/** Step of a central difference, mm: well above the kernel's 1e-6 mm, well under any spread's effect. */
const STEP = 0.02;
/** Steepest slope that is not a jump. */
const JUMP = 5;
/** Step along the run for the slope of a margin, mm. */
const RUN_DIFFERENCE = 0.25;
/** The quick estimate is called curved where the margin at the band's ends misses the straight line by more than this share. */
const CURVED = 0.2;

/**
 * Bands of a plan. Cover is that of the rows as planned: the bench cuts them to the planned stops. A stop's
 * run is measured on the drawn box face. Throws `Cancelled`.
 */
export async function planTolerance(plan: Plan, options: ToleranceOptions): Promise<ToleranceBands> {
  const { method, runs = DEFAULT_RUNS, seed = 1, places = DEFAULT_PLACES } = options;
  const { rail } = plan;
  const spreads = planSpreads(plan);
  const grid = Float64Array.from({ length: places }, (_, i) => rail.boxFrom + ((rail.boxTo - rail.boxFrom) * i) / (places - 1));
  // The grid, then the ribs.
  const s = Float64Array.from([...grid, ...rail.ribs.map((r) => r.s)]);
  const { map } = runOf(plan);
  const at: Places = { s, u: s.map((v) => map.parameterAt(v)), rows: Int32Array.from(s, (v) => rowsAt(rail.rows, v)), solid: Array.from(s, (v) => solidAt(rail.ends, v)) };
  const first = firstOrder(plan, spreads, at);
  const drawn = method === 'trials'
    ? await drawBoards(plan, spreads, at, { runs, seed, bend: endRules(plan.design, 'rows'), pause: (share) => pause(options, share) })
    : undefined;
  return assemble(plan, places, first, drawn, { method, runs: drawn ? runs : 0, seed: drawn ? seed : 0 });
}

async function pause(options: ToleranceOptions, share: number): Promise<void> {
  await options.onProgress?.(share);
  if (options.signal?.aborted) throw new Cancelled();
}

/** Derivatives to each spread: [banded figure][spread][place], and of the stops' runs [spread][stop]. */
interface FirstOrder {
  readonly spreads: Spreads;
  readonly at: Places;
  readonly value: readonly Float64Array[];
  readonly slopes: readonly (readonly Float64Array[])[];
  readonly stops: readonly { readonly stop: Stop; readonly stretch: number; readonly slopes: Float64Array; readonly curved: boolean }[];
}

function figures(run: Run, at: Places): Float64Array[] {
  const out = BANDED.map(() => new Float64Array(at.s.length));
  const section = emptySamples(1, 1);
  for (let i = 0; i < at.s.length; i++) {
    fillBox(run.ev, at.u[i], at.s[i], section, 0);
    fillRows(run.ev, at.rows[i], section, 0);
    if (at.solid[i]) fillSolid(section, 0);
    BANDED.forEach((name, k) => void (out[k][i] = section[name][0]));
  }
  return out;
}

function firstOrder(plan: Plan, spreads: Spreads, at: Places): FirstOrder {
  const { made, set } = movable(plan, spreads);
  const run = runAs(plan, made);
  const bend = endRules(plan.design, 'rows');
  const still = new Float64Array(spreads.list.length);
  const stops = plan.rail.rows.flatMap((row, stretch) => [row.tail, row.nose].map((stop) => ({ stop, stretch })));
  /** Room of the stop's own governing condition, mm. */
  const walks = Array.from({ length: run.sizes.rows }, (_, i) => rowWalk(run, i + 1, plan.rail.samples.step));
  const room = ({ row, cause }: Stop, s: number) => (cause === 'bend' ? bendRoom(run, walks[row - 1], bend, s) : gapRoom(run, row, s).room);
  const value = figures(run, at);
  const along = stops.map(({ stop }) => {
    const a = Math.max(plan.rail.boxFrom, stop.s - RUN_DIFFERENCE);
    const b = Math.min(plan.rail.boxTo, stop.s + RUN_DIFFERENCE);
    return (room(stop, b) - room(stop, a)) / (b - a);
  });
  const slopes = BANDED.map((): Float64Array[] => []);
  const rooms = spreads.list.map((_, k) => {
    const move = still.slice();
    move[k] = STEP;
    set(move);
    const up = figures(run, at);
    const roomUp = stops.map(({ stop }) => room(stop, stop.s));
    move[k] = -STEP;
    set(move);
    const down = figures(run, at);
    BANDED.forEach((_name, f) => slopes[f].push(up[f].map((v, i) => slopeOf(down[f][i], value[f][i], v))));
    return stops.map(({ stop }, i) => (roomUp[i] - room(stop, stop.s)) / (2 * STEP));
  });
  set(still);
  return {
    spreads, at, value, slopes,
    stops: stops.map(({ stop, stretch }, i) => {
      // The stop moves to where the room is zero again; one at the box's end, or at a corner, stays.
      const fixed = isFixed(stop);
      const move = Float64Array.from(rooms, (r) => (fixed ? 0 : -r[i] / along[i]));
      const half = halfOf(spreads, (k) => move[k]);
      const misses = (s: number) => Math.abs(room(stop, s) - along[i] * (s - stop.s)) > CURVED * Math.abs(along[i]) * half;
      const beyond = (s: number) => s < plan.rail.boxFrom || s > plan.rail.boxTo || misses(s);
      const curved = !fixed && half > 0 && (!Number.isFinite(half) || beyond(stop.s - half) || beyond(stop.s + half));
      return { stop, stretch, slopes: move, curved };
    }),
  };
}

/**
 * Slope of a figure from its values one step below, at and above. Cover jumps where a slot opens over the
 * rows: no measure moves a figure by more than a few mm per mm, so a steeper rise is a jump, and the flatter
 * side is taken.
 */
function slopeOf(down: number, here: number, up: number): number {
  const slope = (up - down) / (2 * STEP);
  if (Math.abs(slope) < JUMP) return slope;
  return (Math.abs(up - here) < Math.abs(here - down) ? up - here : here - down) / STEP;
}

/** Half-width of the band, two standard deviations: deviations are independent, so their squares add. */
function halfOf(spreads: Spreads, slope: (k: number) => number): number {
  return Math.sqrt(spreads.list.reduce((sum, spread, k) => sum + (slope(k) * spread.half) ** 2, 0));
}

/** Each spread's share of a figure's variance, greatest first; spreads that bring nothing are left out. */
function sharesOf(spreads: Spreads, slope: (k: number) => number): Share[] {
  const total = halfOf(spreads, slope) ** 2;
  if (!(total > 0) || !Number.isFinite(total)) return [];
  return spreads.list
    .map(({ measure, ofRib, half }, k): Share => ({ measure, ofRib, share: (slope(k) * half) ** 2 / total, half: Math.abs(slope(k)) * half }))
    .filter((s) => s.share > 1e-6)
    .sort((a, b) => b.share - a.share);
}

function assemble(
  plan: Plan, places: number, first: FirstOrder, drawn: Drawn | undefined, how: { method: ToleranceMethod; runs: number; seed: number },
): ToleranceBands {
  const { spreads, at } = first;
  const { ribs } = plan.rail;
  const slope = (f: number, i: number) => (k: number) => first.slopes[f][k][i];
  const band = (f: number, i: number): Band => {
    const value = first.value[f][i];
    if (drawn) return { value, low: drawn.low[f][i], high: drawn.high[f][i] };
    const half = halfOf(spreads, slope(f, i));
    return { value, low: value - half, high: value + half };
  };
  const line = (f: number): BandLine => {
    const bands = Array.from({ length: places }, (_, i) => band(f, i));
    return {
      value: Float64Array.from(bands, (b) => b.value), low: Float64Array.from(bands, (b) => b.low), high: Float64Array.from(bands, (b) => b.high),
    };
  };
  const run = runOf(plan);
  const stops = first.stops.map(({ stop, stretch, slopes, curved }, i): StopBand => {
    const half = halfOf(spreads, (k) => slopes[k]);
    const own = drawn?.stops[i];
    return {
      stretch, row: stop.row, end: stop.end, cause: stop.cause, x: stop.x, curved,
      s: own && own.present > 0 ? { value: stop.s, low: own.low, high: own.high } : { value: stop.s, low: stop.s - half, high: stop.s + half },
      present: own ? own.present : 1,
      shares: sharesOf(spreads, (k) => slopes[k]),
    };
  });
  const ribBands = ribs.map((rib, i): RibBand => {
    const each = <T>(f: (k: number) => T) => ({ gap: f(0), bevel: f(1), cover: f(2) });
    return {
      index: rib.index, s: rib.s, x: rib.x,
      bands: each((f) => band(f, places + i)),
      shares: each((f) => sharesOf(spreads, slope(f, places + i))),
    };
  });
  return {
    ...how, n: places,
    s: at.s.slice(0, places),
    x: Float64Array.from({ length: places }, (_, i) => boxOnRun(run, at.s[i]).x),
    gap: line(0), bevel: line(1), cover: line(2),
    stops, ribs: ribBands,
    whatMatters: whatMatters(plan, stops, ribBands),
  };
}

/** What to hold tight, where and for what: each measure that brings a tenth of a figure's variance or more. */
function whatMatters(plan: Plan, stops: readonly StopBand[], ribs: readonly RibBand[]): Matter[] {
  const weigh = (quantity: Matter['quantity'], shares: readonly Share[], place: Omit<Matter, keyof Share | 'quantity' | 'weight'>) =>
    shares.filter((s) => s.share >= LEAST_SHARE).map((s): Matter => ({ ...s, ...place, quantity, weight: s.half / NOTICED[quantity] }));
  const nearest = (s: number) =>
    plan.rail.ribs.reduce<{ index: number; d: number } | undefined>((best, r) => {
      const d = Math.abs(r.s - s);
      return best && best.d <= d ? best : { index: r.index, d };
    }, undefined)?.index;
  return [
    ...stops.flatMap((stop) => weigh('stop', stop.shares, { rib: nearest(stop.s.value), row: stop.row, end: stop.end, s: stop.s.value, x: stop.x })),
    ...ribs.flatMap((rib) => BANDED.flatMap((name) => weigh(name, rib.shares[name], { rib: rib.index, s: rib.s, x: rib.x }))),
  ].sort((a, b) => b.weight - a.weight);
}
