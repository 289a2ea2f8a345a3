/** What every paper says about itself, and its file name. */
import anyAscii from 'any-ascii';
import { SaidError } from '../../geometry/errors';
import { said, type Said } from '../../geometry/said';
import type { Plan } from '../../geometry/types';
import type { Unit } from '../say/units';
import type { Typefaces } from './pdf/letters';

/** Board, revision, units and date, as printed on every paper. */
export interface Stamp {
  readonly board: string;
  readonly revision: string;
  /** The maker's unit, in which the figures of lists and the bench sheet are given. */
  readonly unit: Unit;
  /** Day the papers were made, YYYY-MM-DD. */
  readonly date: string;
  /** The open typeface for letters that the standard fonts lack, where a printed paper needs it. */
  readonly typefaces?: Typefaces;
}

/** An option of makePapers that cannot be used: which, what was given, what is allowed. */
export class PaperError extends SaidError {
  constructor(
    readonly field: string,
    readonly value: Said,
    readonly allowed: Said,
  ) {
    super(said('{field}: {value} cannot be used; allowed: {allowed}', { field, value, allowed }));
    this.name = 'PaperError';
  }
}

const UNIT_NAMES: Readonly<Record<Unit, string>> = {
  mm: 'millimetres',
  in: 'inches, decimal',
  in16: 'inches, nearest sixteenth',
};

/** The unit in words. */
export const unitName = (unit: Unit): string => UNIT_NAMES[unit];

/** Stamp of a plan's papers. Throws a PaperError where the date is not a day of the calendar. */
export function stampOf(plan: Plan, date: string, unit: Unit): Stamp {
  const day = dayOf(date);
  if (!day) throw new PaperError('date', date === '' ? 'nothing' : date, 'a day as YYYY-MM-DD, 1980 to 2099');
  return { board: plan.design.name, revision: plan.design.revision, unit, date };
}

/** Year, month (1 to 12) and day of a YYYY-MM-DD text that zip files can hold too; undefined for anything else. */
export function dayOf(date: string): { year: number; month: number; day: number } | undefined {
  const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(date);
  if (!match) return undefined;
  const [year, month, day] = match.slice(1).map(Number);
  const at = new Date(Date.UTC(year, month - 1, day));
  const real = at.getUTCFullYear() === year && at.getUTCMonth() === month - 1 && at.getUTCDate() === day;
  return real && year >= 1980 && year < 2100 ? { year, month, day } : undefined;
}

/** One line: board, revision, unit and date. `unit` names what the file itself is drawn in, where that is fixed. */
export function stampLine(stamp: Stamp, unit: string = unitName(stamp.unit)): string {
  return `${stamp.board} | revision ${stamp.revision || 'none'} | ${unit} | ${stamp.date}`;
}

/** Names that some file systems keep for themselves. */
const KEPT = /^(con|prn|aux|nul|com\d|lpt\d)$/;

/** Text as a part of a file name: a-z, 0-9 and single hyphens, at most 60 characters; 'board' where nothing is left. */
export function slug(text: string): string {
  const plain = anyAscii(text)
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .slice(0, 60)
    .replace(/^-+|-+$/g, '');
  return plain === '' || KEPT.test(plain) ? `board${plain && `-${plain}`}` : plain;
}

/** Start of every file name of a board's papers: its name and revision. */
export function fileStem(stamp: Stamp): string {
  return stamp.revision.trim() === '' ? slug(stamp.board) : `${slug(stamp.board)}-rev-${slug(stamp.revision)}`;
}
