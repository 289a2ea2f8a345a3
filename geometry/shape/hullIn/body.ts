/** A body of triangles from a file, tidied: corners in one place are one, and what is wrong with it is counted. */
import { BuildError } from '../../errors';
import { range } from '../../said';
import type { Mesh } from '../../types';

/** A body as a file gives it: three numbers a corner, three corners a triangle. */
export type Triangles = Pick<Mesh, 'positions' | 'indices'>;

/** The area of triangle `i`, whose corners stand from 3 i. */
export function areaOf({ positions: p, indices }: Triangles, i: number): number {
  const [a, b, c] = [3 * indices[3 * i], 3 * indices[3 * i + 1], 3 * indices[3 * i + 2]];
  const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
  const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
  return Math.hypot(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx) / 2;
}

/** What a tidied body was, before. */
export interface BodyFaults {
  /** Triangles without area, left out. */
  readonly slivers: number;
  /** Edges of one triangle only, and of more than two. */
  readonly open: number;
  readonly crowded: number;
}

/** Fewest triangles that can be a board, and the most that are read. */
const TRIANGLES = range(100, 8_000_000, 'count');

/** A body with one corner a place. Throws a BuildError naming the corner or the number at fault. */
export function tidyBody(raw: Triangles): { readonly body: Triangles; readonly faults: BodyFaults } {
  const { positions, indices } = raw;
  const count = positions.length / 3;
  const triangles = indices.length / 3;
  if (triangles < TRIANGLES.value[0] || triangles > TRIANGLES.value[1]) {
    throw new BuildError({ field: 'triangles', value: triangles, allowed: TRIANGLES, message: triangles === 0 ? 'the file holds no surface' : 'this cannot be the surface of a board' });
  }
  for (let i = 0; i < positions.length; i++) {
    if (!Number.isFinite(positions[i])) {
      throw new BuildError({ field: `corner ${Math.floor(i / 3) + 1}, ${'xyz'[i % 3]}`, value: String(positions[i]), allowed: 'a number', message: 'is not a number' });
    }
  }
  // Corners by their bits: a table twice as large as there are corners, open addressing. -0 is 0.
  const bits = new Uint32Array(3);
  const asFloat = new Float32Array(bits.buffer);
  let room = 1;
  while (room < 2 * count) room *= 2;
  const table = new Int32Array(room).fill(-1);
  const place = new Uint32Array(count);
  const kept = new Float32Array(positions.length);
  let n = 0;
  for (let i = 0; i < count; i++) {
    const [x, y, z] = [positions[3 * i] + 0, positions[3 * i + 1] + 0, positions[3 * i + 2] + 0];
    asFloat[0] = x;
    asFloat[1] = y;
    asFloat[2] = z;
    let at = (Math.imul(bits[0], 73856093) ^ Math.imul(bits[1], 19349663) ^ Math.imul(bits[2], 83492791));
    at = (at ^ (at >>> 15)) & (room - 1);
    for (; ; at = (at + 1) & (room - 1)) {
      const k = table[at];
      if (k < 0) {
        table[at] = n;
        kept.set([x, y, z], 3 * n);
        place[i] = n++;
        break;
      }
      if (kept[3 * k] === x && kept[3 * k + 1] === y && kept[3 * k + 2] === z) {
        place[i] = k;
        break;
      }
    }
  }
  const corners = new Uint32Array(indices.length);
  let m = 0;
  for (let i = 0; i < indices.length; i += 3) {
    for (let k = 0; k < 3; k++) {
      if (indices[i + k] >= count) throw new BuildError({ field: `triangle ${i / 3 + 1}`, value: indices[i + k] + 1, allowed: range(1, count, 'count'), message: 'names a corner that is not there' });
    }
    const [a, b, c] = [place[indices[i]], place[indices[i + 1]], place[indices[i + 2]]];
    if (a === b || b === c || c === a) continue;
    corners[m++] = a;
    corners[m++] = b;
    corners[m++] = c;
  }
  const body = { positions: kept.slice(0, 3 * n), indices: corners.slice(0, m) };
  return { body, faults: { slivers: (indices.length - m) / 3, ...edgesOf(body, n) } };
}

/** Edges that one triangle has alone, and that more than two share. */
function edgesOf({ indices }: Triangles, count: number): { open: number; crowded: number } {
  const keys = new Float64Array(indices.length);
  for (let i = 0; i < indices.length; i += 3) {
    for (let k = 0; k < 3; k++) {
      const [a, b] = [indices[i + k], indices[i + ((k + 1) % 3)]];
      keys[i + k] = a < b ? a * count + b : b * count + a;
    }
  }
  keys.sort();
  let open = 0;
  let crowded = 0;
  for (let i = 0; i < keys.length;) {
    let j = i + 1;
    while (j < keys.length && keys[j] === keys[i]) j++;
    if (j - i === 1) open++;
    else if (j - i > 2) crowded++;
    i = j;
  }
  return { open, crowded };
}

/** The shell that each corner belongs to, shells being numbered by their first corner. */
function shellsOf({ positions, indices }: Triangles): Uint32Array {
  const parent = Uint32Array.from({ length: positions.length / 3 }, (_, i) => i);
  const find = (i: number) => {
    while (parent[i] !== i) {
      parent[i] = parent[parent[i]];
      i = parent[i];
    }
    return i;
  };
  for (let i = 0; i < indices.length; i += 3) {
    for (let k = 1; k < 3; k++) {
      const [a, b] = [find(indices[i]), find(indices[i + k])];
      if (a < b) parent[b] = a;
      else parent[a] = b;
    }
  }
  for (let i = 0; i < parent.length; i++) parent[i] = find(i);
  return parent;
}

/** A body without the shells that lie wholly inside another one's box, as the inside of a hollow board does; and how many they were. */
export function outerShells(body: Triangles): { readonly body: Triangles; readonly inner: number } {
  const { positions, indices } = body;
  const shell = shellsOf(body);
  const boxes = new Map<number, Float64Array>();
  for (let i = 0; i < shell.length; i++) {
    let box = boxes.get(shell[i]);
    if (!box) boxes.set(shell[i], (box = Float64Array.of(Infinity, Infinity, Infinity, -Infinity, -Infinity, -Infinity)));
    for (let d = 0; d < 3; d++) {
      box[d] = Math.min(box[d], positions[3 * i + d]);
      box[d + 3] = Math.max(box[d + 3], positions[3 * i + d]);
    }
  }
  if (boxes.size === 1 || boxes.size > 5000) return { body, inner: 0 };
  // Only shells as long as half the body can hold another.
  const size = (box: Float64Array) => Math.max(box[3] - box[0], box[4] - box[1], box[5] - box[2]);
  const most = Math.max(...[...boxes.values()].map(size));
  const large = [...boxes].filter(([, box]) => size(box) > most / 2);
  const inside = (a: Float64Array, b: Float64Array) => [0, 1, 2].every((d) => a[d] > b[d] && a[d + 3] < b[d + 3]);
  const inner = new Set([...boxes].filter(([id, box]) => large.some(([other, holds]) => other !== id && inside(box, holds))).map(([id]) => id));
  if (inner.size === 0) return { body, inner: 0 };
  return { body: { positions, indices: indices.filter((_, i) => !inner.has(shell[indices[i - (i % 3)]])) }, inner: inner.size };
}
