/**
 * What the page is made of besides our own code. The build writes `notices.txt`: every package of which code ships in
 * the page, its threads or its service worker, with its licence, read from what was bundled rather than from
 * package.json; it fails where a licence is not known to go with an MIT project.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const top = dirname(dirname(fileURLToPath(import.meta.url)));
export const FILE = 'notices.txt';

/** Permissive licences, by SPDX identifier: they ask for their notice to be kept, and no more. Add one only after reading it. */
const COMPATIBLE = new Set(['0BSD', 'Apache-2.0', 'BlueOak-1.0.0', 'BSD-2-Clause', 'BSD-3-Clause', 'BSL-1.0', 'CC0-1.0', 'ISC', 'MIT', 'MIT-0', 'OFL-1.1', 'Unlicense', 'Zlib']);

/** Whether an SPDX expression can be met from the list: all parts of AND, any of OR. Brackets one level deep are enough for npm. */
export function compatible(expression) {
  const bare = expression.trim().replace(/^\((.*)\)$/, '$1');
  if (/ AND /.test(bare)) return bare.split(' AND ').every(compatible);
  if (/ OR /.test(bare)) return bare.split(' OR ').some(compatible);
  return COMPATIBLE.has(bare);
}

/** Folder of the package a bundled module comes from, undefined for our own. The bundler's helpers are its own package's. */
export function packageFolder(id) {
  const helper = /^\0(vite|rolldown)\//.exec(id);
  if (helper) return join(top, 'node_modules', helper[1]);
  return /^\0?(.*[\\/]node_modules[\\/](?:@[^\\/]+[\\/])?[^\\/?]+)/.exec(id)?.[1];
}

/** Name, version, licence and the text to be kept of an installed package. Throws where it has neither text nor a licence we can quote. */
export function noticeOf(folder) {
  const { name, version, license, licenses, author } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
  const called = (entry) => (typeof entry === 'string' ? entry : entry?.type);
  const licence = called(license) ?? (Array.isArray(licenses) ? licenses.map(called).join(' OR ') : 'none given');
  const files = readdirSync(folder).filter((file) => /^(licen[sc]e|copying|notice)(_\w+)?(\.(md|txt))?$/i.test(file)).sort();
  if (files.length > 0) {
    // The bundler's file goes on to what it is built with, which does not ship.
    const text = files.map((file) => readFileSync(join(folder, file), 'utf8').split(/^# Licenses of bundled dependencies/m)[0].trim()).join('\n\n');
    return { name, version, licence, text };
  }
  if (licence !== 'MIT') throw new Error(`${name} ${version} ships without the text of its licence (${licence})`);
  const own = readFileSync(join(top, 'LICENSE'), 'utf8');
  const by = called(author) ?? author?.name ?? 'its contributors';
  return { name, version, licence, text: `By ${by}; the package holds no licence file.\n\n${own.slice(own.indexOf('Permission')).trim()}` };
}

/** The file: what ships by licence, then each notice. */
export function noticesText(list) {
  const sorted = [...list].sort((a, b) => (a.name < b.name ? -1 : 1));
  const kinds = [...new Set(sorted.map(({ licence }) => licence))].sort();
  const head = kinds.map((kind) => {
    const names = sorted.filter(({ licence }) => licence === kind).map(({ name, version }) => `${name} ${version}`);
    return `${kind} (${names.length}): ${names.join(', ')}`;
  });
  const rule = '-'.repeat(80);
  return [
    `Railwright ships code of these packages, with thanks.\n\n${head.join('\n')}\n`,
    ...sorted.map(({ name, version, licence, text }) => `${rule}\n${name} ${version} (${licence})\n\n${text}\n`),
  ].join('\n');
}

/**
 * The two plugins that make the file: `collect` for every bundle (page, threads, service worker), `write` for the
 * page's, which is put together last.
 * @returns {{ collect: import('vite').Plugin, write: import('vite').Plugin }}
 */
export function notices() {
  const folders = new Set();
  return {
    collect: {
      name: 'railwright-collect',
      apply: 'build',
      generateBundle(_, bundle) {
        for (const chunk of Object.values(bundle)) {
          for (const [id, { renderedLength }] of Object.entries(chunk.modules ?? {})) {
            const folder = renderedLength > 0 ? packageFolder(id) : undefined;
            if (folder !== undefined) folders.add(folder);
          }
        }
      },
    },
    write: {
      name: 'railwright-notices',
      apply: 'build',
      generateBundle: {
        order: 'post',
        handler() {
          const list = [...folders].map(noticeOf);
          const bad = list.filter(({ licence }) => !compatible(licence));
          if (bad.length > 0) this.error(bad.map(({ name, version, licence }) => `not known to go with MIT: ${name} ${version}, ${licence}`).join('\n'));
          this.emitFile({ type: 'asset', fileName: FILE, source: noticesText(list) });
        },
      },
    },
  };
}
