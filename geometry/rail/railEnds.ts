/**
 * Where sole and cap end before the board does. From mid-board each strip goes on to the first place where no accepted
 * method brings it to its line (wood/ladder.ts); per end both stop at the nearer of the two. Where neither fails they end as far as
 * there is room for them: where they touch, or where the two sides' boxes meet.
 */
import type { Design } from '../design/schema';
import type { Place, RailEnd, RailPlan, RailSamples, StripName, Unbendable } from '../types';
import { frameAt, planeFrame } from '../curves/plane';
import { creasedOf } from './kinks';
import { sizesOnRun, whereHolds, xOnRun, type Interval, type Run } from './run';
import { fillRates, flatLie, sampledRates, StripWalk } from './strain';
import { nearestRung, roomOf, type BendRule, type EndRules } from '../wood/ladder';

/** How sole and cap may be bent, in either half of the rail. */
type StripRules = Readonly<Record<'sole' | 'cap', EndRules>>;

/** A lap is this many times the thickness of the thicker strip: own choice, the long end of what a scarf is given. */
const LAP = 8;
/** A box that keeps less of the run between its blocks is none: own choice. */
const LEAST_BOX = 1 / 3;
/** Two runs closer than this are one, mm. */
const ONE = 1e-6;

/** Outer skins that butt on a block lap its side by this first, mm: own choice. */
const SKIN_LAP = 30;
/** Their landing is one step across the board of at least this, so that a block's plan is one function of the station, mm: own choice. */
const LEAST_LANDING = 1;
/** Less of the rail beyond a landing is not worth one, mm: own choice. */
const LEAST_BEYOND = 10;
/** Steps in which a place for a landing is sought, mm. */
const LANDING_STEP = 1;

interface Strained {
  readonly kind: 'sole' | 'cap';
  /** Strain that the accepted methods still have free, at every sample where there is room for sole or cap and at any run: negative where none does. */
  readonly rooms: Float64Array;
  readonly room: (s: number) => number;
  /** The accepted method that comes nearest to bearing a run: what it would bear, and its limit. */
  readonly nearest: (s: number) => { readonly strain: number; readonly limit: number };
}

const nameOf = ({ kind }: Strained): StripName => ({ kind, order: 0 });

/** The strain of sole or cap at the samples of a stretch, and at any run, against what is accepted in its half of the rail. */
function strained(run: Run, samples: RailSamples, kind: 'sole' | 'cap', rules: EndRules, { s0, s1 }: Interval): Strained {
  const lie = flatLie(kind, run.sizes, creasedOf(run).smooth[kind]);
  const walk = new StripWalk(run, lie, samples.step, samples);
  const [low, high] = kind === 'sole' ? [samples.soleBottom, samples.soleTop] : [samples.capBottom, samples.capTop];
  const rooms = new Float64Array(samples.n);
  const heights = new Float64Array(samples.n);
  for (let i = 0; i < heights.length; i++) heights[i] = (low[i] + high[i]) / 2;
  const rates = sampledRates(samples.n);
  const half = run.total / 2;
  /** The rule at a run. */
  const ruleAt = (s: number): BendRule => (s < half ? rules.tail : rules.nose);
  const within = (i: number) => samples.s[i] >= s0 && samples.s[i] <= s1;
  fillRates(lie, walk, samples, heights, within, rates);
  for (let i = 0; i < rooms.length; i++) {
    if (!within(i)) continue;
    const s = samples.s[i];
    const sizes = sizesOnRun(run, s);
    rooms[i] = roomOf(ruleAt(s), (Math.abs(rates.edge[i]) * sizes.stripWidth) / 2, (Math.abs(rates.flat[i]) * (kind === 'sole' ? sizes.sole : sizes.cap)) / 2);
  }
  /** What the rule at a run makes of the strains there, on edge and on the flat. */
  const at = <T>(of: (rule: BendRule, edge: number, flat: number) => T, s: number): T => {
    const { edge, flat } = walk.rates(s);
    const { stripWidth, [kind]: thickness } = sizesOnRun(run, s);
    return of(ruleAt(s), (Math.abs(edge) * stripWidth) / 2, (Math.abs(flat) * thickness) / 2);
  };
  return { kind, rooms, room: (s) => at(roomOf, s), nearest: (s) => at(nearestRung, s) };
}

