/**
 * Looks belong to what they are the look of, held by reading every sheet and every class of src/: a component imports
 * the sheet that defines each class it uses, so that none arrives with another room, and no rule reaches out of its own
 * component or room. The project's own rule, no outside source. lightningcss, which the build tool comes with, reads the sheets.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type Declaration, type Selector, type SelectorComponent, transform } from 'lightningcss';
import { parseSync } from 'vite';
import { describe, expect, it } from 'vitest';

const top = join(dirname(fileURLToPath(import.meta.url)), '../..');

/** The sheets for all: colours and bare elements, and words that several shelves or rooms use, each in a layer of its own. */
const ALL = 'src/ui/all.css';
const THEME = 'src/ui/theme.css';
const WORDS = 'src/ui/controls.css';

/** A node of the parsed text; only what is looked at is named. */
interface Node {
  readonly type: string;
  readonly [key: string]: unknown;
}

/** What a component's file says of looks. A class of a module is written `sheet#class`. */
interface Uses {
  readonly sheets: readonly string[];
  readonly classes: ReadonlySet<string>;
  readonly faults: readonly string[];
}

const isNode = (value: unknown): value is Node => typeof value === 'object' && value !== null && 'type' in value;

function nodes(value: unknown, out: Node[] = []): Node[] {
  if (isNode(value)) out.push(value);
  if (typeof value === 'object' && value !== null) for (const part of Object.values(value)) nodes(part, out);
  return out;
}

/** Shelf, or room of the shelf of rooms, that a file belongs to: `src/ui`, `src/rooms/family`. */
const home = (path: string): string => path.split('/').slice(0, path.startsWith('src/rooms/') ? 3 : 2).join('/');
const isModule = (sheet: string): boolean => sheet.endsWith('.module.css');

/** All that a className may be, or undefined where that cannot be told. */
function texts(node: Node, modules: ReadonlyMap<string, string>): string[] | undefined {
  const all = (...parts: unknown[]) => parts.map((part) => (isNode(part) ? texts(part, modules) : undefined));
  const either = (lists: (string[] | undefined)[]) => (lists.some((list) => !list) ? undefined : lists.flatMap((list) => list ?? []));
  switch (node.type) {
    case 'JSXExpressionContainer': return all(node.expression)[0];
    case 'Literal': return typeof node.value === 'string' ? [node.value] : undefined;
    case 'ConditionalExpression': return either(all(node.consequent, node.alternate));
    // `className` is handed on by a component whose user has said it; `undefined` is none.
    case 'Identifier': return node.name === 'undefined' || node.name === 'className' ? [''] : undefined;
    case 'MemberExpression': {
      const [object, property] = [node.object, node.property].map((part) => (isNode(part) && part.type === 'Identifier' ? String(part.name) : ''));
      const sheet = modules.get(object);
      return sheet === undefined || node.computed === true ? undefined : [`${sheet}#${property}`];
    }
    case 'TemplateLiteral': return spliced(quasis(node), all(...(node.expressions as unknown[])));
    default: return undefined;
  }
}

const quasis = (template: Node): string[] => (template.quasis as { readonly value: { readonly cooked: string } }[]).map(({ value }) => value.cooked);

/** All that a text with holes may be, of all that its holes may be. */
const spliced = (between: readonly string[], holes: readonly (string[] | undefined)[]): string[] | undefined => holes.reduce<string[] | undefined>(
  (sofar, hole, i) => sofar && hole && sofar.flatMap((text) => hole.map((more) => `${text}${more}${between[i + 1]}`)), [between[0]],
);

/** The values of `class` in a painter's template, each with what stands in its holes. */
function painted(template: Node, modules: ReadonlyMap<string, string>): (string[] | undefined)[] {
  const HOLE = '\u{10ffff}';
  const holes = template.expressions as Node[];
  const before = (text: string) => text.split(HOLE).length - 1;
  const whole = quasis(template).join(HOLE);
  return [...whole.matchAll(/\sclass=(?:"([^"]*)"|(\u{10ffff}))/gu)].map((match) => {
    const [value, first] = [match[1] ?? match[2], before(whole.slice(0, match.index))];
    return spliced(value.split(HOLE), holes.slice(first, first + before(value)).map((hole) => texts(hole, modules)));
  });
}

