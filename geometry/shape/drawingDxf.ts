/**
 * Reading a drawing from ASCII DXF (group codes as in the public DXF reference, release 2012 and before): lines, polylines
 * with bulges, arcs, circles, ellipses and rational splines, in blocks too. Own reading: the libraries there are leave out
 * a spline's weights, or where in the file an entity stands.
 */
import { arc, bezier, MOST_DEGREE, type At, type Rational } from '../curves/rational';
import { range, said } from '../said';
import { DRAWING_LIMIT, fail, LeftOut, mappedCurve, MOST_PIECES, placeOf, readDrawing, type DrawingRead, type DrawnCurve } from './drawing';

interface Tag {
  readonly code: number;
  readonly value: string;
  readonly line: number;
}

/** An entity with its tags, and the vertices of a polyline of the old kind. */
interface Entity {
  readonly type: string;
  readonly line: number;
  readonly tags: readonly Tag[];
  readonly inner: Entity[];
}

/** Millimetres of one unit by $INSUNITS: inch, foot, mile, mm, cm, m, km, microinch, mil, yard, then the rest of the metric ones. */
const UNITS: Readonly<Record<number, number>> = { 1: 25.4, 2: 304.8, 4: 1, 5: 10, 6: 1000, 8: 25.4e-6, 9: 0.0254, 10: 914.4, 13: 1e-3, 14: 100, 15: 10_000 };
/** Blocks within blocks, and copies of one, at most; degree of a spline. Own choices. */
const DEEPEST = 16;
const MOST_COPIES = 10_000;
const DEGREES = range(1, MOST_DEGREE, 'count');
/** Farthest place from the origin, in the drawing's unit. */
const FARTHEST = 1e9;

function tagsOf(text: string): Tag[] {
  const lines = text.split(/\r\n|\n|\r/);
  const tags: Tag[] = [];
  for (let i = 0; i + 1 < lines.length; i += 2) {
    const code = lines[i].trim();
    if (code === '' && lines.slice(i).every((line) => line.trim() === '')) break;
    if (!/^-?\d{1,5}$/.test(code)) fail(placeOf(i + 1, 'group code'), code === '' ? 'nothing' : code, 'a whole number', 'this line says what the next one holds');
    tags.push({ code: Number(code), value: lines[i + 1].trim(), line: i + 2 });
    if (code === '0' && tags[tags.length - 1].value === 'EOF') return tags;
  }
  return tags;
}

const layerOf = ({ tags }: Entity): string => tags.find(({ code }) => code === 8)?.value ?? '0';
const nameOf = (entity: Entity): string => placeOf(entity.line, entity.type, layerOf(entity));

function numberOf(entity: Entity, { code, value, line }: Tag): number {
  const figure = value === '' ? Number.NaN : Number(value);
  if (!Number.isFinite(figure) || Math.abs(figure) > FARTHEST) fail(`${nameOf(entity)}, line ${line}`, value === '' ? 'nothing' : value, range(-FARTHEST, FARTHEST, 'count'), said('group {code} is not a number it can be', { code: String(code) }));
  return figure;
}

/** The last value of a code, or what stands for it where it is left out. */
function figure(entity: Entity, code: number, without?: number): number {
  const tag = entity.tags.findLast((one) => one.code === code);
  if (tag) return numberOf(entity, tag);
  if (without === undefined) fail(nameOf(entity), 'nothing', 'a number', said('group {code} is missing', { code: String(code) }));
  return without;
}

const all = (entity: Entity, code: number): number[] => entity.tags.flatMap((tag) => (tag.code === code ? [numberOf(entity, tag)] : []));
const point = (entity: Entity, code: number, without?: number): At => ({ x: figure(entity, code, without), y: figure(entity, code + 10, without) });
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

/** Vertices of a LWPOLYLINE: each begins with its x. */
function lightVertices(entity: Entity): Vertex[] {
  const vertices: { x: number; y: number; bulge: number }[] = [];
  const [xs, ys] = [10, 20].map((code) => entity.tags.filter((tag) => tag.code === code).length);
  if (xs !== ys) fail(nameOf(entity), said('{x} x and {y} y', { x: xs, y: ys }), 'as many of each', 'its vertices are not whole');
  for (const tag of entity.tags) {
    if (tag.code === 10) vertices.push({ x: numberOf(entity, tag), y: 0, bulge: 0 });
    const last = vertices.at(-1);
    if (last && tag.code === 20) last.y = numberOf(entity, tag);
    if (last && tag.code === 42) last.bulge = numberOf(entity, tag);
  }
  return vertices;
}

