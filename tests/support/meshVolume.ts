/** The volume inside a mesh, from its triangles alone: what the kernel's own volumes are held against. */
import type { Mesh } from '../../geometry/types';

/** Signed volume enclosed by a closed mesh, in the cube of its unit (divergence theorem); positive outward. */
export function meshVolume(mesh: Pick<Mesh, 'positions' | 'indices'>): number {
  const { positions: p, indices } = mesh;
  let sum = 0;
  for (let i = 0; i < indices.length; i += 3) {
    const a = indices[i] * 3, b = indices[i + 1] * 3, c = indices[i + 2] * 3;
    sum += p[a] * (p[b + 1] * p[c + 2] - p[b + 2] * p[c + 1])
      - p[a + 1] * (p[b] * p[c + 2] - p[b + 2] * p[c])
      + p[a + 2] * (p[b] * p[c + 1] - p[b + 1] * p[c]);
  }
  return sum / 6;
}
