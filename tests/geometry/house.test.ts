/**
 * The house rules, held by reading every import in geometry/ and src/: data flows one way through the rooms,
 * no circle anywhere, and the kernel knows no view, DOM or Node (the last two also by geometry/tsconfig.json,
 * which type-checks the kernel without their libraries). The project's own rule, no outside source.
 */
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { builtinModules } from 'node:module';
import { dirname, join, relative, resolve, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseSync } from 'vite';
import { describe, expect, it } from 'vitest';

const top = resolve(dirname(fileURLToPath(import.meta.url)), '../..');

/** Order of work. A file may import from its own room and from rooms before it. */
const rooms = ['errors', 'curves', 'design', 'contract', 'hull', 'wood', 'shape', 'rail', 'frame', 'parts', 'solid', 'plan', 'trust', 'search'];

/** The page's shelves, likewise. Rooms stand side by side: none imports from another. */
const shelves = ['say', 'link', 'papers', 'state', 'work', 'ui', 'cli', 'stage', 'ribbon', 'station', 'rooms', 'app', 'main'];

/** What a file outside geometry's folders belongs to; folders are rooms by their own name. */
const loose: Record<string, string> = { 'said.ts': 'errors', 'errors.ts': 'errors', 'types.ts': 'contract', 'plan.ts': 'plan', 'planParts.ts': 'plan' };

/** Files whose types every room shares: importing only a type from them is not a step back. */
const contracts = ['geometry/types.ts', 'geometry/design/schema.ts'];

interface Import {
  /** Path from the top with forward slashes when relative, else the package name as written. */
  readonly to: string;
  readonly typeOnly: boolean;
  /** What is taken by name; `*` for all. */
  readonly names: readonly string[];
}

function sources(folder: string): string[] {
  return readdirSync(join(top, folder), { withFileTypes: true }).flatMap((entry) => {
    const path = `${folder}/${entry.name}`;
    if (entry.isDirectory()) return sources(path);
    return /\.tsx?$/.test(entry.name) ? [path] : [];
  });
}

/** A relative import's file, as a path from the top. */
function locate(from: string, request: string): string {
  const plain = join(top, dirname(from), request.replace(/\?.*$/, ''));
  const found = [plain, `${plain}.ts`, `${plain}.tsx`, join(plain, 'index.ts')].find(
    (path) => existsSync(path) && statSync(path).isFile(),
  );
  return relative(top, found ?? plain).split(sep).join('/');
}

/** Every import and re-export of a text, static or by import('...'). */
function importsOf(path: string, text: string): Import[] {
  const { module, errors } = parseSync(path, text);
  if (errors.length > 0) throw new Error(`${path}: ${errors[0].message}`);
  const out: Import[] = [];
  const add = (request: string, typeOnly: boolean, names: readonly string[]) =>
    out.push({ to: request.startsWith('.') ? locate(path, request) : request, typeOnly, names });
  const called = ({ kind, name }: { kind: string; name: string | null }) => (kind === 'Default' ? 'default' : (name ?? '*'));
  for (const { moduleRequest, entries } of module.staticImports) {
    add(moduleRequest.value, entries.length > 0 && entries.every((name) => name.isType), entries.map(({ importName }) => called(importName)));
  }
  for (const statement of module.staticExports) {
    for (const entry of statement.entries) {
      if (entry.moduleRequest) add(entry.moduleRequest.value, entry.isType, [called(entry.importName)]);
    }
  }
  for (const entry of module.dynamicImports) {
    const request = /^\s*['"]([^'"]+)['"]/.exec(text.slice(entry.moduleRequest.start, entry.moduleRequest.end));
    if (request) add(request[1], false, ['*']);
  }
  return out;
}

function room(path: string): string {
  const [first, second] = path.split('/').slice(1);
  return second === undefined ? (loose[first] ?? 'unknown') : first;
}

/** What is wrong with one import of one kernel file, or undefined. */
function fault(from: string, target: Import): string | undefined {
  if (!target.to.startsWith('geometry/')) {
    const name = target.to.split('/')[0];
    if (target.to.startsWith('node:') || builtinModules.includes(name)) return 'a Node built-in';
    if (/^(react|react-dom|three|zustand|zundo|idb)$|^@react-three$/.test(name)) return 'a view library';
    return /^(src|tests|seeds|shaders|\.\.)$/.test(name) ? 'outside the kernel' : undefined;
  }
  if (target.typeOnly && contracts.includes(target.to)) return undefined;
  const here = rooms.indexOf(room(from));
  const there = rooms.indexOf(room(target.to));
  if (here < 0 || there < 0) return `no place in the order of rooms (${rooms.join(', ')})`;
  return there > here ? `against the flow: ${rooms[here]} comes before ${rooms[there]}` : undefined;
}

