/** Board and readings files and shop profiles from disk: an ordinary file of a sane size in UTF-8, or a field error that says why not. */
import { closeSync, constants, fstatSync, openSync, readFileSync, readSync } from 'node:fs';
import { shorten, type FieldError } from '../../geometry/design/fields';
import { readDesign, type ReadResult } from '../../geometry/design/read';
import { FILE_LIMIT } from '../../geometry/design/text';
import { readReadings, type ReadingsResult } from '../../geometry/trust/readingsFile';
import { readShop, type ShopResult } from '../papers/shopFile';

const refuse = (path: string, allowed: string, message: string): { ok: false; errors: FieldError[] } => ({
  ok: false,
  errors: [{ field: '', value: shorten(path, 200), allowed, message }],
});

/** Why a system call failed, in words. */
export function systemText(error: unknown): string {
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  const words: Readonly<Record<string, string>> = {
    ENOENT: 'there is no such file or folder',
    EISDIR: 'it is a folder, not a file',
    EACCES: 'this user may not open it',
    EPERM: 'this user may not open it',
    ENOTDIR: 'a part of the path is a file, not a folder',
    EEXIST: 'a file of that name already exists',
    ENAMETOOLONG: 'the name is too long',
    ENOSPC: 'the disk is full',
    EROFS: 'the disk is read-only',
  };
  return words[code] ?? `it cannot be opened${code === '' ? '' : ` (${shorten(code, 40)})`}`;
}

/** What comes from a pipe, up to a byte more than any board file may have. */
function readStream(file: number): Buffer {
  const chunks: Buffer[] = [];
  for (let size = 0; size <= FILE_LIMIT;) {
    const chunk = Buffer.alloc(65_536);
    const count = readSync(file, chunk);
    if (count === 0) break;
    chunks.push(chunk.subarray(0, count));
    size += count;
  }
  return Buffer.concat(chunks);
}

/**
 * Read a file by the reader of its text. The size is asked before a byte is read; pipes, devices and folders are
 * refused, so that no name can make the program wait or fill memory.
 */
function readFile<T>(path: string, kind: string, read: (text: string) => T): T | ReturnType<typeof refuse> {
  let bytes: Buffer;
  try {
    // Not blocking: opening a pipe without a writer would wait forever. Standard input is asked for by name.
    const file = path === '-' ? 0 : openSync(path, constants.O_RDONLY | constants.O_NONBLOCK);
    try {
      const status = fstatSync(file);
      if (path === '-' && !status.isFile()) bytes = readStream(file);
      else if (!status.isFile()) return refuse(path, 'an ordinary file', 'it is not an ordinary file');
      else if (status.size > FILE_LIMIT) return refuse(path, `at most ${FILE_LIMIT / 1e6} MB`, `the file is far too large for a ${kind} file: ${(status.size / 1e6).toFixed(1)} MB`);
      else bytes = readFileSync(file);
      if (bytes.length > FILE_LIMIT) return refuse(path, `at most ${FILE_LIMIT / 1e6} MB`, `that is far too large for a ${kind} file`);
    } finally {
      if (file !== 0) closeSync(file);
    }
  } catch (error) {
    return refuse(path, 'a readable file', systemText(error));
  }
  try {
    return read(new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes));
  } catch (error) {
    if (!(error instanceof TypeError)) throw error;
    return refuse(path, 'text in UTF-8', 'the file is not UTF-8 text');
  }
}

/** Read a board file. */
export const readBoardFile = (path: string): ReadResult => readFile(path, 'board', readDesign);

/** Read a readings file. */
export const readReadingsFile = (path: string): ReadingsResult => readFile(path, 'readings', readReadings);

/** Read a shop profile. */
export const readShopFile = (path: string): ShopResult => readFile(path, 'shop profile', readShop);
