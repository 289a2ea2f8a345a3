/**
 * Units live at the edge: the kernel speaks millimetres and radians, screen and papers the maker's unit.
 * Formatting and reading of lengths, angles and areas: pure, so that papers and command line load no view.
 */

/** `mm`; `in` decimal inches; `in16` inches to the nearest sixteenth, and to the sixty-fourth below a quarter. */
export type Unit = 'mm' | 'in' | 'in16';

export const UNITS: readonly { readonly id: Unit; readonly label: string; readonly hint: string }[] = [
  { id: 'mm', label: 'mm', hint: 'Millimetres' },
  { id: 'in', label: 'in', hint: 'Inches, decimal' },
  { id: 'in16', label: 'in ¹⁄₁₆', hint: 'Inches, nearest sixteenth (sixty-fourth below a quarter); + a little over, − a little under' },
];

export const MM_PER_INCH = 25.4;
const MINUS = '−';

/** A number as it stands, with no more decimals than it has, and a true minus sign; an en dash where it is none. */
export const asGiven = (value: number, most = 4): string => (Number.isFinite(value) ? String(Number(value.toFixed(most)) + 0).replace('-', MINUS) : '–');

/** Fixed decimals with a true minus sign; never "-0". */
export function fixed(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  const bare = Number(text) === 0 ? text.replace('-', '') : text;
  return bare.replace('-', MINUS);
}

/** Under this many inches a sixteenth is too coarse, and sixty-fourths are told. */
const FINE = 1 / 4;

/** Inches to the nearest sixteenth, to the sixty-fourth below a quarter, with + or − where the true value is over or under by a quarter of that or more. */
function fraction(mm: number): string {
  const inches = Math.abs(mm) / MM_PER_INCH;
  const parts = inches < FINE ? 64 : 16;
  const count = Math.round(inches * parts);
  const over = inches * parts - count;
  const whole = Math.floor(count / parts);
  let top = count % parts;
  let bottom = parts;
  while (top > 0 && top % 2 === 0) {
    top /= 2;
    bottom /= 2;
  }
  const rest = top > 0 ? `${top}/${bottom}` : '';
  const body = whole > 0 ? (rest ? `${whole} ${rest}` : `${whole}`) : rest || '0';
  const mark = over >= 0.25 ? '+' : over <= -0.25 ? MINUS : '';
  return `${mm < 0 && count > 0 ? MINUS : ''}${body}${mark}`;
}

/**
 * A length as text, without its unit.
 * @param mm millimetres
 * @param decimals decimals shown in millimetres (default 1); inches show one where those have none, else three: a builder measures no finer
 */
export function lengthText(mm: number, unit: Unit, decimals = 1): string {
  if (!Number.isFinite(mm)) return '–';
  if (unit === 'mm') return fixed(mm, decimals);
  if (unit === 'in') return fixed(mm / MM_PER_INCH, decimals > 0 ? 3 : 1);
  return fraction(mm);
}

/** A length as a field shows it that is to be typed over: in mm as it was given. */
export const fieldLength = (mm: number, unit: Unit, most = 3): string => (unit === 'mm' ? asGiven(mm, most) : lengthText(mm, unit));

/** The unit's sign, to be set after a figure. */
export function unitSign(unit: Unit): string {
  return unit === 'mm' ? 'mm' : 'in';
}

/** A length with its unit. */
export function lengthWithUnit(mm: number, unit: Unit, decimals = 1): string {
  return `${lengthText(mm, unit, decimals)} ${unitSign(unit)}`;
}

/** The unit of small figures, kerfs and clearances: sixteenths do not tell them apart, so that inches are decimal. */
export const fineUnit = (unit: Unit): Unit => (unit === 'in16' ? 'in' : unit);

/** An angle in degrees with its sign. @param rad radians */
export function angleText(rad: number, decimals = 1): string {
  return Number.isFinite(rad) ? `${fixed((rad * 180) / Math.PI, decimals)}°` : '–';
}

/** An area, mm2 or square inches. */
export function areaText(mm2: number, unit: Unit): string {
  if (!Number.isFinite(mm2)) return '–';
  return unit === 'mm' ? `${fixed(mm2, 0)} mm²` : `${fixed(mm2 / (MM_PER_INCH * MM_PER_INCH), 3)} in²`;
}

/**
 * Both figures that a typed text may mean, as they would be typed, where its only comma has exactly three digits behind
 * it: 1.234 and 1234. Null where it means one: a comma is a decimal sign, and no thousands begin with 0.
 */
export function commaWays(text: string): readonly [string, string] | null {
  const match = /^([^\d.,/]*[1-9]\d{0,2}),(\d{3})(?!\d|\s*[.,/])([^.,]*)$/.exec(text);
  return match && [`${match[1]}.${match[2]}${match[3]}`, `${match[1]}${match[2]}${match[3]}`];
}

/** Reads a plain typed number with point or comma; null where it is none, or may be two (`commaWays`). */
export function readNumber(text: string): number | null {
  const plain = text.trim().replace(',', '.').replace(MINUS, '-');
  return /^[+-]?(\d+\.?\d*|\.\d+)$/.test(plain) && !commaWays(text) ? Number(plain) : null;
}

/**
 * Reads a typed length: a decimal, a fraction or a whole and a fraction, with or without a unit
 * (mm, cm, m, in, "); a bare figure is in the unit shown.
 * @returns millimetres, or null where the text is no length, or may be two (`commaWays`)
 */
export function readLength(text: string, unit: Unit): number | null {
  if (commaWays(text)) return null;
  const match =
    /^\s*([+\-−]?)\s*(?:(\d+(?:[.,]\d+)?|[.,]\d+)(?!\d*\s*\/))?\s*(?:(\d+)\s*\/\s*(\d+))?\s*(mm|cm|m|in|inch|inches|"|″)?\s*$/i.exec(text);
  if (!match || (match[2] === undefined && match[3] === undefined)) return null;
  const whole = match[2] === undefined ? 0 : Number(match[2].replace(',', '.'));
  const part = match[3] === undefined ? 0 : Number(match[3]) / Number(match[4]);
  const sign = match[1] === '-' || match[1] === MINUS ? -1 : 1;
  const figure = sign * (whole + part);
  if (!Number.isFinite(figure)) return null;
  const named = match[5]?.toLowerCase() ?? (unit === 'mm' ? 'mm' : 'in');
  const factor = named === 'mm' ? 1 : named === 'cm' ? 10 : named === 'm' ? 1000 : MM_PER_INCH;
  return figure * factor;
}
