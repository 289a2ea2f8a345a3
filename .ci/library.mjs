// Builds what other programs take from the package, and its command line, as plain JavaScript with its types: lib/. `npm pack` asks for it.
import { execFileSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { buildPrograms } from './programs.mjs';

const root = fileURLToPath(new URL('..', import.meta.url));
const [lib, js, types] = ['', 'js', 'types'].map((folder) => join(root, 'lib', folder));

rmSync(lib, { recursive: true, force: true });
await buildPrograms(js);

execFileSync(process.execPath, [join(root, 'node_modules/typescript/bin/tsc'), '-p', join(root, '.ci/library.tsconfig.json')], { stdio: 'inherit' });
// Node's own rules of finding a file ask for its whole name.
for (const entry of readdirSync(types, { recursive: true, withFileTypes: true }).filter((one) => one.isFile())) {
  const path = join(entry.parentPath, entry.name);
  const whole = (request) => (existsSync(join(dirname(path), `${request}.d.ts`)) ? `${request}.js` : `${request}/index.js`);
  writeFileSync(path, readFileSync(path, 'utf8').replace(/(\bfrom |\bimport\()(['"])(\.[^'"]*)\2/g, (_, lead, quote, request) => `${lead}${quote}${whole(request)}${quote}`));
}