function usesOf(path: string, text: string): Uses {
  const { program, module, errors } = parseSync(path, text);
  if (errors.length > 0) throw new Error(`${path}: ${errors[0].message}`);
  const sheets: string[] = [];
  const modules = new Map<string, string>();
  for (const { moduleRequest, entries } of module.staticImports) {
    if (!moduleRequest.value.endsWith('.css')) continue;
    const sheet = join(dirname(path), moduleRequest.value);
    sheets.push(sheet);
    if (isModule(sheet)) modules.set(entries[0].localName.value, sheet);
  }
  const classes = new Set<string>();
  const faults: string[] = [];
  for (const node of nodes(program.body)) {
    const named = node.type === 'JSXAttribute' && (node.name as Node).name === 'className' ? [texts(node.value as Node, modules)]
      : node.type === 'AssignmentExpression' && ((node.left as Node).property as Node | undefined)?.name === 'className' ? [texts(node.right as Node, modules)]
      : node.type === 'TaggedTemplateExpression' && /^(svg|html)$/.test(String((node.tag as Node).name)) ? painted(node.quasi as Node, modules) : [];
    for (const found of named) {
      if (!found) faults.push(`a class that cannot be read, where a data attribute would say it: ${text.slice(Number(node.start), Number(node.end))}`);
      for (const name of (found ?? []).flatMap((one) => one.split(/\s+/))) if (name !== '') classes.add(name);
    }
    if (node.type === 'CallExpression' && /^(closest|matches|querySelector(All)?)$/.test(String(((node.callee as Node).property as Node | undefined)?.name))) {
      const said = (node.arguments as Node[])[0];
      if (/\.[a-z]/i.test(text.slice(Number(said.start), Number(said.end)))) faults.push('looks something up by its class');
    }
  }
  return { sheets, classes, faults };
}

/** The classes a selector names anywhere in it. */
const classesIn = (selector: Selector): string[] => selector.flatMap((part: SelectorComponent) =>
  part.type === 'class' ? [part.name]
  : part.type === 'pseudo-class' && (part.kind === 'is' || part.kind === 'not' || part.kind === 'where' || part.kind === 'has') ? part.selectors.flatMap((inner) => classesIn(inner)) : []);

interface Sheet {
  readonly selectors: readonly Selector[];
  /** Sheets it brings into a layer. */
  readonly layers: readonly string[];
  readonly faults: readonly string[];
}

function sheetOf(path: string, text: string): Sheet {
  const selectors: Selector[] = [];
  const layers: string[] = [];
  const faults: string[] = [];
  transform({
    filename: path, code: Buffer.from(text),
    visitor: {
      Rule: {
        style: ({ value }) => {
          selectors.push(...value.selectors);
          if (value.declarations?.importantDeclarations?.length) faults.push('is important, so that no other rule can be');
          if (!/"data-theme"/.test(JSON.stringify(value.selectors))) return;
          const { declarations = [], importantDeclarations = [] } = value.declarations ?? {};
          const more = [...declarations, ...importantDeclarations].map(nameOf).filter((name) => !isColour(name));
          if (value.rules?.length) more.push('a rule within it');
          if (more.length > 0) faults.push(`sets ${more.join(', ')} by the light, which is for colours alone`);
        },
        import: ({ value }) => {
          if (value.layer) layers.push(join(dirname(path), value.url));
          else faults.push(`brings ${value.url} in no layer`);
        },
      },
    },
  });
  return { selectors, layers, faults };
}

/** A light sets colours alone: of a page in the second one, only they are looked at (tests/browser/axe.ts). */
const isColour = (name: string): boolean => name.startsWith('--') || name === 'color-scheme' || name === 'forced-color-adjust';
const nameOf = (declared: Declaration): string =>
  (declared.property === 'custom' ? declared.value.name : declared.property === 'unparsed' ? declared.value.propertyId.property : declared.property);

