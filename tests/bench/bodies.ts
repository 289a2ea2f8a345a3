/** What a body from a file costs: its cuts across, all in one pass, beside those of a tree of boxes (three-mesh-bvh), whose making counts. */
import { BufferAttribute, BufferGeometry, type Triangle } from 'three';
import { CONTAINED, INTERSECTED, MeshBVH, NOT_INTERSECTED } from 'three-mesh-bvh';
import { buildHull } from '../../geometry/hull/hull';
import type { Triangles } from '../../geometry/shape/hullIn/body';
import { stationsOf } from '../../geometry/shape/hullIn/cuts';
import { slicesOf } from '../../geometry/shape/hullIn/slices';
import { hullMesh } from '../../geometry/solid/board';
import { seedDesign } from '../geometry/boards';
import { ms, type Section } from './report';
import { time } from './timing';

/** Steps along the board: a file's, a fine scan's. */
const DETAILS = [160, 1120] as const;
/** Cuts may differ by so much, as a share of the way round: figures of 32 bits. */
const ALIKE = 1e-6;

const treeOf = ({ positions, indices }: Triangles): MeshBVH =>
  new MeshBVH(new BufferGeometry().setAttribute('position', new BufferAttribute(positions, 3)).setIndex(new BufferAttribute(indices.slice(), 1)));

/** Pieces of the cut at x, four numbers each, by the tree. */
function cutBy(tree: MeshBVH, x: number): number[] {
  const cut: number[] = [];
  const edge = (s: Triangle['a'], e: Triangle['a']) => {
    if ((s.x < x) === (e.x < x)) return;
    const t = (x - s.x) / (e.x - s.x);
    cut.push(s.y + t * (e.y - s.y), s.z + t * (e.z - s.z));
  };
  tree.shapecast({
    intersectsBounds: ({ min, max }) => (min.x > x || max.x < x ? NOT_INTERSECTED : min.x === x && max.x === x ? CONTAINED : INTERSECTED),
    intersectsTriangle: ({ a, b, c }) => {
      edge(a, b);
      edge(b, c);
      edge(c, a);
      return false;
    },
  });
  return cut;
}

/** The way round a cut, mm. */
function roundOf(pieces: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < pieces.length; i += 4) sum += Math.hypot(pieces[i + 2] - pieces[i], pieces[i + 3] - pieces[i + 1]);
  return sum;
}

export function bodiesSection(): Section {
  const hull = buildHull(seedDesign('paddle-305.board.json'));
  const stations = stationsOf(hull.length);
  const rows = DETAILS.map((detail) => {
    const body = hullMesh({ hull }, detail);
    const tree = treeOf(body);
    const worst = Math.max(...slicesOf(body, stations).map(({ x, pieces }) => Math.abs(roundOf(cutBy(tree, x)) / roundOf(pieces) - 1)));
    if (!(worst <= ALIKE)) throw new Error(`cuts differ by ${worst} of the way round`);
    const [ours, made, cut] = time([() => slicesOf(body, stations), () => treeOf(body), () => stations.forEach((x) => cutBy(tree, x))], 1, 5, 0);
    return { triangles: body.indices.length / 3, ours, made, cut, worst };
  });
  return {
    title: 'A body cut across',
    tables: [{
      title: `${stations.length} cuts of the 3.05 m board as a body of triangles; least times`,
      head: ['triangles', 'ours, one pass (slicesOf)', 'three-mesh-bvh: its tree', 'its cuts', 'both, times ours', 'greatest difference'],
      rows: rows.map((r) => [String(r.triangles), ms(r.ours.least, 1), ms(r.made.least, 1), ms(r.cut.least, 1), ((r.made.least + r.cut.least) / r.ours.least).toFixed(1), r.worst.toExponential(1)]),
    }],
    remarks: ['A body is cut for its silhouette, in up to three passes and for what is told of it. Its tree once made, the cuts alone would take about as long as in one pass.'],
    targets: [],
    data: { rows },
  };
}
