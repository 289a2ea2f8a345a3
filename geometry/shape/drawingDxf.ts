/**
 * Reading a drawing from DXF (the public DXF reference, release 2012 and before): lines, polylines with bulges, arcs, circles,
 * ellipses and rational splines, in blocks too. Own reading: the libraries there are leave out a spline's weights, or where in
 * the file an entity stands.
 */
import { arc, bezier, type At, type Rational } from '../curves/rational';
import { said } from '../said';
import { fail, LeftOut, mappedCurve, MOST_PIECES, readDrawing, type DrawingRead, type DrawnCurve } from './drawing';
import { splineDrawn } from './drawingSpline';
import { beginOf, entitiesOf, figure, figures, layerOf, nameOf, point, points, type Entity } from './drawingTags';

/** Blocks within blocks, and copies of one, at most. Own choices. */
const DEEPEST = 16;
const MOST_COPIES = 10_000;

const rad = (degrees: number): number => (degrees * Math.PI) / 180;
const ROUND = 2 * Math.PI;
/** The angle at which an arc from one angle to another ends, the next beyond where it begins; from an angle to itself it goes right round. */
const endOf = (from: number, to: number): number => from + ((((to - from) % ROUND) + ROUND) % ROUND || ROUND);

/** The way from one vertex to the next: straight, or an arc that turns by four times the angle whose tangent is the bulge. */
function bent(p: At, q: At, bulge: number): Rational | undefined {
  const chord = Math.hypot(q.x - p.x, q.y - p.y);
  if (chord === 0) return undefined;
  if (bulge === 0) return bezier(p.x, p.y, q.x, q.y);
  const turn = 4 * Math.atan(bulge);
  const off = chord / 2 / Math.tan(turn / 2);
  const c = { x: (p.x + q.x) / 2 - ((q.y - p.y) / chord) * off, y: (p.y + q.y) / 2 + ((q.x - p.x) / chord) * off };
  const r = Math.hypot(p.x - c.x, p.y - c.y);
  const from = Math.atan2(p.y - c.y, p.x - c.x);
  return arc(c, { x: r, y: 0 }, { x: 0, y: r }, from, from + turn);
}

interface Vertex extends At {
  readonly bulge: number;
}

function polyline(vertices: readonly Vertex[], closed: boolean): Rational[] {
  return vertices.flatMap((p, i) => {
    const q = vertices[i + 1] ?? (closed ? vertices[0] : undefined);
    return (q && bent(p, q, p.bulge)) ?? [];
  });
}

/** Vertices of a LWPOLYLINE: each begins with its x, and its bulge follows. */
function lightVertices(entity: Entity): Vertex[] {
  const bulges: number[] = [];
  for (const { code, value } of figures(entity, [10, 42])) {
    if (code === 10) bulges.push(0);
    else if (bulges.length > 0) bulges[bulges.length - 1] = value;
  }
  return points(entity, 10, 'its vertices are not whole').map((at, i) => ({ ...at, bulge: bulges[i] }));
}

/** The pieces of an entity that is a curve, and whether it says that it is closed; undefined for any other. */
function piecesOf(entity: Entity): { readonly pieces: readonly Rational[]; readonly closed: boolean } | undefined {
  const flags = () => figure(entity, 70, 0);
  const openly = (...pieces: readonly (Rational | undefined)[]) => ({ pieces: pieces.filter((piece) => piece !== undefined), closed: false });
  switch (entity.type) {
    case 'LINE':
      return openly(bent(point(entity, 10), point(entity, 11), 0));
    case 'LWPOLYLINE':
      return { pieces: polyline(lightVertices(entity), (flags() & 1) === 1), closed: (flags() & 1) === 1 };
    case 'POLYLINE': {
      // 16 and 64: a mesh; vertices flagged 16 only steer a curve that the others follow.
      if ((flags() & 80) !== 0) return undefined;
      const vertices = entity.inner.filter((one) => (figure(one, 70, 0) & 16) === 0).map((one) => ({ ...point(one, 10), bulge: figure(one, 42, 0) }));
      return { pieces: polyline(vertices, (flags() & 1) === 1), closed: (flags() & 1) === 1 };
    }
    case 'ARC':
    case 'CIRCLE': {
      const r = figure(entity, 40);
      if (!(r > 0)) fail(nameOf(entity), r, 'more than 0', 'the radius');
      const full = entity.type === 'CIRCLE';
      const from = full ? 0 : rad(figure(entity, 50));
      const to = full ? ROUND : endOf(from, rad(figure(entity, 51)));
      return { pieces: [arc(point(entity, 10), { x: r, y: 0 }, { x: 0, y: r }, from, to)], closed: full };
    }
    case 'ELLIPSE': {
      const [u, ratio, from] = [point(entity, 11), figure(entity, 40), figure(entity, 41, 0)];
      if (!(ratio > 0 && ratio <= 1) || Math.hypot(u.x, u.y) === 0) fail(nameOf(entity), ratio, 'more than 0, at most 1', 'the shorter axis as a share of the longer');
      const to = endOf(from, figure(entity, 42, ROUND));
      // Seen from below it runs the other way about.
      const hand = figure(entity, 230, 1) < 0 ? -ratio : ratio;
      return { pieces: [arc(point(entity, 10), u, { x: -u.y * hand, y: u.x * hand }, from, to)], closed: to - from > ROUND - 1e-9 };
    }
    case 'SPLINE':
      return splineDrawn(entity);
    default:
      return undefined;
  }
}

