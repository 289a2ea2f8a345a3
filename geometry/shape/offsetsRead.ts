/** Reading a table of offsets pasted from a spreadsheet or taken from a CSV file. */
import { dsvFormat } from 'd3-dsv';
import { fieldRange, shorten, type Path } from '../design/fields';
import { range, said, size, type Said } from '../said';
import { looksImperial, parseLength, unitOf, type LengthStyle, type TableUnit } from './lengths';
import { COLUMN_TITLES, OFFSET_COLUMNS, type OffsetColumn, type OffsetRow, type OffsetTable } from './offsets';

/** Longest text and most rows read: far above any table of offsets. Own choice. */
export const TEXT_LIMIT = 4_000_000;
const ROW_LIMIT = 20_000;
/** Least and greatest board length a table may describe, mm: as for a board file. */
const LENGTH_RANGE = { min: 300, max: 6000 } as const;
/** Stations closer than this are the same, mm. */
const SAME_STATION = 1e-3;
/** Most errors reported. */
const ERROR_LIMIT = 20;

/** Meaning of a column. `width` is full width, halved on reading. */
export type ColumnMeaning = 'station' | OffsetColumn | 'width' | 'ignore';

/** What commas are in a table: decimal marks, between its columns, or between thousands. */
export type Commas = 'decimal' | 'between' | 'thousands';

/** What the person says about the table; whatever is left out is read from the text. */
export interface OffsetsReadOptions {
  readonly unit?: TableUnit;
  readonly from?: 'tail' | 'nose';
  /** Meaning of each column, left to right. */
  readonly columns?: readonly ColumnMeaning[];
  readonly commas?: Commas;
}

/** A row that may be read in more than one way, and how each reads: the maker is asked. */
export interface CommaQuestion {
  readonly row: number;
  readonly ways: readonly { readonly commas: Commas; readonly cells: readonly string[] }[];
}

/** One thing wrong: where it is in the text (row 1 first; 0: the table as a whole), what it is, what may be there. */
export interface OffsetsError {
  readonly row: number;
  /** Name of the column, or its letter as a spreadsheet would say; empty for the whole row. */
  readonly column: string;
  readonly value: Said;
  readonly allowed: Said;
  readonly message: Said;
}

/** How the text was taken, to show and to correct. */
export interface OffsetsReading {
  readonly unit: TableUnit;
  readonly from: 'tail' | 'nose';
  readonly separator: string;
  /** What its commas are; left out where it has none. */
  readonly commas?: Commas;
  readonly columns: readonly ColumnMeaning[];
  /** What the table itself calls each column, empty without a heading, and the first figure in it. */
  readonly titles: readonly string[];
  readonly first: readonly string[];
  readonly header: boolean;
}

/** A table that cannot be read has how its cells were taken too, where it came that far: that may be what is wrong. */
export type OffsetsResult =
  | { ok: true; table: OffsetTable; reading: OffsetsReading; notes: string[] }
  | { ok: false; errors: OffsetsError[]; more: number; question?: CommaQuestion; reading?: OffsetsReading };

const HEADINGS: readonly (readonly [RegExp, ColumnMeaning])[] = [
  [/^(station|stn|sta|distance|dist|position|x)\b|^from (the )?(tail|nose)/, 'station'],
  [/^(half[- ]?(breadth|width|beam)s?|hb|y)\b/, 'halfBreadth'],
  [/^(full[- ]?)?(width|breadth|beam)s?\b/, 'width'],
  [/^(rocker|bottom|keel)\b/, 'rocker'],
  [/^(thickness|thick|depth)\b/, 'thickness'],
];

const ORDER: readonly ColumnMeaning[] = ['station', ...OFFSET_COLUMNS];

/** A spreadsheet's letter for a column. */
const letter = (i: number): string => (i < 26 ? '' : String.fromCharCode(64 + Math.floor(i / 26))) + String.fromCharCode(65 + (i % 26));

const SEPARATOR_NAMES: Readonly<Record<string, string>> = { ' ': 'blanks', '\t': 'tabs', ';': 'semicolons', ',': 'commas' };

interface Grid {
  readonly separator: string;
  /** Rows that hold anything, with their number in the text. */
  readonly rows: readonly { readonly line: number; readonly cells: readonly string[] }[];
}

