/** Ink lines of solids one can count in the head, and ribs laid evenly. */
import { describe, expect, test } from 'vitest';
import { evenRibs } from '../../geometry/frame/spacing';
import { inkEdges } from '../../src/work/ink';

/** A box whose faces have their own vertices, as the kernel's strips do. */
function box(): { positions: Float32Array; normals: Float32Array; indices: Uint32Array } {
  const positions: number[] = [];
  const indices: number[] = [];
  for (const axis of [0, 1, 2]) {
    for (const side of [0, 1]) {
      const start = positions.length / 3;
      for (const [u, v] of [[0, 0], [1, 0], [1, 1], [0, 1]]) {
        const p = [0, 0, 0];
        p[axis] = side;
        p[(axis + 1) % 3] = u;
        p[(axis + 2) % 3] = v;
        positions.push(p[0] * 30, p[1] * 20, p[2] * 10);
      }
      indices.push(...(side ? [0, 1, 2, 0, 2, 3] : [0, 2, 1, 0, 3, 2]).map((i) => start + i));
    }
  }
  return { positions: Float32Array.from(positions), normals: new Float32Array(positions.length), indices: Uint32Array.from(indices) };
}

describe('ink lines', () => {
  test('a half has none where it is open on the centreline', () => {
    const whole = box();
    // Without its two triangles in the plane y = 0.
    const onCentre = (t: number) => [0, 1, 2].every((k) => whole.positions[3 * whole.indices[t + k] + 1] === 0);
    const open = { ...whole, indices: whole.indices.filter((_, i) => !onCentre(i - (i % 3))) };
    expect(open.indices).toHaveLength(30);
    expect(inkEdges(open)).toHaveLength(24);
    expect(inkEdges(open, true)).toHaveLength(16);
  });

  test('a box has twelve, and no diagonals', () => {
    const mesh = box();
    const ink = inkEdges(mesh);
    expect(ink).toHaveLength(24);
    for (let k = 0; k < ink.length; k += 2) {
      const differ = [0, 1, 2].filter((c) => mesh.positions[3 * ink[k] + c] !== mesh.positions[3 * ink[k + 1] + c]);
      expect(differ).toHaveLength(1);
    }
  });

  test('an open sheet has its border', () => {
    const positions = Float32Array.from([0, 0, 0, 1, 0, 0, 1, 1, 0, 0, 1, 0]);
    expect(inkEdges({ positions, normals: new Float32Array(12), indices: Uint32Array.from([0, 1, 2, 0, 2, 3]) })).toHaveLength(8);
  });

  test('a triangle without area draws nothing', () => {
    const positions = Float32Array.from([0, 0, 0, 1, 0, 0, 2, 0, 0]);
    expect(inkEdges({ positions, normals: new Float32Array(9), indices: Uint32Array.from([0, 1, 2]) })).toHaveLength(0);
  });
});

describe('ribs laid evenly', () => {
  test('about mid-length, at the spacing asked for', () => {
    expect(evenRibs(1000, 200)).toEqual([100, 300, 500, 700, 900]);
    expect(evenRibs(1000, 250)).toEqual([125, 375, 625, 875]);
    expect(evenRibs(100, 300)).toEqual([]);
    expect(evenRibs(1000, Number.NaN)).toEqual([]);
  });
});
