/** Changes of single sizes: fields by path, checked like a board file. */
import { checkDesign } from '../../geometry/design/read';
import type { Design } from '../../geometry/design/schema';

/** Dotted path to a number of the design, e.g. `rail.stripWidth`. */
export type SizePath = `rail.${keyof Design['rail']}` | `skins.${keyof Design['skins']}` | `frames.ribThickness`;

/** The number at a path. */
export function sizeAt(design: Design, path: SizePath): number {
  const [room, field] = path.split('.');
  const value = (design[room as 'rail'] as Record<string, unknown>)[field];
  if (typeof value !== 'number') throw new Error(`${path} is not a number`);
  return value;
}

/** A copy of the design with the number at a path put in, checked. */
export function withSize(design: Design, path: SizePath, value: number): ReturnType<typeof checkDesign> {
  const [room, field] = path.split('.');
  return checkDesign({ ...design, [room]: { ...(design[room as 'rail'] as object), [field]: value } });
}

/** A copy of the design with its ribs at these distances from the tail, checked. */
export function withRibs(design: Design, ribs: readonly number[]): ReturnType<typeof checkDesign> {
  return checkDesign({ ...design, frames: { ...design.frames, ribs: [...ribs] } });
}
