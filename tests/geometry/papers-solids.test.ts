/**
 * Templates and solids in others' hands: DXF by dxf-parser, STL as a solid of manifold-3d, glTF by the Khronos
 * validator. Axes: starboard must stay starboard.
 */
import DxfParser from 'dxf-parser';
import { XMLParser } from 'fast-xml-parser';
import { unzipSync } from 'fflate';
import { validateBytes } from 'gltf-validator';
import { describe, expect, it } from 'vitest';
import { meshBoard } from '../../geometry/solid/board';
import { meshVolume } from '../support/meshVolume';
import { listPapers, makePapers, type PaperOptions } from '../../src/papers';
import { DRAWING_LAYERS } from '../../src/papers/drawing';
import { assembly } from '../../src/papers/solids';
import { loadManifold, manifoldOf } from '../support/kernels';
import { plateParts, RIB, seedBench } from '../support/papers';

const options: PaperOptions = { date: '2031-02-28', paper: 'A4', units: 'mm' };

interface Line {
  readonly type: string;
  readonly layer: string;
  readonly shape?: boolean;
  readonly vertices: readonly { readonly x: number; readonly y: number }[];
}

/** Header, layer names and polylines of a DXF, by dxf-parser. */
function readDxf(bytes: Uint8Array) {
  const dxf = new DxfParser().parseSync(new TextDecoder().decode(bytes));
  if (!dxf) throw new Error('dxf-parser read nothing');
  const lines = dxf.entities.filter((entity) => entity.type === 'LWPOLYLINE') as unknown as Line[];
  return { header: dxf.header, layers: Object.keys(dxf.tables.layer.layers), lines, entities: dxf.entities };
}

const span = (line: Line, axis: 'x' | 'y'): number => {
  const values = line.vertices.map((v) => v[axis]);
  return Math.max(...values) - Math.min(...values);
};

describe('DXF templates', () => {
  it('are in millimetres, on layers by name, closed where cut, and true to size', async () => {
    const { plan } = await seedBench('child-155');
    const [made] = await makePapers(plan, plateParts(), { ...options, which: ['ribs.dxf'] });
    const { header, layers, lines } = readDxf(made.bytes);
    // DXF reference, header section: $INSUNITS 4 is millimetres.
    expect(header.$INSUNITS).toBe(4);
    expect(header.$MEASUREMENT).toBe(1);
    expect(layers).toEqual(expect.arrayContaining([...DRAWING_LAYERS]));
    const cut = lines.filter(({ layer }) => layer === 'cut');
    expect(cut.length).toBe(2);
    for (const line of cut) expect(line.shape).toBe(true);
    const [outline, hole] = cut.sort((a, b) => span(b, 'x') - span(a, 'x'));
    expect(span(outline, 'x')).toBeCloseTo(RIB.width, 6);
    expect(span(outline, 'y')).toBeCloseTo(RIB.height, 6);
    expect(span(hole, 'x')).toBeCloseTo(RIB.hole, 6);
    expect(Math.min(...outline.vertices.map(({ x }) => x))).toBe(0);
    const [score] = lines.filter(({ layer }) => layer === 'score');
    expect(score.vertices[0].x).toBeCloseTo(RIB.width / 4, 6);
    const label = lines.filter(({ layer }) => layer === 'label');
    expect(label.length).toBeGreaterThan(5);
    const tall = label.flatMap(({ vertices }) => vertices.map(({ y }) => y));
    expect(Math.max(...tall) - Math.min(...tall)).toBeCloseTo(4, 1);
  });

  it('carry the stamp as text on the layer note', async () => {
    const { plan } = await seedBench('child-155');
    const [made] = await makePapers(plan, plateParts(), { ...options, which: ['ribs.dxf'] });
    const texts = readDxf(made.bytes).entities.filter(({ type }) => type === 'TEXT') as unknown as { layer: string; text: string }[];
    expect(texts.every(({ layer }) => layer === 'note')).toBe(true);
    const said = texts.map(({ text }) => text).join('\n');
    for (const word of [plan.design.name, 'revision A', 'millimetres', '2031-02-28']) expect(said).toContain(word);
  });

  it('hold every blank piece of a starter board within its box', async () => {
    const { plan, parts } = await seedBench('child-155');
    const [made] = await makePapers(plan, parts, { ...options, which: ['skin-blanks.dxf'] });
    const cut = readDxf(made.bytes).lines.filter(({ layer }) => layer === 'cut');
    const pieces = parts.blanks.flatMap((blank) => blank.pieces);
    expect(cut.length).toBe(pieces.length);
    const sizes = (list: number[]) => list.sort((a, b) => a - b);
    const drawn = sizes(cut.map((line) => span(line, 'x')));
    sizes(pieces.map(({ boxLength }) => boxLength)).forEach((length, i) => expect(drawn[i]).toBeCloseTo(length, 3));
  });
});