/** Where a strip fails first from mid-board toward one end, within its extent; refined as a row's stop is. */
function failsAt({ rooms, room }: Strained, { s0, s1 }: Interval, end: 'tail' | 'nose', { s, n }: RailSamples, mid: number): number | undefined {
  const tail = end === 'tail';
  // A hair off mid-board, where the other half's methods begin.
  const [from, to] = tail ? [s0, mid - ONE] : [mid, s1];
  if (!(to > from)) return undefined;
  let fails = false;
  for (let i = 0; i < n && !fails; i++) fails = s[i] >= from && s[i] <= to && rooms[i] < 0;
  if (!fails && room(tail ? from : to) >= 0) return undefined;
  const holds = whereHolds(room, s, rooms, from, to);
  const kept = holds[tail ? holds.length - 1 : 0];
  if (!kept || (tail ? kept.s1 < to - ONE : kept.s0 > from + ONE)) return mid;
  const edge = tail ? kept.s0 : kept.s1;
  return Math.abs(edge - (tail ? s0 : s1)) < ONE ? undefined : edge;
}

/** Where in [s0, s1] a strip's accepted methods fall short most, and by the nearest of them what it would bear there against its limit; samples and both ends looked at. */
function tightest({ rooms, room, nearest }: Strained, s0: number, s1: number, samples: RailSamples): { s: number; strain: number; limit: number } {
  let best = { s: s0, room: room(s0) };
  const last = { s: s1, room: room(s1) };
  if (last.room < best.room) best = last;
  for (let i = 0; i < samples.n; i++) {
    if (samples.s[i] > s0 && samples.s[i] < s1 && rooms[i] < best.room) best = { s: samples.s[i], room: rooms[i] };
  }
  const { strain, limit } = nearest(best.s);
  return { s: best.s, strain, limit };
}

/** What `findEnds` found: the strips' extents, cut back to what bends, and why they end. */
export interface FoundEnds {
  readonly sole: Interval;
  readonly cap: Interval;
  readonly ends: RailPlan['ends'];
  readonly unbendable?: Unbendable;
}

/**
 * Ends of sole and cap. `sole` and `cap` are where there is room for them; the cap may be empty. A strip that fails so
 * near mid-board that its blocks would leave no box is planned through, and told as unbendable.
 */
