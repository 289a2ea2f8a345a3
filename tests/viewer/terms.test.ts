/** The words: sixteen that the drawing shows, each told once, and nothing told twice. */
import { describe, expect, test } from 'vitest';
import { MEANINGS } from '../../src/say/meanings';
import { OTHER_TERMS, TERMS, termsIn } from '../../src/say/terms';

describe('words', () => {
  test('are sixteen with a drawing and others without, each once, in plain lines', () => {
    expect(TERMS.length).toBe(16);
    const names = [...TERMS, ...OTHER_TERMS].map(({ name }) => name);
    expect(new Set(names.map((name) => name.toLowerCase())).size).toBe(names.length);
    expect(OTHER_TERMS.map(({ name }) => name)).toEqual(OTHER_TERMS.map(({ name }) => name).toSorted((a, b) => a.localeCompare(b)));
    for (const word of ['Shoulder', 'Slot', 'Crown', 'Block', 'Method']) expect(names).toContain(word);
    for (const { id, name } of [...TERMS, ...OTHER_TERMS]) {
      const means = MEANINGS[id];
      expect(`${name}: ${means}`).toMatch(/^[A-Z][A-Za-z -]+: [a-z]/);
      expect(means.endsWith('.')).toBe(false);
    }
  });

  test('are found in a label, the longest first, and in no other word', () => {
    const found = (label: string) => termsIn(label).flatMap(({ id, text }) => (id ? [`${id}: ${text}`] : []));
    expect(found('Sole thickness')).toEqual(['sole: Sole']);
    expect(found('Bottom and deck skin, cap left')).toEqual(['deck-skin: deck skin', 'cap-left: cap left']);
    expect(found("Cap's colour")).toEqual(['cap: Cap']);
    expect(found('Row 1 stops, along the rail')).toEqual(['row: Row', 'stop: stops', 'along-the-rail: along the rail']);
    expect(found('Stopwatch, rib-end line, Captain, Spreadsheet')).toEqual([]);
    for (const label of ['Sole, rows and cap', 'Length', '']) expect(termsIn(label).map(({ text }) => text).join('')).toBe(label);
  });
});
