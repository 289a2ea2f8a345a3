/** Tables as CSV: RFC 4180, UTF-8 with a byte order mark so that spreadsheets read every letter. */
import Papa from 'papaparse';
import type { Stamp } from './stamp';
import { cellFigure, columnTitle, type Table } from './tables';

/** Signs by which a spreadsheet takes a text for a formula (the usual guard list), wide forms among them; marks without width before them hide nothing. */
const FORMULA = /(^|[;\t\r\n])([\s\u200b-\u200f\u2060-\u2064\ufeff]*)(?=[=+\-@＝＋－＠])/g;

/** A text no spreadsheet takes for a formula, also where it parts cells at a semicolon. */
const disarmed = (text: string): string => text.replace(FORMULA, "$1'$2");

/**
 * One table. Figures are in the maker's unit as plain decimals (never fractions: a spreadsheet must be able
 * to add them). Every row ends with board, revision, units and date, so that each line has the same fields.
 * Every text is quoted; one that a spreadsheet would take for a formula gets an apostrophe before it.
 */
export function writeCsv(table: Table, stamp: Stamp): Uint8Array {
  const units = stamp.unit === 'mm' ? 'mm' : 'in';
  const said = [stamp.board, stamp.revision, units, stamp.date];
  const fields = [...table.columns.map((column) => columnTitle(column, stamp.unit)), 'board', 'revision', 'units', 'date'];
  const data = table.rows.map((row) => [...table.columns.map((column, i) => cellFigure(row[i], column, stamp.unit)), ...said]);
  const safe = (cell: unknown) => (typeof cell === 'string' ? disarmed(cell) : cell);
  const text = Papa.unparse({ fields: fields.map(disarmed), data: data.map((row) => row.map(safe)) }, { newline: '\r\n', quotes: (cell: unknown) => typeof cell === 'string' && cell !== '' });
  return new TextEncoder().encode(`\ufeff${text}\r\n`);
}
