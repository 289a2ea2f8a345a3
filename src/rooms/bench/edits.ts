/** Changes of the board file from the bench: any field by its path, checked like a file, one step of history each. */
import { type FieldError, fieldRange, fieldUnit } from '../../../geometry/design/fields';
import { checkDesign } from '../../../geometry/design/read';
import type { Design } from '../../../geometry/design/schema';
import { useDesign } from '../../state/design';
import { fixed, lengthWithUnit, type Unit } from '../../say/units';

/** Names of fields and places in lists, from the whole board inward. */
export type FieldPath = readonly (string | number)[];

/** What stands at a path; undefined where nothing does. */
export function fieldValue(design: Design, path: FieldPath): unknown {
  return path.reduce<unknown>((at, part) => (typeof at === 'object' && at !== null ? Reflect.get(at, part) : undefined), design);
}

/** A copy with the value at a path replaced; undefined takes it away. */
function withValue(at: unknown, [part, ...rest]: FieldPath, value: unknown): unknown {
  const next = rest.length === 0 ? value : withValue(typeof at === 'object' && at !== null ? Reflect.get(at, part) : undefined, rest, value);
  if (Array.isArray(at)) return next === undefined ? at.filter((_, i) => i !== part) : Object.assign([...at], { [part]: next });
  const { [part]: _, ...others } = at as Record<string, unknown>;
  return next === undefined ? others : { ...(at as object), [part]: next };
}

/** Puts values into the board, all or none. Returns what is wrong; nothing where they are in. */
export function putAll(changes: readonly (readonly [FieldPath, unknown])[]): readonly FieldError[] {
  const { design, commit } = useDesign.getState();
  const read = checkDesign(changes.reduce<unknown>((changed, [path, value]) => withValue(changed, path, value), design));
  if (!read.ok) return read.errors;
  commit(read.design);
  return [];
}

export const put = (path: FieldPath, value: unknown): readonly FieldError[] => putAll([[path, value]]);

/** How a number is shown and typed: a length in the maker's unit, a ratio in per cent, a plain figure. */
export type FigureKind = 'length' | 'share' | 'plain';

/** What a field may hold, in the maker's own unit. */
export function allowedHere(path: FieldPath, kind: FigureKind, unit: Unit): string {
  const range = fieldRange(path);
  if (!range) return '';
  if (kind === 'length') return `${lengthWithUnit(range.min, unit)} to ${lengthWithUnit(range.max, unit)}`;
  if (kind === 'share') return `${fixed(range.min * 100, 2)} to ${fixed(range.max * 100, 2)} %`;
  const sign = fieldUnit(path);
  return `${range.whole ? 'a whole number ' : ''}${range.min} to ${range.max}${sign === '' || sign === 'mm' ? '' : ` ${sign}`}`;
}
