/**
 * The ribbon's layout: where stations, runs and heights are, in px. Its one measure of place is the station: the box face's,
 * a rib's own at a rib, a stop's own at a stop, so that letters, marks and axis tell the same.
 */
import { firstBeyond } from '../../geometry/curves/chords';
import type { Plan } from '../../geometry/types';
import { stopsOf } from '../../geometry/rail/laid';
import { stationAxis } from '../ui/stationAxis';

export interface RibbonScale {
  readonly width: number;
  readonly height: number;
  /** Where stations 0 and the board's length are. */
  readonly left: number;
  readonly right: number;
  /** Feet of the ribs' numbers and of the pins, which stand over the stack. */
  readonly headBottom: number;
  /** Top and bottom of the stack's drawing. */
  readonly stackTop: number;
  readonly stackBottom: number;
  /** Top of the outer skins' lines. */
  readonly skinsTop: number;
  /** Top and bottom of the bevel's coloured band. */
  readonly bandTop: number;
  readonly bandBottom: number;
  /** The station's axis, and the second one under it, along the rail; null where it has no room. */
  readonly axis: number;
  readonly railAxis: number | null;
  /** Heights are drawn this many times as large as lengths. */
  readonly exaggeration: number;
  /** Px of a station. */
  at(station: number): number;
  /** Px of a run; never falling, and steep nowhere, since no run is longer than it looks from the side. */
  x(s: number): number;
  /** The run that is shown at a px, on the rail. */
  run(x: number): number;
  /** A height above the sole's underside, mm. */
  z(height: number): number;
}

/** Px a layer of outer skin takes under the stack. */
export const SKIN_LINE = 4;
const SKINS_OFF = 5;
const HEAD = 26;
const AXIS = 21;
const RAIL_AXIS = 15;
/** A ribbon less high than this has no room for the second axis. */
const LOW = 150;
/** In less height than this nothing can be read: it is laid out for this much, and its foot is cut. */
const LEAST = 100;
/** A rib's own station goes over into the box face's on either side within this many times what they differ. */
const EASE = 8;

/** Runs in rising order, and the station each is shown at, never falling. */
interface Places {
  readonly s: Float64Array;
  readonly x: Float64Array;
}

/** What `to` has where `from` has `value`, straight between; both lists rise. */
function between(from: Float64Array, to: Float64Array, value: number): number {
  const i = Math.min(from.length - 2, Math.max(0, firstBeyond(from, value) - 1));
  const t = Math.min(1, Math.max(0, (value - from[i]) / (from[i + 1] - from[i] || 1)));
  return to[i] + (to[i + 1] - to[i]) * t;
}

/** The stations along the rail: the box face's by the samples, but at ribs the rib's own. */
function placesOf({ rail }: Plan): Places {
  const { samples } = rail;
  const stops = Float64Array.from(stopsOf(rail), ({ s }) => s).sort();
  const ribs = rail.ribs.map(({ s, x }) => {
    const off = x - between(samples.s, samples.x, s);
    // A stop beside the rib keeps its own station.
    const next = firstBeyond(stops, s);
    const ease = (room: number | undefined) => Math.min(Math.abs(off) * EASE + 1e-6, Math.abs((room ?? Infinity) - s) + 1e-9);
    return { s, off, before: ease(stops[next - 1]), after: ease(stops[next]) };
  });
  const runs = Float64Array.from([...samples.s, ...stops, ...ribs.flatMap((rib) => [rib.s - rib.before, rib.s, rib.s + rib.after])]).sort();
  const total = samples.s[samples.n - 1];
  const s = runs.filter((run, i) => run >= 0 && run <= total && run !== runs[i - 1]);
  const x = s.map((run) => between(samples.s, samples.x, run));
  for (const { s: at, off, before, after } of ribs) {
    for (let i = firstBeyond(s, at - before); i < s.length && s[i] < at + after; i++) x[i] += off * (1 - (s[i] < at ? (at - s[i]) / before : (s[i] - at) / after));
  }
  for (let i = 1; i < x.length; i++) x[i] = Math.max(x[i], x[i - 1]);
  return { s, x };
}

