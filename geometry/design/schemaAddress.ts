/** The `$schema` that a board file may begin with, so that an editor knows its fields. */
import { valueText, type FieldError } from './fields';

/** Longest address that a file may name its schema by, in characters. Own choice. */
export const ADDRESS_LIMIT = 2000;

/** A parsed board file without the address of its schema, which says nothing of the board; or why that address cannot be one. */
export function withoutAddress(value: unknown): { ok: true; value: unknown } | { ok: false; errors: FieldError[] } {
  if (typeof value !== 'object' || value === null || Array.isArray(value) || !Object.hasOwn(value, '$schema')) return { ok: true, value };
  const { $schema, ...board } = value as Record<string, unknown>;
  if (typeof $schema === 'string' && $schema.length <= ADDRESS_LIMIT) return { ok: true, value: board };
  return { ok: false, errors: [{ field: '$schema', value: valueText($schema), allowed: `at most ${ADDRESS_LIMIT} characters`, message: typeof $schema === 'string' ? 'is too long a text' : 'must be text' }] };
}
