/** For the build: writes the service worker, with every file of this build and its hash in its list. */
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join, relative, resolve, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build, type Plugin } from 'vite';

const here = fileURLToPath(new URL('.', import.meta.url));
export const WORKER_FILE = 'offline.js';

function files(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    return entry.isDirectory() ? files(path) : [path];
  });
}

/** Addresses relative to the page, with the hash of what stands there. */
function precache(folder: string): { url: string; revision: string }[] {
  return files(folder)
    .map((path) => ({
      url: relative(folder, path).split(sep).join('/'),
      revision: createHash('sha256').update(readFileSync(path)).digest('hex').slice(0, 16),
    }))
    .filter(({ url }) => url !== WORKER_FILE)
    .sort((a, b) => (a.url < b.url ? -1 : 1));
}

export function offline(): Plugin {
  let outDir = '';
  return {
    name: 'railwright-offline',
    apply: 'build',
    configResolved(config) {
      outDir = resolve(config.root, config.build.outDir);
    },
    // After everything is written; the worker's own build is not the page's, so it does not come here again.
    writeBundle: {
      order: 'post',
      sequential: true,
      async handler() {
        await build({
          configFile: false,
          root: here,
          logLevel: 'warn',
          publicDir: false,
          define: { PRECACHE: JSON.stringify(precache(outDir)), 'process.env.NODE_ENV': '"production"' },
          build: {
            outDir,
            emptyOutDir: false,
            target: 'es2022',
            rolldownOptions: { input: join(here, 'worker.ts'), output: { format: 'iife', entryFileNames: WORKER_FILE } },
          },
        });
      },
    },
  };
}
