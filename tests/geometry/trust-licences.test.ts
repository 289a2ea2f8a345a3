/** What ships may be shipped: licences by SPDX identifier (SPDX License List, from memory). */
import { resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import { compatible, productionPackages } from '../../.ci/licences.mjs';

it('every production dependency has a licence that goes with an MIT project', () => {
  const list = productionPackages(resolve(fileURLToPath(import.meta.url), '../../..'));
  expect(list.map((p: { name: string }) => p.name)).toContain('three');
  expect(list.length).toBeGreaterThan(20);
  expect(list.filter((p: { licence: string }) => !compatible(p.licence))).toEqual([]);
});

it('knows a licence that does not', () => {
  for (const bad of ['GPL-3.0-only', 'AGPL-3.0-or-later', 'none given', 'UNLICENSED', '(MIT AND GPL-2.0)', 'SEE LICENSE IN LICENSE']) expect(compatible(bad)).toBe(false);
  for (const good of ['MIT', '(MIT OR GPL-3.0)', 'MIT AND Apache-2.0', '0BSD']) expect(compatible(good)).toBe(true);
});
