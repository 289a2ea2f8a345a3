/**
 * Tables of offsets: what one holds, taken from a planned board and written as text. Reading is in
 * `offsetsRead`, fitting in `offsetsFit`.
 */
import { dsvFormat } from 'd3-dsv';
import { valueAt } from '../curves/graph';
import type { Plan } from '../types';
import { halfBreadthAt } from './line';
import { UNIT_MM } from './lengths';

/** The columns of a table besides the station. */
export const OFFSET_COLUMNS = ['halfBreadth', 'rocker', 'thickness'] as const;
export type OffsetColumn = (typeof OFFSET_COLUMNS)[number];

/** What the columns are called on paper. */
export const COLUMN_TITLES: Readonly<Record<OffsetColumn, string>> = {
  halfBreadth: 'half-breadth', rocker: 'rocker', thickness: 'thickness',
};

/** One station: distance from the tail and what was measured there, mm. A value left out was not measured. */
export type OffsetRow = { readonly x: number; readonly line: number } & { readonly [K in OffsetColumn]?: number };

/** A table of offsets, mm, rows from tail to nose. `line` of a row is where it was in the text, 1 first. */
export interface OffsetTable {
  /** Board length: the nose's station. */
  readonly length: number;
  readonly rows: readonly OffsetRow[];
}

/** Rounding in a station at the nose, mm. */
const ROUNDING = 1e-6;

/** Stations for a table: every `spacing` mm, both ends, and closer toward the ends, where an outline turns fastest. */
export function offsetStations(length: number, spacing: number): number[] {
  if (!(spacing > 0) || !(length > 0)) throw new RangeError(`spacing: ${spacing} given; more than 0 mm allowed`);
  const n = Math.max(2, Math.round(length / spacing));
  const even = Array.from({ length: n + 1 }, (_, i) => (length * i) / n);
  const near = [1 / 64, 1 / 16, 1 / 4].map((f) => (f * length) / n);
  return [...even, ...near, ...near.map((d) => length - d)].sort((a, b) => a - b);
}

/**
 * The offsets of a planned board at stations (mm from the tail, rising, within the board). Throws a RangeError
 * for a station off the board.
 */
export function offsetsOf(plan: Plan, stations: readonly number[]): OffsetTable {
  const { hull } = plan;
  const rows = stations.map((x, i): OffsetRow => {
    if (!(x >= 0 && x <= hull.length + ROUNDING)) throw new RangeError(`station: ${x} given; 0 to ${hull.length} mm allowed`);
    return {
      x, line: i + 1, halfBreadth: halfBreadthAt(hull.outline, x),
      rocker: valueAt(hull.lines.rocker, x), thickness: valueAt(hull.lines.thickness, x),
    };
  });
  return { length: hull.length, rows };
}

/** How a table is written. */
export interface OffsetsCsvOptions {
  readonly unit?: 'mm' | 'inch';
  readonly from?: 'tail' | 'nose';
  /** Between cells: a comma, or a semicolon with decimal commas for spreadsheets of that habit, or a tab to paste. */
  readonly separator?: ',' | ';' | '\t';
  /** Digits after the decimal mark; 3 mm or 5 inch digits unless asked otherwise. */
  readonly digits?: number;
}

/**
 * A table as text that `parseOffsets` reads back: a header with names and units, a row a station, plain decimals,
 * lines ended by CR LF (RFC 4180). Values are rounded, half a unit of the last digit at most.
 */
export function offsetsCsv(table: OffsetTable, options: OffsetsCsvOptions = {}): string {
  const { unit = 'mm', from = 'tail', separator = ',' } = options;
  const digits = options.digits ?? (unit === 'mm' ? 3 : 5);
  const title = unit === 'mm' ? 'mm' : 'in';
  const number = (mm: number | undefined) => {
    if (mm === undefined) return '';
    const text = String(Number((mm / UNIT_MM[unit]).toFixed(digits)));
    return separator === ';' ? text.replace('.', ',') : text;
  };
  const used = OFFSET_COLUMNS.filter((c) => table.rows.some((r) => r[c] !== undefined));
  const header = [`station from ${from} (${title})`, ...used.map((c) => `${COLUMN_TITLES[c]} (${title})`)];
  const rows = table.rows.map((r) => [number(from === 'tail' ? r.x : table.length - r.x), ...used.map((c) => number(r[c]))]);
  return `${dsvFormat(separator).formatRows([header, ...rows]).replaceAll('\n', '\r\n')}\r\n`;
}
