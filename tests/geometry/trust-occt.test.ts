/** A few stations of one board cut by OCCT (replicad-opencascadejs); `npm run verify` cuts 200 of every board. */
import { expect, it } from 'vitest';
import { planBoard } from '../../geometry/plan';
import { runOf } from '../../geometry/rail/query';
import { rowsAt } from '../../geometry/rail/laid';
import { sectionOnRun } from '../../geometry/rail/run';
import { loadOcct } from '../support/kernels';
import { occtBoard } from '../support/occtBoard';
import { seedDesign } from './boards';

it('depth, gap, bevel and cover agree with OCCT\'s own offsets, lines and distances to 0.01 mm and 0.01 degrees', async () => {
  const design = seedDesign('child-155.board.json');
  const plan = planBoard(design);
  const run = runOf(plan);
  const board = occtBoard(await loadOcct(), plan.hull, design);
  for (const x of [40, 330, 800, 1190, 1490]) {
    const theirs = board.station(x, (u) => rowsAt(plan.rail.rows, run.map.runAt(u)));
    if (!theirs) throw new Error(`no rib end at ${x} mm`);
    const s = run.map.runAt(theirs.u);
    const ours = sectionOnRun(run, s, rowsAt(plan.rail.rows, s));
    expect(ours.ribX).toBeCloseTo(x, 6);
    // Depth and gap come out alike far below the limit; cover follows the round's tangent plane.
    for (const figure of ['depth', 'gap'] as const) expect(Math.abs(ours[figure] - theirs[figure])).toBeLessThan(1e-6);
    expect(Math.abs(ours.cover - theirs.cover)).toBeLessThan(0.01);
    for (const figure of ['bevel', 'stationBevel'] as const) expect(Math.abs(ours[figure] - theirs[figure])).toBeLessThan((0.01 * Math.PI) / 180);
  }
});
