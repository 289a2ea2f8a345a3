/**
 * The letters a paper is printed in. Standard fonts, so that it stays small and the same everywhere; a word with letters that they lack is set in an
 * open typeface, of which the file carries the letters used. What that lacks too is written out in plain letters.
 */
import type { PDFFont } from '@cantoo/pdf-lib';
import anyAscii from 'any-ascii';

export type Face = 'regular' | 'bold' | 'oblique';

/** An open typeface's two weights, as the files of their fonts (TrueType). */
export interface Typefaces {
  readonly regular: Uint8Array;
  readonly bold: Uint8Array;
}

/** The fonts of a document. */
export interface Fonts extends Readonly<Record<Face, PDFFont>> {
  /** The open typeface, where the document has it, and the code points of its letters. */
  readonly open?: { readonly regular: PDFFont; readonly bold: PDFFont; readonly letters: ReadonlySet<number> };
}

/** Signs that the standard fonts lack and their usual stand-ins. */
const STAND_INS: Readonly<Record<string, string>> = {
  '−': '–', '′': "'", '″': '"', '⁄': '/', '≥': '>=', '≤': '<=', '→': '>', '←': '<', '\t': ' ', '\n': ' ', '\r': ' ', ' ': ' ',
};

/** Letters of the standard fonts beyond Latin-1 (Windows code page 1252). */
const EXTRA = new Set('€‚ƒ„…†‡ˆ‰Š‹ŒŽ‘’“”•–—˜™š›œžŸ');

/** Whether the standard fonts have a letter. */
const isStandard = (letter: string): boolean => {
  const code = letter.codePointAt(0) ?? 0;
  return (code >= 32 && code < 127) || (code >= 161 && code <= 255 && code !== 173) || EXTRA.has(letter);
};

/** Whether a text has letters that only an open typeface may have: without any, a document needs none. */
export const isForeign = (text: string): boolean => Array.from(text.normalize('NFC')).some((letter) => !isStandard(letter) && STAND_INS[letter] === undefined);

const isOpen = ({ open }: Pick<Fonts, 'open'>, letter: string): boolean => open?.letters.has(letter.codePointAt(0) ?? 0) ?? false;

/** Text in letters that the document's fonts have; others are written out in plain letters, '?' where nothing will do. */
export function printable(fonts: Pick<Fonts, 'open'>, text: string): string {
  let out = '';
  for (const letter of text.normalize('NFC')) out += isStandard(letter) ? letter : (STAND_INS[letter] ?? (isOpen(fonts, letter) ? letter : anyAscii(letter) || '?'));
  return out;
}

/** True where `printable` has to write a text in other letters. */
export const isRespelt = (fonts: Pick<Fonts, 'open'>, text: string): boolean => printable(fonts, text) !== text.normalize('NFC');

/** A piece of a line in one font. */
interface Run {
  readonly font: PDFFont;
  readonly text: string;
}

/** A size at which the standard fonts' widths are whole figures, as their tables have them. */
const TABLED = 1000;

/** How far two letters of a standard font lead on from the first to the second, by the font's name and their code units. */
const leads = new Map<string, Map<number, number>>();

/**
 * Width of a run at a size, points. The standard fonts are no more than a width a letter and a kern a pair (Adobe, Font Metrics File Format
 * Specification 4.1), all whole figures, so that a line's is the sum of its pairs', to the last digit; the open typeface is asked.
 */
export function wideOf({ open }: Pick<Fonts, 'open'>, { font, text }: Run, size: number): number {
  if (font === open?.regular || font === open?.bold) return font.widthOfTextAtSize(text, size);
  let known = leads.get(font.name);
  if (!known) leads.set(font.name, (known = new Map()));
  let sum = 0;
  for (let i = 0; i < text.length; i++) {
    const pair = text.charCodeAt(i) * 0x10000 + (i + 1 < text.length ? text.charCodeAt(i + 1) : 0);
    let lead = known.get(pair);
    if (lead === undefined) {
      lead = font.widthOfTextAtSize(text.slice(i, i + 2), TABLED) - (i + 1 < text.length ? font.widthOfTextAtSize(text[i + 1], TABLED) : 0);
      known.set(pair, lead);
    }
    sum += lead;
  }
  return sum * (size / TABLED);
}

/** A text in runs of one font each: a word with a letter of the open typeface is set in it whole, so far as it has its letters. */
export function runsOf(fonts: Fonts, text: string, face: Face): Run[] {
  const line = printable(fonts, text);
  const { open } = fonts;
  if (!open) return [{ font: fonts[face], text: line }];
  const openFont = open[face === 'bold' ? 'bold' : 'regular'];
  const runs: { font: PDFFont; text: string }[] = [];
  for (const word of line.split(/(?<= )/)) {
    const inOpen = Array.from(word).some((letter) => !isStandard(letter));
    for (const letter of word) {
      const font = inOpen && isOpen(fonts, letter) ? openFont : fonts[face];
      const last = runs.at(-1);
      if (last?.font === font) last.text += letter;
      else runs.push({ font, text: letter });
    }
  }
  return runs;
}
