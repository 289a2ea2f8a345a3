/** Reads the triangles of a 3MF file (3MF Consortium, Core Specification 1.3): every item that is built, its objects and their parts in place, in the unit that it states. */
import { XMLParser, XMLValidator } from 'fast-xml-parser';
import { unzipSync } from 'fflate';
import { shorten } from '../../../geometry/design/fields';
import { BuildError } from '../../../geometry/errors';
import type { Triangles } from '../../../geometry/shape/hullIn/body';
import type { TableUnit } from '../../../geometry/shape/lengths';
import { Growing } from './lines';

/** The units of the format (section 3.4) that are those of a board; a micron is taken as a thousandth of a millimetre. */
const UNITS: Readonly<Record<string, { readonly unit: TableUnit; readonly scale: number }>> = {
  micron: { unit: 'mm', scale: 0.001 }, millimeter: { unit: 'mm', scale: 1 }, centimeter: { unit: 'cm', scale: 1 }, inch: { unit: 'inch', scale: 1 }, foot: { unit: 'foot', scale: 1 }, meter: { unit: 'm', scale: 1 },
};

/** A tag's attributes, and the tags within it by name; each of these comes as a list (see `LISTS`). */
type Tag = { readonly [name: string]: string | readonly Tag[] | undefined };
const LISTS = new Set(['model', 'resources', 'object', 'mesh', 'vertices', 'vertex', 'triangles', 'triangle', 'components', 'component', 'build', 'item', 'Relationships', 'Relationship']);

const tags = (tag: Tag | undefined, name: string): readonly Tag[] => {
  const found = tag?.[name];
  // An empty tag comes as its text.
  return typeof found === 'object' ? found.filter((one) => typeof one === 'object') : [];
};
const said = (tag: Tag, name: string): string => (typeof tag[name] === 'string' ? tag[name] : '');

const wrong = (field: string, value: string, allowed: string, message: string): never => {
  throw new BuildError({ field, value: shorten(value, 60), allowed, message });
};

/** Largest model within the package, megabytes: all of it stands in memory as it is read. */
const MEGABYTES = 150;

function xmlOf(name: string, bytes: Uint8Array): Tag {
  if (bytes.length > 1e6 * MEGABYTES) wrong(name, `${Math.round(bytes.length / 1e6)} megabytes`, `at most ${MEGABYTES} megabytes`, 'the model is too large: save it as binary STL');
  const text = new TextDecoder().decode(bytes);
  const checked = XMLValidator.validate(text);
  if (checked !== true) wrong(`${name}, line ${checked.err.line}`, checked.err.msg, 'XML', 'cannot be read');
  return new XMLParser({ ignoreAttributes: false, attributeNamePrefix: '', parseAttributeValue: false, removeNSPrefix: true, isArray: (tag, _, __, attribute) => !attribute && LISTS.has(tag) }).parse(text) as Tag;
}

/** Twelve numbers, row by row, by which a point as a row is turned and shifted (section 3.3). */
type Place = readonly number[];
const STILL: Place = [1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0];

function placeOf(tag: Tag): Place {
  const text = said(tag, 'transform').trim();
  if (text === '') return STILL;
  const numbers = text.split(/\s+/).map(Number);
  return numbers.length === 12 && numbers.every(Number.isFinite) ? numbers : wrong('transform', text, 'twelve numbers', 'cannot be read');
}

const moved = (m: Place, [x, y, z]: readonly number[]): number[] => [0, 1, 2].map((d) => x * m[d] + y * m[3 + d] + z * m[6 + d] + m[9 + d]);

/** First `a`, then `b`. */
const after = (a: Place, b: Place): Place => {
  const origin = moved(b, a.slice(9));
  return [0, 3, 6].flatMap((k) => moved([...b.slice(0, 9), 0, 0, 0], a.slice(k, k + 3))).concat(origin);
};

/** Parts within parts that are followed; a file that goes on is one that holds itself. */
const DEEPEST = 20;

export function readThreeMf(bytes: Uint8Array): { readonly body: Triangles; readonly unit: TableUnit } {
  const files = ((): Record<string, Uint8Array> => {
    try {
      return unzipSync(bytes, { filter: ({ name }) => /\.(model|rels)$/i.test(name) });
    } catch (error) {
      return wrong('3MF file', error instanceof Error ? error.message : String(error), 'a package (zip)', 'cannot be unpacked');
    }
  })();
  const links = files['_rels/.rels'];
  const target = links && tags(tags(xmlOf('_rels/.rels', links), 'Relationships')[0], 'Relationship').find((one) => said(one, 'Type').endsWith('/3dmodel'));
  const name = (target ? said(target, 'Target') : '/3D/3dmodel.model').replace(/^\//, '');
  const found = files[name];
  if (!found) wrong('3MF file', name, 'a model in the package', 'is not there');
  const model = tags(xmlOf(name, found), 'model')[0];
  if (!model) wrong(name, 'no model', '3MF', 'is not a 3MF model');
  const stated = said(model, 'unit') || 'millimeter';
  const { unit, scale } = UNITS[stated] ?? wrong(`${name}, unit`, stated, Object.keys(UNITS).join(', '), 'is not a unit of 3MF');
  const objects = new Map(tags(model, 'resources').flatMap((one) => tags(one, 'object')).map((one) => [said(one, 'id'), one]));
  const positions = new Growing(new Float32Array(3 * 4096));
  const indices = new Growing(new Uint32Array(3 * 4096));
  const add = (by: Tag, at: Place, depth: number): void => {
    const id = said(by, 'objectid');
    if (said(by, 'path') !== '') wrong(`object ${id}`, said(by, 'path'), 'objects of the package\'s one model', 'the shape is spread over several models: save it as STL');
    const object = objects.get(id);
    if (!object) return void wrong('objectid', id, [...objects.keys()].join(', ') || 'none', 'names an object that is not there');
    if (depth > DEEPEST) wrong(`object ${id}`, `${depth} deep`, `at most ${DEEPEST}`, 'its parts hold each other');
    const place = after(placeOf(by), at);
    for (const mesh of tags(object, 'mesh')) meshOf(id, mesh, place);
    for (const part of tags(object, 'components').flatMap((one) => tags(one, 'component'))) add(part, place, depth + 1);
  };
  const meshOf = (id: string, mesh: Tag, place: Place): void => {
    const first = positions.length / 3;
    const vertices = tags(mesh, 'vertices').flatMap((one) => tags(one, 'vertex'));
    vertices.forEach((one, i) => {
      const point = ['x', 'y', 'z'].map((axis) => (said(one, axis).trim() === '' ? Number.NaN : Number(said(one, axis))));
      if (!point.every(Number.isFinite)) wrong(`object ${id}, vertex ${i}`, ['x', 'y', 'z'].map((axis) => said(one, axis)).join(' '), 'three numbers', 'cannot be read');
      for (const v of moved(place, point)) positions.push(scale * v);
    });
    tags(mesh, 'triangles').flatMap((one) => tags(one, 'triangle')).forEach((one, i) => {
      for (const corner of ['v1', 'v2', 'v3']) {
        const k = Number(said(one, corner) || Number.NaN);
        if (!Number.isInteger(k) || k < 0 || k >= vertices.length) wrong(`object ${id}, triangle ${i}, ${corner}`, said(one, corner), `0 to ${vertices.length - 1}`, 'names a vertex that is not there');
        indices.push(first + k);
      }
    });
  };
  for (const item of tags(model, 'build').flatMap((one) => tags(one, 'item'))) add(item, STILL, 0);
  return { body: { positions: positions.taken(), indices: indices.taken() }, unit };
}
