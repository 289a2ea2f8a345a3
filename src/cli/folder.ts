/** Files put into a folder all together or not at all; those of an earlier time that no longer belong are removed. */
import { existsSync, mkdirSync, mkdtempSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { systemText } from './boardFile';

export interface FileOut {
  readonly name: string;
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

/** Names in the manifest of an earlier time; none where there is none that can be read. Only plain names count: no list can reach out of its folder. */
function earlier(folder: string): string[] {
  try {
    const { files } = JSON.parse(readFileSync(join(folder, MANIFEST), 'utf8')) as { files?: unknown };
    return Array.isArray(files) ? files.filter((name): name is string => typeof name === 'string' && name !== '' && name === basename(name) && !name.startsWith('.')) : [];
  } catch {
    return [];
  }
}

/**
 * Puts files into a folder, made if missing. They are written beside it first and moved in when all are whole, so a full
 * disk leaves the folder as it was. Returns the names of files of an earlier time that were removed. Throws a FolderError.
 */
export function fillFolder(folder: string, files: readonly FileOut[]): string[] {
  const at = <T>(file: string, act: () => T): T => {
    try {
      return act();
    } catch (error) {
      throw new FolderError(file, error);
    }
  };
  at(folder, () => mkdirSync(folder, { recursive: true }));
  const waiting = at(folder, () => mkdtempSync(join(folder, '.new-')));
  try {
    const names = files.map(({ name }) => name);
    const list: FileOut = { name: MANIFEST, bytes: `${JSON.stringify({ of: 'railwright', files: names }, null, 2)}\n` };
    for (const { name, bytes } of [...files, list]) at(join(folder, name), () => writeFileSync(join(waiting, name), bytes));
    // Whatever cannot be replaced is found before anything is.
    for (const name of [...names, MANIFEST]) {
      at(join(folder, name), () => {
        if (statSync(join(folder, name), { throwIfNoEntry: false })?.isDirectory()) throw Object.assign(new Error('a folder'), { code: 'EISDIR' });
      });
    }
    const gone = earlier(folder).filter((name) => !names.includes(name) && existsSync(join(folder, name)));
    for (const name of [...names, MANIFEST]) at(join(folder, name), () => renameSync(join(waiting, name), join(folder, name)));
    for (const name of gone) at(join(folder, name), () => rmSync(join(folder, name)));
    return gone;
  } finally {
    rmSync(waiting, { recursive: true, force: true });
  }
}
