/** Files put into a folder and its shelves all together or not at all; those of an earlier time that no longer belong are removed. */
import { lstatSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, renameSync, rmdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { SHELVES } from '../papers';
import { systemText } from './boardFile';

export interface FileOut {
  /** A plain name, or a shelf, a slash and a plain name. */
  readonly path: string;
  readonly bytes: Uint8Array | string;
}

/** The list of what was put there, so that a later time knows its own files from the maker's. */
const MANIFEST = 'papers.manifest.json';

/** A file that could not be put in its place. */
export class FolderError extends Error {
  constructor(readonly file: string, cause: unknown) {
    super(`${file}: ${systemText(cause)}`);
    this.name = 'FolderError';
  }
}

const isPlain = (name: string): boolean => name !== '' && name === basename(name) && !name.startsWith('.') && !name.includes('\\');

/** The shelf that a path lies on; undefined for a plain name, null for a path that is neither: no list can reach out of its folder. */
function shelfOf(path: string): string | undefined | null {
  if (isPlain(path)) return undefined;
  const [shelf, name, ...more] = path.split('/');
  return more.length === 0 && name !== undefined && isPlain(name) && SHELVES.some(({ id }) => id === shelf) ? shelf : null;
}

/** Paths in the manifest of an earlier time; none where there is none that can be read. */
function earlier(folder: string): string[] {
  try {
    const { files } = JSON.parse(readFileSync(join(folder, MANIFEST), 'utf8')) as { files?: unknown };
    return Array.isArray(files) ? files.filter((path): path is string => typeof path === 'string' && shelfOf(path) !== null) : [];
  } catch {
    return [];
  }
}

/** Shelves of some paths, each once. */
const shelvesOf = (paths: readonly string[]): string[] => [...new Set(paths.flatMap((path) => shelfOf(path) ?? []))];

/** Whether a folder's shelf is a folder of its own: through a link files would go, or be removed, elsewhere. */
const isShelf = (folder: string, shelf: string): boolean => lstatSync(join(folder, shelf), { throwIfNoEntry: false })?.isDirectory() ?? false;

/**
 * Puts files into a folder, made if missing. They are written beside it first and moved in when all are whole, so a full
 * disk leaves the folder as it was. Returns the paths of files of an earlier time that were removed; a shelf that they leave
 * empty goes with them. Throws a FolderError, and a RangeError for a path that is on no shelf.
 */
export function fillFolder(folder: string, files: readonly FileOut[]): string[] {
  const at = <T>(file: string, act: () => T): T => {
    try {
      return act();
    } catch (error) {
      throw new FolderError(file, error);
    }
  };
  const paths = files.map(({ path }) => path);
  const stray = paths.find((path) => shelfOf(path) === null);
  if (stray !== undefined) throw new RangeError(`${stray} is on no shelf`);
  at(folder, () => mkdirSync(folder, { recursive: true }));
  const waiting = at(folder, () => mkdtempSync(join(folder, '.new-')));
  const made: string[] = [];
  let whole = false;
  try {
    const list: FileOut = { path: MANIFEST, bytes: `${JSON.stringify({ of: 'railwright', files: paths }, null, 2)}\n` };
    const shelves = shelvesOf(paths);
    for (const shelf of shelves) mkdirSync(join(waiting, shelf));
    for (const { path, bytes } of [...files, list]) at(join(folder, path), () => writeFileSync(join(waiting, path), bytes));
    // Whatever cannot be replaced is found before anything is.
    for (const shelf of shelves) {
      at(join(folder, shelf), () => {
        if (isShelf(folder, shelf)) return;
        mkdirSync(join(folder, shelf));
        made.push(shelf);
      });
    }
    for (const path of [...paths, MANIFEST]) {
      at(join(folder, path), () => {
        if (statSync(join(folder, path), { throwIfNoEntry: false })?.isDirectory()) throw Object.assign(new Error('a folder'), { code: 'EISDIR' });
      });
    }
    const before = earlier(folder).filter((path) => shelfOf(path) === undefined || isShelf(folder, path.split('/')[0]));
    const gone = before.filter((path) => !paths.includes(path) && lstatSync(join(folder, path), { throwIfNoEntry: false })?.isDirectory() === false);
    for (const path of [...paths, MANIFEST]) at(join(folder, path), () => renameSync(join(waiting, path), join(folder, path)));
    whole = true;
    for (const path of gone) at(join(folder, path), () => rmSync(join(folder, path)));
    for (const shelf of shelvesOf(before)) at(join(folder, shelf), () => leaveFull(join(folder, shelf)));
    return gone;
  } finally {
    if (!whole) for (const shelf of made) leaveFull(join(folder, shelf));
    rmSync(waiting, { recursive: true, force: true });
  }
}

/** Removes a folder that has nothing in it. */
function leaveFull(folder: string): void {
  if (readdirSync(folder).length === 0) rmdirSync(folder);
}
