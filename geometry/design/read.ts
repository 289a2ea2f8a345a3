/** Reading a board file: text or parsed value in, a valid design or every error found. Nothing is clamped. */
import type * as z from 'zod/mini';
import { crossErrors } from './cross';
import { allowedAt, givenAt, pathText, valueText, type FieldError, type Path } from './fields';
import { withoutAddress } from './schemaAddress';
import { strangeParts } from './guard';
import { BOARD_FORMAT, BOARD_VERSION, boardSchema, plannedSchema, type Design } from './schema';
import { BUILT_IN_SPECIES } from './timber';
import { parseText } from './text';

/** A valid design with what was noticed, or what is wrong. */
export type ReadResult = { ok: true; design: Design; notes: string[] } | { ok: false; errors: FieldError[] };

/** Brings a board file of one version to the next: takes the parsed value, returns it a version later, and says what its plan changes. */
export interface Migration {
  readonly step: (old: Record<string, unknown>) => Record<string, unknown>;
  readonly note?: string;
}

/** Migrations by the version they start from. */
const MIGRATIONS: Readonly<Record<number, Migration>> = {
  // All that came with version 2 may be left out, which is what an older board says: nothing of it was decided.
  1: {
    step: (old) => ({ ...old, version: 2 }),
    note: 'Bends are judged by method now, from cold to wet heat, and where none does, the strips end on a block: lengths near round ends may differ from what this board planned before.',
  },
};

/** Most errors reported at once. */
const ERROR_LIMIT = 40;

function at(root: unknown, path: Path): unknown {
  return path.reduce<unknown>((value, part) => (typeof value === 'object' && value !== null ? Reflect.get(value, part) : undefined), root);
}

const typeName = (value: unknown): string =>
  value === null ? 'null' : Array.isArray(value) ? 'a list' : typeof value === 'string' ? 'text'
  : typeof value === 'object' ? 'an object' : typeof value === 'boolean' ? 'true or false' : `a ${typeof value}`;

/**
 * What a schema found wrong with a value as field errors, at most 40: an unknown key each, and everything else
 * one. `kind` names the file for the reader.
 */
export function schemaErrors(issues: readonly z.core.$ZodIssue[], root: unknown, schema: z.core.$ZodType, kind: string): FieldError[] {
  return issues.flatMap((issue) => fromIssue(issue, root, schema, kind)).slice(0, ERROR_LIMIT);
}

function fromIssue(issue: z.core.$ZodIssue, root: unknown, schema: z.core.$ZodType, kind: string): FieldError[] {
  const { path } = issue;
  const value = at(root, path);
  const one = (message: string, allowed = allowedAt(path, schema)): FieldError[] => [
    { field: pathText(path), value: givenAt(path, value, schema), allowed, message },
  ];
  if (issue.code === 'unrecognized_keys') {
    return issue.keys.slice(0, ERROR_LIMIT).map((key) => ({
      field: pathText([...path, key]),
      value: valueText(at(root, [...path, key])),
      allowed: allowedAt(path, schema),
      message: `is not a field of a ${kind}; remove it or correct the spelling`,
    }));
  }
  if (value === undefined) return one('is missing');
  switch (issue.code) {
    case 'invalid_type':
      if (typeof value === 'number' && !Number.isFinite(value)) return one('must be a finite number');
      if (typeof value === 'number' && /^(number|int)$/.test(issue.expected)) return one('must be a whole number');
      return one(`must not be ${typeName(value)}`);
    case 'too_small':
    case 'too_big': {
      const small = issue.code === 'too_small';
      const bound = Number(small ? issue.minimum : issue.maximum);
      if (issue.origin === 'array') return one(`has too ${small ? 'few' : 'many'} entries`, `${small ? 'at least' : 'at most'} ${bound} ${bound === 1 ? 'entry' : 'entries'}`);
      if (issue.origin === 'string') return one(small ? 'is too short a text' : 'is too long a text');
      return one(`is too ${small ? 'small' : 'large'}`);
    }
    case 'invalid_format':
      return one('contains a character that is not allowed here');
    default:
      return one(typeof value === 'string' ? 'is not one of the values allowed here' : 'does not fit here');
  }
}