export function findEnds(run: Run, samples: RailSamples, sole: Interval, cap: Interval, rules: StripRules, chosen: Design['ends'] = {}): FoundEnds {
  const whole = { s0: Math.min(sole.s0, cap.s0), s1: Math.max(sole.s1, cap.s1) };
  const strips = { sole: strained(run, samples, 'sole', rules.sole, whole), cap: strained(run, samples, 'cap', rules.cap, whole) };
  const extent = { sole, cap };
  const bends = { tail: firstFail('tail'), nose: firstFail('nose') };
  const place = (s: number): Place => ({ s, x: xOnRun(run, s) });

  /** The failing place nearest to mid-board on the way to an end, and the strip that fails there. */
  function firstFail(end: 'tail' | 'nose'): { s: number; strip: Strained } | undefined {
    let nearest: { s: number; strip: Strained } | undefined;
    for (const kind of ['sole', 'cap'] as const) {
      const s = failsAt(strips[kind], extent[kind], end, samples, run.total / 2);
      // The cap may be open, and fail, where there is no room for a sole under it: no strip is there.
      if (s === undefined || s <= sole.s0 || s >= sole.s1) continue;
      if (!nearest || (end === 'tail' ? s > nearest.s : s < nearest.s)) nearest = { s, strip: strips[kind] };
    }
    return nearest;
  }

  const stopped = (own: Interval): Interval => ({ s0: Math.max(own.s0, bends.tail?.s ?? own.s0), s1: Math.min(own.s1, bends.nose?.s ?? own.s1) });
  const left = stopped(cap.s1 > cap.s0 ? cap : sole);
  let unbendable: Unbendable | undefined;
  if ((bends.tail || bends.nose) && left.s1 - left.s0 < run.total * LEAST_BOX) {
    const away = (b: { s: number } | undefined) => (b ? Math.abs(b.s - run.total / 2) : Infinity);
    const [end, worst] = away(bends.tail) <= away(bends.nose) ? ['tail' as const, bends.tail] : ['nose' as const, bends.nose];
    if (worst) {
      const beyond = end === 'tail' ? [sole.s0, worst.s] : [worst.s, sole.s1];
      const { s, strain, limit } = tightest(worst.strip, beyond[0], beyond[1], samples);
      unbendable = { strip: nameOf(worst.strip), first: place(worst.s), at: place(s), strain, limit };
    }
    bends.tail = bends.nose = undefined;
  }
  const bed = stopped(sole);
  const over = stopped(cap);
  // No cap where there is no sole under it.
  const both = { s0: Math.max(over.s0, bed.s0), s1: Math.min(over.s1, bed.s1) };
  const cut = { sole: bed, cap: cap.s1 > cap.s0 && both.s1 > both.s0 ? both : { s0: bed.s0, s1: bed.s0 } };
  const ends = { ...endAt('tail'), ...endAt('nose') };
  return { ...cut, ends, ...(unbendable ? { unbendable } : {}) };

  function endAt(end: 'tail' | 'nose'): { tail?: RailEnd; nose?: RailEnd } {
    const tail = end === 'tail';
    const strip = cut.cap.s1 > cut.cap.s0 ? cut.cap : cut.sole;
    const s = tail ? strip.s0 : strip.s1;
    if (tail ? s < ONE : s > run.total - ONE) return {};
    const bend = bends[end];
    const cause = bend && Math.abs(bend.s - s) < ONE ? 'bend' : Math.abs(s - (tail ? run.boxFrom : run.boxTo)) < ONE ? 'meet' : 'touch';
    // Strips that touch leave no room for a tongue; in a short box the two tongues leave half of it.
    const lap = cause === 'touch' || !(cut.cap.s1 > cut.cap.s0) ? 0 : Math.min(LAP * Math.max(run.sizes.sole, run.sizes.cap), (strip.s1 - strip.s0) / 4);
    const skinsTo = chosen[end]?.skins === 'butted' ? landing(end, s) : undefined;
    const fields: RailEnd = { end, cause, s, x: ribX(s), rowsTo: tail ? s + lap : s - lap, ...(skinsTo === undefined ? {} : { skinsTo }) };
    if (cause !== 'bend' || !bend) return { [end]: fields };
    const own = extent[bend.strip.kind];
    const worst = tightest(bend.strip, tail ? own.s0 : s, tail ? s : own.s1, samples);
    return { [end]: { ...fields, strip: nameOf(bend.strip), limit: worst.limit, strain: worst.strain, tightest: place(worst.s) } };
  }

  /** Run at which outer skins butt on the block of strips that end at s: past their lap and the sole's end; undefined where too little of the rail is left, or it does not narrow. */
  function landing(end: 'tail' | 'nose', s: number): number | undefined {
    const tail = end === 'tail';
    const way = tail ? -1 : 1;
    const last = tail ? LEAST_BEYOND : run.total - LEAST_BEYOND;
    const frame = planeFrame();
    for (let at = tail ? Math.min(s - SKIN_LAP, cut.sole.s0) : Math.max(s + SKIN_LAP, cut.sole.s1); (last - at) * way >= 0; at += LANDING_STEP * way) {
      frameAt(run.hull.outline, run.map.parameterAt(at), frame);
      if (-way * frame.nx * run.sizes.faceOffset >= LEAST_LANDING) return at;
    }
    return undefined;
  }

  /** Station of the rib-end line at a run. */
  function ribX(s: number): number {
    const frame = frameAt(run.hull.outline, run.map.parameterAt(s), planeFrame());
    return frame.x + (run.sizes.faceOffset + run.sizes.stripWidth) * frame.nx;
  }
}
