/** Signs of the bench sheet: how each kind of strip bends at a place, in letters that survive sawdust and a copier. */
import type { Parts, StripId } from '../../../../geometry/parts/types';
import { BEND_TONES } from '../../../say/bendWords';
import { BEND_WORDS } from '../../../say/words';
import { BENT, bendAt } from '../../railTables';
import type { Pen } from '../pen';

const LETTERS: Readonly<Record<StripId['kind'], string>> = { sole: 'S', row: 'R', cap: 'C', 'outer-skin': 'O' };

/** What a letter is drawn as. */
type Tone = (typeof BEND_TONES)[keyof typeof BEND_TONES];

/** One letter: plain for cold, in a box for forced, white on black for heat, struck through in a box where no method does. */
function bendMark(pen: Pen, x: number, y: number, letter: string, tone: Tone, size = 4.6): void {
  const text = { size: size * 2.1, align: 'centre' as const };
  const base = y + size * 0.27;
  if (tone === 'cold') {
    pen.text(x, base, letter, text);
    return;
  }
  const [left, top] = [x - size / 2, y - size / 2];
  if (tone === 'wet') {
    pen.rect(left, top, size, size, { fill: 0, bare: true });
    pen.text(x, base, letter, { ...text, face: 'bold', grey: 1 });
    return;
  }
  pen.rect(left, top, size, size, { width: 0.35 });
  pen.text(x, base, letter, text);
  if (tone === 'forced') return;
  pen.line(left, top, left + size, top + size, { width: 0.35 });
  pen.line(left, top + size, left + size, top, { width: 0.35 });
}

/** The four letters at a place along the rail, in a cell. */
export function bendMarks(pen: Pen, parts: Parts, s: number, x: number, y: number, w: number, h: number): void {
  const bend = bendAt(parts, s);
  BENT.forEach((kind, i) => {
    const here = bend[kind];
    if (here) bendMark(pen, x + (w * (i + 0.5)) / BENT.length, y + h / 2, LETTERS[kind], BEND_TONES[here.method], Math.min(5, w / BENT.length - 0.4));
  });
}

/** What the letters mean, on one line. Returns the width used. */
export function bendLegend(pen: Pen, x: number, y: number, size = 8.5): void {
  const words = 'Bending: S sole, R rows, C cap, O outer skins.';
  pen.text(x, y, words, { size });
  let at = x + pen.measure(words, size) + 4;
  for (const tone of ['cold', 'forced', 'wet', 'block'] as const) {
    const word = BEND_WORDS[tone];
    bendMark(pen, at, y - 1.1, 'S', tone, 4);
    pen.text(at + 3, y, word, { size });
    at += pen.measure(word, size) + 9;
  }
}