/** Entities whose places are seen from the direction of their extrusion. */
const OWN_SIDE = ['LWPOLYLINE', 'POLYLINE', 'ARC', 'CIRCLE', 'INSERT'];
/** Parts of another entity that need no word of their own. */
const SILENT = ['SEQEND', 'VERTEX', 'ATTRIB', 'VIEWPORT', 'ENDBLK'];

/** Reads a drawing from the text of a DXF file, or its bytes where it is binary. Errors name the line or byte, the entity and its layer; what is no curve is left out and told. */
export const readDxf = (given: string | Uint8Array): DrawingRead => readDrawing(() => {
  const { entities, blocks, unit, ended } = entitiesOf(given);
  const left = new LeftOut();
  const curves: DrawnCurve[] = [];
  let count = 0;
  /** Counts what is taken, so that no few lines make more than can be held. */
  const more = (entity: Entity, by: number): void => {
    count += by;
    if (count > MOST_PIECES) fail(nameOf(entity), said('more than {most} pieces of curves', { most: MOST_PIECES }), said('{most} at most', { most: MOST_PIECES }), 'far too many for a drawing of a board');
  };
  const take = (of: readonly Entity[], map: readonly number[], layer: string | undefined, within: readonly string[]): void => {
    for (const entity of of) {
      if (SILENT.includes(entity.type)) continue;
      if (figure(entity, 67, 0) === 1) {
        left.add(`${entity.type} on a paper sheet`);
        continue;
      }
      const side = [figure(entity, 210, 0), figure(entity, 220, 0)];
      if (Math.hypot(...side) > 1e-6) {
        left.add(`${entity.type} that does not lie in the plane of the drawing`);
        continue;
      }
      const flip = OWN_SIDE.includes(entity.type) && figure(entity, 230, 1) < 0 ? -1 : 1;
      // In a block what lies on layer 0 takes the layer of its copy.
      const own = layerOf(entity);
      const on = own === '0' && layer !== undefined ? layer : own;
      const [a, b, c, d, e, f] = map;
      const here = [a * flip, b * flip, c, d, e, f];
      if (entity.type === 'INSERT') insert(entity, here, on, within);
      else {
        const read = piecesOf(entity);
        if (!read) left.add(entity.type);
        else if (read.pieces.length > 0) {
          more(entity, read.pieces.length);
          curves.push(mappedCurve({ name: entity.type, place: beginOf(entity), layer: on, ...read }, here));
        }
      }
    }
  };
  const insert = (entity: Entity, [a, b, c, d, e, f]: readonly number[], layer: string, within: readonly string[]): void => {
    const name = entity.tags.find(({ code }) => code === 2)?.value ?? '';
    const block = blocks.get(name);
    if (!block) fail(nameOf(entity), `“${name}”`, 'a block of this file', 'no block of this name is in the file');
    if (within.includes(name) || within.length >= DEEPEST) fail(nameOf(entity), `“${name}”`, said('blocks within blocks {most} deep, none in itself', { most: DEEPEST }), 'the block holds itself');
    const [kx, ky, turn] = [figure(entity, 41, 1), figure(entity, 42, 1), rad(figure(entity, 50, 0))];
    const [columns, rows] = [Math.max(1, figure(entity, 70, 1)), Math.max(1, figure(entity, 71, 1))];
    if (columns * rows > MOST_COPIES) fail(nameOf(entity), said('{n} copies', { n: columns * rows }), said('{most} at most', { most: MOST_COPIES }), 'far too many copies of one block');
    const at = point(entity, 10, 0);
    const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
    for (let k = 0; k < columns * rows; k++) {
      more(entity, 1);
      const [dx, dy] = [(k % columns) * figure(entity, 44, 0), Math.floor(k / columns) * figure(entity, 45, 0)];
      const [ox, oy] = [dx - kx * block.base.x, dy - ky * block.base.y];
      // Scaled about the block's base, turned, moved; then as what it lies in.
      const [p, q, r, s] = [kx * cos, kx * sin, -ky * sin, ky * cos];
      const [tx, ty] = [at.x + ox * cos - oy * sin, at.y + ox * sin + oy * cos];
      take(block.entities, [a * p + c * q, b * p + d * q, a * r + c * s, b * r + d * s, a * tx + c * ty + e, b * tx + d * ty + f], layer, [...within, name]);
    }
  };
  take(entities, [1, 0, 0, 1, 0, 0], undefined, []);
  if (!ended) left.add('whatever came after the last line: the file has no end mark, and may be cut short');
  return { curves, unit, left };
});