/** A binary STL as loose triangles. */
function readStl(bytes: Uint8Array) {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const count = view.getUint32(80, true);
  expect(bytes.length).toBe(84 + 50 * count);
  const positions = new Float32Array(count * 9);
  for (let i = 0; i < count; i++) {
    for (let k = 0; k < 9; k++) positions[9 * i + k] = view.getFloat32(84 + 50 * i + 12 + 4 * k, true);
  }
  const header = new TextDecoder().decode(bytes.subarray(0, 80));
  return { header, positions, indices: Uint32Array.from({ length: count * 3 }, (_, i) => i) };
}

describe('STL solids', () => {
  it.each(['child-155', 'long-275'])('are closed, turned outward, and hold the kernel\'s volume, by manifold-3d: %s', async (seed) => {
    const module = await loadManifold();
    const { plan, parts } = await seedBench(seed);
    const ids = listPapers(plan, parts, options).filter(({ mime }) => mime === 'model/stl').map(({ id }) => id);
    expect(ids.length).toBeGreaterThan(10);
    const bodies = new Map(meshBoard(plan).map((body) => [`${body.id}.stl`, meshVolume(body.mesh)]));
    for (const { id, bytes } of await makePapers(plan, parts, { ...options, which: ids })) {
      const stl = readStl(bytes);
      expect(stl.header.trim()).toBe(`mm | 2031-02-28 | rev A | ${plan.design.name}`);
      const solid = manifoldOf(module, stl);
      const volume = solid.volume();
      solid.delete();
      expect(volume).toBeGreaterThan(0);
      const own = bodies.get(id);
      // Corners are stored as 32-bit floats: about 1e-7 of a metre-long body, more for a thin strip.
      if (own !== undefined) expect(Math.abs(volume / own - 1)).toBeLessThan(2e-4);
      if (id === 'finished-hull.stl') expect(Math.abs(volume / plan.hull.volume - 1)).toBeLessThan(2e-3);
    }
  });

  it('extrude a plate of known size to length x width x thickness less its hole', async () => {
    const module = await loadManifold();
    const { plan } = await seedBench('child-155');
    const [made] = await makePapers(plan, plateParts(), { ...options, which: ['flat-rib-1.stl'] });
    const solid = manifoldOf(module, readStl(made.bytes));
    expect(solid.volume()).toBeCloseTo((RIB.width * RIB.height - RIB.hole ** 2) * 6, 0);
    solid.delete();
  });

  it('keep starboard on the right of a maker who looks to the nose: y is port', async () => {
    const { plan, parts } = await seedBench('child-155');
    const [made] = await makePapers(plan, parts, { ...options, which: ['sole-starboard.stl'] });
    const { positions } = readStl(made.bytes);
    for (let i = 1; i < positions.length; i += 3) expect(positions[i]).toBeLessThan(1e-3);
  });
});

interface ThreeMf {
  readonly model: {
    readonly unit: string;
    readonly resources: { readonly object: readonly { readonly id: number; readonly name: string; readonly mesh: {
      readonly vertices: { readonly vertex: readonly { readonly x: number; readonly y: number; readonly z: number }[] };
      readonly triangles: { readonly triangle: readonly { readonly v1: number; readonly v2: number; readonly v3: number }[] };
    }; }[]; };
    readonly build: { readonly item: readonly { readonly objectid: number }[] };
  };
}