/** A kind of file: what it calls itself, its present version, and its name for the reader. */
interface FileKind {
  readonly format: string;
  readonly version: number;
  readonly name: 'board file' | 'readings file' | 'shop profile';
}

/** Bring a value to the present version of its kind of file, or say why that cannot be. */
export function toPresent(
  value: Record<string, unknown>, migrations: Readonly<Record<number, Migration>>, kind: FileKind,
): { value: Record<string, unknown>; notes: string[] } | FieldError {
  const { format, version } = value;
  if (format !== kind.format) {
    return { field: 'format', value: valueText(format), allowed: `"${kind.format}"`, message: `not a Railwright ${kind.name}` };
  }
  const wrong = (message: string): FieldError => ({ field: 'version', value: valueText(version), allowed: String(kind.version), message });
  if (typeof version !== 'number' || !Number.isInteger(version)) return wrong(version === undefined ? 'is missing' : 'must be a whole number');
  if (version > kind.version) return wrong('the file was written by a newer Railwright; open it there, or bring this one up to date');
  let present = value;
  const notes = version < kind.version ? [`Brought from version ${version} of the ${kind.name} to ${kind.version}.`] : [];
  for (let v = version; v < kind.version; v++) {
    const step = Object.hasOwn(migrations, v) ? migrations[v] : undefined;
    if (step === undefined) return wrong('the file is of an older version, which this Railwright cannot read');
    present = step.step(present);
    if (step.note !== undefined) notes.push(step.note);
  }
  return { value: present, notes };
}

/** Things worth saying about a valid design. */
function remarks(design: Design): string[] {
  const builtIn = new Set(BUILT_IN_SPECIES.map((s) => s.id));
  return design.timber.species
    .filter((s) => builtIn.has(s.id))
    .map((s) => `The file's own timber "${s.id}" replaces the built-in one.`);
}

/**
 * Check a value that is parsed already: a file's, or with `plannedSchema` a design on its way to the planner. Returns the design with its fields in the schema's order, or every
 * error found (at most 40), each with field, value and what is allowed. Never changes a value to make it fit.
 */
export function checkDesign(input: unknown, migrations: Readonly<Record<number, Migration>> = MIGRATIONS, schema: typeof plannedSchema | typeof boardSchema = plannedSchema): ReadResult {
  if (typeof input !== 'object' || input === null || Array.isArray(input)) {
    return { ok: false, errors: [{ field: '', value: valueText(input), allowed: 'an object', message: 'a board file holds one object' }] };
  }
  const strange = strangeParts(input);
  if (strange.length > 0) return { ok: false, errors: strange };
  const present = toPresent(input as Record<string, unknown>, migrations, { format: BOARD_FORMAT, version: BOARD_VERSION, name: 'board file' });
  if ('field' in present) return { ok: false, errors: [present] };
  const parsed = schema.safeParse(present.value);
  if (!parsed.success) {
    return { ok: false, errors: schemaErrors(parsed.error.issues, present.value, schema, 'board file') };
  }
  const errors = crossErrors(parsed.data);
  if (errors.length > 0) return { ok: false, errors: errors.slice(0, ERROR_LIMIT) };
  return { ok: true, design: parsed.data, notes: [...present.notes, ...remarks(parsed.data)] };
}

/**
 * Read the text of a board file. At most FILE_LIMIT characters, refused before parsing; syntax errors say
 * where; then as `checkDesign`. A `$schema`, for the maker's editor, is left out of the design.
 */
export function readDesign(text: string): ReadResult {
  const parsed = parseText(text);
  if (!parsed.ok) return parsed;
  const board = withoutAddress(parsed.value);
  if (!board.ok) return board;
  const checked = checkDesign(board.value, MIGRATIONS, boardSchema);
  return checked.ok ? { ...checked, notes: [...parsed.notes, ...checked.notes] } : checked;
}
