/** The way of the air: from bay to bay through the holes of ribs and stringer, to the vent. */
import { said } from '../said';
import type { Finding, Plan } from '../types';
import { blockAt } from './ends';
import type { AirPath, FramePart, VentPart } from './types';

/** Middle of a loop, mean of its points: a hole's side and bay. */
function middle(loop: Float64Array): readonly [number, number] {
  let [p, q] = [0, 0];
  for (let i = 0; i < loop.length; i += 2) {
    p += loop[i];
    q += loop[i + 1];
  }
  return [(2 * p) / loop.length, (2 * q) / loop.length];
}

/**
 * The rooms between ribs on either side of the stringer, and whether air gets from each to the vent: through a rib's
 * holes on that side, and through the stringer's holes in that bay: it ends on a block or between the two boxes.
 */
export function airPaths(plan: Plan, frames: readonly FramePart[], vent: VentPart): { rooms: AirPath[]; findings: Omit<Finding, 'id'>[] } {
  const { hull, design } = plan;
  const ribs = frames.filter((part) => part.kind === 'rib').map((part) => ({ part, x: design.frames.ribs[part.rib ?? 0] })).sort((a, b) => a.x - b.x);
  const ends = (['tail', 'nose'] as const).map((end) => blockAt(plan, end)?.inner ?? (end === 'tail' ? 0 : hull.length));
  const edges = [ends[0], ...ribs.map(({ x }) => x), ends[1]];
  const bays = edges.length - 1;
  const across = frames.filter((part) => part.kind === 'stringer').flatMap(({ shape }) => shape.holes.map((hole) => middle(hole)[0]));
  /** Rooms are numbered bay by bay, starboard first. */
  const room = (bay: number, side: 0 | 1) => 2 * bay + side;
  const ways = Array.from({ length: 2 * bays }, (): number[] => []);
  const open = (a: number, b: number) => {
    ways[a].push(b);
    ways[b].push(a);
  };
  ribs.forEach(({ part }, i) => {
    const sides = part.shape.holes.map((hole) => middle(hole)[0]);
    if (sides.some((y) => y > 0)) open(room(i, 0), room(i + 1, 0));
    if (sides.some((y) => y < 0)) open(room(i, 1), room(i + 1, 1));
  });
  for (let bay = 0; bay < bays; bay++) {
    const [a, b] = [edges[bay], edges[bay + 1]];
    if (across.some((x) => x > a && x < b)) open(room(bay, 0), room(bay, 1));
  }
  const home = Math.max(0, edges.findIndex((x, i) => i > 0 && vent.x <= x) - 1);
  const start = room(vent.x > edges[bays] ? bays - 1 : home, vent.y >= 0 ? 0 : 1);
  const reached = new Set([start]);
  for (const at of reached) for (const next of ways[at]) reached.add(next);
  const rooms = Array.from({ length: 2 * bays }, (_, i): AirPath => ({
    bay: (i >> 1) + 1, side: i % 2 === 0 ? 'starboard' : 'port', from: edges[i >> 1], until: edges[(i >> 1) + 1], vented: reached.has(i),
  }));
  // One finding for each rib that keeps the air of what lies beyond it from the vent.
  const ventBay = start >> 1;
  const shut = (bay: number) => rooms.some((r) => r.bay === bay + 1 && !r.vented);
  const findings: Omit<Finding, 'id'>[] = [];
  ribs.forEach(({ part, x }, i) => {
    const [near, far] = i < ventBay ? [i + 1, i] : [i, i + 1];
    if (shut(near) || !shut(far)) return;
    const end = far < near ? 'tail' : 'nose';
    let count = 0;
    for (let bay = far; bay >= 0 && bay < bays && shut(bay); bay += far < near ? -1 : 1) count++;
    findings.push({
      code: 'no-air', level: 'check', place: { x },
      title: said('No air passes rib {rib}: {bays} toward the {end} without a way to the vent', { rib: (part.rib ?? 0) + 1, bays: count === 1 ? 'the bay' : said('{count} bays', { count }), end }),
      advice: said('File a notch into the rib\'s edge on either side of the stringer, or give what lies toward the {end} a vent of its own.', { end }),
      extent: { from: { x: edges[far < near ? far - count + 1 : far] }, until: { x: edges[far < near ? far + 1 : far + count] }, even: true },
    });
  });
  if (rooms[start ^ 1] && !rooms[start ^ 1].vented) {
    findings.push({
      code: 'no-air', level: 'check', place: { x: vent.x }, title: said('No air passes the stringer: {side} has no way to the vent', { side: start % 2 === 0 ? 'port' : 'starboard' }),
      advice: 'Drill a hole through the stringer in the vent\'s bay, halfway up.',
    });
  }
  return { rooms, findings };
}
