/**
 * How each strip bends: curvature, twist, fibre strain, and where it bends dry, wants steam or is too tight to bend.
 * The formulas stand in rail/strain.ts.
 */
import { speciesById } from '../design/timber';
import { runOf } from '../rail/query';
import { whereHolds } from '../rail/run';
import { placeOn } from '../rail/samples';
import { StripWalk, strainOf } from '../rail/strain';
import { list, mm, said } from '../said';
import type { Finding, Plan } from '../types';
import { stripsOf, type Strip } from './strips';
import type { BendState, BendZone, StripBending, StripId } from './types';

/** Wet heat reaches past the zone by this much at each end, mm: the project's own choice. */
export const WRAP_MARGIN = 60;
/** No lamination is planed thinner than this, mm: the project's own choice. */
const LEAST_LAMINATION = 1;

/** A strip's name as screens and papers say it. */
export function stripName(id: StripId): string {
  const part = id.stretch > 1 ? `, part ${id.stretch}` : '';
  if (id.kind === 'row') return `Row ${id.order}${part}`;
  if (id.kind === 'outer-skin') return `Outer skin ${id.order}${part}`;
  return `${id.kind === 'sole' ? 'Sole' : 'Cap'}${part}`;
}

/** Bending of every strip of one side (port mirrors it), from the sole up, then the outer skins. */
export function planBending(plan: Plan): StripBending[] {
  return stripsOf(plan).map((strip) => bendStrip(plan, strip));
}

/** Runs at which a strip is tabled: its ends, the samples between them, and both sides of each corner in it. */
function nodesOf({ rail }: Plan, { s0, s1, smooth }: Strip): Float64Array {
  const inside = (s: number) => s > s0 + 1e-3 && s < s1 - 1e-3;
  const sides = smooth.flatMap((piece) => [piece.s0, piece.s1]);
  return Float64Array.from([s0, ...[...rail.samples.s, ...sides].filter(inside).sort((a, b) => a - b), s1]);
}

function bendStrip(plan: Plan, strip: Strip): StripBending {
  const { samples } = plan.rail;
  const walk = new StripWalk(runOf(plan), strip, samples.step, samples);
  const s = nodesOf(plan, strip);
  const n = s.length;
  const out = {
    planCurvature: new Float64Array(n), profileCurvature: new Float64Array(n), twist: new Float64Array(n),
    edgewise: new Float64Array(n), flatwise: new Float64Array(n), strain: new Float64Array(n), along: new Float64Array(n),
  };
  let speed = 0;
  for (let i = 0; i < n; i++) {
    const r = walk.rates(s[i]);
    out.planCurvature[i] = strip.skin ? r.flat : r.edge;
    out.profileCurvature[i] = strip.skin ? r.blank : r.flat;
    out.twist[i] = r.twist;
    out.edgewise[i] = (Math.abs(r.edge) * strip.width) / 2;
    out.flatwise[i] = (Math.abs(r.flat) * strip.thickness) / 2;
    out.strain[i] = out.edgewise[i] + out.flatwise[i];
    if (i > 0) out.along[i] = out.along[i - 1] + ((speed + r.speed) / 2) * (s[i] - s[i - 1]);
    speed = r.speed;
  }
  const strainAt = (at: number): number => strainOf(walk.rates(at), strip.width, strip.thickness);
  const species = speciesById(plan.design, strip.timber);
  const bent = { strip: strip.id, width: strip.width, thickness: strip.thickness, s, ...out };
  const limits = { dryLimit: species.dryLimit, steamLimit: Math.max(species.dryLimit, species.steamLimit) };
  const zones = bendZones(plan, bent, limits, strainAt);
  const advice = zones.some((z) => z.state === 'no') ? thinner(bent, limits.steamLimit) : undefined;
  return { ...bent, ...limits, zones, ...(advice ? { advice } : {}) };
}

type Bent = Omit<StripBending, 'zones' | 'dryLimit' | 'steamLimit' | 'advice'>;

/** Length along the strip's own middle line at run s, mm from its tail end; s outside is taken at the nearer end. */
export function alongAt(bending: Pick<StripBending, 's' | 'along'>, s: number): number {
  const { s: nodes, along } = bending;
  const last = nodes.length - 1;
  if (s <= nodes[0]) return along[0];
  if (s >= nodes[last]) return along[last];
  let low = 0;
  let high = last;
  while (high - low > 1) {
    const mid = (low + high) >> 1;
    if (nodes[mid] <= s) low = mid;
    else high = mid;
  }
  return along[low] + ((along[high] - along[low]) * (s - nodes[low])) / (nodes[high] - nodes[low]);
}

/**
 * Zones tail to nose: ends are roots of strain = limit. Two steam zones whose wraps would overlap are one, and
 * the short dry stretch between goes into the steam with them.
 */
