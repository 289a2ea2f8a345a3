/**
 * `npm run licences`: every package that ships with the page or the command line (production dependencies, all
 * the way down, from the lock file), by licence. Exit 1 where one has no licence, or one that is not known to go
 * with an MIT project: add it to the list below only after reading it.
 */
import { existsSync, readFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';

/** Permissive licences, by SPDX identifier: they ask for their notice to be kept, and no more. */
export const COMPATIBLE = new Set(['0BSD', 'Apache-2.0', 'BlueOak-1.0.0', 'BSD-2-Clause', 'BSD-3-Clause', 'BSL-1.0', 'CC0-1.0', 'ISC', 'MIT', 'MIT-0', 'Unlicense', 'Zlib']);

/** Whether an SPDX expression can be met from the list: all parts of AND, any of OR. Brackets one level deep are enough for npm. */
export function compatible(expression) {
  const bare = expression.trim().replace(/^\((.*)\)$/, '$1');
  if (/ AND /.test(bare)) return bare.split(' AND ').every(compatible);
  if (/ OR /.test(bare)) return bare.split(' OR ').some(compatible);
  return COMPATIBLE.has(bare);
}

/**
 * Licence of an installed package as its own package.json says (older forms are objects or lists), else by the
 * title of its LICENSE file, else undefined.
 */
function licenceOf(folder) {
  const { license, licenses } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
  const name = (entry) => (typeof entry === 'string' ? entry : entry?.type);
  const said = name(license) ?? (Array.isArray(licenses) ? licenses.map(name).join(' OR ') : undefined);
  if (said !== undefined || !existsSync(join(folder, 'LICENSE'))) return said;
  const title = readFileSync(join(folder, 'LICENSE'), 'utf8').trim().split('\n')[0].trim();
  return TITLES[title];
}

const TITLES = { 'MIT License': 'MIT', 'The MIT License (MIT)': 'MIT', 'ISC License': 'ISC' };

/** Production packages of the lock file: name, version and licence, as installed under `top`. */
export function productionPackages(top) {
  const { packages } = JSON.parse(readFileSync(join(top, 'package-lock.json'), 'utf8'));
  return Object.entries(packages)
    .filter(([path, entry]) => path !== '' && !entry.dev && !entry.devOptional && !entry.link)
    .flatMap(([path, entry]) => {
      const name = path.slice(path.lastIndexOf('node_modules/') + 'node_modules/'.length);
      try {
        return [{ name, version: entry.version, licence: licenceOf(join(top, path)) ?? 'none given' }];
      } catch (error) {
        // A package for another system is not installed here; the lock file holds its licence.
        if (error.code !== 'ENOENT') throw error;
        return [{ name, version: entry.version, licence: entry.license ?? 'none given' }];
      }
    });
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  const list = productionPackages(resolve(dirname(fileURLToPath(import.meta.url)), '..'));
  const by = new Map();
  for (const { name, version, licence } of list) by.set(licence, [...(by.get(licence) ?? []), `${name} ${version}`]);
  for (const [licence, names] of [...by].sort((a, b) => b[1].length - a[1].length)) {
    console.log(`${licence} (${names.length}): ${names.sort().join(', ')}`);
  }
  const bad = list.filter((p) => !compatible(p.licence));
  for (const { name, version, licence } of bad) console.error(`not known to be compatible: ${name} ${version}, ${licence}`);
  console.log(`${list.length} packages, ${bad.length} not known to be compatible`);
  process.exitCode = bad.length > 0 ? 1 : 0;
}
