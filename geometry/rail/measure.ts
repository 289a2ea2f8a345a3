/**
 * Measuring between two places of the board: straight, along the middle and along the rail; and the places that a pick near
 * them is taken for: ribs, stops, ends of strips, tail and nose.
 */
import { said, type Said } from '../said';
import type { PartKind, Plan, Stop } from '../types';
import { nearestRun, ribAt, sectionAt, sectionDrawing } from './query';
import { stopsOf } from './laid';

export interface MeasuredPlace {
  /** Board axes, mm. */
  readonly at: readonly [x: number, y: number, z: number];
  /** The station told of it, mm from the tail: a rib's or a stop's own. */
  readonly station: number;
  /** Run, mm, and side, where it is on the rail. */
  readonly s?: number;
  readonly side?: 'starboard' | 'port';
  readonly name: Said;
}

/** Distances, mm. `along` is absent where one place is off the rail, or they are on two sides. */
export interface Apart {
  readonly straight: number;
  readonly middle: number;
  readonly along?: number;
}

/** How far two places are apart: straight in space, their stations, and their runs. */
export function measured(a: MeasuredPlace, b: MeasuredPlace): Apart {
  const [straight, middle] = [Math.hypot(...a.at.map((v, i) => v - b.at[i])), Math.abs(a.station - b.station)];
  return a.s === undefined || b.s === undefined || a.side !== b.side ? { straight, middle } : { straight, middle, along: Math.abs(a.s - b.s) };
}

/** A place on the outer upper edge of the cap at a run, where the cursor stands. */
export function placeAtRun(plan: Plan, s: number): MeasuredPlace {
  const { x, y, capTop } = sectionAt(plan, s);
  const rib = ribAt(plan, s);
  return { at: [x, y, capTop], station: rib?.x ?? x, s, side: 'starboard', name: rib ? said('rib {n}', { n: rib.index + 1 }) : 'a place on the rail' };
}

/** The place of a stop: on the outer upper edge of its row. */
export function placeAtStop(plan: Plan, { s, x: station, row, end }: Stop): MeasuredPlace {
  const { x, y, soleTop } = sectionAt(plan, s);
  return { at: [x, y, soleTop + row * plan.design.rail.spacerHeight], station, s, side: 'starboard', name: said('stop of row {row} toward the {end}', { row, end }) };
}

const kept = new WeakMap<Plan, readonly MeasuredPlace[]>();

/** The places of a plan that are known by name, on either side; made once. */
export function namedPlaces(plan: Plan): readonly MeasuredPlace[] {
  const known = kept.get(plan);
  if (known) return known;
  const { rail, hull } = plan;
  const ends = [['sole', rail.sole], ['cap', rail.cap]] as const;
  const starboard: MeasuredPlace[] = [
    ...rail.ribs.map((rib) => placeAtRun(plan, rib.s)),
    ...stopsOf(rail).map((stop) => placeAtStop(plan, stop)),
    ...ends.flatMap(([strip, { s0, s1 }]) => [s0, s1].map((s): MeasuredPlace => {
      const { x, y, soleTop, capTop } = sectionAt(plan, s);
      return { at: [x, y, strip === 'sole' ? soleTop : capTop], station: x, s, side: 'starboard', name: said('end of the {strip}', { strip }) };
    })),
  ];
  const tip = (s: number, x: number, name: Said): MeasuredPlace => ({ at: [x, 0, sectionAt(plan, s).soleTop], station: x, name });
  const all = [
    ...starboard, ...starboard.map((place): MeasuredPlace => ({ ...place, at: [place.at[0], -place.at[1], place.at[2]], side: 'port' })),
    tip(0, 0, 'tail'), tip(rail.face.length, hull.length, 'nose'),
  ];
  kept.set(plan, all);
  return all;
}

/** What the parts are called whose edges are measured; the others are not parts. */
const EDGE_OF: Readonly<Partial<Record<PartKind, (order: number) => Said>>> = {
  sole: () => 'edge of the sole', cap: () => 'edge of the cap', row: (n) => said('edge of row {n}', { n }), 'outer-skin': (n) => said('edge of outer skin {n}', { n }),
  'deck-skin': () => 'edge of the deck skin', 'bottom-skin': () => 'edge of the bottom skin', rib: (n) => said('corner of rib {n}', { n: n + 1 }), block: () => 'edge of the block',
};

/** Least turn at a corner of a part, radians: 15 degrees. Less is a surface that bends. Own choice. */
const CORNER = Math.PI / 12;

/**
 * The corners of the parts in the section square to the rail through a place on the board, board axes, mm: edges of strips, rows
 * and skins there. None on the centreline, and none where the drawing cuts rib and skins off inboard.
 */
export function cornersAt(plan: Plan, [x, y]: MeasuredPlace['at']): readonly MeasuredPlace[] {
  const near = sectionAt(plan, nearestRun(plan, x, y));
  // From the sample to the foot of the square.
  const s = Math.min(plan.rail.face.length, Math.max(0, near.s + (x - near.x) * near.tx + (Math.abs(y) - near.y) * near.ty));
  const { shapes, section, x: station } = sectionDrawing(plan, s);
  const mirror = y < 0 ? -1 : 1;
  const inmost = Math.min(...shapes.flatMap(({ points }) => [...points].filter((_, i) => i % 2 === 0)));
  return shapes.flatMap(({ kind, order, points }) => {
    const name = EDGE_OF[kind]?.(order);
    const n = points.length / 2;
    const point = (i: number) => [points[2 * ((i + n) % n)], points[2 * ((i + n) % n) + 1]];
    return name === undefined ? [] : Array.from({ length: n }, (_, i) => i).flatMap((i): MeasuredPlace[] => {
      const [before, [o, up], after] = [point(i - 1), point(i), point(i + 1)];
      const turn = Math.atan2(after[1] - up, after[0] - o) - Math.atan2(up - before[1], o - before[0]);
      if (Math.abs(Math.sin(turn / 2)) < Math.sin(CORNER / 2) || o < inmost + 1e-6) return [];
      // (o, z) counts outboard from the rib-end line.
      return [{ at: [section.ribX - o * section.nx, mirror * (section.ribY - o * section.ny), up], station, s, side: mirror < 0 ? 'port' : 'starboard', name }];
    });
  });
}

/** A place of the surface that was picked; on the rail where it lies over the box or the outer skins. */
export function placeOnSurface(plan: Plan, [x, y, z]: MeasuredPlace['at']): MeasuredPlace {
  const { stripWidth, outerLayers, outerThickness } = plan.design.rail;
  const s = nearestRun(plan, x, y);
  const face = sectionAt(plan, s);
  const onRail = Math.hypot(face.x - x, face.y - Math.abs(y)) <= Math.max(stripWidth, outerLayers * outerThickness) + 2;
  return { at: [x, y, z], station: x, ...(onRail ? { s, side: y < 0 ? 'port' : 'starboard' } as const : {}), name: 'a place on the surface' };
}