/** The layout for a plan in a space of this size. */
function ribbonScale(plan: Plan, width: number, height: number): RibbonScale {
  const { soleThickness, capThickness, outerLayers } = plan.design.rail;
  const { length } = plan.hull;
  const places = placesOf(plan);
  const { left, right, scale: across, x: at, station } = stationAxis(width, length);
  const stackTop = HEAD + 3;
  const railAxis = height < LOW ? null : height - RAIL_AXIS;
  const axis = (railAxis ?? height) - AXIS;
  const bandBottom = axis - 5;
  const bandTop = bandBottom - Math.min(22, Math.max(13, Math.round(height * 0.09)));
  const skinsTop = bandTop - 6 - outerLayers * SKIN_LINE;
  const stackBottom = skinsTop - SKINS_OFF;
  const tallest = Math.max(0, plan.rail.range.gap.max) + soleThickness + capThickness;
  const up = (stackBottom - stackTop) / tallest;
  return {
    width, height, left, right, headBottom: HEAD, stackTop, stackBottom, skinsTop, bandTop, bandBottom, axis, railAxis,
    exaggeration: up / across,
    at, x: (s) => at(between(places.s, places.x, s)),
    run: (x) => between(places.x, places.s, station(x)),
    z: (h) => stackBottom - h * up,
  };
}

export interface RibbonSize {
  readonly width: number;
  readonly height: number;
}

const scales = new WeakMap<Plan, RibbonScale>();

/** The layout for a plan, made once for all that is drawn of it in a space of this size. */
export function scaleOf(plan: Plan, { width, height: room }: RibbonSize): RibbonScale {
  const height = Math.max(LEAST, room);
  const kept = scales.get(plan);
  if (kept?.width === width && kept.height === height) return kept;
  const scale = ribbonScale(plan, width, height);
  scales.set(plan, scale);
  return scale;
}

/** A place to a tenth of a px: finer shows nothing, and what moves by less is not drawn again. */
export const px = (v: number): number => Math.round(v * 10) / 10;

/** How far a drawn line may lie off a sample, px: half of what `px` rounds to. */
const OFF = 0.05;
/** Places nearer to one another are told apart by this much, px: where the rail goes straight across the board they share one. */
const APART = 1e-4;

/**
 * A line over samples, as few of them as draw it: those left out lie within 0.05 px of height of the straight piece between
 * their neighbours; the first and the last stay. `at`: px of a sample, those of x never falling.
 */
function fewest(first: number, last: number, x: (i: number) => number, y: (i: number) => number): number[] {
  const out = [first];
  let [x0, y0] = [x(first), y(first)];
  let [low, high] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  for (let i = first + 1; i <= last; i++) {
    const yi = y(i);
    let run = Math.max(APART, x(i) - x0);
    let slope = (yi - y0) / run;
    if (slope < low || slope > high) {
      out.push(i - 1);
      [x0, y0] = [x(i - 1), y(i - 1)];
      [low, high] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
      run = Math.max(APART, x(i) - x0);
      slope = (yi - y0) / run;
    }
    low = Math.max(low, slope - OFF / run);
    high = Math.min(high, slope + OFF / run);
  }
  if (last > first) out.push(last);
  return out;
}

/** Samples that a line between two runs is drawn over, `y` being px of a sample: see `fewest`. */
export function lineSamples(plan: Plan, scale: RibbonScale, s0: number, s1: number, y: (i: number) => number): number[] {
  const { n, step, s } = plan.rail.samples;
  const first = Math.max(0, Math.ceil(s0 / step));
  const last = Math.min(n - 1, Math.floor(s1 / step));
  return last > first ? fewest(first, last, (i) => scale.x(s[i]), y) : [];
}

/** Sample numbers to draw: about one a px, always both ends of [s0, s1]. */
export function sampleRange(plan: Plan, scale: RibbonScale, s0: number, s1: number): number[] {
  const { n, step } = plan.rail.samples;
  const first = Math.max(0, Math.ceil(s0 / step));
  const last = Math.min(n - 1, Math.floor(s1 / step));
  const skip = Math.max(1, Math.floor((n / (scale.right - scale.left)) * 1.2));
  const out: number[] = [];
  for (let i = first; i < last; i += skip) out.push(i);
  if (last >= first) out.push(last);
  return out;
}
