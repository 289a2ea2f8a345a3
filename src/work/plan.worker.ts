/** Plans and meshes a board off the main thread: a full plan with its meshes can take longer than a frame. */
import { planBoard } from '../../geometry/plan';
import { meshBoard } from '../../geometry/solid/board';
import { withTrials } from '../../geometry/wood/trials';
import { bodySender } from './bodies';
import { serve } from './serve';

const send = bodySender();

serve({
  plan({ design, trials }, _, lent) {
    const start = performance.now();
    const plan = planBoard(withTrials(design, trials));
    const ms = performance.now() - start;
    const bodies = send(meshBoard(plan));
    for (const { mesh } of bodies) for (const array of [mesh.positions, mesh.normals, mesh.bevel, mesh.run]) if (array) lent.add(array.buffer);
    return { plan, bodies, ms };
  },
});
