/** A caliper's reading as it is told and typed: a length in the maker's unit, a bevel in degrees. */
import type { FieldError } from '../../geometry/errors';
import { range, said, size, type Said } from '../../geometry/said';
import { READING_MOST } from '../../geometry/trust/readingsHead';
import type { ReadingField } from '../../geometry/trust/types';
import { READING_WORDS } from './bands';
import { angleText, asGiven, fieldLength, lengthText, readLength, readNumber, type Unit, unitSign } from './units';

const DEGREE = Math.PI / 180;

interface ReadingFigure {
  readonly sign: string;
  /** What it may be. */
  readonly range: Said;
  /** A figure, mm (a bevel: radians), as it is told, with its degree sign; and as a field has it to be typed over. */
  text(value: number, decimals?: number): string;
  typed(value: number): string;
  /** What was typed, mm (a bevel: radians); null where it is not a number. */
  read(text: string): number | null;
  /** What is wrong with a figure: nothing where it can be this reading. */
  faults(value: number): readonly FieldError[];
}

/** How a field of a reading is told and typed in a unit. */
export function readingFigure(field: ReadingField, unit: Unit): ReadingFigure {
  const most = READING_MOST[field];
  const fault = (value: number, given: Said, allowed: Said, least: number): readonly FieldError[] =>
    (value >= least && value <= most ? [] : [{ field: READING_WORDS[field].label, value: given, allowed: said('{sizes}, or empty', { sizes: allowed }), message: 'is not a size for this' }]);
  if (field !== 'bevel') {
    const allowed = range(0, most);
    return {
      sign: unitSign(unit), range: allowed, text: (value, decimals = 1) => lengthText(value, unit, decimals), typed: (value) => fieldLength(value, unit, 2),
      read: (text) => readLength(text, unit), faults: (value) => fault(value, size(value), allowed, 0),
    };
  }
  const allowed = range(-most / DEGREE, most / DEGREE, 'deg', 0);
  return {
    sign: '°', range: allowed, text: (value, decimals = 1) => angleText(value, decimals), typed: (value) => asGiven(value / DEGREE, 2),
    read: (text) => {
      const degrees = readNumber(text.replace('°', ''));
      return degrees === null ? null : degrees * DEGREE;
    },
    faults: (value) => fault(value, { of: 'rad', value, decimals: 1 }, allowed, -most),
  };
}
