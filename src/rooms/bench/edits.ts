/** Changes of the board file from the bench: any field by its path, checked like a file, one step of history each. */
import { type FieldError, fieldRange, fieldUnit } from '../../../geometry/design/fields';
import { type Dimension, range, said, type Said } from '../../../geometry/said';
import { checkDesign } from '../../../geometry/design/read';
import type { Design } from '../../../geometry/design/schema';
import { useDesign } from '../../state/design';

/** Names of fields and places in lists, from the whole board inward. */
export type FieldPath = readonly (string | number)[];

/** What stands at a path; undefined where nothing does. */
export function fieldValue(design: Design, path: FieldPath): unknown {
  return path.reduce<unknown>((at, part) => (typeof at === 'object' && at !== null ? Reflect.get(at, part) : undefined), design);
}

/** A copy with the value at a path replaced; undefined removes it. */
function withValue(at: unknown, [part, ...rest]: FieldPath, value: unknown): unknown {
  const next = rest.length === 0 ? value : withValue(typeof at === 'object' && at !== null ? Reflect.get(at, part) : undefined, rest, value);
  if (typeof part === 'number') {
    // A list that is not there yet begins empty.
    const list: readonly unknown[] = Array.isArray(at) ? at : [];
    return next === undefined ? list.filter((_, i) => i !== part) : Object.assign([...list], { [part]: next });
  }
  const { [part]: _, ...others } = (at ?? {}) as Record<string, unknown>;
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

/** What a figure shown as a kind measures. */
export function dimensionOf(path: FieldPath, kind: FigureKind): Dimension {
  if (kind !== 'plain') return kind === 'length' ? 'mm' : 'share';
  const of = fieldUnit(path);
  return of === 'mm' ? 'count' : of;
}

/** What a field may hold; nothing where it is not a number. */
export function allowedHere(path: FieldPath, kind: FigureKind): Said {
  const held = fieldRange(path);
  if (!held) return '';
  const figures = range(held.min, held.max, dimensionOf(path, kind));
  return held.whole ? said('a whole number, {figures}', { figures }) : figures;
}
