/**
 * How each strip bends: curvature, twist, fibre strain, and by which method each stretch is brought to its curve.
 * The strain's formulas stand in rail/strain.ts, the methods in wood/ladder.ts.
 */
import { runOf } from '../rail/query';
import { whereHolds } from '../rail/run';
import { placeOn } from '../rail/samples';
import { StripWalk } from '../rail/strain';
import { list, mm, said } from '../said';
import type { Finding, Plan } from '../types';
import { stripsOf, type Strip } from './strips';
import { HEATED, stripName, isHeated } from './stripWords';

import { borne, endRules, methodAt, methodRank, nearestRung, type BentKind, type EndRules, type MethodHere } from '../wood/ladder';
import type { BendZone, Parting, StripBending, StripId } from './types';

/** Wet heat reaches past the zone by this much at each end, mm: the project's own choice. */
export const WRAP_MARGIN = 60;
/** No lamination is planed thinner than this, mm: the project's own choice. */
const LEAST_LAMINATION = 1;

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
  const strainAt = (at: number): Strains => {
    const { edge, flat } = walk.rates(at);
    return { edge: (Math.abs(edge) * strip.width) / 2, flat: (Math.abs(flat) * strip.thickness) / 2 };
  };
  const rules = endRules(plan.design, kindOf(strip.id));
  const { limits } = rules.tail;
  const bent = { strip: strip.id, width: strip.width, thickness: strip.thickness, s, limits, ...out };
  const zones = bendZones(plan, bent, rules, strainAt);
  const advice = zones.some((z) => z.method === 'block') ? thinner(bent, limits.wet) : undefined;
  return { ...bent, zones, ...(advice ? { advice } : {}) };
}

type Bent = Omit<StripBending, 'zones' | 'advice'>;

/** Strain of the whole strip on edge and on the flat. */
interface Strains {
  readonly edge: number;
  readonly flat: number;
}

/** The kind of strip that methods are chosen for. */
const kindOf = ({ kind }: StripId): BentKind => (kind === 'row' ? 'rows' : kind === 'outer-skin' ? 'skins' : kind);

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

interface Stretch extends MethodHere {
  s0: number;
  s1: number;
}

/** Neighbours by one method as one stretch. */
const joinedUp = (stretches: readonly Stretch[]): Stretch[] => stretches.reduce<Stretch[]>((out, next) => {
  const last = out[out.length - 1];
  if (last && last.method === next.method && last.n === next.n) last.s1 = next.s1;
  else if (next.s1 > next.s0) out.push({ ...next });
  return out;
}, []);

/** What of a strip between two places along itself (mm from its tail end) is made of several; undefined where nothing is. */
export function partingsOf(bending: StripBending, from: number, to: number): readonly Parting[] | undefined {
  const found = bending.zones.flatMap(({ method, n, s0, s1 }): Parting[] => {
    if (method !== 'split' && method !== 'layers') return [];
    const [a, b] = [Math.max(from, alongAt(bending, s0)), Math.min(to, alongAt(bending, s1))];
    return b - a > 1e-6 ? [{ method, n, from: a - from, length: b - a }] : [];
  });
  return found.length > 0 ? found : undefined;
}

/**
 * Zones tail to nose: ends are roots of strain = limit of a rung. Two wet zones whose wraps would overlap are one, and
 * the short stretch between goes into the heat with them. Strips are split, and skins layered, from their own end to the
 * innermost place of that half of the rail which wants it, into the most parts that any place of it wants: a cut that stops and
 * starts again cannot be glued.
 */
