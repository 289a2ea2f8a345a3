// For the build: writes the service worker (src/app/offline/worker.ts) with every file of this build and its hash in its list.
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, relative, resolve, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';

const room = fileURLToPath(new URL('../src/app/offline/', import.meta.url));
const WORKER_FILE = 'offline.js';
/** Holds the place in the bundled worker where its list goes. */
const LIST = '__PRECACHE__';

/** @param {string} folder @returns {string[]} */
function files(folder) {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    return entry.isDirectory() ? files(path) : [path];
  });
}

/** Addresses relative to the page, each with the hash of its content. @param {string} folder */
function precache(folder) {
  return files(folder)
    .map((path) => ({
      url: relative(folder, path).split(sep).join('/'),
      revision: createHash('sha256').update(readFileSync(path)).digest('hex').slice(0, 16),
    }))
    .filter(({ url }) => url !== WORKER_FILE)
    .sort((a, b) => (a.url < b.url ? -1 : 1));
}

/**
 * The worker is bundled with the page, so that `collect` sees what it holds; its list can be made only when the rest
 * is written.
 * @param {import('vite').Plugin} collect @returns {import('vite').Plugin}
 */
export function offline(collect) {
  let outDir = '';
  let code = '';
  return {
    name: 'railwright-offline',
    apply: 'build',
    configResolved(config) {
      outDir = resolve(config.root, config.build.outDir);
    },
    async generateBundle() {
      const { output } = await build({
        configFile: false,
        root: room,
        logLevel: 'warn',
        publicDir: false,
        plugins: [collect],
        define: { PRECACHE: LIST, 'process.env.NODE_ENV': '"production"' },
        build: {
          write: false,
          target: 'es2022',
          rolldownOptions: { input: join(room, 'worker.ts'), output: { format: 'iife', entryFileNames: WORKER_FILE } },
        },
      });
      code = output[0].code;
    },
    writeBundle: {
      order: 'post',
      sequential: true,
      handler: () => writeFileSync(join(outDir, WORKER_FILE), code.replace(LIST, () => JSON.stringify(precache(outDir)))),
    },
  };
}
