/** No two parts of a board take the same room: all bodies of every board against each other, by manifold-3d. Provable: timber is where other timber is not. */
import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { readDesign } from '../../geometry/design/read';
import type { Design } from '../../geometry/design/schema';
import { planBoard } from '../../geometry/plan';
import { meshBoard } from '../../geometry/solid/board';
import type { Body } from '../../geometry/types';
import { loadManifold } from '../support/kernels';
import { overlapsOf, overlapText } from '../support/overlaps';
import { errorLines } from '../support/said';
import { seedDesign, seedNames, starterTexts } from './boards';

let module: Awaited<ReturnType<typeof loadManifold>>;
beforeAll(async () => {
  module = await loadManifold();
});

const starter = (text: string): Design => {
  const read = readDesign(text);
  if (!read.ok) throw new Error(errorLines(read.errors));
  return read.design;
};
const filled = (name: string, block: 'ring' | 'solid', ringWidth: number): Design =>
  ({ ...seedDesign(name), ends: { tail: { block, skins: 'wrapped' }, nose: { block, skins: 'wrapped' }, ringWidth } });

const butted = (name: string, block: 'ring' | 'solid'): Design => ({ ...seedDesign(name), ends: { tail: { block, skins: 'butted' }, nose: { block, skins: 'butted' } } });

const boards: readonly [string, Design][] = [
  ...seedNames.map((name): [string, Design] => [name, seedDesign(name)]),
  ...starterTexts.map(([name, text]): [string, Design] => [name, starter(text)]),
  ['round ends, solid', filled('round-tail-175.board.json', 'solid', 40)],
  ['a square tail\'s ring and a narrow one at the nose', filled('long-275.board.json', 'ring', 26)],
  ['outer skins butted on rings', butted('round-tail-175.board.json', 'ring')],
  ['outer skins butted on solid blocks, a square tail\'s too', butted('long-275.board.json', 'solid')],
  // Boards that a fuzz run found: at a square end that leans, a row in the cap, and strips in a deck and a bottom that curve there;
  // a waist narrower than the stringer, a tab beside a block's tongue, a fitting under a hollow deck.
  ...['1-179', '2-186', '2-176', '2-110', '2-111', '2-173'].map((name): [string, Design] => [name, starter(readFileSync(new URL(`./repro/boards/random-${name}.board.json`, import.meta.url), 'utf8'))]),
  ['strips split and strapped round the ends', { ...seedDesign('round-tail-175.board.json'), consents: { split: true, strap: true } }],
];

describe('no two parts take the same room', () => {
  it.each(boards)('%s', (_, design) => {
    const plan = planBoard(design);
    expect(overlapsOf(module, plan).map(overlapText)).toEqual([]);
  });

  it('and it would be seen: a row pushed a fifth of a millimetre outboard, a block that begins a millimetre early', () => {
    const plan = planBoard(seedDesign('round-tail-175.board.json'));
    const bodies = meshBoard(plan);
    const moved = (id: string, axis: 0 | 1, by: number): Body[] => bodies.map((body) => (body.id === id
      ? { ...body, mesh: { ...body.mesh, positions: body.mesh.positions.map((v, i) => (i % 3 === axis ? v + by : v)) } } : body));
    expect(overlapsOf(module, plan, moved('row-1-1-starboard', 1, 0.2)).map(({ parts }) => parts.join(' '))).toContain('row-1-1-starboard outer-skin-1-starboard');
    const early = overlapsOf(module, plan, moved('block-tail', 0, 1)).map(({ parts }) => parts.join(' '));
    for (const strip of ['sole', 'cap', 'block-tail-tongue']) expect(early.some((parts) => parts.includes('block-tail ') && parts.includes(`${strip}-starboard`)) || early.includes(`block-tail ${strip}-starboard`)).toBe(true);
  });
});
