/** What is swept along the rail as a solid: a face for each side of its ring and each stretch on which the ring keeps its corners. */
import { boxOnRun } from '../../rail/run';
import { runOf } from '../../rail/query';
import type { Plan, RailSection } from '../../types';
import { placeRing, sawnRing, sweptParts } from '../swept';
import { fitRows, surfaceOf } from './fit';
import { lineBetween, ShellBuilder, wallBetween, wayAlong, type Brep, type CurveData, type PlaneData } from './shell';

/** Spans along a strip: their longest and shortest, mm, and how far a face may lie off the sections, mm. */
const FIT = { step: 60, least: 1, tolerance: 2e-3 };
/** Sections no farther apart than this are looked at for sides that come or go, mm. */
const LOOK = 4;
/** Corners this near to each other are one, mm. */
const TOGETHER = 1e-6;
/** Either side of a corner of the lines, mm; and a corner whose two sections are no farther apart than this is none. */
const HAIR = 1e-6;
const NO_STEP = 1e-5;

type RingAt = (s: number) => Float64Array;

const gapOf = (ring: Float64Array, j: number): number => {
  const k = ring.length / 3;
  const [a, b] = [3 * j, 3 * ((j + 1) % k)];
  return Math.hypot(ring[a] - ring[b], ring[a + 1] - ring[b + 1], ring[a + 2] - ring[b + 2]);
};

const pattern = (ring: Float64Array): string => Array.from({ length: ring.length / 3 }, (_, j) => (gapOf(ring, j) < TOGETHER ? '0' : '1')).join('');

/** Runs within (from, to) at which a side of the ring comes or goes. */
function changes(at: RingAt, from: number, to: number): number[] {
  const n = Math.max(2, Math.ceil((to - from) / LOOK));
  const out: number[] = [];
  const search = (a: number, b: number, before: string, after: string): void => {
    if (before === after) return;
    if (b - a < 1e-5) {
      out.push((a + b) / 2);
      return;
    }
    const middle = (a + b) / 2;
    const here = pattern(at(middle));
    search(a, middle, before, here);
    search(middle, b, here, after);
  };
  let [s, was] = [from, pattern(at(from + Math.min(HAIR, (to - from) / 4)))];
  for (let i = 1; i <= n; i++) {
    const next = i === n ? to - Math.min(HAIR, (to - from) / 4) : from + ((to - from) * i) / n;
    const is = pattern(at(next));
    search(s, next, was, is);
    [s, was] = [next, is];
  }
  return out;
}

/** The plane of a ring, facing as its corners turn, by Newell's normal (Sutherland, Sproull & Schumacker, 1974). */
function planeOf(ring: Float64Array, facing: 1 | -1): PlaneData {
  const k = ring.length / 3;
  const n = [0, 0, 0];
  for (let i = 0; i < k; i++) {
    const [a, b] = [3 * i, 3 * ((i + 1) % k)];
    for (let d = 0; d < 3; d++) {
      const [p, q] = [(d + 1) % 3, (d + 2) % 3];
      n[d] += (ring[a + p] - ring[b + p]) * (ring[a + q] + ring[b + q]);
    }
  }
  const size = facing * Math.hypot(n[0], n[1], n[2]);
  const [x, y, z] = n.map((v) => v / size);
  // Rings stand plumb: their planes hold the vertical.
  return { origin: [ring[0], ring[1], ring[2]], normal: [x, y, z], along: [0, 0, 1] };
}

