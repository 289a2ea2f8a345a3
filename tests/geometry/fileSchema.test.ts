/** The JSON Schema of the board file against the reader: what one refuses by shape or range, the other does too. */
import { describe, expect, it } from 'vitest';
import { boardFileSchema } from '../../geometry/design/fileSchema';
import { readDesign } from '../../geometry/design/read';
import { planCommand } from '../../src/cli/command';
import { seedNames, seedText } from './boards';

interface Schema {
  readonly [key: string]: unknown;
  readonly type?: string;
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly items?: Schema;
  readonly required?: readonly string[];
  readonly enum?: readonly unknown[];
}

/** The words this walk knows, by JSON Schema draft 2020-12 (Validation, sections 6.1 to 6.5; Core, section 10.3). */
const KNOWN = ['$schema', 'title', 'description', 'type', 'const', 'enum', 'minimum', 'maximum', 'minLength', 'maxLength', 'pattern', 'minItems', 'maxItems', 'items', 'properties', 'required', 'additionalProperties'];

/** Paths at which a value breaks a schema. Written for this test alone, from the standard's text. */
function broken(schema: Schema, value: unknown, path = ''): string[] {
  const at = (bad: boolean) => (bad ? [path] : []);
  const number = (key: string) => schema[key] as number;
  const kind = Array.isArray(value) ? 'array' : typeof value;
  if (schema.type !== undefined && !(schema.type === kind || (schema.type === 'integer' && Number.isInteger(value)))) return [path];
  const all = [...at('const' in schema && schema.const !== value), ...at(schema.enum?.includes(value) === false)];
  if (typeof value === 'number') all.push(...at(value < number('minimum') || value > number('maximum')));
  if (typeof value === 'string') {
    all.push(...at([...value].length < number('minLength') || [...value].length > number('maxLength')));
    if (typeof schema.pattern === 'string') all.push(...at(!new RegExp(schema.pattern, 'u').test(value)));
  }
  if (Array.isArray(value)) {
    all.push(...at(value.length < number('minItems') || value.length > number('maxItems')));
    value.forEach((one, i) => all.push(...broken(schema.items ?? {}, one, `${path}[${i}]`)));
  } else if (typeof value === 'object' && value !== null) {
    for (const key of schema.required ?? []) if (!Object.hasOwn(value, key)) all.push(`${path}.${key}`);
    for (const [key, one] of Object.entries(value)) {
      const field = schema.properties?.[key];
      all.push(...(field ? broken(field, one, `${path}.${key}`) : at(schema.additionalProperties === false).map(() => `${path}.${key}`)));
    }
  }
  return all;
}

function* nodes(schema: Schema, path: string): Generator<[string, Schema]> {
  yield [path, schema];
  for (const [key, one] of Object.entries(schema.properties ?? {})) yield* nodes(one, `${path}.${key}`);
  if (schema.items) yield* nodes(schema.items, `${path}[]`);
}

/** Every single change of a parsed board that is wrong in kind: numbers past any range, texts and lists too long, fields unknown or gone. */
function* wrongs(value: unknown, root: unknown, path: string): Generator<[string, string]> {
  if (typeof value !== 'object' || value === null) return;
  const holder = value as Record<string, unknown>;
  const tried = (key: string, wrong: unknown): [string, string] => {
    const had = holder[key];
    holder[key] = wrong;
    const text = JSON.stringify(root);
    holder[key] = had;
    return [`${path}.${key}`, text];
  };
  for (const [key, one] of Object.entries(value)) {
    if (Array.isArray(value) && Number(key) > 0) break;
    for (const wrong of typeof one === 'number' ? [-1e5, 1e6, 'text', null] : typeof one === 'string' ? ['a\u202eb', 'x'.repeat(3000), 1] : typeof one === 'boolean' ? ['yes'] : [7]) yield tried(key, wrong);
    if (!Array.isArray(value)) yield tried(key, undefined);
    yield* wrongs(one, root, `${path}.${key}`);
  }
  if (!Array.isArray(value)) {
    holder.strange = 1;
    yield [`${path}.strange`, JSON.stringify(root)];
    delete holder.strange;
  }
}

describe('the JSON Schema of the board file', () => {
  const schema = JSON.parse(JSON.stringify(boardFileSchema())) as Schema;

  it('is printed by the command, uses only words this test judges by, and describes every field, lengths in millimetres', async () => {
    let printed = '';
    expect(await planCommand(['--schema'], { out: (text) => void (printed += text), err: () => {} })).toBe(0);
    expect(JSON.parse(printed)).toEqual(schema);
    const all = [...nodes(schema, '')];
    expect(all.flatMap(([path, node]) => Object.keys(node).filter((key) => !KNOWN.includes(key)).map((key) => `${path}: ${key}`))).toEqual([]);
    expect(all.filter(([path, node]) => path !== '' && typeof node.description !== 'string').map(([path]) => path)).toEqual([]);
    const said = (path: string) => all.find(([one]) => one === path)?.[1];
    expect(said('.rail.stripWidth')).toMatchObject({ description: 'Width of sole and cap; millimetres', minimum: 3, maximum: 80 });
    expect(said('.timber.species[].moe')?.description).toMatch(/megapascals$/);
    expect(said('.lines.crown.points[].v')?.description).not.toMatch(/millimetres/);
  });

  it.each(seedNames)('%s validates', (name) => {
    expect(broken(schema, JSON.parse(seedText(name)))).toEqual([]);
  });

  it('refuses what the reader refuses by kind and range, field by field', () => {
    const board: unknown = JSON.parse(seedText(seedNames[0]));
    let both = 0;
    for (const [path, text] of wrongs(board, board, '')) {
      const read = readDesign(text);
      const found = broken(schema, JSON.parse(text));
      // Whatever breaks the schema, the reader refuses; only what fields ask of each other may be the reader's alone.
      if (found.length > 0) expect([path, read.ok]).toEqual([path, false]);
      const byKind = !read.ok && read.errors.some(({ message }) => /^(is missing|is too|must not be|must be a|is not a field|has too|contains a|is not one of)/.test(String(message)));
      if (byKind && found.length === 0) expect.fail(`${path}: the reader alone refuses it: ${JSON.stringify(read)}`);
      if (found.length > 0) both++;
    }
    expect(both).toBeGreaterThan(300);
  });

  it('a file may name its schema, and its design is the same; an address that is none is refused by field', () => {
    const text = seedText(seedNames[0]);
    const named = (address: unknown) => JSON.stringify({ $schema: address, ...(JSON.parse(text) as object) });
    expect(readDesign(named('./board.schema.json'))).toEqual(readDesign(text));
    expect(broken(schema, JSON.parse(named('./board.schema.json')))).toEqual([]);
    for (const wrong of [7, 'x'.repeat(2001)]) {
      expect(readDesign(named(wrong))).toMatchObject({ ok: false, errors: [{ field: '$schema' }] });
      expect(broken(schema, JSON.parse(named(wrong)))).toEqual(['.$schema']);
    }
  });
});
