/**
 * The tags of a DXF file, text or binary (group codes and the types of their values as in the public DXF reference, release
 * 2012 and before; binary also as before R13, with codes of one byte), and the entities they make up.
 */
import type { At } from '../curves/rational';
import { range, said, type Said } from '../said';
import { DRAWING_LIMIT, fail, placeOf } from './drawing';

interface Tag {
  readonly code: number;
  readonly value: string;
  /** Where the value stands. */
  readonly at: number;
}

/** What places are counted in: lines of text, 1 first, or bytes. */
type Counted = 'line' | 'byte';

interface Tags {
  readonly tags: readonly Tag[];
  readonly counted: Counted;
}

/** An entity with its tags, and the vertices of a polyline of the old kind. */
export interface Entity {
  readonly type: string;
  readonly at: number;
  readonly counted: Counted;
  readonly tags: readonly Tag[];
  readonly inner: Entity[];
}

export interface DxfFile {
  readonly entities: readonly Entity[];
  readonly blocks: ReadonlyMap<string, { readonly base: At; readonly entities: readonly Entity[] }>;
  readonly unit?: number;
  /** Whether its end mark is there. */
  readonly ended: boolean;
}

/** Millimetres of one unit by $INSUNITS: inch, foot, mile, mm, cm, m, km, microinch, mil, yard, then the rest of the metric ones. */
const UNITS: Readonly<Record<number, number>> = { 1: 25.4, 2: 304.8, 4: 1, 5: 10, 6: 1000, 8: 25.4e-6, 9: 0.0254, 10: 914.4, 13: 1e-3, 14: 100, 15: 10_000 };
/** Farthest place from the origin, in the drawing's unit. */
const FARTHEST = 1e9;

function textTags(text: string): Tag[] {
  const lines = text.split(/\r\n|\n|\r/);
  const tags: Tag[] = [];
  for (let i = 0; i + 1 < lines.length; i += 2) {
    const code = lines[i].trim();
    if (code === '' && lines.slice(i).every((line) => line.trim() === '')) break;
    if (!/^-?\d{1,5}$/.test(code)) fail(placeOf(`line ${i + 1}`, 'group code'), code === '' ? 'nothing' : code, 'a whole number', 'this line says what the next one holds');
    tags.push({ code: Number(code), value: lines[i + 1].trim(), at: i + 2 });
    if (code === '0' && tags[tags.length - 1].value === 'EOF') return tags;
  }
  return tags;
}

const SENTINEL = 'AutoCAD Binary DXF\r\n\u001a\0';

/** Whether a file is DXF of the binary kind. */
export const isBinaryDxf = (bytes: Uint8Array): boolean => bytes.length >= SENTINEL.length && [...SENTINEL].every((letter, i) => bytes[i] === letter.charCodeAt(0));

/** What the value of a group code is: letters, numbers, or a chunk of bytes that begins with their count. */
type Kind = 'text' | 'real' | 'int8' | 'int16' | 'int32' | 'int64' | 'chunk';
/** Each kind from the first code of a range to its last. */
const KINDS: readonly (readonly [number, number, Kind])[] = [
  [0, 9, 'text'], [10, 59, 'real'], [60, 79, 'int16'], [90, 99, 'int32'], [100, 102, 'text'], [105, 105, 'text'], [110, 149, 'real'], [160, 169, 'int64'], [170, 179, 'int16'],
  [210, 239, 'real'], [270, 289, 'int16'], [290, 299, 'int8'], [300, 309, 'text'], [310, 319, 'chunk'], [320, 369, 'text'], [370, 389, 'int16'], [390, 399, 'text'],
  [400, 409, 'int16'], [410, 419, 'text'], [420, 429, 'int32'], [430, 439, 'text'], [440, 459, 'int32'], [460, 469, 'real'], [470, 481, 'text'], [999, 1003, 'text'],
  [1004, 1004, 'chunk'], [1005, 1009, 'text'], [1010, 1059, 'real'], [1060, 1070, 'int16'], [1071, 1071, 'int32'],
];
const BYTES = { real: 8, int8: 1, int16: 2, int32: 4, int64: 8, chunk: 1, text: 1 } as const;

/** Letters by their bytes: UTF-8 as since release 2007, else each byte a letter. */
function lettersOf(bytes: Uint8Array): string {
  const each = Array.from(bytes, (byte) => String.fromCharCode(byte)).join('');
  if (bytes.every((byte) => byte < 128)) return each;
  try {
    return decodeURIComponent(Array.from(bytes, (byte) => `%${byte.toString(16).padStart(2, '0')}`).join(''));
  } catch {
    return each;
  }
}