/** A body swept through rings tail to nose, corners counter-clockwise in (outboard, up). `corners`: runs at which a line turns. */
function tube(id: string, kind: Brep['kind'], at: RingAt, s0: number, s1: number, corners: readonly number[]): Brep {
  const shell = new ShellBuilder();
  const turns = corners.filter((s) => s > s0 + 2 * HAIR && s < s1 - 2 * HAIR).sort((a, b) => a - b);
  // Smooth stretches between corners, and within them between changes.
  let from = s0;
  let first = at(s0);
  const k = first.length / 3;
  const sides = (make: (j: number) => void) => {
    for (let j = 0; j < k; j++) make(j);
  };
  const start = first;
  for (const turn of [...turns, s1]) {
    const to = turn === s1 ? s1 : turn - HAIR;
    for (const [a, b, head] of stretches(at, from, to, first)) {
      const end = b === to ? undefined : at(b);
      const spline = fitRows((s) => (s === a ? ring(head, k) : s === b && end ? ring(end, k) : ring(at(s), k)), a, b, FIT);
      sides((j) => shell.patch(surfaceOf(spline, j, 2), false));
    }
    if (turn === s1) continue;
    from = turn + HAIR;
    const [before, after] = [at(to), at(from)];
    const step = Math.max(...before.map((v, i) => Math.abs(v - after[i])));
    first = step < NO_STEP ? before : after;
    if (step >= NO_STEP) sides((j) => shell.patch(wallBetween(rail(before, after, j), rail(before, after, j + 1)), false));
  }
  const last = at(s1);
  for (const [end, facing] of [[start, -1], [last, 1]] as const) {
    const loop = Array.from({ length: k }, (_, j) => side(end, j)).filter((p) => Math.hypot(p[0] - p[3], p[1] - p[4], p[2] - p[5]) > 0)
      .map((p) => wayAlong(lineBetween(Array.from(p.subarray(0, 3)), Array.from(p.subarray(3)))));
    shell.cap(planeOf(end, facing), loop, facing === 1);
  }
  return shell.build(id, kind, 'starboard');
}

/** The ring with its first corner once more, so that each side's two stand beside each other. */
function ring(corners: Float64Array, k: number): Float64Array {
  const out = new Float64Array(3 * (k + 1));
  out.set(corners);
  out.set(corners.subarray(0, 3), 3 * k);
  return out;
}

/** The straight line from corner j of one ring to that of another. */
function rail(from: Float64Array, to: Float64Array, j: number): CurveData {
  const at = (3 * j) % from.length;
  return lineBetween(Array.from(from.subarray(at, at + 3)), Array.from(to.subarray(at, at + 3)));
}

const side = (corners: Float64Array, j: number): Float64Array => ring(corners, corners.length / 3).slice(3 * j, 3 * j + 6);

function* stretches(at: RingAt, from: number, to: number, first: Float64Array): Generator<[number, number, Float64Array]> {
  const cuts = [from, ...changes(at, from, to).filter((s) => s > from + 1e-4 && s < to - 1e-4), to];
  for (let i = 0; i + 1 < cuts.length; i++) yield [cuts[i], cuts[i + 1], i === 0 ? first : at(cuts[i])];
}

/** Strips, what stands beside the blocks, rows and outer skins, to starboard, each to be made by itself: one that does not close throws an OpenShellError. */
export function railBreps(plan: Plan): { readonly id: string; readonly make: () => Brep }[] {
  const run = runOf(plan);
  const { rings, parts } = sweptParts(plan);
  const section = (s: number): RailSection => boxOnRun(run, Math.min(run.total, Math.max(0, s)));
  const { sole, cap } = plan.rail.kinks;
  const corners = [...new Set([...sole, ...cap].map(({ s }) => s))];
  // The hollow is air.
  return parts.filter(({ kind }) => kind !== 'hollow').map((part) => {
    const { name, kind, s0, s1, ring: of } = part;
    const at = (s: number): Float64Array => {
      const sawn = s === s0 || s === s1 ? sawnRing(plan, rings, section, part, s) : undefined;
      if (sawn) return sawn;
      const c = section(s);
      const shape = of(c, s);
      const out = new Float64Array(3 * shape.length);
      placeRing(shape, c, out);
      return out;
    };
    const id = `${name}-starboard`;
    return { id, make: () => tube(id, kind, at, s0, s1, corners) };
  });
}
