/**
 * What the kernel says, as plain data that survives postMessage and JSON: words with named slots, and in the slots
 * figures with what they measure. Only the edge (src/say) makes text of it, in the maker's unit.
 */

/**
 * What a figure measures: mm, mm2 (told as a surface to buy, in m2 or square feet), mm3 (told in litres), radians;
 * `deg` where a file holds degrees; `share` and `strain` as ratios, shown in per cent; `count` any number without a unit.
 */
export type Dimension = 'mm' | 'mm2' | 'mm3' | 'rad' | 'deg' | 'share' | 'strain' | 'kg' | 'g' | 'N' | 'kg/m3' | 'g/m2' | 'MPa' | 'min' | 'count';

/** A figure, or several that share one unit: a range, the sides of a sheet. */
export interface Figure {
  readonly of: Dimension;
  readonly value: number | readonly number[];
  /** The word between several. */
  readonly between?: 'to' | 'by' | 'x';
  /** Decimals it is shown with, in mm, degrees, per cent; as many as it has where left out. */
  readonly decimals?: number;
  /** Shown with its sign where it is more than 0, as changes are. */
  readonly signed?: true;
}

/** What lies between two figures. */
export interface Limits extends Figure {
  readonly value: readonly [least: number, most: number];
}

/** Words with `{name}` for each slot. */
export interface Sentence {
  readonly say: string;
  readonly with: Readonly<Record<string, Said>>;
}

/** Anything that can be said: words as they are, a bare number as it is, a figure, a sentence. */
export type Said = string | number | Figure | Sentence;

/** Names of a template's slots. */
type Slots<T extends string> = T extends `${string}{${infer Name}}${infer Rest}` ? Name | Slots<Rest> : never;

/** A sentence from its template; the compiler holds each slot to be filled and each value to have its slot. */
export const said = <const T extends string>(say: T, slots: { readonly [K in Slots<T>]: Said }): Sentence => ({ say, with: slots });

/** Several said one after another; a space between them unless said otherwise. */
export function list(items: readonly Said[], between = ' '): Said {
  return items.length === 1 ? items[0] : { say: items.map((_, i) => `{${i}}`).join(between), with: Object.fromEntries(items.map((item, i) => [i, item])) };
}

/** A length that was worked out, mm. */
export const mm = (value: number, decimals = 1): Figure => ({ of: 'mm', value, decimals });

/** A length that was given, or several of one thing (length by width), mm: shown as it was given. */
export const size = (...values: readonly number[]): Figure =>
  values.length === 1 ? { of: 'mm', value: values[0] } : { of: 'mm', value: values, between: 'by' };

/** A section or a block by its sides, mm: 12 x 6. */
export const section = (...values: readonly number[]): Figure => ({ of: 'mm', value: values, between: 'x' });

/** What lies between two figures, as one range; `decimals` as for the figures, which are shown as they are where left out. */
export const range = (least: number, most: number, of: Dimension = 'mm', decimals?: number): Limits => ({
  of, value: [least, most], between: 'to', ...(decimals === undefined ? {} : { decimals }),
});

/** The words with every slot filled; `figure` writes the figures. The one walk from what is said to text. */
export function tell(what: Said, figure: (figure: Figure) => string): string {
  if (typeof what === 'string') return what;
  if (typeof what === 'number') return figure({ of: 'count', value: what });
  if ('of' in what) return figure(what);
  return what.say.replace(/\{(\w+)\}/g, (_, name: string) => tell(what.with[name], figure));
}

/** Bare text for a log: mm and radians as the kernel has them. */
export const logText = (what: Said): string => tell(what, ({ of, value, between = 'to', decimals }) =>
  `${[value].flat().map((v) => (decimals === undefined ? String(v) : v.toFixed(decimals))).join(` ${between} `)}${of === 'count' ? '' : ` ${of}`}`);
