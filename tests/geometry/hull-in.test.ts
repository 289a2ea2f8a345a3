/**
 * A whole board in: readers held against those of three, distances against three-mesh-bvh, every starter board there and back
 * through STL, a Wigley hull in closed form (formula as in tests/geometry/wigley.test.ts), and bodies that are open, noisy,
 * crowded or none.
 */
import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { BufferAttribute, BufferGeometry, type Mesh as ThreeMesh, Vector3 } from 'three';
import { OBJLoader } from 'three/examples/jsm/loaders/OBJLoader.js';
import { STLLoader } from 'three/examples/jsm/loaders/STLLoader.js';
import { MeshBVH } from 'three-mesh-bvh';
import { describe, expect, it } from 'vitest';
import { valueAt } from '../../geometry/curves/graph';
import { readDesign } from '../../geometry/design/read';
import type { Design } from '../../geometry/design/schema';
import { BuildError } from '../../geometry/errors';
import { buildHull } from '../../geometry/hull/hull';
import { logText } from '../../geometry/said';
import { outerShells, tidyBody, type Triangles } from '../../geometry/shape/hullIn/body';
import { outsidePlace, outsideOf } from '../../geometry/shape/hullIn/distance';
import { poseOf } from '../../geometry/shape/hullIn/pose';
import { slicesOf } from '../../geometry/shape/hullIn/slices';
import { halfBreadthAt } from '../../geometry/shape/line';
import { hullMesh } from '../../geometry/solid/board';
import { readBody } from '../../src/work/bodyFiles/read';
import { readObj } from '../../src/work/bodyFiles/obj';
import { readStl } from '../../src/work/bodyFiles/stl';
import { fitted, oddly, stlOf } from '../support/bodies';
import { starterTexts } from './boards';

const starters = starterTexts.map(([name, text]): [string, Design] => {
  const read = readDesign(text);
  if (!read.ok) throw new Error(name);
  return [name, read.design];
});
const [[, first], [, lake], , [, round]] = starters;
const bodyOf = (design: Design, detail?: number): Triangles => readStl(stlOf(design, detail));

/** What a call says is wrong: field, value and range in one line. */
async function wrong(make: () => unknown): Promise<string> {
  try {
    await make();
  } catch (error) {
    if (error instanceof BuildError) return logText(error.what);
    throw error;
  }
  return 'nothing';
}
const bytes = (text: string) => new TextEncoder().encode(text);

