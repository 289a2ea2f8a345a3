/** The starter boards as the tests read them, and a way to spoil one. */
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { readDesign } from '../../geometry/design/read';
import type { Design } from '../../geometry/design/schema';
import { errorLines } from '../support/said';

const folder = new URL('../../seeds/', import.meta.url);

/** File names of the starter boards. */
export const seedNames: readonly string[] = readdirSync(folder).filter((name) => name.endsWith('.board.json')).sort();

/** Path of a starter board on disk. */
export const seedPath = (name: string): string => fileURLToPath(new URL(name, folder));

/** Text of a starter board. */
export const seedText = (name: string): string => readFileSync(new URL(name, folder), 'utf8');

/** A starter board, read; throws where it is unsound. */
export function seedDesign(name: string): Design {
  const read = readDesign(seedText(name));
  if (!read.ok) throw new Error(`${name}: ${errorLines(read.errors)}`);
  return read.design;
}

/**
 * A copy of a design with one field replaced, as plain JSON data. The path names object fields and list
 * places; `undefined` takes the field out. Throws where the path leads nowhere.
 */
export function withField(design: unknown, path: readonly (string | number)[], value: unknown): unknown {
  const copy: unknown = structuredClone(design);
  let at: unknown = copy;
  for (const part of path.slice(0, -1)) at = Reflect.get(Object(at), part);
  if (typeof at !== 'object' || at === null) throw new Error(`no such field: ${path.join('.')}`);
  const name = path[path.length - 1];
  if (value === undefined) Reflect.deleteProperty(at, name);
  else Reflect.set(at, name, value);
  return copy;
}
