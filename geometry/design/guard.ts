/** A first look at a parsed value: plain data of a sane size, before the schema reads it field by field. */
import { pathText, shorten, valueText, type FieldError } from './fields';
import { MAX_POINTS } from './schema';

/** Deepest nesting of a board file; the format itself needs five. */
export const DEPTH_LIMIT = 16;

/** Longest list any field holds. */
const LIST_LIMIT = MAX_POINTS;
/** Most fields one object may have, and longest text; both far above the format's own. */
const FIELD_LIMIT = 100;
const TEXT_LIMIT = 10_000;
/** Most findings one look reports. */
const ERROR_LIMIT = 20;

/** Names that reach into the language's own machinery. */
const MACHINERY = new Set(['__proto__', 'constructor', 'prototype']);

const isPlain = (value: object): boolean => {
  const proto: unknown = Object.getPrototypeOf(value);
  return proto === Object.prototype || proto === null || Array.isArray(value);
};

/** Whether reading a value would run code of its own. */
const hasGetters = (value: object): boolean =>
  Object.keys(value).some((name) => Object.getOwnPropertyDescriptor(value, name)?.get !== undefined);

/**
 * What is not plain data of a sane size in a value: lists, texts or objects too long, nesting too deep (and
 * so any circle), names of the language's machinery, things that are not plain objects. Never recurses, and
 * never looks inside what it refuses, so a million points cost no more than two hundred.
 */
export function strangeParts(root: unknown): FieldError[] {
  const found: FieldError[] = [];
  const open: { value: unknown; path: PropertyKey[] }[] = [{ value: root, path: [] }];
  const say = (path: PropertyKey[], value: string, allowed: string, message: string) =>
    void found.push({ field: pathText(path), value, allowed, message });
  for (let next = open.pop(); next !== undefined && found.length < ERROR_LIMIT; next = open.pop()) {
    const { value, path } = next;
    if (typeof value === 'string' && value.length > TEXT_LIMIT) {
      say(path, `${value.length} characters`, `at most ${TEXT_LIMIT} characters`, 'is far too long a text');
    }
    if (typeof value !== 'object' || value === null) continue;
    if (path.length > DEPTH_LIMIT) {
      say(path.slice(0, 3), 'an endless nesting', `at most ${DEPTH_LIMIT} levels`, 'is nested too deeply');
    } else if (!isPlain(value)) {
      say(path, valueText(value), 'plain data', 'is not plain data');
    } else if (Array.isArray(value)) {
      if (value.length > LIST_LIMIT) say(path, valueText(value), `at most ${LIST_LIMIT} entries`, 'has far too many entries');
      else if (hasGetters(value)) say(path, valueText(value), 'plain data', 'is not plain data');
      else for (let i = value.length - 1; i >= 0; i--) open.push({ value: value[i], path: [...path, i] });
    } else {
      const names = Object.keys(value);
      if (names.length > FIELD_LIMIT) say(path, `${names.length} fields`, `at most ${FIELD_LIMIT} fields`, 'has far too many fields');
      else if (hasGetters(value)) say(path, valueText(value), 'plain data', 'is not plain data');
      else {
        for (const [name, item] of Object.entries(value).reverse()) {
          if (MACHINERY.has(name)) say([...path, name], valueText(item), 'no such field', `is not a field of a board file; remove "${shorten(name, 20)}"`);
          else open.push({ value: item, path: [...path, name] });
        }
      }
    }
  }
  return found;
}
