/** Bodies of triangles as files bring them: boards' outsides, turned, scaled, spoiled. */
import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { hullMesh } from '../../geometry/solid/board';
import { buildHull } from '../../geometry/hull/hull';
import type { Design } from '../../geometry/design/schema';
import type { Triangles } from '../../geometry/shape/hullIn/body';
import { fitBody, type HullFit } from '../../geometry/shape/hullIn/hullIn';
import { poseOf, type PoseAsked } from '../../geometry/shape/hullIn/pose';
import { outerShells, tidyBody } from '../../geometry/shape/hullIn/body';
import { writeStl } from '../../src/papers/solids';

/** A board's finished outside as the STL that the program itself writes: right-handed, mm. */
export const stlOf = (design: Design, detail?: number): Uint8Array =>
  writeStl(hullMesh({ hull: buildHull(design) }, detail), { board: design.name, revision: '', unit: 'mm', date: '2026-01-01' });

/** A box from its lowest corner to its highest. */
export const boxOf = (low: readonly number[], high: readonly number[]): Triangles => ({
  positions: Float32Array.from(Array.from({ length: 8 }, (_, k) => [0, 1, 2].map((d) => (k & (1 << d) ? high[d] : low[d]))).flat()),
  indices: Uint32Array.from([[0, 1, 3, 2], [4, 5, 7, 6], [0, 1, 5, 4], [2, 3, 7, 6], [0, 2, 6, 4], [1, 3, 7, 5]].flatMap(([a, b, c, d]) => [a, b, c, a, c, d])),
});

/** A body each of whose corners is off by up to so much along each axis, corners in one place as one. */
export function noisy(raw: Triangles, by: number, seed: number): Triangles {
  const { body: { positions, indices } } = tidyBody(raw);
  const random = xoroshiro128plus(seed);
  return { indices, positions: positions.map((v) => v + 2 * by * (uniformFloat64(random) - 0.5)) };
}

/** Bodies as one. */
export const together = (...bodies: readonly Triangles[]): Triangles => bodies.reduce((all, { positions, indices }) => ({
  positions: Float32Array.from([...all.positions, ...positions]),
  indices: Uint32Array.from([...all.indices, ...indices.map((k) => k + all.positions.length / 3)]),
}));

/** A turn by a quaternion of no special kind, then a shift and a scale. */
export function oddly({ positions, indices }: Triangles, scale: number): Triangles {
  const [w, x, y, z] = [0.3, -0.5, 0.7, 0.41].map((v) => v / Math.hypot(0.3, 0.5, 0.7, 0.41));
  const rows = [
    [1 - 2 * (y * y + z * z), 2 * (x * y - z * w), 2 * (x * z + y * w)],
    [2 * (x * y + z * w), 1 - 2 * (x * x + z * z), 2 * (y * z - x * w)],
    [2 * (x * z - y * w), 2 * (y * z + x * w), 1 - 2 * (x * x + y * y)],
  ];
  return {
    indices,
    positions: positions.map((_, i) => {
      const at = i - (i % 3);
      const [a, b, c] = rows[i % 3];
      return scale * (a * positions[at] + b * positions[at + 1] + c * positions[at + 2] + 100 * (i % 3));
    }),
  };
}

/** A body read, laid and fitted, as the worker does it. Throws what it throws, and the first field error as text. */
export function fitted(raw: Triangles, present: Design, asked: PoseAsked = {}): HullFit {
  const { body } = outerShells(tidyBody(raw).body);
  const steps = fitBody(poseOf(body, asked).body, present);
  for (let next = steps.next(); ; next = steps.next()) {
    if (!next.done) continue;
    if ('errors' in next.value) throw new Error(next.value.errors.map(({ field, message }) => `${field}: ${JSON.stringify(message)}`).join('; '));
    return next.value;
  }
}
