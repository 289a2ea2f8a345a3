/** Tables as data, in mm and radians: the bench sheet prints them, CSV writes them, the bench on screen lists them. */
import type { Said } from '../../geometry/said';
import { textOf } from '../say/said';
import { angleText, fixed, lengthText, MM_PER_INCH, unitSign, type Unit } from '../say/units';

/**
 * What a column holds. `share` is a ratio shown in per cent; `count` has no unit; `text` is words, in which figures
 * may stand with their own.
 */
type ColumnKind = 'length' | 'angle' | 'volume' | 'mass' | 'force' | 'stress' | 'money' | 'share' | 'count' | 'text';

export interface Column {
  /** By which a list or a paper finds it; a heading may be reworded. */
  readonly id: string;
  readonly title: Said;
  readonly kind: ColumnKind;
  /** Decimals in print, in mm, degrees, litres, kg, money or per cent. */
  readonly decimals?: number;
  /** Currency of money. */
  readonly sign?: string;
}

/** Words and sentences may stand in any column; a number is in the column's own unit. */
export type Cell = Said | undefined;

export interface Table {
  readonly id: string;
  readonly title: Said;
  readonly columns: readonly Column[];
  readonly rows: readonly (readonly Cell[])[];
}

const DECIMALS: Readonly<Record<ColumnKind, number>> = {
  length: 1, angle: 1, volume: 2, mass: 2, force: 0, stress: 2, money: 2, share: 2, count: 0, text: 0,
};

const figures = (kind: ColumnKind) => (id: string, decimals = DECIMALS[kind], title: Said = id): Column => ({ id, title, kind, decimals });
/** Columns of figures, by what they are. Unless said otherwise the id heads the column. */
export const length = figures('length');
export const angle = figures('angle');
export const share = figures('share');
const named = (kind: ColumnKind) => (id: string, title: Said = id): Column => ({ id, title, kind });
/** Forces in N, stresses in MPa, masses in kg. */
export const force = named('force');
export const stress = named('stress');
export const mass = (id: string, title: Said = id): Column => ({ id, title, kind: 'mass', decimals: 3 });
export const VOLUME: Column = { id: 'volume', title: 'volume', kind: 'volume', decimals: 3 };
/** A part's mass is its timber's; glue and the maker's own weights have lines of their own. */
export const MASS: Column = { id: 'mass', title: 'mass', kind: 'mass', decimals: 3 };
export const money = (id: string, sign: string): Column => ({ id, title: id, kind: 'money', sign });
export const text = named('text');
export const count = named('count');

/** Where a line's place is, from either end. */
export const X = length('x', 1, 'station from tail');
export const X_NOSE = length('x-nose', 1, 'station from nose');
export const RUN = length('run', 1, 'along the rail from tail');
export const RUN_NOSE = length('run-nose', 1, 'along the rail from nose');

/** Number of a table's column; a RangeError where there is none. */
export function columnAt(table: Table, id: string): number {
  const k = table.columns.findIndex((column) => column.id === id);
  if (k < 0) throw new RangeError(`${table.id} has no column ${id}`);
  return k;
}

/** The unit a column's figures are in, '' where there is none. */
export function columnUnit(column: Column, unit: Unit): string {
  switch (column.kind) {
    case 'length':
      return unitSign(unit);
    case 'angle':
      return 'deg';
    case 'volume':
      return 'l';
    case 'mass':
      return 'kg';
    case 'force':
      return 'N';
    case 'stress':
      return 'MPa';
    case 'money':
      return column.sign ?? '';
    case 'share':
      return '%';
    default:
      return '';
  }
}

/** Title with its unit in brackets. */
export function columnTitle(column: Column, unit: Unit): string {
  const said = columnUnit(column, unit);
  const title = textOf(column.title, unit);
  return said === '' ? title : `${title} (${said})`;
}

/** A figure in its column's unit: degrees, inches, litres, per cent. */
function shown(value: number, kind: ColumnKind, unit: Unit): number {
  switch (kind) {
    case 'length':
      return unit === 'mm' ? value : value / MM_PER_INCH;
    case 'angle':
      return (value * 180) / Math.PI;
    case 'volume':
      return value / 1e6;
    case 'share':
      return value * 100;
    default:
      return value;
  }
}

/** A cell for a machine: a plain decimal one or two places finer than print; '' for a figure there is not. */
export function cellFigure(cell: Cell, { kind, decimals = DECIMALS[kind] }: Column, unit: Unit): number | string {
  if (cell === undefined) return '';
  if (typeof cell !== 'number') return textOf(cell, unit);
  if (!Number.isFinite(cell)) return '';
  const finer = kind === 'length' && unit !== 'mm' ? decimals + 3 : kind === 'count' || kind === 'money' ? decimals : decimals + 2;
  return Number(shown(cell, kind, unit).toFixed(finer)) + 0;
}

/** A cell for a reader, without its unit; an en dash for a figure there is not. */
export function cellText(cell: Cell, { kind, decimals = DECIMALS[kind] }: Column, unit: Unit): string {
  if (cell === undefined || cell === '') return '–';
  if (typeof cell !== 'number') return textOf(cell, unit);
  if (!Number.isFinite(cell)) return '–';
  if (kind === 'length') return lengthText(cell, unit, decimals);
  if (kind === 'angle') return angleText(cell, decimals);
  return fixed(shown(cell, kind, unit), decimals);
}