/** What is wrong with one import of one file of the page, or undefined. */
function pageFault(from: string, target: Import): string | undefined {
  if (!target.to.startsWith('src/')) return undefined;
  const place = (path: string) => path.split('/').slice(1).map((part) => part.replace(/\.tsx?$/, ''));
  const [[shelf, own], [other, its]] = [place(from), place(target.to)];
  const [here, there] = [shelves.indexOf(shelf), shelves.indexOf(other)];
  if (here < 0 || there < 0) return `no place in the order of shelves (${shelves.join(', ')})`;
  if (there > here) return `against the flow: ${shelf} comes before ${other}`;
  return shelf === 'rooms' && other === 'rooms' && own !== its ? `from one room into another: ${own} and ${its}` : undefined;
}

/** Every module, package or file, that a file loads when it runs: what is imported for its types alone is not. */
function reach(from: string, graph: ReadonlyMap<string, readonly Import[]>, seen = new Set<string>()): Set<string> {
  for (const { to, typeOnly } of graph.get(from) ?? []) {
    if (typeOnly || seen.has(to)) continue;
    seen.add(to);
    reach(to, graph, seen);
  }
  return seen;
}

/** Patterns of a text that look for a unit, and every pattern put together when it runs, which could. */
function unitPatterns(path: string, text: string): string[] {
  // Most files have no line of code with a slash and a unit in it, and need no closer look.
  const near = /^(?!\s*(\*|\/[/*])).*(\/.*([^a-z](mm|cm|m|in|inch|inches|kg)[^a-z]|[°″]).*\/|RegExp)/im;
  if (!near.test(text)) return [];
  const { program, errors } = parseSync(path, text);
  if (errors.length > 0) throw new Error(`${path}: ${errors[0].message}`);
  const found: string[] = [];
  const visit = (node: unknown): void => {
    if (typeof node !== 'object' || node === null) return;
    if ('regex' in node && typeof node.regex === 'object' && node.regex !== null && 'pattern' in node.regex) {
      const pattern = String(node.regex.pattern);
      if (/(?<![a-z\\])(mm|cm|m|in|inch|inches|kg)(?![a-z])|[°″]/i.test(pattern)) found.push(pattern);
    }
    if ('type' in node && node.type === 'NewExpression' && 'callee' in node && typeof node.callee === 'object' && node.callee !== null && 'name' in node.callee && node.callee.name === 'RegExp') found.push('RegExp');
    for (const child of Object.values(node)) visit(child);
  };
  visit(program);
  return found;
}

const isView = (name: string) => /^(react|react-dom|zustand|zundo|@react-three)(\/|$)/.test(name);

/** One circle in a graph of files, as the list of its files, or undefined. */
function circle(graph: ReadonlyMap<string, readonly string[]>): string[] | undefined {
  const done = new Set<string>();
  const trail: string[] = [];
  const visit = (file: string): string[] | undefined => {
    if (done.has(file)) return undefined;
    const at = trail.indexOf(file);
    if (at >= 0) return [...trail.slice(at), file];
    trail.push(file);
    for (const next of graph.get(file) ?? []) {
      const found = visit(next);
      if (found) return found;
    }
    trail.pop();
    done.add(file);
    return undefined;
  };
  for (const file of graph.keys()) {
    const found = visit(file);
    if (found) return found;
  }
  return undefined;
}

/**
 * Exports that need not be, as `file name`: no other file takes them, or only tests do while their own file has no use
 * for them. A type may be exported for the signature of a function that is.
 */
function idle(texts: ReadonlyMap<string, string>): string[] {
  const takers = new Map<string, string[]>();
  for (const [path, text] of texts) {
    for (const { to, names } of importsOf(path, text)) {
      for (const name of names) takers.set(`${to} ${name}`, [...(takers.get(`${to} ${name}`) ?? []), path]);
    }
  }
  return [...texts].flatMap(([path, text]) => {
    const exported = parseSync(path, text).module.staticExports.flatMap(({ entries }) => entries);
    return exported.map(({ exportName, isType }) => ({ name: exportName.name ?? 'default', isType })).filter(({ name, isType }) => {
      const by = [...(takers.get(`${path} ${name}`) ?? []), ...(takers.get(`${path} *`) ?? [])];
      const ownUses = (text.match(new RegExp(`\\b${name}\\b`, 'g'))?.length ?? 0) - 1;
      if (isType && ownUses > 0) return false;
      return path.startsWith('tests/') ? by.length === 0 : by.every((taker) => taker.startsWith('tests/')) && (by.length === 0 || ownUses === 0);
    }).map(({ name }) => `${path} ${name}`);
  });
}

const textsOf = (folder: string) => new Map(sources(folder).map((path) => [path, readFileSync(join(top, path), 'utf8')]));
const read = (folder: string) => new Map([...textsOf(folder)].map(([path, text]) => [path, importsOf(path, text)]));

describe('the house', () => {
  const kernel = read('geometry');
  const app = read('src');

  it('lets data flow one way through the kernel, and knows no view and no Node', () => {
    const faults = [...kernel].flatMap(([path, list]) =>
      list.flatMap((target) => {
        const wrong = fault(path, target);
        return wrong ? [`${path} imports ${target.to}: ${wrong}`] : [];
      }),
    );
    expect(kernel.size).toBeGreaterThan(10);
    expect(faults).toEqual([]);
  });

  it('lets the page point one way too, shelf by shelf, and no room into another', () => {
    const faults = [...app].flatMap(([path, list]) =>
      list.flatMap((target) => {
        const wrong = pageFault(path, target);
        return wrong ? [`${path} imports ${target.to}: ${wrong}`] : [];
      }),
    );
    expect([...new Set([...app.keys()].map((path) => path.split('/')[1].replace(/\.tsx?$/, '')))].sort()).toEqual([...shelves].sort());
    expect(faults).toEqual([]);
  });

  it('has no circle of imports, in the kernel or in the app', () => {
    const graph = new Map([...kernel, ...app].map(([path, list]) => [path, list.map((target) => target.to)]));
    expect(circle(graph)).toBeUndefined();
  });

  it('lets papers and the command line load no view', () => {
    const both = new Map([...kernel, ...app]);
    const paperwork = [...app.keys()].filter((path) => /^src\/(say|link|papers|cli)\//.test(path));
    const faults = paperwork.flatMap((path) => [...reach(path, both)].filter((to) => isView(to) || to.endsWith('.css')).map((to) => `${path} loads ${to}`));
    expect(paperwork.length).toBeGreaterThan(20);
    expect(faults).toEqual([]);
    // The same look, on a file that does load them.
    expect([...reach('src/state/unit.ts', both)].filter(isView).sort()).toEqual(['zustand', 'zustand/middleware']);
  });

  it('lets a worker load no view, and the planner no papers and no solver', () => {
    const both = new Map([...kernel, ...app]);
    const loads = (name: string) => [...reach(`src/work/${name}.worker.ts`, both)];
    const workers = [...app.keys()].flatMap((path) => /^src\/work\/(\w+)\.worker\.ts$/.exec(path)?.[1] ?? []);
    expect(workers.flatMap((name) => loads(name).filter(isView).map((to) => `${name} loads ${to}`))).toEqual([]);
    const heavy = (name: string) => loads(name).some((to) => to.startsWith('src/papers/')) && loads(name).some((to) => to.startsWith('highs'));
    expect(workers.filter(heavy)).toEqual(['bench']);
    expect(loads('plan').filter((to) => to.startsWith('src/') && !to.startsWith('src/work/') || to.startsWith('highs'))).toEqual([]);
  });

  it('keeps the app off the tests', () => {
    const strays = [...app].filter(([, list]) => list.some((target) => target.to.startsWith('tests/')));
    expect(strays.map(([path]) => path)).toEqual([]);
  });

  it('exports nothing that no other file needs, or that only tests use', () => {
    // The evaluator that the bench races against other kernels, and the test runner's own entry.
    const kept = ['geometry/hull/panel.ts surfaceAt', 'tests/browser/global.ts default'];
    // What other programs take is for them (tests/geometry/library.test.ts), and is no use of what it passes on.
    const library = 'src/cli/library.ts';
    const found = idle(new Map([...textsOf('geometry'), ...textsOf('src'), ...textsOf('tests')]));
    expect(found.filter((name) => !name.startsWith(library))).toEqual(kept);
    expect(found.length).toBeGreaterThan(kept.length);
  });

  it('exports each name from one file only', () => {
    const where = new Map<string, string[]>();
    for (const [path, text] of [...textsOf('geometry'), ...textsOf('src')]) {
      const names = new Set(parseSync(path, text).module.staticExports.flatMap(({ entries }) => entries.flatMap(({ exportName, moduleRequest }) => (moduleRequest === null ? exportName.name ?? [] : []))));
      for (const name of names) where.set(name, [...(where.get(name) ?? []), path]);
    }
    expect(where.size).toBeGreaterThan(500);
    // What is said, and the element that shows it.
    const twice = new Map([['Said', ['geometry/said.ts', 'src/ui/Said.tsx']]]);
    expect(new Map([...where].filter(([, paths]) => paths.length > 1))).toEqual(twice);
  });

  it('says of every dependency what it is for', () => {
    const { dependencies, devDependencies } = JSON.parse(readFileSync(join(top, 'package.json'), 'utf8'));
    const guide = readFileSync(join(top, 'DEVELOPERS.md'), 'utf8');
    const said = [...guide.matchAll(/^\| ([^|]+) \|/gm)].flatMap((match) => match[1].split(', '));
    const silent = Object.keys({ ...dependencies, ...devDependencies }).filter((name) => !said.includes(name.replace(/^@types\/.*/, '@types/\\*')));
    expect(silent).toEqual([]);
  });

  it('looks for no figure or unit in words: what is said carries its values', () => {
    const readers = [
      'src/say/units.ts', // lengths as a maker types them
      'src/rooms/family/family.ts', // the length in a board's own name
      'geometry/shape/lengths.ts', 'geometry/shape/offsetsRead.ts', // a table from elsewhere
      'geometry/shape/drawingSvg.ts', // a drawing from elsewhere
    ];
    const found = [...sources('geometry'), ...sources('src')].filter((path) => !readers.includes(path))
      .flatMap((path) => unitPatterns(path, readFileSync(join(top, path), 'utf8')).map((pattern) => `${path}: ${pattern}`));
    expect(found).toEqual([]);
    expect(readers.flatMap((path) => unitPatterns(path, readFileSync(join(top, path), 'utf8'))).length).toBeGreaterThan(2);
    const old = 'const a = /\\d+ mm(?!\\w)/; const b = new RegExp(`[−-]?${figure} mm`, "g"); const c = /^\\d+$/; x.split(" in ");';
    expect(unitPatterns('src/say/old.ts', old)).toEqual(['\\d+ mm(?!\\w)', 'RegExp']);
  });

  it('would see a fault: each kind, from a written example', () => {
    const text = [
      "import { a } from '../rail/box';",
      "import type { FC } from 'react';",
      "import 'node:fs';",
      "export { b } from '../../src/store/store';",
      "import type { Plan } from '../types';",
      "import { d } from '../curves/bspline';",
      "const c = import('path');",
      'export { c };',
    ].join('\n');
    const found = importsOf('geometry/hull/example.ts', text).map((target) => fault('geometry/hull/example.ts', target));
    expect(found.filter((wrong) => wrong !== undefined).sort()).toEqual([
      'a Node built-in',
      'a Node built-in',
      'a view library',
      'against the flow: hull comes before rail',
      'outside the kernel',
    ]);
    const page = (from: string, to: string) => pageFault(from, { to, typeOnly: false, names: [] });
    expect(page('src/state/view.ts', 'src/work/planner.ts')).toBe('against the flow: state comes before work');
    expect(page('src/rooms/bench/pages.ts', 'src/rooms/lines/lines.ts')).toBe('from one room into another: bench and lines');
    expect(page('src/study/study.ts', 'src/say/units.ts')).toContain('no place');
    expect(page('src/rooms/bench/pages.ts', 'src/rooms/bench/edits.ts')).toBeUndefined();
    expect(idle(new Map([
      ['src/a.ts', "import { f } from './b.ts'; export { g } from './b.ts'; const all = () => import('./c.ts'); all();"],
      ['src/b.ts', 'export const f = 1, g = 2, h = 3, k = 4; export const l = k;'],
      ['src/c.ts', 'export const m = 5;'],
      ['tests/d.ts', "import { h, k } from '../src/b.ts'; export type N = typeof h | typeof k;"],
    ]))).toEqual(['src/a.ts g', 'src/b.ts h', 'src/b.ts l', 'tests/d.ts N']);
    expect(circle(new Map([['a', ['b']], ['b', ['c']], ['c', ['a']]]))).toEqual(['a', 'b', 'c', 'a']);
    expect(circle(new Map([['a', ['b', 'c']], ['b', ['c']], ['c', []]]))).toBeUndefined();
  });
});