/** What is wrong with the looks of a set of files, by path, sheets among them. */
function faultsOf(files: ReadonlyMap<string, string>): string[] {
  const faults: string[] = [];
  const sheets = new Map([...files].filter(([path]) => path.endsWith('.css')).map(([path, text]) => [path, sheetOf(path, text)]));
  const users = new Map([...files].filter(([path, text]) => path.endsWith('.tsx') || /\b(closest|matches|querySelector)|\b(svg|html)`/.test(text)).map(([path, text]) => [path, usesOf(path, text)]));
  const defined = new Map([...sheets].map(([path, { selectors }]) => [path, new Set(selectors.flatMap(classesIn))]));
  const shared = defined.get(WORDS) ?? new Set<string>();
  const names = [...sheets.keys()].filter(isModule).map((path) => basename(path));

  for (const [path, { sheets: own, classes, faults: wrong }] of users) {
    faults.push(...wrong.map((fault) => `${path}: ${fault}`));
    for (const sheet of own) {
      if (!sheets.has(sheet)) faults.push(`${path} imports ${sheet}, which is not there`);
      if (sheet === ALL ? path !== 'src/main.tsx' : home(sheet) !== home(path)) faults.push(`${path} imports ${sheet}, which is not its own`);
    }
    const here = new Set([...shared, ...own.filter((sheet) => !isModule(sheet)).flatMap((sheet) => [...(defined.get(sheet) ?? [])])]);
    for (const name of classes) {
      const [sheet, local] = name.split('#');
      if (local === undefined ? !here.has(name) : !defined.get(sheet)?.has(local)) faults.push(`${path} uses ${name}, which no sheet it imports defines`);
    }
  }
  for (const [sheet, { selectors, layers, faults: wrong }] of sheets) {
    const importers = [...users].filter(([, { sheets: own }]) => own.includes(sheet));
    faults.push(...wrong.map((fault) => `${sheet} ${fault}`));
    if (sheet !== ALL && layers.length > 0) faults.push(`${sheet} brings another sheet`);
    const room = basename(home(sheet));
    const first = (selector: Selector) => (selector[0].type === 'class' ? selector[0].name : '');
    if (importers.length === 0 && !sheets.get(ALL)?.layers.includes(sheet)) faults.push(`${sheet} is imported by nothing`);
    if (sheet === ALL) {
      if (layers.join() !== [THEME, WORDS].join() || selectors.length > 0) faults.push(`${sheet} is more than the layers of theme and controls`);
    } else if (isModule(sheet)) {
      if (importers.length > 1) faults.push(`${sheet} is the look of more than one component`);
      if (names.filter((name) => name === basename(sheet)).length > 1) faults.push(`${sheet} has the name of another`);
      if (selectors.some((selector) => classesIn(selector).length === 0)) faults.push(`${sheet} has a rule with no class of its own`);
    } else if (sheet === THEME) {
      if (selectors.some((selector) => classesIn(selector).length > 0)) faults.push(`${sheet} names a class`);
    } else if (sheet === WORDS) {
      if (selectors.some((selector) => first(selector) === '')) faults.push(`${sheet} has a rule that begins with no class`);
    } else if (!sheet.startsWith('src/rooms/')) {
      faults.push(`${sheet} belongs to no component`);
    } else {
      for (const selector of selectors) {
        if (first(selector) !== room && !first(selector).startsWith(`${room}-`)) faults.push(`${sheet} has a rule that begins with ${first(selector) || 'no class'}, not with ${room}`);
      }
    }
    for (const name of defined.get(sheet) ?? []) {
      // A room's own class stands on the room, and its sheets may be those of parts of it.
      const homes = new Set([...users].filter(([path, { sheets: own, classes }]) =>
        (sheet === WORDS || own.includes(sheet) || (name === room && home(path) === home(sheet))) && classes.has(isModule(sheet) ? `${sheet}#${name}` : name))
        .map(([path]) => home(path)));
      const alone = sheet === WORDS ? homes.size < 2 && !homes.has('src/ui') : homes.size === 0 && !shared.has(name);
      if (alone) faults.push(sheet === WORDS ? `${sheet} defines ${name}, which ${[...homes].join('') || 'nothing'} alone uses` : `${sheet} defines ${name}, which nothing that imports it uses`);
    }
  }
  return faults;
}

function read(folder: string): [string, string][] {
  return readdirSync(join(top, folder), { withFileTypes: true }).flatMap((entry): [string, string][] => {
    const path = `${folder}/${entry.name}`;
    if (entry.isDirectory()) return read(path);
    return /\.(tsx?|css)$/.test(entry.name) ? [[path, readFileSync(join(top, path), 'utf8')]] : [];
  });
}