describe('readers', () => {
  it('read binary and text STL and OBJ as three does, to the last bit', () => {
    const stl = stlOf(first, 40);
    const theirs = new STLLoader().parse(stl.buffer as ArrayBuffer).getAttribute('position').array;
    expect(readStl(stl).positions).toEqual(theirs);
    const corners = Array.from(theirs.slice(0, 900));
    const vertex = (i: number) => corners.slice(3 * i, 3 * i + 3).join(' ');
    const facets = Array.from({ length: 100 }, (_, i) => `facet normal 0 0 1\n outer loop\n  vertex ${vertex(3 * i)}\n  vertex ${vertex(3 * i + 1)}\r\n  vertex ${vertex(3 * i + 2)}\n endloop\nendfacet`);
    const text = `solid board\n${facets.join('\n')}\nendsolid board\n`;
    expect(readStl(bytes(text)).positions).toEqual(new STLLoader().parse(text).getAttribute('position').array);
    const obj = `# a board\no deck\n${Array.from({ length: 300 }, (_, i) => `v ${vertex(i)}`).join('\n')}\nvn 0 0 1\nf 1//1 2//1 3//1\nf 4 5 6 7\nf -1 -2 \\\n -3\nf 8/1/1 9/2/1 10/3/1 11/1/1 12/1/1\n`;
    const { positions, indices } = readObj(bytes(obj));
    const parsed = (new OBJLoader().parse(obj).children[0] as ThreeMesh).geometry.getAttribute('position').array;
    expect(indices.length).toBe(parsed.length / 3);
    expect([...indices].flatMap((k) => [...positions.subarray(3 * k, 3 * k + 3)])).toEqual([...parsed]);
  });

  it('name the facet, the line or the field that cannot be read', async () => {
    const stl = stlOf(first, 40);
    expect(await wrong(() => readStl(stl.subarray(0, stl.length - 7)))).toMatch(/^STL file: the file ends too soon \(given \d+ bytes; allowed \d+ bytes for the \d+ facets/);
    const spoiled = stl.slice();
    new DataView(spoiled.buffer).setFloat32(84 + 50 * 6 + 16, Number.NaN, true);
    expect(await wrong(() => readStl(spoiled))).toMatch(/^facet 7: a corner is not a number \(given NaN/);
    expect(await wrong(() => readStl(bytes('solid a\nfacet normal 0 0 1\nouter loop\nvertex 0 0 zero\n')))).toMatch(/^line 4: the corner cannot be read \(given vertex 0 0 zero/);
    expect(await wrong(() => readObj(bytes('v 0 0 0\nv 1 0 0\nf 1 2 9\n')))).toMatch(/^line 3: the face names a corner that is not there \(given f 1 2 9; allowed corners 1 to 2/);
    expect(await wrong(() => readBody('board.gltf', bytes('{"asset":{"version":"2.0"},"extensionsRequired":["KHR_draco_mesh_compression"]}')))).toMatch(/^extensionsRequired: .*given KHR_draco_mesh_compression/);
    expect(await wrong(() => readBody('board.gltf', bytes('{"asset":{"version":"2.0"},"buffers":[{"uri":"shape.bin","byteLength":4}]}')))).toMatch(/^buffers: .*given shape.bin/);
    expect(await wrong(() => readBody('board.step', bytes('ISO-10303-21;')))).toMatch(/given \.step; allowed \.stl/);
    expect(await wrong(() => readBody('board.obj', bytes('# nothing\n')))).toMatch(/^triangles: the file holds no surface \(given 0/);
  });
});

describe('a body', () => {
  // Another library's nearest point on a mesh eight times finer than a file's; facets of 1280 rows stray from the surface by less than 0.01 mm.
  it('lies as far off the planned outside as three-mesh-bvh says', () => {
    const random = xoroshiro128plus(7);
    for (const design of [round, lake]) {
      const hull = buildHull(design);
      const { positions, indices } = hullMesh({ hull }, 640);
      const geometry = new BufferGeometry().setAttribute('position', new BufferAttribute(positions, 3)).setIndex(new BufferAttribute(indices, 1));
      const bvh = new MeshBVH(geometry);
      const find = outsideOf(hull);
      const at = outsidePlace();
      for (let i = 0; i < 400; i++) {
        const k = 3 * Math.floor(uniformFloat64(random) * (positions.length / 3));
        const [x, y, z] = [0, 1, 2].map((d) => positions[k + d] + 2 * (uniformFloat64(random) - 0.5));
        const { distance } = bvh.closestPointToPoint(new Vector3(x, y, z)) ?? { distance: Number.NaN };
        // First order in the distance: where the round's radius is a few millimetres, a twentieth of it.
        expect(Math.abs(Math.abs(find(x, y, z, at).r) - distance), `${x} ${y} ${z} ${at.zone}`).toBeLessThan(0.05 + 0.05 * distance);
      }
    }
  });

  it('is cut where its edges cross a plane: the lengths of a box\'s cuts', () => {
    const corner = (k: number) => [k & 1 ? 100 : 0, k & 2 ? 30 : -30, k & 4 ? 20 : 0];
    const faces = [[0, 1, 3, 2], [4, 5, 7, 6], [0, 1, 5, 4], [2, 3, 7, 6], [0, 2, 6, 4], [1, 3, 7, 5]];
    const box = { positions: Float32Array.from(Array.from({ length: 8 }, (_, k) => corner(k)).flat()), indices: Uint32Array.from(faces.flatMap(([a, b, c, d]) => [a, b, c, a, c, d])) };
    for (const { pieces } of slicesOf(box, [10, 50, 99])) {
      let round = 0;
      for (let i = 0; i < pieces.length; i += 4) round += Math.hypot(pieces[i + 2] - pieces[i], pieces[i + 3] - pieces[i + 1]);
      expect(round).toBeCloseTo(2 * (60 + 20), 9);
    }
  });

  it('is known by its lie: however it is turned, its length, width and unit are the board\'s, and its deck is up', () => {
    for (const [name, design] of starters) {
      const { body } = tidyBody(oddly(bodyOf(design, 60), 1 / 25.4));
      const posed = poseOf(body);
      const hull = buildHull(design);
      expect(posed.unit, name).toBe('inch');
      expect(Math.abs(posed.length - hull.length), name).toBeLessThan(2);
      expect(Math.abs(posed.width - 2 * hull.widest.halfBreadth), name).toBeLessThan(1);
      // The nose's half is the narrower one, and it is the bottom that lies on the bench.
      const [aft, , fore] = slicesOf(posed.body, [0.1, 0.5, 0.9].map((f) => f * posed.length)).map(({ pieces }) => pieces.filter((_, i) => i % 2 === 0).reduce((a, b) => Math.max(a, b), 0));
      expect(Math.abs(aft - halfBreadthAt(hull.outline, 0.1 * hull.length)), name).toBeLessThan(3);
      expect(Math.abs(fore - halfBreadthAt(hull.outline, 0.9 * hull.length)), name).toBeLessThan(3);
      const turned = poseOf(body, { endForEnd: true, overturned: true, unit: 'inch' });
      expect(Math.abs(turned.length - posed.length)).toBeLessThan(1);
    }
  });
});

describe('there and back through STL', () => {
  // Turned by a quaternion of no special kind and in inches; the bound is the issue's own.
  it.each(starters)('%s comes back within 0.3 mm', (_, design) => {
    const fit = fitted(oddly(bodyOf(design), 1 / 25.4), design === first ? lake : first);
    expect(fit.greatest).toBeLessThan(0.3);
    expect(fit.rms).toBeLessThan(0.04);
    expect(fit.remarks).toEqual([]);
    // Not by the same distances: the volume of what was planned, to a thousandth.
    expect(buildHull(fit.design).volume / buildHull(design).volume).toBeCloseTo(1, 3);
  });
});

describe('bodies of other kinds', () => {
  /** A Wigley hull on its side with sides 20 mm high, a rectangle in plan: deck 20 + h (1 - (2x/L - 1)^2) (1 - (y/T)^2) over a level bottom. */
  const [L, T, h, side] = [2400, 260, 60, 20];
  const form = (x: number) => 1 - ((2 * x) / L - 1) ** 2;
  const wigley = (): Triangles => {
    const [rows, columns] = [160, 40];
    const positions: number[] = [];
    for (let i = 0; i <= rows; i++) {
      const x = (L * i) / rows;
      for (let j = 0; j <= columns; j++) positions.push(x, -T + (2 * T * j) / columns, side + h * form(x) * (1 - (-1 + (2 * j) / columns) ** 2));
      for (let j = columns; j >= 0; j--) positions.push(x, -T + (2 * T * j) / columns, 0);
    }
    const across = 2 * (columns + 1);
    const indices: number[] = [];
    for (let i = 0; i < rows; i++) for (let j = 0; j < across; j++) {
      const [a, b] = [i * across + j, i * across + ((j + 1) % across)];
      indices.push(a, b, b + across, a, b + across, a + across);
    }
    for (const i of [0, rows]) for (let j = 0; j < columns; j++) {
      const [a, b, c, d] = [j, j + 1, across - 2 - j, across - 1 - j].map((k) => i * across + k);
      indices.push(a, b, c, a, c, d);
    }
    return { positions: Float32Array.from(positions), indices: Uint32Array.from(indices) };
  };

  it('a Wigley hull: thickness and crown are those of the formula, but at its corners, which are sharp', () => {
    const fit = fitted(wigley(), first, { unit: 'mm' });
    const { lines, outline, length } = buildHull(fit.design);
    expect(length).toBeCloseTo(L, 0);
    for (const f of [0.2, 0.35, 0.5, 0.65, 0.8]) {
      const x = f * L;
      expect(Math.abs(halfBreadthAt(outline, x) - T)).toBeLessThan(0.3);
      expect(Math.abs(valueAt(lines.thickness, x) - side - h * form(x))).toBeLessThan(0.3);
      expect(Math.abs(valueAt(lines.crown, x) * T - h * form(x))).toBeLessThan(0.5);
    }
  });

  it('an open one, with a twelfth of its triangles gone, is fitted all the same, and its open edges are counted', () => {
    const body = bodyOf(lake);
    const random = xoroshiro128plus(11);
    const gone = Uint8Array.from({ length: body.indices.length / 3 }, () => (uniformFloat64(random) < 1 / 12 ? 1 : 0));
    const indices = body.indices.filter((_, i) => gone[Math.floor(i / 3)] === 0);
    const { faults } = tidyBody({ ...body, indices });
    expect(faults.open).toBeGreaterThan(1000);
    expect(tidyBody(body).faults.open).toBe(0);
    expect(fitted({ ...body, indices }, first).greatest).toBeLessThan(0.3);
  });

  it('a noisy one, 0.4 mm this way and that, comes back with the noise left over and the lines on the board', () => {
    const body = bodyOf(lake);
    const { body: one } = tidyBody(body);
    const random = xoroshiro128plus(23);
    const positions = one.positions.map((v) => v + 0.8 * (uniformFloat64(random) - 0.5));
    const fit = fitted({ ...one, positions }, first);
    // The root mean square of an even spread of 0.8 is 0.8 / sqrt(12) along any one way.
    expect(Math.abs(fit.rms - 0.8 / Math.sqrt(12))).toBeLessThan(0.05);
    const [found, real] = [buildHull(fit.design), buildHull(lake)];
    for (const f of [0.1, 0.3, 0.5, 0.7, 0.9]) {
      expect(Math.abs(halfBreadthAt(found.outline, f * found.length) - halfBreadthAt(real.outline, f * real.length))).toBeLessThan(0.6);
      expect(Math.abs(valueAt(found.lines.thickness, f * found.length) - valueAt(real.lines.thickness, f * real.length))).toBeLessThan(0.4);
    }
  });

  it('one with a wall within it and a fin under it: edges of three triangles and inner shells are told, and the fin stays out of the lines', () => {
    const body = bodyOf(lake);
    const { body: hull } = tidyBody(body);
    // Inside: the same shape, a third of the size. Below: a blade 8 mm thick from the keel down, at a tenth of the length. Its foot begins on the hull's own edge.
    const n = hull.positions.length / 3;
    const box = (low: readonly number[], high: readonly number[]) => Array.from({ length: 8 }, (_, k) => [0, 1, 2].map((d) => (k & (1 << d) ? high[d] : low[d]))).flat();
    const faces = [[0, 1, 3, 2], [4, 5, 7, 6], [0, 1, 5, 4], [2, 3, 7, 6], [0, 2, 6, 4], [1, 3, 7, 5]].flatMap(([a, b, c, d]) => [a, b, c, a, c, d]);
    const with3 = [...hull.indices.subarray(0, 3)];
    const positions = Float32Array.from([...hull.positions, ...box([900, -60, 30], [1500, 60, 60]), ...box([250, -4, -90], [430, 4, 40])]);
    const indices = Uint32Array.from([...hull.indices, ...with3, ...faces.map((k) => n + k), ...faces.map((k) => n + 8 + k)]);
    const { body: all, faults } = tidyBody({ positions, indices });
    expect(faults.crowded).toBe(3);
    expect(outerShells(all).inner).toBe(1);
    const fit = fitted({ positions, indices }, first);
    expect(fit.remarks.map(logText).join(' ')).toMatch(/bottom toward the tail: up to 1\d\d\.\d mm outside the lines/);
    const found = buildHull(fit.design);
    expect(Math.abs(valueAt(found.lines.rocker, 340) - valueAt(found.lines.rocker, 700) - (valueAt(buildHull(lake).lines.rocker, 340) - valueAt(buildHull(lake).lines.rocker, 700)))).toBeLessThan(1.5);
  });

  it('what is no board is told by its figures', async () => {
    expect(await wrong(() => fitted({ ...bodyOf(first, 20), positions: bodyOf(first, 20).positions.map((v, i) => (i % 3 === 2 ? 12 * v : v)) }, first))).toMatch(/^shape: this does not look like a board/);
    expect(await wrong(() => fitted(bodyOf(first, 20), first, { unit: 'foot' }))).toMatch(/^length: is not that of a board.*allowed 600 to 6000 mm/);
    const flat = bodyOf(first, 20);
    expect(await wrong(() => fitted({ ...flat, positions: flat.positions.map(() => 1) }, first))).not.toBe('nothing');
    expect(await wrong(() => tidyBody({ positions: Float32Array.of(0, 0, Number.NaN), indices: new Uint32Array(300) }))).toMatch(/^corner 1, z: is not a number/);
  });
});