/** A spline by its control points; fit points alone do not say which curve goes through them. */
function spline(entity: Entity): Rational[] {
  const where = nameOf(entity);
  const [xs, ys] = [all(entity, 10), all(entity, 20)];
  const n = xs.length;
  const degree = figure(entity, 71);
  const [least, most] = DEGREES.value;
  if (!Number.isInteger(degree) || degree < least || degree > most) fail(where, degree, DEGREES, 'the degree of a spline');
  if (ys.length !== n) fail(where, said('{x} x and {y} y', { x: n, y: ys.length }), 'as many of each', 'its control points are not whole');
  if (n <= degree) fail(where, said('{n} control points', { n }), said('{least} or more', { least: degree + 1 }), said('too few for a spline of degree {degree}', { degree }));
  const knots = all(entity, 40);
  if (knots.length !== n + degree + 1) fail(where, said('{n} knots', { n: knots.length }), said('{n}', { n: n + degree + 1 }), said('so many knots go with {points} control points of degree {degree}', { points: n, degree }));
  const down = knots.findIndex((knot, i) => i > 0 && knot < knots[i - 1]);
  if (down > 0 || !(knots[n] > knots[degree])) fail(where, String(knots[Math.max(0, down)]), 'rising knots', 'its knots fall, or are all the same');
  const given = all(entity, 41);
  if (given.length !== 0 && given.length !== n) fail(where, said('{n} weights', { n: given.length }), said('{n}, or none', { n }), 'a weight goes with each control point');
  const bad = given.findIndex((weight) => !(weight > 0));
  if (bad >= 0) fail(where, said('weight {i}: {weight}', { i: bad + 1, weight: given[bad] }), 'more than 0', 'a control point that repels the curve, or is none');
  return [{ degree, knots, points: xs.flatMap((x, i) => [x, ys[i]]), weights: given.length > 0 ? given : new Array<number>(n).fill(1) }];
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
      return entity.tags.some(({ code }) => code === 10) ? { pieces: spline(entity), closed: false } : undefined;
    default:
      return undefined;
  }
}

/** Entities whose places are seen from the direction of their extrusion. */
const OWN_SIDE = ['LWPOLYLINE', 'POLYLINE', 'ARC', 'CIRCLE', 'INSERT'];
/** Parts of another entity that need no word of their own. */
const SILENT = ['SEQEND', 'VERTEX', 'ATTRIB', 'VIEWPORT', 'ENDBLK'];

interface File {
  readonly entities: readonly Entity[];
  readonly blocks: ReadonlyMap<string, { readonly base: At; readonly entities: readonly Entity[] }>;
  readonly unit?: number;
}

function fileOf(tags: readonly Tag[]): File {
  const entities: Entity[] = [];
  const blocks = new Map<string, { base: At; entities: Entity[] }>();
  let section = '';
  let unit: number | undefined;
  let block: Entity[] | undefined;
  for (let i = 0; i < tags.length;) {
    const { code, value, line } = tags[i++];
    if (code === 9 && section === 'HEADER' && value === '$INSUNITS' && tags[i]?.code === 70) unit = UNITS[Number(tags[i].value)];
    if (code !== 0) continue;
    const own: Tag[] = [];
    while (i < tags.length && tags[i].code !== 0 && tags[i].code !== 9) own.push(tags[i++]);
    if (value === 'SECTION') section = own.find((tag) => tag.code === 2)?.value ?? '';
    else if (value === 'ENDSEC') section = '';
    else if (section === 'ENTITIES' || section === 'BLOCKS') {
      const entity: Entity = { type: value, line, tags: own, inner: [] };
      if (value === 'BLOCK') {
        block = [];
        blocks.set(own.find((tag) => tag.code === 2)?.value ?? '', { base: point(entity, 10, 0), entities: block });
      } else if (value === 'ENDBLK') block = undefined;
      else {
        const into = section === 'BLOCKS' ? block : entities;
        const holder = into?.at(-1);
        if (value === 'VERTEX' && holder?.type === 'POLYLINE') holder.inner.push(entity);
        else into?.push(entity);
      }
    }
  }
  return { entities, blocks, unit };
}

/** Reads a drawing from the text of a DXF file. Errors name the line, the entity and its layer; what is no curve is left out and told. Linear in the text. */
export const readDxf = (text: string): DrawingRead => readDrawing(() => {
  if (text.length > DRAWING_LIMIT) fail('', `${Math.round(text.length / 1e6)} million characters`, `at most ${DRAWING_LIMIT / 1e6} million`, 'is far too long for a drawing of a board');
  if (text.includes('\u0000')) fail('', 'a binary file', 'DXF as text (ASCII)', 'this reader takes the text kind: save the drawing again as that');
  const tags = tagsOf(text);
  if (!tags.some(({ code, value }) => code === 2 && value === 'ENTITIES')) fail('', 'no ENTITIES section', 'a DXF file', 'this is not a DXF file, or it is cut short');
  const { entities, blocks, unit } = fileOf(tags);
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
        if (!read) left.add(entity.type === 'SPLINE' ? 'SPLINE given by fit points alone, which do not say what curve runs through them' : entity.type);
        else if (read.pieces.length > 0) {
          more(entity, read.pieces.length);
          curves.push(mappedCurve({ name: entity.type, line: entity.line, layer: on, ...read }, here));
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
  if (tags.at(-1)?.value !== 'EOF') left.add('whatever came after the last line: the file has no end mark, and may be cut short');
  return { curves, unit, left };
});