describe('3MF', () => {
  // 3MF Core Specification 1.3: parts and relationship of the package, unit, one build item an object; read by fflate and fast-xml-parser, closed by manifold-3d.
  it('holds every part in millimetres, each closed as it is indexed, its corners in one place one vertex', async () => {
    const module = await loadManifold();
    const { plan, parts } = await seedBench('child-155');
    const [made] = await makePapers(plan, parts, { ...options, which: ['assembly.3mf'] });
    const files = unzipSync(made.bytes);
    expect(Object.keys(files).sort()).toEqual(['3D/3dmodel.model', '[Content_Types].xml', '_rels/.rels']);
    const read = new XMLParser({ ignoreAttributes: false, attributeNamePrefix: '', parseAttributeValue: true, isArray: (name) => ['object', 'item'].includes(name) }).parse(new TextDecoder().decode(files['3D/3dmodel.model'])) as ThreeMf;
    const { unit, resources: { object }, build: { item } } = read.model;
    expect(unit).toBe('millimeter');
    expect(item.map(({ objectid }) => objectid)).toEqual(object.map(({ id }) => id));
    const bodies = new Map(assembly(plan).map(({ id, mesh }) => [id.replace(/-/g, ' '), meshVolume(mesh)]));
    expect(object.map(({ name }) => name)).toEqual([...bodies.keys()]);
    for (const { name, mesh } of object) {
      const positions = Float32Array.from(mesh.vertices.vertex.flatMap(({ x, y, z }) => [x, y, z]));
      expect(new Set(mesh.vertices.vertex.map(({ x, y, z }) => `${x} ${y} ${z}`)).size, name).toBe(mesh.vertices.vertex.length);
      const solid = manifoldOf(module, { positions, indices: Uint32Array.from(mesh.triangles.triangle.flatMap(({ v1, v2, v3 }) => [v1, v2, v3])) });
      expect(Math.abs(solid.volume() / (bodies.get(name) ?? Number.NaN) - 1), name).toBeLessThan(2e-4);
      solid.delete();
    }
  });
});

interface Gltf {
  readonly asset: { readonly version: string; readonly extras: Record<string, string> };
  readonly nodes: readonly { readonly name: string; readonly mesh: number }[];
  readonly meshes: readonly { readonly primitives: readonly { readonly attributes: { readonly POSITION: number } }[] }[];
  readonly accessors: readonly { readonly min: readonly number[]; readonly max: readonly number[] }[];
}

/** The JSON chunk of a glb: 12 bytes of header, then length and kind of the first chunk (glTF 2.0, binary container). */
function readGlb(bytes: Uint8Array): Gltf {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  return JSON.parse(new TextDecoder().decode(bytes.subarray(20, 20 + view.getUint32(12, true))));
}

describe('the assembly as glTF', () => {
  it.each(['child-155', 'round-tail-175'])('passes the Khronos validator without an error or a warning: %s', async (seed) => {
    const { plan, parts } = await seedBench(seed);
    const [made] = await makePapers(plan, parts, { ...options, which: ['assembly'] });
    const report = await validateBytes(made.bytes);
    expect(report.issues.messages.filter(({ severity }) => severity < 2)).toEqual([]);
    expect(report.issues.numErrors).toBe(0);
    expect(report.issues.numWarnings).toBe(0);
    expect(report.info.totalTriangleCount).toBeGreaterThan(1000);
  });

  it('is in metres, +Y up, +Z to the nose, starboard at -X, and says whose it is', async () => {
    const { plan, parts } = await seedBench('child-155');
    const [made] = await makePapers(plan, parts, { ...options, which: ['assembly'] });
    const gltf = readGlb(made.bytes);
    expect(gltf.asset).toMatchObject({ version: '2.0', extras: { board: plan.design.name, revision: 'A', units: 'metres', date: '2031-02-28' } });
    const bounds = (name: string) => {
      const node = gltf.nodes.find((one) => one.name === name);
      if (!node) throw new Error(`no node ${name}`);
      return gltf.accessors[gltf.meshes[node.mesh].primitives[0].attributes.POSITION];
    };
    const deck = bounds('deck-skin');
    expect(deck.max[2] - deck.min[2]).toBeGreaterThan(0.95 * (plan.hull.length / 1000));
    expect(deck.max[2]).toBeLessThanOrEqual(plan.hull.length / 1000 + 1e-6);
    expect(bounds('sole-starboard').max[0]).toBeLessThan(1e-6);
    expect(bounds('sole-port').min[0]).toBeGreaterThan(-1e-6);
    expect(deck.max[1]).toBeGreaterThan(bounds('bottom-skin').max[1]);
  });
});
