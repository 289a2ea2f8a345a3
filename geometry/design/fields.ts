/** What is allowed in each field of the board file, asked of the schema itself, and the error that says so. */
import * as z from 'zod/mini';
import { list, range, said, type Dimension, type Said } from '../said';
import { boardSchema } from './schema';

export type { FieldError } from '../errors';

export type Path = readonly PropertyKey[];

/** A path as text: rail.stripWidth, frames.ribs[3]. */
export function pathText(path: Path): string {
  return path.reduce<string>((text, part) => {
    if (typeof part === 'number') return `${text}[${part}]`;
    const name = shorten(String(part), 40);
    return text === '' ? name : `${text}.${name}`;
  }, '');
}

/** Characters that could disguise or break a line of text: controls and writing-direction marks. */
const UNSEEN = /[\p{Cc}\u2028\u2029\u202a-\u202e\u2066-\u2069]/gu;

/** Text cut to a length, on one line, without characters that could disguise it. */
export function shorten(text: string, most: number): string {
  const cut = text.length > most ? `${text.slice(0, most)}...` : text;
  return cut.replace(UNSEEN, ' ');
}

/** A value as a short text that always fits a message. */
export function valueText(value: unknown): string {
  if (value === undefined) return 'nothing';
  if (typeof value === 'string') return `"${shorten(value, 40)}"`;
  if (typeof value === 'number' || typeof value === 'boolean' || value === null) return String(value);
  if (Array.isArray(value)) return `a list of ${value.length}`;
  if (typeof value === 'object') return 'an object';
  return `a ${typeof value}`;
}

/** What a field holds: with its unit where it is a number as it should be, else as a short text. */
export const givenAt = (path: Path, value: unknown, schema: z.core.$ZodType): Said =>
  typeof value === 'number' && Number.isFinite(value) && fieldRange(path, schema) ? { of: fieldUnit(path), value } : valueText(value);

/** The schema of a field, or undefined where the file has no such field. */
function schemaAt(path: Path, schema: z.core.$ZodType): z.core.$ZodType | undefined {
  let node: unknown = schema;
  for (const part of path) {
    if (node instanceof z.core.$ZodOptional) node = node._zod.def.innerType;
    if (node instanceof z.core.$ZodObject) {
      const { shape } = node._zod.def;
      node = Object.hasOwn(shape, part) ? shape[String(part)] : undefined;
    } else if (node instanceof z.core.$ZodArray && typeof part === 'number') {
      node = node._zod.def.element;
    } else {
      return undefined;
    }
  }
  if (node instanceof z.core.$ZodOptional) node = node._zod.def.innerType;
  return node instanceof z.core.$ZodType ? node : undefined;
}

/** Least and greatest value of a number, or length of a text, by its schema's checks. */
function boundsIn(node: z.core.$ZodNumber | z.core.$ZodString): { readonly min?: number; readonly max?: number } {
  const found: { min?: number; max?: number } = {};
  for (const check of node._zod.def.checks ?? []) {
    if (check instanceof z.core.$ZodCheckGreaterThan) found.min = Number(check._zod.def.value);
    else if (check instanceof z.core.$ZodCheckLessThan) found.max = Number(check._zod.def.value);
    else if (check instanceof z.core.$ZodCheckMinLength) found.min = check._zod.def.minimum;
    else if (check instanceof z.core.$ZodCheckMaxLength) found.max = check._zod.def.maximum;
  }
  return found;
}

/** Ratios and counts under the length curves, the rail, the timber and the readings, which carry no millimetres. */
const PURE = /^lines\.(crown|concave|vee|apex|fullness)\.points\[\d+\]\.v$|^version$|\.(rows|outerLayers|scarfRatio|onHand|price|skinPricePerM2|dryLimit|steamLimit|rib)$|^step$/;

/** What a numeric field is written in: mm, degrees, kg/m3, MPa, or no unit. */
export function fieldUnit(path: Path): Dimension {
  const text = pathText(path);
  if (text.endsWith('Deg')) return 'deg';
  if (text.endsWith('.density')) return 'kg/m3';
  if (/\.(moe|mor)$/.test(text)) return 'MPa';
  if (text === 'adhesive.spread') return 'g/m2';
  if (text.endsWith('Minutes')) return 'min';
  if (text.startsWith('weights.')) return 'kg';
  return PURE.test(text) ? 'count' : 'mm';
}

/** Least and greatest number a field may hold, and whether it must be whole; undefined for what is not a number. */
export function fieldRange(path: Path, schema: z.core.$ZodType = boardSchema): { min: number; max: number; whole: boolean } | undefined {
  const node = schemaAt(path, schema);
  if (!(node instanceof z.core.$ZodNumber)) return undefined;
  const { min, max } = boundsIn(node);
  return min === undefined || max === undefined ? undefined : { min, max, whole: node instanceof z.core.$ZodNumberFormat };
}

/** What a field may hold, with its unit; of a board file unless another schema is given. */
export function allowedAt(path: Path, schema: z.core.$ZodType = boardSchema): Said {
  const number = fieldRange(path, schema);
  if (number) {
    const figures = range(number.min, number.max, fieldUnit(path));
    return number.whole ? said('a whole number, {figures}', { figures }) : figures;
  }
  const node = schemaAt(path, schema);
  if (node instanceof z.core.$ZodString) {
    const { min = 0, max } = boundsIn(node);
    if (path.at(-1) === 'id') return `small letters, digits and hyphens, at most ${max}`;
    return `${min} to ${max} visible characters${path.at(-1) === 'note' ? '' : ' on one line'}`;
  }
  if (node instanceof z.core.$ZodEnum) return Object.values(node._zod.def.entries).map(String).join(' or ');
  if (node instanceof z.core.$ZodLiteral) return list(node._zod.def.values.map((v) => valueText(v)), ' or ');
  if (node instanceof z.core.$ZodBoolean) return 'true or false';
  if (node instanceof z.core.$ZodArray) return 'a list';
  if (node instanceof z.core.$ZodObject) return `an object with ${Object.keys(node._zod.def.shape).join(', ')}`;
  return 'no such field';
}
