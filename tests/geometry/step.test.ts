/**
 * Solids as STEP, read back by OCCT (replicad-opencascadejs): valid, closed, and of the right volume; `npm run verify` does
 * so with every part of every board. ISO 10303-21 for the file, AP214 for what is in it.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import type { OpenCascadeInstance } from 'replicad-opencascadejs';
import { planBoard } from '../../geometry/plan';
import { shapeArea } from '../../geometry/frame/frames';
import { meshBoard } from '../../geometry/solid/board';
import { boardBreps } from '../../geometry/solid/brep/board';
import { hullBrep } from '../../geometry/solid/brep/hull';
import { framePlates } from '../../geometry/solid/frameBodies';
import { lineBetween, ShellBuilder, wallBetween } from '../../geometry/solid/brep/shell';
import { writeStep } from '../../src/papers/step';
import { loadOcct } from '../support/kernels';
import { meshVolume } from '../support/meshVolume';
import { readStep } from '../support/readStep';
import { seedDesign } from './boards';

const stamp = { board: "O'Brien's \u03b1\u03b2\u03b3 \u{1f30a}", revision: 'A', unit: 'mm', date: '2026-11-26' } as const;

let occt: OpenCascadeInstance;
beforeAll(async () => {
  occt = await loadOcct();
});

describe('STEP', () => {
  it('the hull is its own surfaces, to the last hundredth of a percent of its volume', () => {
    const { hull } = planBoard(seedDesign('round-tail-175.board.json'));
    const [read, ...others] = readStep(occt, writeStep([hullBrep(hull)], 'Finished hull', stamp), 1e-4);
    expect(others).toEqual([]);
    expect(read.valid).toBe(true);
    // Two sides of deck, round and bottom.
    expect(read.faces).toBe(6);
    expect(Math.abs(read.volume / hull.volume - 1)).toBeLessThan(1e-4);
  });

  it('every part is a closed solid of few faces, named, the one to port the mirror image', () => {
    const plan = planBoard(seedDesign('child-155.board.json'));
    const { solids, short } = boardBreps(plan);
    expect(short).toEqual([]);
    const meshes = new Map(meshBoard(plan, 4).map(({ id, mesh }) => [id, meshVolume(mesh)]));
    // On the stage the corners of a frame's holes are coarser than they are cut.
    for (const { id, shape, thickness } of framePlates(plan, 'cut')) meshes.set(id, thickness * shapeArea(shape));
    expect(solids.map(({ id }) => id).sort()).toEqual([...meshes.keys()].filter((id) => !/^(hollow|round)-/.test(id)).sort());
    // The stringer's holes, eight faces each, are most of them.
    expect(Math.max(...solids.map(({ faces }) => faces.length))).toBeLessThan(220);
    // One of each kind is read here, all of all boards in `npm run verify`.
    const some = ['rib-4', 'sole-starboard', 'cap-starboard', 'row-2-1-port', 'outer-skin-1-starboard', 'block-nose', 'bottom-skin'].flatMap((id) => solids.filter((solid) => solid.id === id));
    const bytes = writeStep(some, 'Parts', stamp);
    const words = new TextDecoder().decode(bytes);
    for (const { id } of some) expect(words).toContain(`MANIFOLD_SOLID_BREP('${id.replace(/-/g, ' ')}'`);
    // ISO 10303-21:2016, 6.4.3.3 (from memory): the Greek letters of its own example in one directive, what is past 16 bits in another.
    expect(words).toContain(String.raw`PRODUCT('O''Brien''s \X2\03B103B203B3\X0\ \X4\0001F30A\X0\: Parts'`);
    const read = readStep(occt, bytes, 1e-4);
    expect(read).toHaveLength(some.length);
    read.forEach(({ valid, volume, faces }, i) => {
      const { id } = some[i];
      expect(valid, id).toBe(true);
      expect(faces, id).toBe(some[i].faces.length);
      // A rib's curves lie outside the chords of its cutting lines, which the area is of.
      expect(Math.abs(volume / (meshes.get(id) ?? Number.NaN) - 1), id).toBeLessThan(id.startsWith('rib') ? 2e-4 : 1e-4);
    });
  }, 60_000);

  it('says which solid does not close, and where', () => {
    const shell = new ShellBuilder();
    shell.patch(wallBetween(lineBetween([0, 0, 0], [1, 0, 0]), lineBetween([0, 1, 0], [1, 1, 0])), true);
    expect(() => shell.build('lid', 'cap', 'starboard')).toThrow(/lid does not close at/);
  });

  it('closes a solid whose corners come a hair apart, wherever they lie', () => {
    // 0.01 mm is what corners are looked for by: a cube's of 3 mm lie on its borders, and each face's stray to either side of them.
    for (const from of [-3, 0, 2.995, 1234.5]) {
      const shell = new ShellBuilder();
      let nudge = 0;
      const at = (i: number, j: number, k: number) => [i, j, k].map((step) => from + 3 * step + (((nudge++ * 7) % 5) - 2) * 1.2e-6);
      const face = (a: number[], b: number[], c: number[], d: number[]) => shell.patch(wallBetween(lineBetween(a, b), lineBetween(d, c)), true);
      face(at(0, 0, 0), at(0, 1, 0), at(1, 1, 0), at(1, 0, 0));
      face(at(0, 0, 1), at(1, 0, 1), at(1, 1, 1), at(0, 1, 1));
      for (const [[i, j], [p, q]] of [[[0, 0], [1, 0]], [[1, 0], [1, 1]], [[1, 1], [0, 1]], [[0, 1], [0, 0]]]) face(at(i, j, 0), at(p, q, 0), at(p, q, 1), at(i, j, 1));
      const { vertices, edges, faces } = shell.build('cube', 'cap', 'starboard');
      expect([vertices.length, edges.length, faces.length]).toEqual([8, 12, 6]);
    }
  });
});
