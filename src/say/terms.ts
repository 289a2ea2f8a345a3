/** The words of the trade and our own, for the Words page and for every label that carries one; what each means is told in meanings.ts alone. */

/** The sixteen that the drawing shows, in its order. */
export const TERMS = [
  { id: 'deck-skin', name: 'Deck skin' },
  { id: 'bottom-skin', name: 'Bottom skin' },
  { id: 'rib', name: 'Rib' },
  { id: 'sole', name: 'Sole' },
  { id: 'cap', name: 'Cap' },
  { id: 'row', name: 'Row' },
  { id: 'hollow', name: 'Hollow' },
  { id: 'gap', name: 'Gap' },
  { id: 'outer-skins', name: 'Outer skins' },
  { id: 'bevel', name: 'Bevel' },
  { id: 'plane-off', name: 'Plane off' },
  { id: 'cap-left', name: 'Cap left' },
  { id: 'cover', name: 'Cover' },
  { id: 'tuck', name: 'Tuck' },
  { id: 'station', name: 'Station' },
  { id: 'stop', name: 'Stop' },
] as const;

/** All other words, by the alphabet. */
export const OTHER_TERMS = [
  { id: 'along-the-rail', name: 'Along the rail' },
  { id: 'apex', name: 'Apex' },
  { id: 'band', name: 'Band' },
  { id: 'block', name: 'Block' },
  { id: 'box-face', name: 'Box face' },
  { id: 'crown', name: 'Crown' },
  { id: 'decision', name: 'Decision' },
  { id: 'half-breadth', name: 'Half-breadth' },
  { id: 'inner-depth', name: 'Inner depth' },
  { id: 'method', name: 'Method' },
  { id: 'rocker', name: 'Rocker' },
  { id: 'scarf', name: 'Scarf' },
  { id: 'shoulder', name: 'Shoulder' },
  { id: 'skin-blank', name: 'Skin blank' },
  { id: 'slot', name: 'Slot' },
  { id: 'spacer', name: 'Spacer' },
  { id: 'spread', name: 'Spread' },
  { id: 'stock-length', name: 'Stock length' },
  { id: 'tab', name: 'Tab' },
] as const;

export type TermId = (typeof TERMS | typeof OTHER_TERMS)[number]['id'];

/** The words in the singular. */
const BY_WORD = new Map<string, TermId>([...TERMS, ...OTHER_TERMS].map(({ id, name }) => [name.toLowerCase().replace(/s$/, ''), id]));
const LONGEST = Math.max(...[...BY_WORD.keys()].map((name) => name.split(' ').length));

/** A piece of a label; one that is a word of the list says which. */
export interface LabelPiece {
  readonly text: string;
  readonly id?: TermId;
}

/** A label in pieces, each word of the list one of its own, the longest first: "Cap left of it" is "Cap left", which is one, and " of it". */
export function termsIn(label: string): readonly LabelPiece[] {
  const pieces: LabelPiece[] = [];
  const words = [...label.matchAll(/[\w-]+/g)];
  let from = 0;
  for (let at = 0; at < words.length; at++) {
    for (let many = Math.min(LONGEST, words.length - at); many > 0; many--) {
      const last = words[at + many - 1];
      const [start, end] = [words[at].index, last.index + last[0].length];
      const text = label.slice(start, end);
      const id = BY_WORD.get(text.toLowerCase().replace(/s$/, ''));
      if (!id) continue;
      if (start > from) pieces.push({ text: label.slice(from, start) });
      pieces.push({ text, id });
      from = end;
      at += many - 1;
      break;
    }
  }
  if (from < label.length) pieces.push({ text: label.slice(from) });
  return pieces;
}
