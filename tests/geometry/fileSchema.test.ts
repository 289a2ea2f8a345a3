/** The JSON Schema of the board file, as ajv reads it (draft 2020-12, strict), against our reader: what one refuses by shape or range, the other does too. */
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { boardFileSchema } from '../../geometry/design/fileSchema';
import { readDesign } from '../../geometry/design/read';
import { planCommand } from '../../src/cli/command';
import { seedNames, seedText } from './boards';

interface Schema {
  readonly [key: string]: unknown;
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly items?: Schema;
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
  // Strict: a word of the schema that the standard does not have is an error.
  const validate = new Ajv2020({ strict: true, allErrors: true }).compile(schema);
  /** Where a value breaks the schema. */
  const broken = (value: unknown): string[] => (validate(value) ? [] : (validate.errors ?? []).map(({ instancePath, message }) => `${instancePath} ${message}`));

  it('is printed by the command, and describes every field, lengths in millimetres', async () => {
    let printed = '';
    expect(await planCommand(['--schema'], { out: (text) => void (printed += text), err: () => {} })).toBe(0);
    expect(JSON.parse(printed)).toEqual(schema);
    const all = [...nodes(schema, '')];
    expect(all.filter(([path, node]) => path !== '' && typeof node.description !== 'string').map(([path]) => path)).toEqual([]);
    const said = (path: string) => all.find(([one]) => one === path)?.[1];
    expect(said('.rail.stripWidth')).toMatchObject({ description: 'Width of sole and cap; millimetres', minimum: 3, maximum: 80 });
    expect(said('.timber.species[].moe')?.description).toMatch(/megapascals$/);
    expect(said('.lines.crown.points[].v')?.description).not.toMatch(/millimetres/);
  });

  it.each(seedNames)('%s validates', (name) => {
    expect(broken(JSON.parse(seedText(name)))).toEqual([]);
  });

  it('refuses what the reader refuses by kind and range, field by field', () => {
    const board: unknown = JSON.parse(seedText(seedNames[0]));
    let both = 0;
    for (const [path, text] of wrongs(board, board, '')) {
      const read = readDesign(text);
      const found = broken(JSON.parse(text));
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
    expect(broken(JSON.parse(named('./board.schema.json')))).toEqual([]);
    for (const wrong of [7, 'x'.repeat(2001)]) {
      expect(readDesign(named(wrong))).toMatchObject({ ok: false, errors: [{ field: '$schema' }] });
      expect(broken(JSON.parse(named(wrong)))[0]).toMatch(/^\/\$schema must/);
    }
  });
});