function bendZones(
  plan: Plan, bent: Bent, limits: { dryLimit: number; steamLimit: number }, strainAt: (s: number) => number,
): BendZone[] {
  const { s } = bent;
  const from = s[0];
  const to = s[s.length - 1];
  const over = (limit: number) => whereHolds((at) => strainAt(at) - limit, s, bent.strain.map((e) => e - limit), from, to);
  const no = over(limits.steamLimit);
  const cuts = [from, to, ...no.flatMap((z) => [z.s0, z.s1]), ...over(limits.dryLimit).flatMap((z) => [z.s0, z.s1])];
  const edges = [...new Set(cuts)].sort((a, b) => a - b);
  const zones: { state: BendState; s0: number; s1: number }[] = [];
  for (let i = 0; i + 1 < edges.length; i++) {
    const [s0, s1] = [edges[i], edges[i + 1]];
    const mid = (s0 + s1) / 2;
    const state: BendState = no.some((z) => mid > z.s0 && mid < z.s1) ? 'no' : strainAt(mid) > limits.dryLimit ? 'steam' : 'dry';
    const last = zones[zones.length - 1];
    const before = zones[zones.length - 2];
    if (last?.state === state) last.s1 = s1;
    else if (state === 'steam' && last?.state === 'dry' && before?.state === 'steam'
      && alongAt(bent, s0) - alongAt(bent, last.s0) < 2 * WRAP_MARGIN) {
      zones.pop();
      before.s1 = s1;
    } else zones.push({ state, s0, s1 });
  }
  return zones.map((z) => ({ ...z, ...worstIn(plan, bent, z.s0, z.s1, strainAt), wrap: wrapOf(bent, z) }));
}

/** Length of a zone along the strip; a steam zone's with the margin either side, cut off at the strip's ends. */
function wrapOf(bent: Bent, zone: { state: BendState; s0: number; s1: number }): number {
  const margin = zone.state === 'steam' ? WRAP_MARGIN : 0;
  const whole = bent.along[bent.along.length - 1];
  return Math.min(whole, alongAt(bent, zone.s1) + margin) - Math.max(0, alongAt(bent, zone.s0) - margin);
}

/** Greatest strain in a zone, where, and the least radius in it (of the strip's own curve; outer skins: of the cylinder). */
function worstIn(plan: Plan, bent: Bent, s0: number, s1: number, strainAt: (s: number) => number): Pick<BendZone, 'strain' | 'radius' | 'at'> {
  let strain = -1;
  let at = s0;
  let bend = 0;
  for (let i = 0; i < bent.s.length; i++) {
    const s = bent.s[i];
    if (s < s0 || s > s1) continue;
    const profile = bent.strip.kind === 'outer-skin' ? 0 : bent.profileCurvature[i];
    bend = Math.max(bend, Math.hypot(bent.planCurvature[i], profile));
    if (bent.strain[i] > strain) {
      strain = bent.strain[i];
      at = s;
    }
  }
  for (const s of [s0, s1]) {
    const e = strainAt(s);
    if (e > strain) {
      strain = e;
      at = s;
    }
  }
  // A zone between two nodes has no sample of its own: its strain over half the width bounds the bend from above.
  if (bend === 0) bend = (2 * strain) / Math.min(bent.width, bent.thickness);
  return { strain, radius: bend > 0 ? 1 / bend : NO_BEND, at: placeOn(plan.rail.samples, at) };
}

/** Radius given for a stretch that is straight, mm. */
const NO_BEND = 1e9;

/** The greatest thickness, and the greatest width, that would take every bend of the strip with steam. */
function thinner(bent: Bent, limit: number): StripBending['advice'] {
  let thickness = Infinity;
  let width = Infinity;
  for (let i = 0; i < bent.s.length; i++) {
    const flat = bent.flatwise[i];
    const edge = bent.edgewise[i];
    if (flat + edge <= limit) continue;
    thickness = Math.min(thickness, flat > 0 ? (bent.thickness * (limit - edge)) / flat : 0);
    width = Math.min(width, edge > 0 ? (bent.width * (limit - flat)) / edge : 0);
  }
  const worth = (size: number, full: number) => size >= LEAST_LAMINATION && size < full;
  return {
    ...(worth(thickness, bent.thickness) ? { thickness } : {}),
    ...(worth(width, bent.width) ? { width } : {}),
  };
}

/** A finding for every stretch where a strip is too tight to bend, with what would do. */
export function bendingFindings(plan: Plan, bending: readonly StripBending[]): Omit<Finding, 'id'>[] {
  const place = (s: number) => placeOn(plan.rail.samples, s);
  // Rounded down: what is a hair thicker would not go.
  const floor = (value: number) => mm(Math.floor(value * 10) / 10);
  return bending.flatMap((b) => b.zones.filter((z) => z.state === 'no').map((z) => {
    const ways = [
      ...(b.advice?.thickness === undefined ? [] : [said('laminate it in layers of {thickness}', { thickness: floor(b.advice.thickness) })]),
      ...(b.advice?.width === undefined ? [] : [said('rip it to strips {width} wide', { width: floor(b.advice.width) })]),
    ];
    return {
      code: 'will-not-bend', level: 'check' as const, unit: 'strain' as const,
      title: said('{strip} is too tight to bend here, even steamed', { strip: stripName(b.strip) }),
      advice: ways.length > 0
        ? said('For this bend, {ways}; or cut it to the curve, or block this stretch.', { ways: list(ways, ', or ') })
        : 'Thinner would not help enough: cut it to the curve, or block this stretch.',
      place: z.at, extent: { from: place(z.s0), until: place(z.s1) }, strip: b.strip, figure: z.strain, limit: b.steamLimit,
    };
  }));
}
