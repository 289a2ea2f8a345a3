/** Tables as CSV: RFC 4180, UTF-8 with a byte order mark so that spreadsheets read every letter. */
import Papa from 'papaparse';
import type { Stamp } from './stamp';
import { cellFigure, columnTitle, type Table } from './tables';

/** First signs by which a spreadsheet takes a text for a formula (the usual guard list), wide forms among them. */
const FORMULA = /^[=+\-@\t\r\n＝＋－＠]/;

/**
 * One table. Figures are in the maker's unit as plain decimals (never fractions: a spreadsheet must be able
 * to add them). Every row ends with board, revision, units and date, so that each line has the same fields.
 * Text that a spreadsheet would take for a formula gets an apostrophe before it.
 */
export function writeCsv(table: Table, stamp: Stamp): Uint8Array {
  const units = stamp.unit === 'mm' ? 'mm' : 'in';
  const said = [stamp.board, stamp.revision, units, stamp.date];
  const fields = [...table.columns.map((column) => columnTitle(column, stamp.unit)), 'board', 'revision', 'units', 'date'];
  const data = table.rows.map((row) => [...table.columns.map((column, i) => cellFigure(row[i], column, stamp.unit)), ...said]);
  const text = Papa.unparse({ fields, data }, { newline: '\r\n', escapeFormulae: FORMULA });
  return new TextEncoder().encode(`\ufeff${text}\r\n`);
}
