/** Whose code ships, and under which licence: by SPDX identifier (SPDX License List, from memory). */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { compatible, noticeOf, packageFolder } from '../../.ci/notices.mjs';

it('knows a licence that goes with an MIT project, and one that does not', () => {
  for (const bad of ['GPL-3.0-only', 'AGPL-3.0-or-later', 'none given', 'UNLICENSED', '(MIT AND GPL-2.0)', 'SEE LICENSE IN LICENSE']) expect(compatible(bad)).toBe(false);
  for (const good of ['MIT', '(MIT OR GPL-3.0)', 'MIT AND Apache-2.0', '0BSD']) expect(compatible(good)).toBe(true);
});

it('finds the package a bundled module comes from', () => {
  const folders = ['/a/src/main.tsx', '\0virtual', '/a/node_modules/three/build/three.core.js', '\0/a/node_modules/papaparse/papaparse.min.js?commonjs-es-import',
    '/a/node_modules/@cantoo/pdf-lib/es/index.js', '/a/node_modules/x/node_modules/@y/z/i.js'].map((id) => packageFolder(id));
  expect(folders).toEqual([undefined, undefined, '/a/node_modules/three', '/a/node_modules/papaparse', '/a/node_modules/@cantoo/pdf-lib', '/a/node_modules/x/node_modules/@y/z']);
  expect(packageFolder('\0vite/preload-helper.js')).toMatch(/node_modules\/vite$/);
});

it('quotes what a package says of itself, and will not ship one that says too little', () => {
  const folder = mkdtempSync(join(tmpdir(), 'railwright-notice-'));
  const put = (file: string, text: string) => writeFileSync(join(folder, file), text);
  try {
    put('package.json', JSON.stringify({ name: 'planks', version: '1.2.3', license: 'ISC', author: { name: 'A. Sawyer' } }));
    expect(() => noticeOf(folder)).toThrow('planks 1.2.3 ships without the text of its licence (ISC)');
    put('package.json', JSON.stringify({ name: 'planks', version: '1.2.3', licenses: [{ type: 'MIT' }], author: { name: 'A. Sawyer' } }));
    expect(noticeOf(folder).text).toMatch(/^By A. Sawyer; .*\n\nPermission is hereby granted[^]*SOFTWARE\.$/);
    put('LICENCE.txt', 'Copyright A. Sawyer\n');
    put('NOTICE', 'With glue by B. Glover\n');
    expect(noticeOf(folder)).toEqual({ name: 'planks', version: '1.2.3', licence: 'MIT', text: 'Copyright A. Sawyer\n\nWith glue by B. Glover' });
  } finally {
    rmSync(folder, { recursive: true });
  }
});
