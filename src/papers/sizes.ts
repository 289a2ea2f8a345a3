/** Paper sizes of the templates and the bench sheet. */
import { PaperError } from './stamp';

/** `roll`: one sheet off a plotter's roll, as long as the drawing. */
export type PaperSize = 'A4' | 'A3' | 'Letter' | 'roll';

export const PAPER_SIZES: readonly PaperSize[] = ['A4', 'A3', 'Letter', 'roll'];

/** Portrait, mm: ISO 216 and ANSI/ASME Y14.1 size A. */
const SIZES: Readonly<Record<Exclude<PaperSize, 'roll'>, readonly [number, number]>> = {
  A4: [210, 297],
  A3: [297, 420],
  Letter: [215.9, 279.4],
};

/** Width and height of a sheet, portrait, mm. */
export const sheetSize = (paper: Exclude<PaperSize, 'roll'>): readonly [number, number] => SIZES[paper];

/** Throws a PaperError for a size that is not one of ours. */
export function checkPaper(paper: string): PaperSize {
  const found = PAPER_SIZES.find((size) => size === paper);
  if (!found) throw new PaperError('paper', paper === '' ? 'nothing' : paper, PAPER_SIZES.join(', '));
  return found;
}
