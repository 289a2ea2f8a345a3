/** Lengths as people write them in tables: decimal points and commas, inches with fractions, feet and inches. */

/** Units a table may be written in. */
export type TableUnit = 'mm' | 'cm' | 'm' | 'inch' | 'foot';

/** Millimetres in each. The inch is 25.4 mm exactly (international yard and pound agreement, 1959). */
export const UNIT_MM: Readonly<Record<TableUnit, number>> = { mm: 1, cm: 10, m: 1000, inch: 25.4, foot: 304.8 };

const UNIT_WORDS: readonly (readonly [RegExp, TableUnit])[] = [
  [/^(mm|millimet(er|re)s?)$/, 'mm'],
  [/^(cm|centimet(er|re)s?)$/, 'cm'],
  [/^(m|met(er|re)s?)$/, 'm'],
  [/^(in|ins|inch|inches|")$/, 'inch'],
  [/^(ft|foot|feet|')$/, 'foot'],
];

/** The unit a word means, or undefined. Takes curly and prime marks for the straight ones. */
export function unitOf(word: string): TableUnit | undefined {
  const plain = straight(word).trim().toLowerCase().replace(/\.$/, '');
  return UNIT_WORDS.find(([pattern]) => pattern.test(plain))?.[1];
}

const VULGAR: Readonly<Record<string, string>> = {
  '\u00bd': '1/2', '\u00bc': '1/4', '\u00be': '3/4', '\u215b': '1/8', '\u215c': '3/8', '\u215d': '5/8', '\u215e': '7/8',
};

/** Curly quotes, primes, odd minus signs, spaces and vulgar fractions as plain text. */
function straight(text: string): string {
  return text
    .replace(/[\u00bc-\u00be\u215b-\u215e]/g, (c) => ` ${VULGAR[c]}`)
    .replace(/[\u2018\u2019\u2032]/g, "'")
    .replace(/[\u201c\u201d\u2033]/g, '"')
    .replace(/''/g, '"')
    .replace(/[\u2212\u2012\u2013]/g, '-')
    .replace(/\u2044/g, '/')
    .replace(/[\u2007\u2009\u202f]/g, '\u00a0');
}

/** How a table writes its numbers. */
export interface LengthStyle {
  readonly unit: TableUnit;
  /** A comma is the decimal mark; else it sets off thousands. */
  readonly comma: boolean;
}

const FRACTION = /^(?:(\d+)(?:\s+|\s*-\s*))?(\d+)\s*\/\s*(\d+)$/;
const FEET = /^(\d+)\s*(?:'|ft\.?|feet|foot)\s*-?\s*(.*)$/;

/** A plain decimal number in the table's style, or undefined. */
function decimal(text: string, comma: boolean): number | undefined {
  const [point, group] = comma ? [',', '.'] : ['.', ','];
  const [whole, part, ...more] = text.split(point);
  if (more.length > 0 || (part !== undefined && !/^\d*$/.test(part))) return undefined;
  // A plain blank parts two numbers; one that never breaks sets off thousands.
  const groups = whole.split(group === '.' ? /[.'\u00a0]/ : /[,'\u00a0]/);
  const sound = groups.length === 1 ? /^\d*$/.test(whole) : /^\d{1,3}$/.test(groups[0]) && groups.slice(1).every((g) => /^\d{3}$/.test(g));
  if (!sound || !/\d/.test(text)) return undefined;
  return Number(`${groups.join('')}.${part ?? ''}0`);
}

function inches(text: string, comma: boolean): number | undefined {
  const fraction = FRACTION.exec(text);
  if (fraction) {
    const [, whole = '0', top, bottom] = fraction;
    return Number(bottom) === 0 ? undefined : Number(whole) + Number(top) / Number(bottom);
  }
  return decimal(text, comma);
}

/** Whether a cell can only be in inches or feet: it has a fraction or one of their marks. */
export const looksImperial = (cell: string): boolean => /\d\s*(\/|"|'|in\b|ft\b)/i.test(straight(cell));

/**
 * A length as written in a cell, in mm, or undefined where it is none. A unit in the cell ("32 mm", 12 3/16",
 * 6' 2 1/2") goes before the style's own; fractions and feet are inches whatever the style's unit.
 */
export function parseLength(cell: string, style: LengthStyle): number | undefined {
  let text = straight(cell).trim().toLowerCase();
  const negative = text.startsWith('-');
  if (/^[-+]/.test(text)) text = text.slice(1).trim();
  const sign = negative ? -1 : 1;
  const feet = FEET.exec(text);
  if (feet) {
    const rest = feet[2].replace(/\s*("|in\.?|inches|inch)$/, '').trim();
    const part = rest === '' ? 0 : inches(rest, style.comma);
    return part === undefined ? undefined : sign * (Number(feet[1]) * UNIT_MM.foot + part * UNIT_MM.inch);
  }
  const suffix = /\s*([a-z]+\.?|")$/.exec(text);
  const named = suffix ? unitOf(suffix[1]) : undefined;
  if (suffix && !named) return undefined;
  if (suffix) text = text.slice(0, suffix.index).trim();
  if (FRACTION.test(text)) {
    if (named !== undefined && named !== 'inch') return undefined;
    const value = inches(text, style.comma);
    return value === undefined ? undefined : sign * value * UNIT_MM.inch;
  }
  const value = decimal(text, style.comma);
  return value === undefined ? undefined : sign * value * UNIT_MM[named ?? style.unit];
}
