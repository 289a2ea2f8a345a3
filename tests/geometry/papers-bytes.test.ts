/** What files are written with: figures against the language's own, corners told apart against a map of words, widths of lines against the library's. */
import { PDFDocument } from '@cantoo/pdf-lib';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { ByteText, encoded } from '../../src/papers/bytes';
import { CornerNumbers } from '../../src/papers/cornerNumbers';
import { fontsFor } from '../../src/papers/pdf/fonts';
import { printable, wideOf } from '../../src/papers/pdf/letters';

const read = (file: ByteText): string => new TextDecoder().decode(file.whole());

it('writes figures as String does', () => {
  // Fifteen digits: every decimal of as many is a double's shortest (IEEE 754-2019, 5.12.2; provable).
  const figure = fc.oneof(fc.integer({ min: -9, max: 9 }), fc.integer(), fc.maxSafeInteger().filter((v) => Math.abs(v) < 1e15)).map((v) => v + 0);
  fc.assert(fc.property(figure, fc.constantFrom(4, 5), (value, places) => {
    expect(read(new ByteText().decimal(value, places))).toBe((value / 10 ** places).toFixed(places).replace(/\.?0+$/, ''));
    expect(read(new ByteText().count(Math.abs(value)))).toBe(String(Math.abs(value)));
  }), { seed: 5, numRuns: 2000 });
  expect(read(new ByteText().decimal(-50, 4).words(' ').decimal(1234500, 4).words(' ').decimal(-0, 4))).toBe('-0.005 123.45 0');
});

it('keeps what was written as it grows, letters of every length', () => {
  const parts = Array.from({ length: 3000 }, (_, i) => `${'aäअ😀'.repeat(i % 17)}${i}`);
  const file = new ByteText();
  for (const [i, part] of parts.entries()) {
    if (i % 2 === 0) file.words(part);
    else file.bytes(encoded(part));
  }
  expect(read(file)).toBe(parts.join(''));
});

it('numbers corners as they are first met, however many', () => {
  const axis = fc.integer({ min: -3, max: 3 }).map((v) => v * 1e7);
  fc.assert(fc.property(fc.array(fc.tuple(axis, axis, axis), { maxLength: 300 }), fc.integer({ min: 0, max: 40 }), (corners, room) => {
    const [places, known] = [new CornerNumbers(room), new Map<string, number>()];
    for (const [x, y, z] of corners) {
      const words = `${x} ${y} ${z}`;
      const number = known.get(words) ?? known.size;
      known.set(words, number);
      expect(places.numberOf(x, y === 0 ? -0 : y, z)).toBe(number);
    }
    expect(places.count).toBe(known.size);
    expect(Array.from({ length: places.count }, (_, i) => places.figures.slice(3 * i, 3 * i + 3).join(' '))).toEqual([...known.keys()]);
  }), { seed: 7, numRuns: 300 });
});

it('knows the width of a line in a standard font to the last digit', async () => {
  const fonts = await fontsFor(await PDFDocument.create());
  const letters = fc.oneof(fc.string({ unit: 'grapheme-ascii', maxLength: 60 }), fc.string({ unit: fc.constantFrom(...'AVWTYLP,. ’“–€éßfi'), maxLength: 30 }));
  fc.assert(fc.property(letters, fc.constantFrom('regular', 'bold', 'oblique'), fc.constantFrom(7, 8.5, 11.5), (said, face, size) => {
    const [font, text] = [fonts[face], printable(fonts, said)];
    expect(wideOf(fonts, { font, text }, size)).toBe(font.widthOfTextAtSize(text, size));
  }), { seed: 9, numRuns: 1000 });
});
