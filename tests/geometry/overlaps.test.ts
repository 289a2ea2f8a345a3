/** No two parts of a board take the same room: all bodies against each other, by manifold-3d; of more boards: `npm run verify`. Provable: timber is where other timber is not. */
import { beforeAll, describe, expect, it } from 'vitest';
import { planBoard } from '../../geometry/plan';
import { meshBoard } from '../../geometry/solid/board';
import type { Body } from '../../geometry/types';
import { EVERY_RUN } from '../support/assemblies';
import { loadManifold } from '../support/kernels';
import { overlapsOf, overlapText } from '../support/overlaps';
import { seedDesign } from './boards';

let module: Awaited<ReturnType<typeof loadManifold>>;
beforeAll(async () => {
  module = await loadManifold();
});

describe('no two parts take the same room', () => {
  it.each(EVERY_RUN)('%s', (_, design) => {
    const plan = planBoard(design);
    expect(overlapsOf(module, plan).map(overlapText)).toEqual([]);
  });

  it('and it would be seen: a row pushed a fifth of a millimetre outboard, a block that begins a millimetre early', () => {
    const plan = planBoard(seedDesign('round-tail-175.board.json'));
    const bodies = meshBoard(plan);
    const moved = (id: string, axis: 0 | 1, by: number): Body[] => bodies.map((body) => (body.id === id
      ? { ...body, mesh: { ...body.mesh, positions: body.mesh.positions.map((v, i) => (i % 3 === axis ? v + by : v)) } } : body));
    expect(overlapsOf(module, plan, moved('row-1-1-starboard', 1, 0.2), /^row-1-1-starboard$/).map(({ parts }) => parts.join(' '))).toContain('row-1-1-starboard outer-skin-1-starboard');
    const early = overlapsOf(module, plan, moved('block-tail', 0, 1), /^block-tail$/).map(({ parts }) => parts.join(' '));
    for (const strip of ['sole', 'cap', 'block-tail-tongue']) expect(early.some((parts) => parts.includes('block-tail ') && parts.includes(`${strip}-starboard`)) || early.includes(`block-tail ${strip}-starboard`)).toBe(true);
  });
});
