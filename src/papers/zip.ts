/** Papers in one zip, the same bytes for the same papers and day. */
import { zipSync, type Zippable } from 'fflate';
import { dayOf } from './stamp';

/** How hard to press: a PDF or a 3MF is pressed already, and what a solid loses by pressing harder is a twentieth, for half as much work again. */
const levelOf = (path: string): 0 | 1 | 6 => (/\.(pdf|3mf)$/.test(path) ? 0 : /\.(stl|step|glb|model)$/.test(path) ? 1 : 6);

/** How much of what went before is remembered (65 536 places): more of it than fits near the processor takes a fifth longer, for a thousandth. */
const MEMORY = 4;

/** `files` by their places. Their time is noon of the papers' day, whatever the clock and the time zone. */
export function writeZip(files: readonly { readonly path: string; readonly bytes: Uint8Array }[], date: string): Uint8Array {
  const day = dayOf(date) ?? { year: 1980, month: 1, day: 1 };
  // Zip times are wall-clock times, so the wall clock's own date is what the library has to be given.
  const mtime = new Date(day.year, day.month - 1, day.day, 12);
  const entries: Zippable = {};
  for (const { path, bytes } of files) entries[path] = [bytes, { mtime, level: levelOf(path), mem: MEMORY, os: 0 }];
  return zipSync(entries);
}