/** The text cut into cells: by tabs, semicolons or commas, or by blanks, of which one in a fraction cuts only where it is two. */
function cut(text: string, separator: string): Grid {
  const blanks = separator === ' ';
  const single = !/\S {2,}\S/.test(text) && !text.includes('/');
  const source = !blanks ? text : text.split('\n').map((line) => (
    // A line of names, or of figures with commas between that blanks follow, is cut there.
    line.replace(/,/.test(line) && !/\d/.test(line) ? /, */g : single ? /(,? +)/g : /(,? {2,})/g, '\t')
  )).join('\n');
  const cells = dsvFormat(blanks ? '\t' : separator).parseRows(source);
  const rows: { line: number; cells: string[] }[] = [];
  cells.forEach((row, i) => {
    const trimmed = row.map((c) => c.trim());
    if (trimmed.some((c) => c !== '')) rows.push({ line: i + 1, cells: trimmed });
  });
  return { separator, rows };
}

const figures = ({ rows }: Grid) => rows.flatMap(({ cells }) => cells.filter((cell) => /\d/.test(cell) && !/[a-z]{3}/i.test(cell)));

/** What the commas inside a table's cells are; undefined without any, both ways where they may be either. */
function commasIn(grid: Grid): Commas | readonly Commas[] | undefined {
  const cells = figures(grid);
  const withComma = cells.filter((cell) => cell.includes(','));
  const both = withComma.find((cell) => cell.includes('.'));
  if (both !== undefined) return both.lastIndexOf(',') > both.lastIndexOf('.') ? 'decimal' : 'thousands';
  if (withComma.length === 0) return undefined;
  if (cells.some((cell) => cell.includes('.')) || withComma.some((cell) => /,\d{3},/.test(cell))) return 'thousands';
  return withComma.every((cell) => /^\D*[1-9]\d{0,2},\d{3}(?!\d)/.test(cell)) ? ['decimal', 'thousands'] : 'decimal';
}

/** A blank between two numbers, but for that before a fraction. */
const PARTS = /\d +[-+]?[\d.](?!\d*\s*\/)/;

/**
 * The text cut into cells, and what its commas are, asked of `said` or of the text: tabs or semicolons cut if there are
 * any, else commas, else blanks. A blank between two numbers parts them, so that commas beside it are decimal marks.
 * More than one way where the text may be either.
 */
function waysToCut(text: string, said: Commas | undefined): { readonly grid: Grid; readonly commas: Commas | undefined }[] {
  // Where something else cuts, no comma stands between columns.
  const ways = (grid: Grid) => [said === 'between' ? commasIn(grid) : said ?? commasIn(grid)].flat().map((commas) => ({ grid, commas }));
  const separator = ['\t', ';'].find((mark) => text.includes(mark));
  if (separator !== undefined) return ways(cut(text, separator));
  if (!text.includes(',')) return [{ grid: cut(text, ' '), commas: undefined }];
  const between = cut(text, ',');
  // Commas inside quoted cells do not cut.
  if (said === undefined && between.rows.some(({ cells }) => cells.some((cell) => cell.includes(',')))) return ways(between);
  const blanks = cut(text, ' ');
  const parted = blanks.rows.some(({ cells }) => cells.length > 1 && /\d/.test(cells.join('')))
    && figures(blanks).every((cell) => !cell.endsWith(',') && parseLength(cell, { unit: 'mm', comma: true }) !== undefined);
  const [betweenWay, blankWay] = [{ grid: between, commas: 'between' as const }, { grid: blanks, commas: 'decimal' as const }];
  if (said !== undefined) return [said === 'decimal' ? blankWay : betweenWay];
  if (!parted) return [betweenWay];
  if (text.split('\n').some((line) => PARTS.test(line))) return [blankWay];
  return JSON.stringify(between.rows) === JSON.stringify(blanks.rows) ? [betweenWay] : [blankWay, betweenWay];
}

interface Heading {
  readonly meanings: ColumnMeaning[];
  readonly units: (TableUnit | undefined)[];
  readonly from?: 'tail' | 'nose';
}

