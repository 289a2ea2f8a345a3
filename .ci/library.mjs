// Builds what other programs take from the package, and its command line, as plain JavaScript with its types: lib/. `npm pack` asks for it.
import { execFileSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';

const root = fileURLToPath(new URL('..', import.meta.url));
const [lib, js, types] = ['', 'js', 'types'].map((folder) => join(root, 'lib', folder));

rmSync(lib, { recursive: true, force: true });
await build({
  root, configFile: false, logLevel: 'warn', publicDir: false,
  build: {
    ssr: true, target: 'node20', outDir: js, emptyOutDir: false, copyPublicDir: false,
    // package.json stands two folders up from every file of the command line: here too.
    rolldownOptions: { input: { railwright: join(root, 'src/cli/library.ts'), plan: join(root, 'src/cli/plan.ts') }, output: { entryFileNames: '[name].js', chunkFileNames: '[name]-[hash].js' } },
  },
});
// What the command line begins its threads with.
writeFileSync(join(js, 'bin.mjs'), "import './plan.js';\n");

execFileSync(process.execPath, [join(root, 'node_modules/typescript/bin/tsc'), '-p', join(root, '.ci/library.tsconfig.json')], { stdio: 'inherit' });
// Node's own rules of finding a file ask for its whole name.
for (const entry of readdirSync(types, { recursive: true, withFileTypes: true }).filter((one) => one.isFile())) {
  const path = join(entry.parentPath, entry.name);
  const whole = (request) => (existsSync(join(dirname(path), `${request}.d.ts`)) ? `${request}.js` : `${request}/index.js`);
  writeFileSync(path, readFileSync(path, 'utf8').replace(/(\bfrom |\bimport\()(['"])(\.[^'"]*)\2/g, (_, lead, quote, request) => `${lead}${quote}${whole(request)}${quote}`));
}
