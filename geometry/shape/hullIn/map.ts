/** The distances of a body as a surface to look at: few enough triangles to draw. */
import type { Triangles } from './body';

/** A surface with a signed distance a corner, mm. */
export interface OffMap extends Triangles {
  readonly off: Float32Array;
}

/** Most triangles that are drawn as they are; and how wide the cells are in which corners of a finer surface become one, mm. */
const DRAWN = 120_000;
const CELL = 6;

/** The map: of a fine surface one corner a cell, that which lies farthest off. */
export function mapOf({ positions: p, indices }: Triangles, off: Float32Array): OffMap {
  if (indices.length / 3 <= DRAWN) return { positions: p, indices, off };
  const cells = new Map<number, number>();
  const cellOf = new Uint32Array(off.length);
  const best: number[] = [];
  for (let i = 0; i < off.length; i++) {
    if (Number.isNaN(off[i])) continue;
    const id = (Math.floor(p[3 * i] / CELL) * 2048 + Math.floor(p[3 * i + 1] / CELL) + 1024) * 2048 + Math.floor(p[3 * i + 2] / CELL) + 1024;
    let k = cells.get(id);
    if (k === undefined) {
      cells.set(id, (k = best.length));
      best.push(i);
    } else if (Math.abs(off[i]) > Math.abs(off[best[k]])) best[k] = i;
    cellOf[i] = k;
  }
  const kept: number[] = [];
  for (let i = 0; i < indices.length; i += 3) {
    const [a, b, c] = [cellOf[indices[i]], cellOf[indices[i + 1]], cellOf[indices[i + 2]]];
    if (a !== b && b !== c && c !== a) kept.push(a, b, c);
  }
  return {
    positions: Float32Array.from(best.flatMap((i) => [p[3 * i], p[3 * i + 1], p[3 * i + 2]])),
    indices: Uint32Array.from(kept), off: Float32Array.from(best, (i) => off[i]),
  };
}