/** What a header row says, or undefined where the row is not a header. */
function heading(cells: readonly string[]): Heading | undefined {
  const meanings: ColumnMeaning[] = [];
  const units: (TableUnit | undefined)[] = [];
  let from: 'tail' | 'nose' | undefined;
  for (const cell of cells) {
    const plain = cell.toLowerCase().replaceAll('_', ' ');
    const meaning = HEADINGS.find(([pattern]) => pattern.test(plain))?.[1];
    const unit = /[([,/]\s*([a-z.]+|["'])\s*[)\]]?\s*$|\s(mm|cm|in|inch|inches)$/.exec(plain);
    meanings.push(meaning ?? 'ignore');
    units.push(unit ? unitOf(unit[1] ?? unit[2]) : undefined);
    if (meaning === 'station') from = /\bnose\b/.test(plain) ? 'nose' : /\btail\b/.test(plain) ? 'tail' : from;
  }
  return meanings.some((m) => m !== 'ignore') ? { meanings, units, from } : undefined;
}

/** Allowed values of a column, mm: asked of the board file's schema. */
function rangeOf(column: OffsetColumn | 'station'): { min: number; max: number } {
  const path: Path = column === 'station' ? ['lines', 'outline', 'points', 0, 'x']
    : column === 'halfBreadth' ? ['lines', 'outline', 'points', 0, 'y'] : ['lines', column, 'points', 0, 'v'];
  const range = fieldRange(path);
  if (!range) throw new Error(`no range for ${path.join('.')}`);
  return range;
}

/** Errors gathered up to a limit, and a count of the rest. */
class Errors {
  readonly list: OffsetsError[] = [];
  more = 0;
  add(row: number, column: string, value: Said, allowed: Said, message: Said): void {
    if (this.list.length < ERROR_LIMIT) this.list.push({ row, column, value: typeof value === 'string' ? shorten(value, 40) : value, allowed, message });
    else this.more++;
  }
  get result(): OffsetsResult {
    return { ok: false, errors: this.list, more: this.more };
  }
  /** The errors of a table whose cells were taken so. */
  of(reading: OffsetsReading): OffsetsResult {
    return { ok: false, errors: this.list, more: this.more, reading };
  }
}

/**
 * Read a table of offsets. Separators, meaning of commas, header names, units and the end the stations are measured from
 * are read from the text (see `OffsetsReading` in the result) unless said in `options`. Without a header the columns
 * are station, half-breadth, rocker, thickness. Lengths may be fractions of an inch (1 3/16) or feet and inches; a
 * fraction or an inch mark anywhere makes the whole table inches unless a unit is named. Rows may be in any order;
 * empty cells are values not measured, but each column needs a value at both ends. Errors name row, column, value and
 * what is allowed; at most 20 are listed and the rest counted. Linear in the text.
 */
export function parseOffsets(text: string, options: OffsetsReadOptions = {}): OffsetsResult {
  const errors = new Errors();
  if (text.length > TEXT_LIMIT) {
    errors.add(0, '', `${(text.length / 1e6).toFixed(1)} million characters`, `at most ${TEXT_LIMIT / 1e6} million characters`, 'is far too long for a table of offsets');
    return errors.result;
  }
  const [{ grid, commas }, other] = waysToCut(text.replace(/^\ufeff/, '').replaceAll('\r\n', '\n').replaceAll('\r', '\n'), options.commas);
  const [first] = grid.rows;
  if (first === undefined) {
    errors.add(0, '', 'nothing', 'a row for each station', 'the table is empty');
    return errors.result;
  }
  if (grid.rows.length > ROW_LIMIT) {
    errors.add(0, '', `${grid.rows.length} rows`, `at most ${ROW_LIMIT} rows`, 'has far too many rows for a table of offsets');
    return errors.result;
  }
  if (other) return unclear([{ grid, commas }, other]);
  const comma = commas === 'decimal';
  const numeric = (cell: string) => parseLength(cell, { unit: 'mm', comma }) !== undefined;
  const header = first.cells.some(numeric) ? undefined : heading(first.cells);
  const titled = header !== undefined || !first.cells.some(numeric);
  const body = titled ? grid.rows.slice(1) : grid.rows;
  const taken = header?.meanings ?? first.cells.map((_, i): ColumnMeaning => (titled ? 'ignore' : ORDER[i] ?? 'ignore'));
  // What was chosen for a table of other columns says nothing of this one.
  const chosen = options.columns?.length === taken.length ? options.columns : undefined;
  const columns = chosen ?? taken;
  const titles = columns.map((_, i) => (titled ? shorten(first.cells[i], 40) : ''));
  const names = columns.map((c, i) => titles[i] || (c === 'ignore' ? letter(i) : c === 'station' || c === 'width' ? c : COLUMN_TITLES[c]));
  const imperial = body.some((r) => r.cells.some((c, i) => columns[i] !== undefined && columns[i] !== 'ignore' && looksImperial(c)));
  const unit = options.unit ?? header?.units.find((u) => u !== undefined) ?? (imperial ? 'inch' : 'mm');
  const from = options.from ?? header?.from ?? 'tail';
  const reading: OffsetsReading = {
    unit, from, separator: SEPARATOR_NAMES[grid.separator], commas, columns, header: titled,
    titles, first: columns.map((_, i) => shorten(body.find(({ cells }) => cells[i])?.cells[i] ?? '', 16)),
  };
  if (titled && header === undefined && chosen === undefined) {
    errors.add(first.line, letter(0), first.cells.join(', '), 'station, half-breadth, rocker, thickness', 'no column has a name that is known; name them, or choose what each one means');
    return errors.of(reading);
  }
  for (const meaning of ORDER) {
    const found = columns.flatMap((c, i) => (c === meaning || (c === 'width' && meaning === 'halfBreadth') ? [i] : []));
    if (found.length > 1) errors.add(first.line, names[found[1]], names[found[1]], 'each column once', `says the same as column ${letter(found[0])}`);
  }
  const stationAt = columns.indexOf('station');
  if (stationAt < 0) errors.add(first.line, '', columns.map((c) => (c === 'ignore' ? 'left out' : c === 'station' || c === 'width' ? c : COLUMN_TITLES[c])).join(', '), 'a station column', 'the stations are missing');
  if (!columns.some((c) => c !== 'station' && c !== 'ignore')) {
    errors.add(first.line, '', names.join(', '), 'half-breadth, rocker or thickness', 'there is nothing but stations');
  }
  if (errors.list.length > 0) return errors.of(reading);

  const styles = columns.map((_, i): LengthStyle => ({ unit: options.unit ?? header?.units[i] ?? unit, comma }));
  const ranges = columns.map((c) => (c === 'ignore' ? undefined : rangeOf(c === 'width' ? 'halfBreadth' : c)));
  const rows: OffsetRow[] = [];
  for (const { line, cells } of body) {
    const row: { x?: number; line: number } & { [K in OffsetColumn]?: number } = { line };
    let sound = true;
    const extra = cells.findIndex((cell, i) => i >= columns.length && cell !== '');
    if (extra >= 0) {
      errors.add(line, letter(extra), cells[extra], `${columns.length} columns`, 'is one cell too many; if its commas are decimal marks, put semicolons between the cells');
      continue;
    }
    for (let i = 0; i < columns.length; i++) {
      const meaning = columns[i];
      const allowed = ranges[i];
      const cell = cells[i] ?? '';
      if (meaning === 'ignore' || allowed === undefined) continue;
      if (cell === '' || /^[-\u2013\u2014]+$/.test(cell)) {
        if (meaning === 'station') errors.add(line, names[i], 'nothing', 'a distance', 'the station is missing');
        sound &&= meaning !== 'station';
        continue;
      }
      const length = parseLength(cell, styles[i]);
      const scale = meaning === 'width' ? 0.5 : 1;
      if (length === undefined) {
        errors.add(line, names[i], cell, `a length such as ${comma ? '12,5' : '12.5'}${comma ? '' : ' or 1 3/16'}`, 'is not a length');
        sound = false;
      } else if (length * scale < allowed.min || length * scale > allowed.max) {
        const read = size(length);
        errors.add(line, names[i], styles[i].unit === 'mm' ? read : said('{cell}, that is {read}', { cell: shorten(cell, 40), read }),
          range(allowed.min / scale, allowed.max / scale), `is too ${length * scale < allowed.min ? 'small' : 'large'}`);
        sound = false;
      } else if (meaning === 'station') row.x = length;
      else row[meaning === 'width' ? 'halfBreadth' : meaning] = length * scale;
    }
    const { x } = row;
    if (sound && x !== undefined) rows.push({ ...row, x });
  }
  const table = errors.list.length > 0 ? undefined : settle(rows, from, columns, names, errors);
  if (table === undefined) return errors.of(reading);
  const notes: string[] = [];
  if (!titled && chosen === undefined) notes.push(`No header: the columns were taken as ${columns.map((c) => (c === 'station' || c === 'width' || c === 'ignore' ? c : COLUMN_TITLES[c])).join(', ')}.`);
  const left = columns.flatMap((c, i) => (c === 'ignore' ? [names[i]] : []));
  if (left.length > 0) notes.push(`Left out: ${left.join(', ')}.`);
  if (commas === 'decimal' || commas === 'thousands') notes.push(`Commas were read as ${commas === 'decimal' ? 'decimal marks' : 'marks between thousands'}.`);
  if (imperial && options.unit === undefined && !header?.units.some((u) => u !== undefined)) notes.push('Fractions or inch marks were found: the table was read in inches.');
  return { ok: true, table, notes, reading };
}

/** The first row that reads differently in two ways, with both. */
function unclear(ways: readonly { readonly grid: Grid; readonly commas: Commas | undefined }[]): OffsetsResult {
  const read = ways.map(({ grid, commas = 'between' }) => ({
    commas, rows: grid.rows.map(({ line, cells }) => ({ line, cells: cells.map((cell) => (commas === 'decimal' ? cell.replaceAll(',', '.') : cell.replaceAll(',', ''))) })),
  }));
  const at = Math.max(0, read[0].rows.findIndex(({ line, cells }, i) => /\d/.test(cells.join('')) && (read[1].rows[i]?.line !== line || read[1].rows[i].cells.join('|') !== cells.join('|'))));
  const error: OffsetsError = { row: read[0].rows[at].line, column: '', value: 'its commas', allowed: 'one meaning of commas', message: 'can be read two ways: say which' };
  return { ok: false, errors: [error], more: 0, question: { row: error.row, ways: read.map(({ commas, rows }) => ({ commas, cells: rows[at]?.cells ?? [] })) } };
}

/** Rows in order from the tail, their ends and neighbours checked; undefined with errors said. */
function settle(found: OffsetRow[], from: 'tail' | 'nose', columns: readonly ColumnMeaning[], names: readonly string[], errors: Errors): OffsetTable | undefined {
  const station = names[columns.indexOf('station')];
  const length = found.reduce((most, r) => Math.max(most, r.x), 0);
  if (!(length >= LENGTH_RANGE.min && length <= LENGTH_RANGE.max)) {
    errors.add(0, station, said('{length} at most', { length: size(length) }), range(LENGTH_RANGE.min, LENGTH_RANGE.max), 'the last station is the board\'s length; if it looks wrong, choose the unit');
    return undefined;
  }
  const rows = (from === 'tail' ? found : found.map((r) => ({ ...r, x: length - r.x }))).sort((a, b) => a.x - b.x);
  const zero = from === 'tail' ? rows[0] : rows[rows.length - 1];
  const least = from === 'tail' ? zero.x : length - zero.x;
  if (least > SAME_STATION) errors.add(zero.line, station, size(least), size(0), `the ${from} itself, station 0, is missing`);
  for (let i = 1; i < rows.length; i++) {
    if (rows[i].x - rows[i - 1].x < SAME_STATION) {
      errors.add(Math.max(rows[i].line, rows[i - 1].line), station, size(from === 'tail' ? rows[i].x : length - rows[i].x), 'each station once',
        `is in row ${Math.min(rows[i].line, rows[i - 1].line)} too`);
    }
  }
  for (const column of OFFSET_COLUMNS) {
    const at = columns.findIndex((c) => c === column || (c === 'width' && column === 'halfBreadth'));
    if (at < 0) continue;
    for (const [end, row] of [['tail', rows[0]], ['nose', rows[rows.length - 1]]] as const) {
      if (row[column] === undefined) errors.add(row.line, names[at], 'nothing', 'a length', `is missing at the ${end}: a curve needs both its ends`);
    }
    if (column !== 'halfBreadth') continue;
    rows.slice(1, -1).forEach((r) => {
      if (r.halfBreadth === 0) errors.add(r.line, names[at], size(0), said('more than {none}', { none: size(0) }), 'only the tail and the nose may lie on the centreline');
    });
  }
  return errors.list.length > 0 ? undefined : { length, rows };
}
