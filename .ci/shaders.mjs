/**
 * Of three's shader texts only those that the stage draws with come into the page: a fifth of that library is texts of
 * materials that nobody asks for, and no bundler can tell. A text that is left out and asked for all the same is an error
 * when it is compiled, which every browser test hears.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const SHADERS = join(dirname(dirname(fileURLToPath(import.meta.url))), 'shaders');

/** What the library's own materials on the stage are made of, `MeshBasicMaterial` and `LineBasicMaterial`; the rest is in shaders/. */
const MATERIALS = ['meshbasic_vert', 'meshbasic_frag'];
const LISTED = /const ShaderChunk = \{\n[^}]*\n\};/;

/** Names of all texts that these take in. Throws a RangeError where there is no such text. */
function needed(texts, names) {
  const all = new Set(names);
  const includes = (text) => [...text.matchAll(/^[ \t]*#include +<(\w+)>/gm)].map(([, name]) => name);
  for (const file of readdirSync(SHADERS)) for (const name of includes(readFileSync(join(SHADERS, file), 'utf8'))) all.add(name);
  // A set grows while it is gone through.
  for (const name of all) {
    if (!Object.hasOwn(texts, name)) throw new RangeError(`three has no shader text ${name}`);
    for (const next of includes(texts[name])) all.add(next);
  }
  return all;
}

/** For the build: leaves the other texts out. */
export const shaderTexts = () => ({
  name: 'railwright-shader-texts',
  apply: 'build',
  async transform(code, id) {
    if (!/three[\\/]build[\\/]three\.module\.js$/.test(id)) return null;
    if (!LISTED.test(code)) throw new Error('three lists its shader texts in another way than before: see .ci/shaders.mjs');
    const { ShaderChunk } = await import('three');
    // What the renderer puts into every program it asks for by name.
    const always = [...code.matchAll(/ShaderChunk\[ '(\w+)' \]/g)].map(([, name]) => name);
    const kept = needed(ShaderChunk, [...MATERIALS, ...always]);
    return code.replace(LISTED, (list) => list.split('\n').filter((line) => !/^\t\w+: /.test(line) || kept.has(line.slice(1, line.indexOf(':')))).join('\n'));
  },
});