function bendZones(plan: Plan, bent: Bent, rules: EndRules, strainAt: (s: number) => Strains): BendZone[] {
  const { s } = bent;
  const [from, to] = [s[0], s[s.length - 1]];
  const middle = Math.min(to, Math.max(from, plan.rail.face.length / 2));
  const cuts = (['tail', 'nose'] as const).flatMap((end) => {
    const [s0, s1] = end === 'tail' ? [from, middle] : [middle, to];
    if (!(s1 > s0)) return [];
    return rules[end].rungs.flatMap((rung) => {
      const over = ({ edge, flat }: Strains) => borne(rung, edge, flat) - rung.limit;
      const values = bent.strain.map((_, i) => over({ edge: bent.edgewise[i], flat: bent.flatwise[i] }));
      return whereHolds((at) => over(strainAt(at)), s, values, s0, s1).flatMap((z) => [z.s0, z.s1]);
    });
  });
  const edges = [...new Set([from, middle, to, ...cuts])].sort((a, b) => a - b);
  let zones: Stretch[] = joinedUp(edges.slice(1).map((s1, i) => {
    const { edge, flat } = strainAt((edges[i] + s1) / 2);
    return { ...methodAt(rules[(edges[i] + s1) / 2 < middle ? 'tail' : 'nose'], edge, flat), s0: edges[i], s1 };
  }));
  const evened: (Stretch & { readonly mean: Strains })[] = [];
  zones = joinedUp(zones.map((z) => {
    const found = z.method === 'block' ? bridged(plan, bent, rules, z, strainAt) : undefined;
    if (found) evened.push({ ...z, ...found });
    return found ? { ...z, method: found.method, n: found.n } : z;
  }));
  const taken = (at: number, own = strainAt(at)): Strains => evened.find(({ s0, s1 }) => at >= s0 && at <= s1)?.mean ?? own;
  for (const method of ['split', 'layers'] as const) {
    for (const end of ['tail', 'nose'] as const) {
      const mine = zones.filter((z) => z.method === method && ((z.s0 + z.s1) / 2 < middle) === (end === 'tail'));
      if (mine.length === 0) continue;
      const n = Math.max(...mine.map((z) => z.n));
      const inner = end === 'tail' ? mine[mine.length - 1].s1 : mine[0].s0;
      zones = joinedUp(zones.map((z) => ((end === 'tail' ? z.s1 <= inner : z.s0 >= inner) && methodRank(z.method) <= methodRank(method) ? { ...z, method, n } : z)));
    }
  }
  const wet = (z: Stretch | undefined) => z !== undefined && HEATED[z.method];
  zones = joinedUp(zones.map((z, i) => (!HEATED[z.method] && z.method !== 'block' && wet(zones[i - 1]) && wet(zones[i + 1])
    && alongAt(bent, z.s1) - alongAt(bent, z.s0) < 2 * WRAP_MARGIN ? { ...z, method: 'wet' } : z)));
  return zones.map((z) => ({ ...z, ...worstIn(plan, bent, z, rules, taken), wrap: wrapOf(bent, z) }));
}

/** Points at which a bend is averaged over one thickness. */
const MEAN_POINTS = 8;

/**
 * What does for a stretch that no method bears as drawn, where it is shorter than the strip is thick: a strip cannot
 * take a curve that changes within its own thickness, its fibres even it out (Saint-Venant), so that what they bear is the mean
 * over one thickness about the stretch: that is what is told of it. Round an end the two halves are one strip. Undefined where that mean is too much too.
 */
function bridged({ rail: { face } }: Plan, { s, thickness }: Bent, rules: EndRules, { s0, s1 }: Stretch, strainAt: (s: number) => Strains): (MethodHere & { readonly mean: Strains }) | undefined {
  const total = face.length;
  const round = { tail: face.tail.kind === 'round' && s0 <= s[0] && s[0] < 1e-6, nose: face.nose.kind === 'round' && s1 >= s[s.length - 1] && s1 > total - 1e-6 };
  const middle = round.tail ? 0 : round.nose ? total : (s0 + s1) / 2;
  if ((s1 - s0) * (round.tail || round.nose ? 2 : 1) >= thickness) return undefined;
  let [edge, flat] = [0, 0];
  for (let i = 0; i < MEAN_POINTS; i++) {
    const at = middle + thickness * ((i + 0.5) / MEAN_POINTS - 0.5);
    // Beyond a round end the other side goes on as this one.
    const own = round.tail ? Math.abs(at) : round.nose ? total - Math.abs(total - at) : Math.min(s[s.length - 1], Math.max(s[0], at));
    const here = strainAt(own);
    edge += here.edge / MEAN_POINTS;
    flat += here.flat / MEAN_POINTS;
  }
  const found = methodAt(rules[middle < total / 2 ? 'tail' : 'nose'], edge, flat);
  return found.method === 'block' ? undefined : { ...found, mean: { edge, flat } };
}

/** Length of a zone along the strip; a heated one's with the margin either side, cut off at the strip's ends. */
function wrapOf(bent: Bent, zone: Stretch): number {
  const margin = HEATED[zone.method] ? WRAP_MARGIN : 0;
  const whole = bent.along[bent.along.length - 1];
  return Math.min(whole, alongAt(bent, zone.s1) + margin) - Math.max(0, alongAt(bent, zone.s0) - margin);
}

