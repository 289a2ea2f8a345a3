/** The stage's facets: as fine as the eye asks for. Comparison of the kernel with itself, four times finer; nearest points by three-mesh-bvh. */
import { BufferAttribute, BufferGeometry, Vector3 } from 'three';
import { MeshBVH } from 'three-mesh-bvh';
import { expect, test } from 'vitest';
import { planBoard } from '../../geometry/plan';
import { meshBoard, meshStarboard } from '../../geometry/solid/board';
import type { Mesh } from '../../geometry/types';
import { seedDesign } from './boards';

const FINER = 4;
/** What facets may stray by, mm: chords are chosen for 0.03 along and as much across, which between two of each add up; near a tip lines run out as no curvature foretells. */
const STRAYS = 0.05;
const AT_TIP = 0.3;
const TIP = 60;

const treeOf = ({ positions, indices }: Mesh): MeshBVH =>
  new MeshBVH(new BufferGeometry().setAttribute('position', new BufferAttribute(positions, 3)).setIndex(new BufferAttribute(indices.slice(), 1)));

test.each(['round-tail-175.board.json', 'long-275.board.json'])('%s: lie on the bodies of files, with half of their corners at most', (name) => {
  const plan = planBoard(seedDesign(name));
  const fine = new Map(meshBoard(plan, FINER).map(({ id, mesh }) => [id, mesh]));
  const bodies = meshStarboard(plan);
  for (const { id, mesh: { positions, indices } } of bodies) {
    const twin = fine.get(id);
    if (!twin) throw new Error(id);
    const tree = treeOf(twin);
    const corner = (i: number) => new Vector3().fromArray(positions, 3 * i);
    for (let t = 0; t < indices.length; t += 9) {
      const [a, b, c] = [corner(indices[t]), corner(indices[t + 1]), corner(indices[t + 2])];
      for (const at of [a, a.clone().lerp(b, 0.5), b.clone().lerp(c, 0.5), c.clone().lerp(a, 0.5), a.clone().add(b).add(c).divideScalar(3)]) {
        // A half is open on the centreline.
        if (at.y === 0) continue;
        const off = tree.closestPointToPoint(at)?.distance ?? Infinity;
        const tip = Math.min(at.x, plan.hull.length - at.x) < TIP;
        if (!(off < (tip ? AT_TIP : STRAYS))) throw new Error(`${id} strays by ${off} mm at ${at.toArray().join(' ')}`);
      }
    }
  }
  const corners = (of: readonly { readonly mesh: Mesh }[]) => of.reduce((sum, { mesh }) => sum + mesh.positions.length, 0);
  const files = meshBoard(plan).filter(({ side }) => side !== 'port');
  expect(corners(bodies)).toBeLessThan(corners(files) / 2);
});

// Provable: the same rule of the same curves, whatever the spacing of the samples it is worked out from.
test('a draft has its settled plan\'s triangles', () => {
  const design = seedDesign('round-tail-175.board.json');
  const counts = [2, 4].map((step) => meshStarboard(planBoard(design, { step })).map(({ id, mesh }) => `${id} ${mesh.indices.length}`));
  expect(counts[1]).toEqual(counts[0]);
});
