/** Files meant to hang, hide or surprise, each with what the refusal must name. */
import type { Design } from '../../geometry/design/schema';

export interface Hostile {
  readonly name: string;
  /** The file's text, or a value parsed elsewhere. */
  readonly text?: string;
  readonly value?: unknown;
  /** What the refusal's field and its allowed range must hold. */
  readonly field: RegExp;
  readonly allowed: RegExp;
}

const MILLION = 1_000_000;

/** Made from a sound design and its text, again each time: some are circular, some frozen. */
export function hostileFiles(design: Design, text: string): Hostile[] {
  const outline = { ...design.lines.outline };
  const withOutline = (points: unknown) => ({ ...design, lines: { ...design.lines, outline: { ...outline, points } } });
  const put = (key: string, json: string) => text.replace('{', `{ ${JSON.stringify(key)}: ${json},`);
  const circle: Record<string, unknown> = { ...design };
  circle.rail = circle;
  const nested = (depth: number) => Array.from({ length: depth }).reduce<unknown>((inner) => ({ a: inner }), 1);
  const trap = { ...design, get note(): string { throw new Error('sprung'); } };
  return [
    { name: '__proto__ in the text', text: put('__proto__', '{"polluted": true}'), field: /__proto__/, allowed: /no such field/ },
    { name: '__proto__ deep in the text', text: text.replace('"rail": {', '"rail": { "__proto__": {"rows": 3},'), field: /rail\.__proto__/, allowed: /no such field/ },
    { name: 'constructor.prototype', text: put('constructor', '{"prototype": {"polluted": true}}'), field: /constructor/, allowed: /no such field/ },
    { name: '__proto__ spelt with escapes', text: put('x', '1').replace('"x"', '"\\u005f_proto__"'), field: /__proto__/, allowed: /no such field/ },
    { name: 'a megabyte of name', text: text.replace(/"name": "[^"]*"/, `"name": "${'x'.repeat(MILLION)}"`), field: /name/, allowed: /at most|to 80/ },
    { name: 'a megabyte of key', text: put('k'.repeat(MILLION), '1'), field: /k/, allowed: /./ },
    { name: 'three megabytes of text', text: `${text}${' '.repeat(3 * MILLION)}`, field: /^$/, allowed: /at most 2 million characters/ },
    { name: 'a hundred thousand brackets', text: '['.repeat(100_000), field: /^$/, allowed: /at most 16 levels/ },
    { name: 'deep objects, closed', text: `${'{"a":'.repeat(5000)}1${'}'.repeat(5000)}`, field: /^$/, allowed: /at most 16 levels/ },
    { name: 'deep objects in a field', value: { ...design, rail: nested(20_000) }, field: /rail/, allowed: /at most 16 levels/ },
    { name: 'a circle', value: circle, field: /rail/, allowed: /at most 16 levels/ },
    { name: 'a million points in the text', text: JSON.stringify(withOutline(new Array(MILLION).fill({ x: 1, y: 2 }))), field: /^$/, allowed: /at most 2 million characters/ },
    { name: 'as many points as a file has room for', text: JSON.stringify(withOutline(new Array(140_000).fill({ x: 1, y: 2 }))), field: /lines\.outline\.points/, allowed: /at most 200 entries/ },
    { name: 'a million points as a value', value: withOutline(Array.from({ length: MILLION }, (_, i) => ({ x: i, y: 1 }))), field: /lines\.outline\.points/, allowed: /at most 200 entries/ },
    { name: 'a list of a billion holes', value: withOutline(new Array(1_000_000_000)), field: /lines\.outline\.points/, allowed: /at most 200 entries/ },
    { name: 'a hundred thousand fields', value: { ...design, ...Object.fromEntries(Array.from({ length: 100_000 }, (_, i) => [`f${i}`, i])) }, field: /^$/, allowed: /at most 100 fields/ },
    { name: 'a hundred thousand quotes', text: `{${'"'.repeat(100_001)}`, field: /^$/, allowed: /JSON|whole board file/ },
    { name: 'a hundred thousand backslashes', text: `{"a": "${'\\'.repeat(100_001)}`, field: /^$/, allowed: /JSON|whole board file/ },
    { name: 'a field written a hundred thousand times', text: `{${'"a":1,'.repeat(100_000)}"a":1}`, field: /a/, allowed: /each field once/ },
    { name: 'a number of a million digits', text: text.replace(/"stripWidth": [\d.]+/, `"stripWidth": ${'9'.repeat(MILLION)}`), field: /rail\.stripWidth/, allowed: /3 to 80 mm/ },
    { name: 'a million blanks, then an error', text: `${' '.repeat(MILLION)}{,}`, field: /^$/, allowed: /JSON/ },
    { name: 'a million lines, then an error', text: `${'\n'.repeat(MILLION)}{,}`, field: /^$/, allowed: /JSON/ },
    { name: 'a getter that throws', value: trap, field: /^$/, allowed: /plain data/ },
    { name: 'no text at all but controls', text: '\u0000'.repeat(MILLION), field: /^$/, allowed: /JSON/ },
  ];
}