/** Greatest strain in a zone and what its method leaves of it, where, and the least radius in it (of the strip's own curve; outer skins: of the cylinder). */
function worstIn(plan: Plan, bent: Bent, zone: Stretch, rules: EndRules, strainAt: (s: number, own?: Strains) => Strains): Pick<BendZone, 'strain' | 'borne' | 'limit' | 'radius' | 'at'> {
  let strain = -1;
  let left = 0;
  let at = zone.s0;
  let bend = 0;
  let short: { readonly strain: number; readonly limit: number } | undefined;
  const take = (s: number, { edge, flat }: Strains) => {
    left = Math.max(left, borne(zone, edge, flat));
    if (zone.method === 'block') {
      const next = nearestRung(rules[s < plan.rail.face.length / 2 ? 'tail' : 'nose'], edge, flat);
      if (!short || next.strain - next.limit > short.strain - short.limit) short = next;
    }
    if (edge + flat <= strain) return;
    strain = edge + flat;
    at = s;
  };
  for (let i = 0; i < bent.s.length; i++) {
    const s = bent.s[i];
    if (s < zone.s0 || s > zone.s1) continue;
    const profile = bent.strip.kind === 'outer-skin' ? 0 : bent.profileCurvature[i];
    bend = Math.max(bend, Math.hypot(bent.planCurvature[i], profile));
    take(s, strainAt(s, { edge: bent.edgewise[i], flat: bent.flatwise[i] }));
  }
  for (const s of [zone.s0, zone.s1]) take(s, strainAt(s));
  // A zone between two nodes has no sample of its own: its strain over half the width bounds the bend from above.
  if (bend === 0) bend = (2 * strain) / Math.min(bent.width, bent.thickness);
  return { strain, borne: short?.strain ?? left, ...(short ? { limit: short.limit } : {}), radius: bend > 0 ? 1 / bend : NO_BEND, at: placeOn(plan.rail.samples, at) };
}

/** Radius given for a stretch that is straight, mm. */
const NO_BEND = 1e9;

/** The greatest thickness, and the greatest width, that wet heat would bend everywhere. */
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

/** Width to thickness over which a strip bent on edge buckles on its inside (read in makers' notes; ours have 2 to 2.5). */
const BUCKLES_FROM = 3;

/**
 * What there is to decide of bends: for each kind of strip and end of the board one finding where no accepted method does,
 * over all its strips and stretches, with what would do; and one where a strip so wide for its thickness is bent on edge
 * that its inside buckles.
 */
export function bendingFindings(plan: Plan, bending: readonly StripBending[]): Omit<Finding, 'id'>[] {
  const place = (s: number) => placeOn(plan.rail.samples, s);
  // Rounded down: what is a hair thicker would not go.
  const floor = (value: number) => mm(Math.floor(value * 10) / 10);
  const least = (values: readonly (number | undefined)[]) => (values.every((v) => v !== undefined) ? Math.min(...values) : undefined);
  const middle = plan.rail.face.length / 2;
  const found: Omit<Finding, 'id'>[] = [];
  for (const kind of ['sole', 'row', 'cap', 'outer-skin'] as const) {
    const mine = bending.filter((b) => b.strip.kind === kind);
    for (const end of ['tail', 'nose'] as const) {
      const over = mine.flatMap((b) => b.zones.filter((z) => z.method === 'block' && ((z.s0 + z.s1) / 2 < middle) === (end === 'tail')).map((z) => ({ b, z })));
      if (over.length === 0) continue;
      const worst = over.reduce((a, c) => (c.z.strain > a.z.strain ? c : a));
      const strips = over.map(({ b }) => b);
      const thickness = least(strips.map((b) => b.advice?.thickness));
      const width = least(strips.map((b) => b.advice?.width));
      const ways = [
        ...(thickness === undefined ? [] : [said('layers of {thickness}', { thickness: floor(thickness) })]),
        ...(width === undefined ? [] : [said('strips {width} wide', { width: floor(width) })]),
      ];
      found.push({
        code: 'will-not-bend', level: 'check' as const, unit: 'strain' as const,
        title: said('{strip} is tighter toward the {end} than any method you accept bends it', { strip: strips.length > 1 && kind === 'outer-skin' ? 'The outer skins\' curve' : stripName(worst.b.strip), end }),
        advice: ways.length > 0 ? said('For this bend, {ways}; or ease the curve, or block this stretch.', { ways: list(ways, ', or ') })
        : 'Thinner would not help enough: ease the curve, or block this stretch.',
        place: worst.z.at, extent: { from: place(Math.min(...over.map(({ z }) => z.s0))), until: place(Math.max(...over.map(({ z }) => z.s1))) },
        strip: worst.b.strip, figure: worst.z.borne, limit: worst.z.limit,
      });
    }
    const edged = mine.find((b) => b.width > BUCKLES_FROM * b.thickness && kind !== 'outer-skin' && b.zones.some(isHeated));
    if (edged) {
      found.push({
        code: 'edge-buckle', level: 'check', unit: 'count', strip: edged.strip, figure: edged.width / edged.thickness, limit: BUCKLES_FROM,
        title: said('{strip} is wide for its thickness: bent on edge its inside may buckle', { strip: stripName(edged.strip) }),
        advice: 'Use a narrower or thicker strip, or keep it flat between two boards while it is bent.',
        place: edged.zones.find(isHeated)?.at,
      });
    }
  }
  return found;
}
