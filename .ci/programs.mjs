// Library and command line as plain JavaScript, as they are packed: for `npm pack`, and for the bench.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';

const root = fileURLToPath(new URL('..', import.meta.url));

/** Into a folder that stands as deep in the project as src/cli does: package.json two folders up from every file of the command line. */
export async function buildPrograms(to) {
  await build({
    root, configFile: false, logLevel: 'warn', publicDir: false,
    build: {
      ssr: true, target: 'node20', outDir: to, emptyOutDir: false, copyPublicDir: false,
      rolldownOptions: { input: { railwright: join(root, 'src/cli/library.ts'), plan: join(root, 'src/cli/plan.ts') }, output: { entryFileNames: '[name].js', chunkFileNames: '[name]-[hash].js' } },
    },
  });
  // What the command line begins its threads with.
  writeFileSync(join(to, 'bin.mjs'), "import './plan.js';\n");
}