function binaryTags(bytes: Uint8Array): Tag[] {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const tags: Tag[] = [];
  // The first tag is 0, SECTION: of a code of two bytes the second is nothing, of one byte the name follows.
  const wide = bytes[SENTINEL.length + 1] === 0;
  let at: number = SENTINEL.length;
  /** Where the file breaks off or goes wrong: the entity that was begun. */
  const where = (): string => {
    const begun = tags.findLastIndex(({ code }) => code === 0);
    if (begun < 0) return `byte ${at}`;
    return placeOf(`byte ${tags[begun].at}`, tags[begun].value, tags.slice(begun).find(({ code }) => code === 8)?.value);
  };
  const need = (size: number): void => {
    if (at + size > bytes.length) fail(where(), said('breaks off at byte {at}', { at: bytes.length }), said('{n} bytes or more', { n: at + size }), 'the file is cut short in this entity');
  };
  while (at < bytes.length) {
    let code = bytes[at];
    const long = wide || code === 255;
    need(wide ? 2 : long ? 3 : 1);
    if (long) code = view.getInt16(at + (wide ? 0 : 1), true);
    at += wide ? 2 : long ? 3 : 1;
    const kind = KINDS.find(([from, to]) => code >= from && code <= to)?.[2];
    if (!kind) fail(where(), said('group {code} at byte {at}', { code: String(code), at }), 'a group code of the DXF reference', 'what follows cannot be read: the file is damaged there');
    const begun = at;
    need(BYTES[kind]);
    let value: string;
    if (kind === 'text') {
      const end = bytes.indexOf(0, at);
      if (end < 0) need(bytes.length - at + 1);
      value = lettersOf(bytes.subarray(at, end)).trim();
      at = end + 1;
    } else if (kind === 'chunk') {
      need(1 + bytes[at]);
      at += 1 + bytes[at];
      value = '';
    } else {
      value = String({ real: () => view.getFloat64(at, true), int8: () => view.getInt8(at), int16: () => view.getInt16(at, true), int32: () => view.getInt32(at, true), int64: () => view.getBigInt64(at, true) }[kind]());
      at += BYTES[kind];
    }
    tags.push({ code, value, at: begun });
    if (code === 0 && value === 'EOF') break;
  }
  return tags;
}

export const layerOf = ({ tags }: Entity): string => tags.find(({ code }) => code === 8)?.value ?? '0';
/** Where an entity begins. */
export const beginOf = ({ at, counted }: Entity): string => `${counted} ${at}`;
export const nameOf = (entity: Entity): string => placeOf(beginOf(entity), entity.type, layerOf(entity));

function numberOf(entity: Entity, { code, value, at }: Tag): number {
  const figure = value === '' ? Number.NaN : Number(value);
  if (!Number.isFinite(figure) || Math.abs(figure) > FARTHEST) fail(`${nameOf(entity)}, ${entity.counted} ${at}`, value === '' ? 'nothing' : value, range(-FARTHEST, FARTHEST, 'count'), said('group {code} is not a number it can be', { code: String(code) }));
  return figure;
}

/** The last value of a code, or what stands for it where it is left out. */
export function figure(entity: Entity, code: number, without?: number): number {
  const tag = entity.tags.findLast((one) => one.code === code);
  if (tag) return numberOf(entity, tag);
  if (without === undefined) fail(nameOf(entity), 'nothing', 'a number', said('group {code} is missing', { code: String(code) }));
  return without;
}

export const all = (entity: Entity, code: number): number[] => entity.tags.flatMap((tag) => (tag.code === code ? [numberOf(entity, tag)] : []));
export const point = (entity: Entity, code: number, without?: number): At => ({ x: figure(entity, code, without), y: figure(entity, code + 10, without) });

/** Places whose x are the values of a code, their y those of one 10 higher; as many of each. */
export function points(entity: Entity, code: number, wrong: Said): At[] {
  const [xs, ys] = [all(entity, code), all(entity, code + 10)];
  if (xs.length !== ys.length) fail(nameOf(entity), said('{x} x and {y} y', { x: xs.length, y: ys.length }), 'as many of each', wrong);
  return xs.map((x, i) => ({ x, y: ys[i] }));
}

/** Each tag that holds one of these codes, with its number, in the file's order. */
export const figures = (entity: Entity, codes: readonly number[]): { readonly code: number; readonly value: number }[] =>
  entity.tags.flatMap((tag) => (codes.includes(tag.code) ? [{ code: tag.code, value: numberOf(entity, tag) }] : []));

function fileOf({ tags, counted }: Tags): DxfFile {
  const entities: Entity[] = [];
  const blocks = new Map<string, { base: At; entities: Entity[] }>();
  let section = '';
  let unit: number | undefined;
  let block: Entity[] | undefined;
  for (let i = 0; i < tags.length;) {
    const { code, value, at } = tags[i++];
    if (code === 9 && section === 'HEADER' && value === '$INSUNITS' && tags[i]?.code === 70) unit = UNITS[Number(tags[i].value)];
    if (code !== 0) continue;
    const own: Tag[] = [];
    while (i < tags.length && tags[i].code !== 0 && tags[i].code !== 9) own.push(tags[i++]);
    if (value === 'SECTION') section = own.find((tag) => tag.code === 2)?.value ?? '';
    else if (value === 'ENDSEC') section = '';
    else if (section === 'ENTITIES' || section === 'BLOCKS') {
      const entity: Entity = { type: value, at, counted, tags: own, inner: [] };
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
  return { entities, blocks, unit, ended: tags.at(-1)?.value === 'EOF' };
}

/** The entities of a DXF file: its text, or its bytes where it is binary. Linear in its length. */
export function entitiesOf(given: string | Uint8Array): DxfFile {
  if (given.length > DRAWING_LIMIT) fail('', `${Math.round(given.length / 1e6)} million characters`, `at most ${DRAWING_LIMIT / 1e6} million`, 'is far too long for a drawing of a board');
  if (typeof given === 'string' && given.includes('\u0000')) fail('', 'a file of another kind', 'DXF, as text or binary', 'neither kind of DXF: save the drawing as DXF again');
  const read: Tags = typeof given === 'string' ? { tags: textTags(given), counted: 'line' } : { tags: binaryTags(given), counted: 'byte' };
  if (!read.tags.some(({ code, value }) => code === 2 && value === 'ENTITIES')) fail('', 'no ENTITIES section', 'a DXF file', 'this is not a DXF file, or it is cut short');
  return fileOf(read);
}