describe('looks', () => {
  it('belong to the component or room that imports them, every class and every rule', () => {
    const files = new Map(read('src'));
    expect([...files.keys()].filter((path) => path.endsWith('.css')).length).toBeGreaterThan(20);
    expect(faultsOf(files)).toEqual([]);
  });

  it('would be seen to stray: each way, from a written example', () => {
    const sound: Readonly<Record<string, string>> = {
      'src/main.tsx': "import './ui/all.css'; import './app/Page';",
      [ALL]: "@import './theme.css' layer(theme); @import './controls.css' layer(controls);",
      [THEME]: ':root { --ink: #000; } h2 { color: var(--ink); }',
      [WORDS]: '.hint { color: red; }',
      'src/ui/Note.tsx': 'export const Note = () => <p className="hint">a</p>;',
      'src/app/Page.tsx': "import css from './Page.module.css'; export const Page = ({ on }) => <p className={`hint ${on ? css.on : ''}`}>a</p>;",
      'src/app/Page.module.css': '[data-panel] .on:not([data-x]) { color: red; }',
      'src/rooms/den/Den.tsx': "import './den.css'; export const Den = ({ own, className }) => <p className={own ? 'den' : className}><b className={`low${own ? ' den-top' : ''}`} /></p>;",
      'src/rooms/den/den.css': '.den .low, .den-top b { color: red; } @media print { .den :is(.low, b) { color: blue; } }',
    };
    const faults = (change: Readonly<Record<string, string>>) => faultsOf(new Map(Object.entries({ ...sound, ...change })));
    expect(faults({})).toEqual([]);
    const den = 'src/rooms/den/';
    const other = { 'src/rooms/attic/Attic.tsx': "import './attic.css'; export const Attic = () => <p className=\"attic\" />;", 'src/rooms/attic/attic.css': '.attic b { color: red; }' };
    expect(faults(other)).toEqual([]);
    // A look that comes with another room: defined there, wanted here.
    expect(faults({ ...other, 'src/rooms/attic/attic.css': '.attic .low { color: red; }', [`${den}den.css`]: '.den, .den-top { color: red; }' })).toEqual([
      `${den}Den.tsx uses low, which no sheet it imports defines`, 'src/rooms/attic/attic.css defines low, which nothing that imports it uses',
    ]);
    expect(faults({ ...other, 'src/rooms/attic/Attic.tsx': "import '../den/den.css'; import './attic.css'; export const Attic = () => <p className=\"attic low\" />;" }))
      .toContain('src/rooms/attic/Attic.tsx imports src/rooms/den/den.css, which is not its own');
    expect(faults({ [`${den}den.css`]: '.den .low, .den-top, .low b { color: red; }' })).toEqual([`${den}den.css has a rule that begins with low, not with den`]);
    expect(faults({ [`${den}den.css`]: '.den .low, .den-top, table { color: red; }' })).toEqual([`${den}den.css has a rule that begins with no class, not with den`]);
    expect(faults({ [`${den}den.css`]: '.den .low, .den-top, .den .gone { color: red; }' })).toEqual([`${den}den.css defines gone, which nothing that imports it uses`]);
    expect(faults({ [`${den}Den.tsx`]: "import './den.css'; export const Den = ({ kind }) => <p className=\"den low den-top\"><b className={kind} /></p>;" })[0]).toContain('cannot be read');
    expect(faults({ 'src/app/Page.module.css': '.on { color: red; } [data-panel] p { color: red; }' })).toEqual(['src/app/Page.module.css has a rule with no class of its own']);
    expect(faults({ 'src/app/Page.module.css': '.off { color: red; }' })).toEqual([
      'src/app/Page.tsx uses src/app/Page.module.css#on, which no sheet it imports defines', 'src/app/Page.module.css defines off, which nothing that imports it uses',
    ]);
    expect(faults({ 'src/app/page.css': '.hint { color: red; }' })).toEqual(['src/app/page.css is imported by nothing', 'src/app/page.css belongs to no component']);
    expect(faults({ [WORDS]: '.hint, .deep { color: red; }', [`${den}Den.tsx`]: `${sound[`${den}Den.tsx`]} export const Deep = () => <p className="deep" />;` }))
      .toEqual([`${WORDS} defines deep, which src/rooms/den alone uses`]);
    expect(faults({ [THEME]: '.hint { color: red; }' })).toEqual([`${THEME} names a class`]);
    expect(faults({ [ALL]: `${sound[ALL]} @import '../rooms/den/den.css' layer(den);` })).toEqual([`${ALL} is more than the layers of theme and controls`]);
    expect(faults({ [ALL]: "@import './theme.css'; @import './controls.css' layer(controls);" })).toContain(`${ALL} brings ./theme.css in no layer`);
    expect(faults({ 'src/app/Page.module.css': '.on { color: red !important; }' })).toEqual(['src/app/Page.module.css is important, so that no other rule can be']);
    expect(faults({ [THEME]: `${sound[THEME]} :root[data-theme="bench"] { --ink: #fff; color-scheme: dark; forced-color-adjust: none; }` })).toEqual([]);
    expect(faults({ [THEME]: `${sound[THEME]} @media print { :root:is(p, [data-theme="bench"]) h2 { font-size: 2em; padding: var(--ink); --ink: #fff; } }` }))
      .toEqual([`${THEME} sets font-size, padding by the light, which is for colours alone`]);
    expect(faults({ [THEME]: `${sound[THEME]} [data-theme] { h2 { display: none; } }` })).toEqual([`${THEME} sets a rule within it by the light, which is for colours alone`]);
    const painter = (text: string) => ({ [`${den}paint.ts`]: `import './den.css'; export const paint = (on, kind) => svg\`${text}\`;` });
    expect(faults(painter('<g x=${on} class="den${on ? " low" : ""}"><b class="den-top"/></g>'))).toEqual([]);
    expect(faults(painter('<g class="den${on ? " gone" : ""}"/>'))).toEqual([`${den}paint.ts uses gone, which no sheet it imports defines`]);
    expect(faults(painter('<g x=${on} class=${kind}/>'))[0]).toContain('cannot be read');
    expect(faults({ 'src/app/keys.ts': "export const near = (e) => e.closest('.hint');" })).toEqual(['src/app/keys.ts: looks something up by its class']);
  });
});
