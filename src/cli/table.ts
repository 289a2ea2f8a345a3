/** Plain-text tables for a terminal or a printout. */
import { lengthText } from '../say/units';

/** Rows of cells under headings as lines of text: every column as wide as its widest cell, flush right but the first. */
export function tableText(headings: readonly string[], rows: readonly (readonly string[])[], indent = '  '): string {
  const widths = headings.map((h, i) => Math.max(h.length, ...rows.map((r) => r[i].length)));
  const line = (cells: readonly string[]) =>
    indent + cells.map((c, i) => (i === 0 ? c.padEnd(widths[i]) : c.padStart(widths[i]))).join('  ').trimEnd();
  return [line(headings), ...rows.map(line)].join('\n');
}

/** A length in mm; a figure the plan does not have is a dash. */
export const millimetres = (v: number): string => lengthText(v, 'mm');

/** Radians as degrees with one decimal. */
export const degrees = (v: number): string => millimetres((v * 180) / Math.PI);
