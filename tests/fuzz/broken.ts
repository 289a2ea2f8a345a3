/** Random broken files: sound board files spoiled as text or as parsed values. */
import type { Design } from '../../geometry/design/schema';
import { writeDesign } from '../../geometry/design/write';
import type { Dice } from './dice';

/** A file as it would come in: its text, or a value that was parsed elsewhere. */
export type Broken = { readonly how: string; readonly text: string } | { readonly how: string; readonly value: unknown };

type Path = (string | number)[];

/** Every path in a value, root left out, no deeper than a board file goes. */
function paths(value: unknown, path: Path = []): Path[] {
  const own = path.length > 0 ? [path] : [];
  if (path.length > 8 || typeof value !== 'object' || value === null || ArrayBuffer.isView(value) || Object.isFrozen(value)) return own;
  return [...own, ...Object.entries(value).flatMap(([k, v]) => paths(v, [...path, Array.isArray(value) ? Number(k) : k]))];
}

function circle(): unknown {
  const a: Record<string, unknown> = {};
  a.a = a;
  return a;
}

const nest = (depth: number): unknown => Array.from({ length: depth }).reduce<unknown>((v) => [v], 1);

/** Values that do not belong in a board file, made again each time. */
const strangers: readonly (() => unknown)[] = [
  () => null, () => '', () => 'abc', () => '12', () => [], () => ({}), () => true, () => false, () => Number.NaN, () => Number.POSITIVE_INFINITY,
  () => Number.NEGATIVE_INFINITY, () => -0, () => 1e308, () => -1e308, () => 5e-324, () => 0.1 + 0.2, () => 2 ** 53, () => 'x'.repeat(20_000),
  () => new Array(10_000).fill(1), () => new Date(0), () => new Map([[1, 2]]), () => Symbol('s'), () => 10n, () => () => 1, () => undefined,
  () => circle(), () => nest(500), () => JSON.parse('{"__proto__":{"polluted":1}}'), () => ({ constructor: { prototype: 1 } }), () => '\u202e\u0000\ud800',
  () => Object.create({ inherited: 1 }), () => new Float64Array(3), () => Object.freeze([]), () => [[[[]]]], () => ({ length: 3 }), () => new Array(5),
];

const put = (root: unknown, path: Path, value: unknown): void => {
  let at: unknown = root;
  for (const part of path.slice(0, -1)) at = Reflect.get(Object(at), part);
  const name = path[path.length - 1];
  // The language itself refuses most lengths of a list.
  if (typeof at === 'object' && at !== null && !(Array.isArray(at) && name === 'length')) Reflect.set(at, name, value);
};

const drop = (root: unknown, path: Path): void => {
  let at: unknown = root;
  for (const part of path.slice(0, -1)) at = Reflect.get(Object(at), part);
  const last = path[path.length - 1];
  if (Array.isArray(at)) {
    // Not splice: by now the list may carry a constructor of its own.
    at.copyWithin(Number(last), Number(last) + 1);
    at.length--;
  } else if (typeof at === 'object' && at !== null) Reflect.deleteProperty(at, last);
};

/** Pieces that upset readers of JSON. */
const pieces = ['NaN', 'Infinity', '-', '1e999', '-1e999', '0x10', '01', '1.', '.5', '+1', '"', '\\', '\\u', '{', '}', '[', ']', ',', ':', 'null', 'true',
  '/* */', '//', '\u0000', '\ufeff', '\u2028', '\ud800', '"__proto__": 1,', '"constructor": {"prototype": {}},', '{'.repeat(40), '['.repeat(3000), '9'.repeat(400), "'", 'undefined', '\n'];

/** Spoil a design one to three times over. */
export function breakFile(d: Dice, design: Design): Broken {
  if (d.chance(0.5)) {
    let text = writeDesign(design);
    const how: string[] = [];
    for (let k = d.int(1, 3); k > 0; k--) {
      const [a, b] = [d.int(0, text.length), d.int(0, text.length)].sort((p, q) => p - q);
      const one = d.pick(['cut', 'insert', 'remove', 'double', 'swap', 'number', 'rename', 'front'] as const);
      how.push(one);
      if (one === 'cut') text = text.slice(0, b);
      else if (one === 'insert') text = text.slice(0, a) + d.pick(pieces) + text.slice(a);
      else if (one === 'remove') text = text.slice(0, a) + text.slice(a + d.int(1, 40));
      else if (one === 'double') text = text.slice(0, b) + text.slice(a);
      else if (one === 'swap') text = text.slice(0, a) + text.slice(b) + text.slice(a, b);
      else if (one === 'front') text = text.slice(a);
      else if (one === 'rename') text = text.replace(new RegExp(`"${d.pick(['x', 'v', 'rail', 'ribs', 'name', 'points', 'version', 'deck'])}"`), `"${d.pick(['X', '__proto__', 'toString', '', 'rail', 'x'])}"`);
      else {
        const numbers = [...text.matchAll(/-?\d+(\.\d+)?/g)];
        const at = numbers.length > 0 ? d.pick(numbers) : undefined;
        if (at) text = text.slice(0, at.index) + d.pick(['1e400', '-1', '0', '99999', '1e-300', '"1"', 'null', '-0', '1e5', '0.5']) + text.slice(at.index + at[0].length);
      }
    }
    return { how: `text: ${how.join(', ')}`, text };
  }
  const value: unknown = structuredClone(design);
  const how: string[] = [];
  for (let k = d.int(1, 3); k > 0; k--) {
    const all = paths(value);
    if (all.length === 0) break;
    const path = d.pick(all);
    const one = d.pick(['stranger', 'stranger', 'far', 'drop', 'add', 'swap'] as const);
    how.push(`${one} ${path.join('.')}`);
    if (one === 'stranger') put(value, path, d.pick(strangers)());
    else if (one === 'far') put(value, path, d.pick([-1, 0, 1e-9, 1e9, -1e9, d.real(-100, 5000), d.log(1e-6, 1e6)]));
    else if (one === 'drop') drop(value, path);
    else if (one === 'add') put(value, [...path.slice(0, -1), d.pick(['extra', 'toString', 'constructor', 'hasOwnProperty', 'length'])], d.pick(strangers)());
    else {
      const other = d.pick(all);
      let from: unknown = value;
      for (const part of other) from = Reflect.get(Object(from), part);
      put(value, path, from);
    }
  }
  return { how: `value: ${how.join('; ')}`, value };
}
