/** Boards whose parts are tried for room that two of them take. */
import { readFileSync } from 'node:fs';
import { readDesign } from '../../geometry/design/read';
import type { Design } from '../../geometry/design/schema';
import { seedDesign, seedNames, starterTexts } from '../geometry/boards';
import { errorLines } from './said';

const starter = (text: string): Design => {
  const read = readDesign(text);
  if (!read.ok) throw new Error(errorLines(read.errors));
  return read.design;
};
const filled = (name: string, block: 'ring' | 'solid', ringWidth: number): Design =>
  ({ ...seedDesign(name), ends: { tail: { block, skins: 'wrapped' }, nose: { block, skins: 'wrapped' }, ringWidth } });

const butted = (name: string, block: 'ring' | 'solid'): Design => ({ ...seedDesign(name), ends: { tail: { block, skins: 'butted' }, nose: { block, skins: 'butted' } } });

/** Tried by every `npm test`: one with a square tail, one with butted skins, one with strapped strips, and those that once broke a rule. */
export const EVERY_RUN: readonly (readonly [string, Design])[] = [
  ['long-275.board.json', seedDesign('long-275.board.json')],
  ['outer skins butted on rings', butted('round-tail-175.board.json', 'ring')],
  // Boards that a fuzz run found: at a square end that leans, a row in the cap, and strips in a deck and a bottom that curve there;
  // a waist narrower than the stringer, a tab beside a block's tongue, a fitting under a hollow deck.
  ...['1-179', '2-186', '2-176', '2-110', '2-111', '2-173'].map((name): [string, Design] => [name, starter(readFileSync(new URL(`../geometry/repro/boards/random-${name}.board.json`, import.meta.url), 'utf8'))]),
  ['strips split and strapped round the ends', { ...seedDesign('round-tail-175.board.json'), consents: { split: true, strap: true } }],
];

/** Tried by `npm run verify`: the rest of the tests' boards, the starters, and blocks of each kind. */
export const IN_VERIFY: readonly (readonly [string, Design])[] = [
  ...seedNames.filter((name) => !EVERY_RUN.some(([tried]) => tried === name)).map((name): [string, Design] => [name, seedDesign(name)]),
  ...starterTexts.map(([name, text]): [string, Design] => [name, starter(text)]),
  ['round ends, solid', filled('round-tail-175.board.json', 'solid', 40)],
  ['a square tail\'s ring and a narrow one at the nose', filled('long-275.board.json', 'ring', 26)],
  ['outer skins butted on solid blocks, a square tail\'s too', butted('long-275.board.json', 'solid')],
];
