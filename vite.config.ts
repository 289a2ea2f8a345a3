import react from '@vitejs/plugin-react';
import { basename } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Plugin } from 'vite';
import { defineConfig } from 'vitest/config';
import { notices } from './.ci/notices.mjs';
import { offline } from './.ci/offline.mjs';
import { shaderTexts } from './.ci/shaders.mjs';

/**
 * What the page may load: its own origin only. Inline styles are for the scene library's labels, which place
 * themselves by a style attribute; blob: is for pictures and files the page itself makes; wasm is the joints' solver.
 */
const policy = (script = '', connect = '') => [
  "default-src 'self'",
  `script-src 'self' 'wasm-unsafe-eval'${script}`,
  "style-src 'self' 'unsafe-inline'",
  "img-src 'self' blob: data:",
  "font-src 'self'",
  `connect-src 'self'${connect}`,
  "worker-src 'self'",
  "manifest-src 'self'",
  "object-src 'none'",
  "base-uri 'none'",
  "form-action 'none'",
].join('; ');

/** A server sends the policy too, so that workers stand under it and no other page can frame this one: a page's own text cannot ask for either. */
const headers = (text: string) => ({
  'Content-Security-Policy': `${text}; frame-ancestors 'none'`,
  'X-Content-Type-Options': 'nosniff',
  'Referrer-Policy': 'no-referrer',
});

/** Writes the policy into the built page, and a file of headers for static hosts that read one. */
const contentPolicy = (): Plugin => ({
  name: 'railwright-content-policy',
  apply: 'build',
  transformIndexHtml: {
    order: 'post',
    handler: () => [
      { tag: 'meta', attrs: { 'http-equiv': 'Content-Security-Policy', content: policy() }, injectTo: 'head-prepend' },
    ],
  },
  generateBundle() {
    const lines = Object.entries(headers(policy())).map(([name, value]) => `  ${name}: ${value}`);
    this.emitFile({ type: 'asset', fileName: '_headers', source: `/*\n${lines.join('\n')}\n` });
  },
});

/** Where the first load begins: the page, and the stage that it asks for at once. */
const FIRST = ['main.tsx', 'stage/Stage.tsx'].map((path) => fileURLToPath(new URL(`src/${path}`, import.meta.url)));
const reached = new Map<string, Set<string>>();

/** Which part of the first load a module belongs to: `page`, `stage`, or neither. */
function firstLoad(id: string, infoOf: (id: string) => { readonly importedIds: readonly string[] } | null): string | null {
  const part = FIRST.find((from) => {
    const all = reached.get(from) ?? new Set([from]);
    if (!reached.has(from)) {
      reached.set(from, all);
      // A set grows while it is gone through.
      for (const one of all) for (const next of infoOf(one)?.importedIds ?? []) all.add(next);
    }
    return all.has(id);
  });
  return part === undefined ? null : part === FIRST[0] ? 'page' : 'stage';
}

/** Has the stage's files fetched with the page's, not after it has run. */
const stageBeside = (): Plugin => ({
  name: 'railwright-stage-beside',
  apply: 'build',
  transformIndexHtml: {
    order: 'post',
    handler: (html, { bundle = {} }) => {
      const chunks = Object.values(bundle).filter((file) => file.type === 'chunk');
      const stage = chunks.find(({ moduleIds }) => moduleIds.includes(FIRST[1]));
      return (stage ? [stage.fileName, ...stage.imports] : []).filter((file) => !html.includes(file)).map((href) => ({ tag: 'link', attrs: { rel: 'modulepreload', crossorigin: true, href: `./${href}` }, injectTo: 'head' as const }));
    },
  },
});

const { collect, write } = notices();

/** After this a test hangs. Far past what any takes on a machine that others keep busy: time decides nothing but that, ms. */
const HANGS = 600_000;

/**
 * Where nobody is there to look, a browser's test that failed is tried once more: a machine that takes its cores away for seconds costs no
 * submission. One that passes only then is told by name at the end (`.ci/test.mjs`), as what it is: a fault in the page or in the test.
 */
const RETRY = process.env.CI ? 1 : 0;

export default defineConfig({
  base: './',
  plugins: [react(), shaderTexts(), contentPolicy(), stageBeside(), collect, offline(collect), write],
  preview: { headers: headers(policy()) },
  // Served from source, the page has the build tool's own inline script and socket.
  server: { headers: headers(policy(" 'unsafe-inline'", ' ws:')) },
  // A component's class is named after its sheet, `Ribbon_note`: sheets have names of their own (tests/geometry/looks.test.ts).
  css: { modules: { generateScopedName: (local: string, sheet: string) => `${basename(sheet).split('.')[0]}_${local}` } },
  worker: { format: 'es', plugins: () => [collect] },
  build: {
    // What README promises: Chromium, Firefox ESR, and Safari as on an iPhone that still gets updates.
    target: ['es2022', 'chrome111', 'firefox128', 'safari16.4'],
    // three alone is past the default limit; tests/browser holds the first load to its compressed budget.
    chunkSizeWarningLimit: 1000,
    rolldownOptions: {
      output: {
        codeSplitting: {
          groups: [
            { name: 'react', test: /node_modules[\\/](react|react-dom|scheduler)[\\/]/, priority: 3 },
            { name: 'three', test: /node_modules[\\/]three[\\/]build[\\/]/, priority: 2 },
            // What every visit loads is one file for the page and one for the stage: a small one for each that a room shares costs a request each.
            { debugName: 'first load', name: (id, chunks) => firstLoad(id, (of) => chunks.getModuleInfo(of)), priority: 1 },
          ],
        },
      },
    },
  },
  test: {
    setupFiles: ['tests/support/cpu.ts', 'tests/support/seed.ts'],
    projects: [
      {
        extends: true,
        test: {
          name: 'kernel',
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/browser/**', 'tests/engines/**'],
          environment: 'node',
          // All cores: left to itself the runner keeps one free, which of two is half.
          maxWorkers: '100%',
          // The kernel keeps nothing from one call to the next that an answer shows (room and triangles it may), so files may share it: each thread loads it once.
          isolate: false,
          testTimeout: HANGS,
          hookTimeout: HANGS,
        },
      },
      {
        extends: true,
        test: {
          name: 'browser',
          include: ['tests/browser/**/*.test.ts'],
          environment: 'node',
          globalSetup: 'tests/browser/global.ts',
          isolate: false,
          // Each file drives a browser with a software renderer, which keeps more than a core busy.
          maxWorkers: 2,
          sequence: { groupOrder: 1 },
          testTimeout: HANGS,
          hookTimeout: HANGS,
          expect: { poll: { timeout: HANGS / 2 } },
          retry: RETRY,
        },
      },
      {
        extends: true,
        test: {
          name: 'engines', include: ['tests/engines/**/*.test.ts'], environment: 'node',
          testTimeout: HANGS, hookTimeout: HANGS, retry: RETRY,
        },
      },
    ],
  },
});
