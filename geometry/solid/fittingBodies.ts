/** Vent and fitting blocks as solids, where the maker places them: their face shaped to the skin they are glued under. */
import { fittingsOf, VENT_LAND, ventOf } from '../frame/fittings';
import { ribHalf } from '../frame/ends';
import { innerAt, panelProbe } from '../hull/panel';
import type { Body, Mesh, Plan } from '../types';
import { LEAST_DEPTH, MeshBuilder } from './mesh';

/** Steps along and across a block, and round a vent; times the detail. */
const STEPS = 8;
const ROUND = 48;
/** Depth of the timber that the vent's plug goes through, mm: own choice. */
const VENT_DEPTH = 12;

/** The two faces of a block under a skin at a point. */
export type Faces = (x: number, y: number) => { readonly low: number; readonly high: number };

/** A block in plan, or a washer about a vent's hole, and its faces. */
export type FittingShape =
  | { readonly id: string; readonly x0: number; readonly x1: number; readonly y0: number; readonly y1: number; readonly faces: Faces }
  | { readonly id: string; readonly x: number; readonly y: number; readonly inner: number; readonly outer: number; readonly faces: Faces };

/** What vent and fittings are glued to, where the maker places them. One that reaches beyond the rail box has none: a finding says where it is to go. */
export function fittingShapes(plan: Plan): FittingShape[] {
  const { hull, design } = plan;
  const [deck, bottom] = [panelProbe(), panelProbe()];
  /** On the skin's inside, and `depth` from it or on the other skin's. */
  const faces = (under: 'deck' | 'bottom', depth: number): Faces => (x, y) => {
    const low = innerAt(hull.bottom, -1, design.skins.bottom, x, y, bottom).z;
    const high = Math.max(low + LEAST_DEPTH, innerAt(hull.deck, 1, design.skins.deck, x, y, deck).z);
    return under === 'deck' ? { low: Math.max(low, high - depth), high } : { low, high: Math.min(high, low + depth) };
  };
  const inside = (x: number, y: number) => x >= 0 && x <= hull.length && Math.abs(y) <= ribHalf(plan, x) + design.rail.stripWidth;
  const made: FittingShape[] = [];
  const blocks = fittingsOf(plan);
  blocks.forEach(({ kind, x, y, length, width, under, depth, whole }, i) => {
    const nth = blocks.slice(0, i + 1).filter((other) => other.kind === kind).length;
    const [x0, x1, y0, y1] = [x - length / 2, x + length / 2, y - width / 2, y + width / 2];
    if (![[x0, y0], [x1, y0], [x1, y1], [x0, y1]].every(([a, b]) => inside(a, b))) return;
    made.push({ id: `${kind}-block${nth > 1 ? `-${nth}` : ''}`, x0, x1, y0, y1, faces: faces(under, whole ? Infinity : depth) });
  });
  const { proposed, x, y, diameter, through } = ventOf(plan);
  const reach = diameter / 2 + VENT_LAND;
  if (!proposed && [[x - reach, y], [x + reach, y], [x, y - reach], [x, y + reach]].every(([a, b]) => inside(a, b))) {
    made.push({ id: 'vent', x, y, inner: diameter / 2, outer: reach, faces: faces(through, VENT_DEPTH) });
  }
  return made;
}

/** Their bodies; `detail` as of `meshBoard`. */
export const fittingBodies = (plan: Plan, detail: number): Body[] => fittingShapes(plan).map((shape, order) => ({
  id: shape.id, kind: 'fitting', side: 'centre', order,
  mesh: 'inner' in shape ? ventBody(shape.x, shape.y, shape.inner, shape.outer, shape.faces, ROUND * detail) : blockBody(shape.x0, shape.x1, shape.y0, shape.y1, shape.faces, STEPS * detail),
}));

function blockBody(x0: number, x1: number, y0: number, y1: number, faces: Faces, steps: number): Mesh {
  const mesh = new MeshBuilder();
  const points = Array.from({ length: steps + 1 }, (_, i) => Array.from({ length: steps + 1 }, (__, j) => {
    const [x, y] = [x0 + ((x1 - x0) * i) / steps, y0 + ((y1 - y0) * j) / steps];
    return { x, y, ...faces(x, y) };
  }));
  const corner = (i: number, j: number, face: 'low' | 'high') => mesh.vertex(points[i][j].x, points[i][j].y, points[i][j][face]);
  for (const face of ['low', 'high'] as const) {
    const ids = points.map((row, i) => row.map((_, j) => corner(i, j, face)));
    for (let i = 0; i < steps; i++) {
      for (let j = 0; j < steps; j++) {
        const [a, b, c, d] = [ids[i][j], ids[i + 1][j], ids[i + 1][j + 1], ids[i][j + 1]];
        if (face === 'high') mesh.quad(a, b, c, d);
        else mesh.quad(d, c, b, a);
      }
    }
  }
  /** A wall along places of the grid in turn, counter-clockwise as seen from above. */
  const wall = (places: readonly (readonly [number, number])[]) => {
    const ids = places.map(([i, j]) => [corner(i, j, 'low'), corner(i, j, 'high')]);
    for (let k = 0; k + 1 < ids.length; k++) mesh.quad(ids[k][0], ids[k + 1][0], ids[k + 1][1], ids[k][1]);
  };
  const along = Array.from({ length: steps + 1 }, (_, k) => k);
  const back = along.toReversed();
  wall(along.map((k) => [k, 0]));
  wall(along.map((k) => [steps, k]));
  wall(back.map((k) => [k, steps]));
  wall(back.map((k) => [0, k]));
  return mesh.build();
}

/** A washer of timber round the vent's hole. */
function ventBody(x: number, y: number, inner: number, outer: number, faces: Faces, round: number): Mesh {
  const mesh = new MeshBuilder();
  const rim = (r: number) => Array.from({ length: round }, (_, k) => {
    const at = [x + r * Math.cos((2 * Math.PI * k) / round), y + r * Math.sin((2 * Math.PI * k) / round)] as const;
    return { at, ...faces(...at) };
  });
  const [hole, edge] = [rim(inner), rim(outer)];
  const corner = (p: (typeof hole)[number], face: 'low' | 'high') => mesh.vertex(p.at[0], p.at[1], p[face]);
  for (const [a, b, from, to] of [[edge, hole, 'high', 'high'], [hole, edge, 'low', 'low'], [edge, edge, 'low', 'high'], [hole, hole, 'high', 'low']] as const) {
    const ids = a.map((p, k) => [corner(p, from), corner(b[k], to)]);
    for (let k = 0; k < round; k++) mesh.quad(ids[k][0], ids[(k + 1) % round][0], ids[(k + 1) % round][1], ids[k][1]);
  }
  return mesh.build();
}
