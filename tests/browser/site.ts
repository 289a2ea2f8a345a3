/**
 * The viewer as a person gets it: a production build, served by the build tool's preview on a free port, and
 * a headless Chromium with a software renderer. Used by the browser tests and by the picture script.
 */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type BrowserServer, chromium } from 'playwright-core';
import { build, type Plugin, preview } from 'vite';
import { findChromium } from '../../.ci/chromium.mjs';

const top = resolve(dirname(fileURLToPath(import.meta.url)), '../..');

const flags = [
  '--no-sandbox',
  '--use-angle=swiftshader',
  '--enable-unsafe-swiftshader',
  '--ignore-gpu-blocklist',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--no-first-run',
];

export interface Site {
  /** Address of the served build, ending in a slash. */
  readonly origin: string;
  /** The folder of the build. */
  readonly folder: string;
  /** Every module of which code came into the page and its threads. */
  readonly bundled: readonly string[];
  readonly close: () => Promise<void>;
}

/**
 * A build as `npm run build` makes it: the test runner's own NODE_ENV would bundle the libraries' development code.
 * Returns the modules of which code came into the page and its threads.
 */
async function buildInto(outDir: string): Promise<string[]> {
  const before = process.env.NODE_ENV;
  process.env.NODE_ENV = 'production';
  const bundled = new Set<string>();
  const note: Plugin = {
    name: 'note-modules',
    generateBundle(_, bundle) {
      const modules = Object.values(bundle).flatMap((file) => (file.type === 'chunk' ? Object.entries(file.modules) : []));
      for (const [id, { renderedLength }] of modules) if (renderedLength > 0) bundled.add(id);
    },
  };
  try {
    await build({ root: top, mode: 'production', logLevel: 'warn', plugins: [note], worker: { plugins: () => [note] }, build: { outDir, emptyOutDir: true } });
    return [...bundled];
  } finally {
    if (before === undefined) delete process.env.NODE_ENV;
    else process.env.NODE_ENV = before;
  }
}

/** Builds the viewer into a temporary folder and serves it on a free port of this machine only. Throws when the build fails. */
export async function serveSite(): Promise<Site> {
  const outDir = await mkdtemp(join(tmpdir(), 'railwright-site-'));
  const remove = () => rm(outDir, { recursive: true, force: true });
  try {
    const bundled = await buildInto(outDir);
    const server = await preview({
      root: top,
      logLevel: 'warn',
      build: { outDir },
      preview: { port: 0, host: '127.0.0.1', open: false },
    });
    const origin = server.resolvedUrls?.local[0];
    if (origin === undefined) throw new Error('the preview server gave no address');
    return {
      origin,
      folder: outDir,
      bundled,
      close: async () => {
        await server.close();
        await remove();
      },
    };
  } catch (error) {
    await remove();
    throw error;
  }
}

/** Starts a Chromium to connect to, with flags beside the usual. Throws when none can be found or installed. */
export async function startChromium(more: readonly string[] = []): Promise<BrowserServer> {
  return chromium.launchServer({ executablePath: await findChromium(), headless: true, args: [...flags, ...more] });
}
