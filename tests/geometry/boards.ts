/** The boards that the tests' figures are of, the starter boards, and a way to spoil one. */
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { readDesign } from '../../geometry/design/read';
import type { Design } from '../../geometry/design/schema';
import { errorLines } from '../support/said';

const folder = new URL('../boards/', import.meta.url);
const boardsIn = (at: URL): readonly string[] => readdirSync(at).filter((name) => name.endsWith('.board.json')).sort();

/** File names of the tests' own boards. They stay as they are: figures, baselines and old links are of them. */
export const seedNames: readonly string[] = boardsIn(folder);

/** The starter boards, which may change: file name and text. */
export const starterTexts: readonly (readonly [string, string])[] = boardsIn(new URL('../../seeds/', import.meta.url))
  .map((name) => [name, readFileSync(new URL(`../../seeds/${name}`, import.meta.url), 'utf8')]);

/** Path of a board of the tests on disk. */
export const seedPath = (name: string): string => fileURLToPath(new URL(name, folder));

/** Text of a board of the tests. */
export const seedText = (name: string): string => readFileSync(new URL(name, folder), 'utf8');

function designIn(name: string, text: string): Design {
  const read = readDesign(text);
  if (!read.ok) throw new Error(`${name}: ${errorLines(read.errors)}`);
  return read.design;
}

/** A board of the tests, read; throws where it is unsound. */
export const seedDesign = (name: string): Design => designIn(name, seedText(name));

/** The starter boards, read, with their file names; throws where one is unsound. */
export const starterDesigns = (): (readonly [string, Design])[] => starterTexts.map(([name, text]) => [name, designIn(name, text)]);

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
