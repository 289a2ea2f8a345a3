/**
 * Ribs, stringer, nest and blocks: against brute-force distances, exact sections of the rail, an independent
 * polygon library (polyclip-ts) and manifold-3d. Rules of the trade (a tab fills the gap behind the rows, a
 * half-lap halves both parts) are common practice, no source.
 */
import { difference, intersection, union, type Geom } from 'polyclip-ts';
import { beforeAll, describe, expect, it } from 'vitest';
import { boundsOf, loopArea, turned } from '../../geometry/curves/polygon';
import { findRoot } from '../../geometry/curves/roots';
import type { Design } from '../../geometry/design/schema';
import { blockAt, halfAt } from '../../geometry/frame/ends';
import { planFrames, shapeArea } from '../../geometry/frame/frames';
import { breathing, LIMBER, LIMBER_LAND } from '../../geometry/frame/holes';
import { kerfCompensated } from '../../geometry/frame/kerf';
import { cutRibs } from '../../geometry/frame/ribProfile';
import { layStringer, stringerShape } from '../../geometry/frame/stringer';
import { innerAt, panelProbe } from '../../geometry/hull/panel';
import { planBoard } from '../../geometry/plan';
import { nearestRun, sectionAt } from '../../geometry/rail/query';
import { meshBoard } from '../../geometry/solid/board';
import { evenFacets } from '../../geometry/solid/facets';
import { blockMesh } from '../../geometry/solid/blockMesh';
import { plate } from '../../geometry/solid/mesh';
import { meshVolume } from '../support/meshVolume';
import type { FlatShape } from '../../geometry/frame/types';
import type { Plan, RailSection } from '../../geometry/types';
import { loadManifold, manifoldOf } from '../support/kernels';
import { seedDesign, seedNames } from './boards';
import { discDesign } from './disc';
import { mmText } from '../support/said';

let module: Awaited<ReturnType<typeof loadManifold>>;
beforeAll(async () => {
  module = await loadManifold();
});

const pairs = (loop: ArrayLike<number>): [number, number][] =>
  Array.from({ length: loop.length / 2 }, (_, i): [number, number] => [loop[2 * i], loop[2 * i + 1]]);
const geom = (loop: ArrayLike<number>): Geom => [pairs(loop)];
const areaOf = (g: ReturnType<typeof union>): number => g.flat().reduce((sum, r) => sum + loopArea(r.flat()), 0);

/** Distance of two segments a-b and c-d that do not cross. */
function segmentDistance(a: number[], b: number[], c: number[], d: number[]): number {
  const toSegment = (p: number[], q: number[], r: number[]) => {
    const [dx, dy] = [r[0] - q[0], r[1] - q[1]];
    const t = Math.min(1, Math.max(0, ((p[0] - q[0]) * dx + (p[1] - q[1]) * dy) / (dx * dx + dy * dy || 1)));
    return Math.hypot(p[0] - q[0] - t * dx, p[1] - q[1] - t * dy);
  };
  return Math.min(toSegment(a, c, d), toSegment(b, c, d), toSegment(c, a, b), toSegment(d, a, b));
}

/** Least distance between two loops, every segment against every other. */
function loopDistance(p: ArrayLike<number>, q: ArrayLike<number>): number {
  const [a, b] = [pairs(p), pairs(q)];
  let least = Infinity;
  for (let i = 0; i < a.length; i++) {
    for (let j = 0; j < b.length; j++) least = Math.min(least, segmentDistance(a[i], a[(i + 1) % a.length], b[j], b[(j + 1) % b.length]));
  }
  return least;
}

/** The exact section whose plane holds the plan point (x, y), and how far outboard of the rib-end line it lies there. */
function sectionThrough(plan: Plan, x: number, y: number): { section: RailSection; outboard: number } {
  const along = (s: number) => {
    const c = sectionAt(plan, s);
    return (x - c.x) * c.tx + (y - c.y) * c.ty;
  };
  const near = nearestRun(plan, x, y);
  const s = findRoot(along, Math.max(0, near - 6), Math.min(plan.rail.face.length, near + 6), 1e-9);
  const section = sectionAt(plan, s);
  return { section, outboard: -((x - section.ribX) * section.nx + (y - section.ribY) * section.ny) };
}

const cases: [string, Design][] = seedNames.map((name) => [name, seedDesign(name)]);

describe.each(cases)('frames of %s', (_, design) => {
  const plan = planBoard(design);
  const { frames, nest, blocks, findings } = planFrames(plan);
  const { ribThickness, stringerThickness, notchFit, leastWeb, sheet, kerf } = design.frames;
  const { stripWidth, spacerWidth, spacerHeight } = design.rail;
  const { ribs: shapes } = cutRibs(plan);
  const stringer = layStringer(plan, shapes);
  const tabs = shapes.filter(({ rib }) => rib.hasTab);
  const faces = [-ribThickness / 2, ribThickness / 2];

  it('tabs hold sole and cap apart by the gap at that rib: each touches both, over its thickness, to 0.01 mm', () => {
    expect(tabs.length).toBeGreaterThan(3);
    for (const { rib, shape: { tab } } of tabs) {
      if (!tab) throw new Error(`rib ${rib.index + 1} has no tab`);
      const onSole = tab.corners.filter(([, z]) => z < (tab.low + tab.high) / 2).slice(0, 2);
      const underCap = tab.corners.slice(-2);
      const overSole: number[] = [];
      const belowCap: number[] = [];
      for (const dx of faces) {
        for (const [y, z] of onSole) overSole.push(z - sectionThrough(plan, rib.x + dx, y).section.soleTop);
        for (const [y, z] of underCap) belowCap.push(sectionThrough(plan, rib.x + dx, y).section.capBottom - z);
      }
      // Nowhere into a strip, and touching at the leading corner.
      for (const clear of [overSole, belowCap]) {
        expect(Math.min(...clear)).toBeGreaterThan(-0.01);
        expect(Math.min(...clear)).toBeLessThan(0.01);
      }
    }
  });

  it('tabs step over the rows at that rib: rows times the spacer height, to 0.01 mm, and reach no farther than their line', () => {
    for (const { rib, shape: { tab } } of tabs) {
      if (!tab) continue;
      const reach = (y: number) => Math.max(...faces.map((dx) => sectionThrough(plan, rib.x + dx, y).outboard));
      expect(reach(tab.end)).toBeCloseTo(0, 2);
      expect(reach(tab.back)).toBeLessThan((rib.rows > 0 ? stripWidth - spacerWidth : stripWidth) + 0.01);
      expect(reach(tab.face)).toBeLessThan(stripWidth + 0.01);
      // The lines turn about the tab: in 12 mm of strip a rail of 300 mm radius leans by less than a tenth.
      expect(reach(tab.back)).toBeGreaterThan((rib.rows > 0 ? stripWidth - spacerWidth : stripWidth) - 0.1);
      if (tab.step === undefined) continue;
      const clear = faces.flatMap((dx) => tab.corners.slice(2, 4).map(([y, z]) => {
        const { section } = sectionThrough(plan, rib.x + dx, y);
        return z - (section.soleTop + rib.rows * spacerHeight * Math.hypot(1, section.soleSlope));
      }));
      expect(Math.min(...clear)).toBeGreaterThan(-0.01);
      expect(Math.min(...clear)).toBeLessThan(0.01);
    }
  });

  it('ribs lie between the inner skins at both faces', () => {
    const deck = panelProbe();
    const bottom = panelProbe();
    for (const { rib, shape } of shapes) {
      for (const [y, z] of pairs(shape.outline)) {
        for (const dx of faces) {
          const at = Math.abs(y);
          expect(z).toBeLessThan(innerAt(plan.hull.deck, 1, design.skins.deck, rib.x + dx, at, deck).z + 1e-2);
          expect(z).toBeGreaterThan(innerAt(plan.hull.bottom, -1, design.skins.bottom, rib.x + dx, at, bottom).z - 1e-2);
        }
      }
    }
  });

  it('half-laps go together with the fit asked for', () => {
    for (const { index, shape } of shapes) {
      const crossing = stringer.crossings.find((c) => c.rib === index);
      expect(2 * shape.notch.half - stringerThickness).toBeCloseTo(notchFit, 9);
      expect(crossing && 2 * crossing.half - ribThickness).toBeCloseTo(notchFit, 9);
      expect(crossing && shape.notch.floor - crossing.floor).toBeCloseTo(Math.max(0, notchFit), 9);
      // Each part keeps half its depth there.
      const depth = shape.deck - shape.bottom;
      expect(shape.deck - shape.notch.floor).toBeGreaterThan(depth / 2 - 1);
      // The notch is in the outline as cut, both walls and the floor.
      const walls = pairs(shape.outline).filter(([y]) => Math.abs(Math.abs(y) - shape.notch.half) < 1e-9).map(([, z]) => z);
      expect(walls.filter((z) => Math.abs(z - shape.notch.floor) < 1e-9).length).toBe(2);
    }
  });

  it('leave the least web everywhere, a limber hole its land, by brute force over every pair of segments', () => {
    let holes = 0;
    for (const { shape } of frames) {
      holes += shape.holes.length;
      for (const [i, hole] of shape.holes.entries()) {
        const b = boundsOf(hole);
        const limber = b.x1 - b.x0 <= LIMBER + 1e-9 && b.y1 - b.y0 <= LIMBER + 1e-9;
        expect(loopDistance(hole, shape.outline)).toBeGreaterThanOrEqual((limber ? LIMBER_LAND : leastWeb) - 1e-6);
        for (const other of shape.holes.slice(0, i)) expect(loopDistance(hole, other)).toBeGreaterThanOrEqual(leastWeb - 1e-6);
      }
    }
    expect(holes).toBeGreaterThan(10);
  });

  it('let every bay breathe: each rib has a hole on either side of the stringer, and the stringer one between any two ribs', () => {
    for (const { shape } of shapes) for (const side of [1, -1]) expect(shape.holes.some((h) => side * h[0] > 0)).toBe(true);
    const at = stringer.crossings.map((c) => c.x);
    const open = frames.filter((f) => f.kind === 'stringer').flatMap((f) => f.shape.holes.map((h) => boundsOf(h)));
    at.slice(1).forEach((x, i) => expect(open.some((b) => b.x0 > at[i] && b.x1 < x), `bay ${i + 1}`).toBe(true));
  });

  it('have the areas that an independent library finds, sound loops, holes inside', () => {
    for (const { id, shape } of frames) {
      expect(loopArea(shape.outline), id).toBeGreaterThan(0);
      expect(areaOf(union(geom(shape.outline))), id).toBeCloseTo(loopArea(shape.outline), 3);
      for (const hole of shape.holes) expect(loopArea(hole), id).toBeLessThan(0);
      const net = difference(geom(shape.outline), ...shape.holes.map(geom));
      expect(areaOf(net), id).toBeCloseTo(shapeArea(shape), 3);
      expect(net.length, id).toBe(1);
    }
  });

  it('bear labels that lie on timber', () => {
    for (const part of frames) {
      const labels = part.shape.marks.filter((m) => m.kind === 'label');
      if (part.kind === 'rib') expect(labels.map((m) => m.text)).toContain('TAIL SIDE');
      expect(labels.length, part.id).toBeGreaterThan(0);
      expect(part.shape.marks.some((m) => m.kind === 'arrow'), part.id).toBe(true);
      const timber = difference(geom(part.shape.outline), ...part.shape.holes.map(geom));
      for (const { points, height } of labels) {
        const [x0, y0, x1] = points;
        const box: Geom = [[[x0, y0], [x1, y0], [x1, y0 + (height ?? 0)], [x0, y0 + (height ?? 0)]]];
        expect(height).toBeGreaterThan(1);
        expect(areaOf(intersection(timber, box))).toBeCloseTo((x1 - x0) * (height ?? 0), 4);
      }
    }
  });

  it('lie on their sheets whole and apart, kerf and all', () => {
    expect(nest?.unplaced).toEqual([]);
    const placed = nest?.sheets.flatMap((s) => s.parts.map((p) => p.id)) ?? [];
    expect(placed.slice().sort()).toEqual(frames.map((f) => f.id).sort());
    for (const s of nest?.sheets ?? []) {
      const loops = s.parts.map(({ id, x, y, turn }) => {
        const part = frames.find((f) => f.id === id);
        if (!part) throw new Error(id);
        return turned(kerfCompensated(part.shape, kerf).outline, turn, x, y);
      });
      let covered = 0;
      for (const [i, loop] of loops.entries()) {
        const b = boundsOf(loop);
        expect(Math.min(b.x0, b.y0, sheet.length - b.x1, sheet.width - b.y1)).toBeGreaterThanOrEqual(0);
        for (const other of loops.slice(0, i)) expect(areaOf(intersection(geom(loop), geom(other)))).toBe(0);
        covered += shapeArea(frames.find((f) => f.id === s.parts[i].id)?.shape ?? { outline: new Float64Array(0), holes: [], marks: [] });
      }
      expect(s.yield).toBeCloseTo(covered / (sheet.length * sheet.width), 9);
    }
  });

  it('lie on sheets of their own thickness alone', () => {
    expect(nest?.sheets.map((s) => s.thickness).sort()).toEqual(expect.arrayContaining([...new Set([ribThickness, stringerThickness])]));
    for (const { thickness, parts } of nest?.sheets ?? []) {
      expect(parts.map(({ id }) => frames.find((f) => f.id === id)?.thickness)).toEqual(parts.map(() => thickness));
    }
  });

  it('part the stringer between ribs: pieces fit, fingers mate, and they make up the whole', () => {
    const pieces = frames.filter((f) => f.kind === 'stringer');
    const whole = stringerShape(plan, stringer, { x: stringer.x0, fingers: false }, { x: stringer.x1, fingers: false });
    const [first, ...rest] = pieces.map((p) => geom(p.shape.outline));
    const joined = union(first, ...rest);
    expect(joined.length).toBe(1);
    const sum = pieces.reduce((a, p) => a + loopArea(p.shape.outline), 0);
    expect(areaOf(joined)).toBeCloseTo(sum, 2);
    // Edges are chords between different points, so to a few square millimetres of many thousand.
    expect(Math.abs(sum / loopArea(whole.outline) - 1)).toBeLessThan(5e-4);
    expect(findings.some((f) => f.code === 'stringer-sheet')).toBe(false);
  });

  it('are solids: closed, outward, a handle for every hole', () => {
    for (const part of frames) {
      const mesh = plate(part.shape.outline, part.shape.holes, part.thickness, (x, y, depth) => [x, y, depth]);
      const solid = manifoldOf(module, mesh);
      expect(solid.status(), part.id).toBe('NoError');
      expect(solid.genus(), part.id).toBe(part.shape.holes.length);
      expect(solid.volume() / (shapeArea(part.shape) * part.thickness)).toBeCloseTo(1, 4);
    }
  });

  it('keep their meshes\' lengths while the board\'s thickness moves a little', () => {
    const moved = structuredClone(design);
    for (const p of moved.lines.thickness.points) p.v += 0.02;
    const after = new Map(meshBoard(planBoard(moved)).map((b) => [b.id, b.mesh]));
    for (const { id, mesh } of meshBoard(plan)) {
      expect(after.get(id)?.positions.length, id).toBe(mesh.positions.length);
    }
  });

  it('blocks are solids of the volume between the inner skins over their plan, and clear of all they stand beside', () => {
    const deck = panelProbe();
    const bottom = panelProbe();
    const bodies = meshBoard(plan);
    for (const end of ['tail', 'nose'] as const) {
      const block = blockAt(plan, end);
      if (!block) continue;
      const mesh = blockMesh(plan, block, evenFacets(plan, 1));
      const part = blocks.find((b) => b.end === end);
      if (!part) throw new Error(end);
      const beside = bodies.filter(({ id }) => id.startsWith(`block-${end}-`)).reduce((sum, body) => sum + meshVolume(body.mesh), 0);
      expect(Math.abs((meshVolume(mesh) + beside) / part.volume - 1)).toBeLessThan(2e-3);
      const size = [0, 1, 2].map((axis) => {
        const along = mesh.positions.filter((_, i) => i % 3 === axis);
        return Math.max(...along) - Math.min(...along);
      });
      // Both are sampled, on different points: lowest and highest may differ by what a curve does between them.
      expect(Math.abs(size[0] - part.length)).toBeLessThan(0.01);
      // Over a sole that runs on the body is narrower.
      if (!part.housesSole) expect(Math.abs(size[1] - part.width)).toBeLessThan(0.5);
      expect(size[2]).toBeLessThan(part.depth + 0.1);
      expect(size[2]).toBeGreaterThan(part.depth - (block.hole || part.housesSole ? 3 : 0.1));
      expect(findings.some((f) => f.code === 'block' && f.figure === part.length)).toBe(true);
      const solid = manifoldOf(module, mesh);
      expect(solid.status()).toBe('NoError');
      expect(solid.genus()).toBe(0);
      // Twin: trapezia along between the stations where the plan turns, Simpson across.
      const { body, hole } = block;
      const depth = (x: number, y: number) => innerAt(plan.hull.deck, 1, design.skins.deck, x, y, deck).z
        - innerAt(plan.hull.bottom, -1, design.skins.bottom, x, y, bottom).z;
      const area = (x: number) => {
        const [a, b] = [hole && x >= hole[0] && x <= hole[hole.length - 2] ? halfAt(hole, x) : 0, halfAt(body, x)];
        return ((b - a) / 3) * (depth(x, a) + 4 * depth(x, (a + b) / 2) + depth(x, b));
      };
      const [x0, x1] = [body[0], body[body.length - 2]];
      const dx = (x1 - x0) / 4000;
      const sum = Array.from({ length: 4000 }, (_, i) => area(x0 + (i + 0.5) * dx) * dx).reduce((x, y) => x + y);
      expect(Math.abs(meshVolume(mesh) / sum - 1)).toBeLessThan(2e-3);
      for (let i = 0; i < block.half.length; i += 2) {
        expect(block.half[i]).toBeGreaterThanOrEqual(-1e-9);
        expect(block.half[i]).toBeLessThanOrEqual(plan.hull.length + 1e-9);
      }
    }
  });
});

describe('a level disc', () => {
  it('has tabs exactly as high as the gap and steps exactly as high as the rows', () => {
    const design = discDesign();
    const plan = planBoard(design);
    expect(plan.rail.ribs.length).toBe(3);
    for (const { rib, shape: { tab } } of cutRibs(plan).ribs) {
      if (!tab) throw new Error('no tab');
      expect(tab.high - tab.low).toBeCloseTo(rib.gap, 9);
      if (tab.step === undefined) expect(rib.slot).toBeLessThan(2);
      else expect(tab.step - tab.low).toBeCloseTo(rib.rows * design.rail.spacerHeight, 9);
    }
    expect(plan.rail.ribs.some((r) => r.rows > 0)).toBe(true);
  });

  // Provable: between parallel planes g apart that lean by a, a square-edged plate t thick is g / cos a - t tan a high.
  it('leaning by a, has tabs g / cos a - t tan a high', () => {
    const tilt = (8 * Math.PI) / 180;
    const design = discDesign(tilt);
    design.frames.ribs = [400];
    const plan = planBoard(design);
    const [{ rib, shape: { tab } }] = cutRibs(plan).ribs;
    const height = rib.gap / Math.cos(tilt) - design.frames.ribThickness * Math.tan(tilt);
    expect(tab && tab.high - tab.low).toBeCloseTo(height, 2);
  });
});

describe('kerf', () => {
  const square: FlatShape = {
    outline: Float64Array.from([0, 0, 100, 0, 100, 50, 0, 50]),
    holes: [Float64Array.from([20, 20, 20, 30, 40, 30, 40, 20])],
    marks: [],
  };

  it('grows the outline and shrinks holes by half of it on each side', () => {
    const cut = kerfCompensated(square, 0.2);
    expect(loopArea(cut.outline)).toBeCloseTo(100.2 * 50.2, 3);
    expect(loopArea(cut.holes[0])).toBeCloseTo(-19.8 * 9.8, 3);
    expect(kerfCompensated(square, 0)).toBe(square);
  });

  it('says which loop the beam is too wide for', () => {
    expect(() => kerfCompensated(square, 12)).toThrow(/hole 1.*kerf of 12 mm/);
    expect(() => kerfCompensated(square, -1)).toThrow(RangeError);
  });
});

describe('bad sheets', () => {
  it('smaller than a rib: each such rib is named with its size, the others are laid out all the same', () => {
    const design = seedDesign('child-155.board.json');
    design.frames.sheet = { length: 400, width: 200, price: 5 };
    const { frames, nest, findings } = planFrames(planBoard(design));
    const small = findings.filter((f) => f.code === 'sheet-small');
    expect(small.length).toBeGreaterThan(0);
    expect(nest?.unplaced.length).toBe(small.length);
    for (const f of small) {
      expect(mmText(f.title)).toMatch(/^Rib \d is [\d.]+ by [\d.]+ mm; a sheet of 400 by 200 mm/);
      expect(f.figure).toBeGreaterThan(400 - 8);
    }
    const placed = nest?.sheets.flatMap((s) => s.parts) ?? [];
    expect(placed.length + small.length).toBe(frames.length);
    expect(placed.some((p) => p.id.startsWith('stringer-'))).toBe(true);
  });

  it('too small for any rib: all are named, and what can be cut is still laid out', () => {
    const design = seedDesign('child-155.board.json');
    design.frames.sheet = { length: 100, width: 100, price: 5 };
    const { frames, nest, findings } = planFrames(planBoard(design));
    const ribs = frames.filter((f) => f.kind === 'rib').map((f) => f.id);
    expect(ribs.length).toBe(7);
    expect(nest?.unplaced).toEqual(ribs);
    expect(findings.filter((f) => f.code === 'sheet-small').length).toBe(7);
  });

  it('a rib inside the notch, or without height, is left out and named', () => {
    const design = seedDesign('paddle-305.board.json');
    design.frames.stringerThickness = 60;
    design.frames.ribs = [...design.frames.ribs, 2960];
    const narrow = planFrames(planBoard(design));
    expect(narrow.findings.filter((f) => f.code === 'rib-narrow').map((f) => mmText(f.title))).toEqual([expect.stringMatching(/^Rib 12 /)]);
    expect(narrow.frames.some((f) => f.id === 'rib-12')).toBe(false);
    const thin = seedDesign('child-155.board.json');
    // A deck so hollow that the box has room at its edge and the rib none in its middle.
    thin.lines.crown = { points: [{ x: 0, v: 0.03 }, { x: 1100, v: 0.03 }, { x: 1200, v: -0.1 }, { x: 1550, v: -0.1 }] };
    for (const p of thin.lines.thickness.points) if (p.x > 1200) p.v = 6.8;
    const found = planFrames(planBoard(thin));
    expect(found.findings.some((f) => f.code === 'rib-thin' && f.place?.x === 1300)).toBe(true);
    // Low, with strips as thin: the rib stands, but too low for any hole.
    const shallow = seedDesign('child-155.board.json');
    Object.assign(shallow.rail, { soleThickness: 1.5, capThickness: 1.5 });
    for (const p of shallow.lines.thickness.points) if (p.x > 1200) p.v = 17;
    expect(planFrames(planBoard(shallow)).frames.find((f) => f.rib === 6)?.shape.holes).toEqual([]);
  });

  it('no hole is cut that the beam would burn whole', () => {
    const outline = Float64Array.from([-50, -50, 150, -50, 150, 50, -50, 50]);
    const diameters: number[] = [];
    for (let height = 10.5; height < 14; height += 0.1) {
      const band = { low: Float64Array.from([0, 0, 100, 0]), high: Float64Array.from([0, height, 100, height]) };
      const holes = breathing(band, 12, 88, 12, 0, 100, 2.97, 'cut');
      expect(() => kerfCompensated({ outline, holes, marks: [] }, 2.97)).not.toThrow();
      diameters.push(...holes.map((hole) => Math.sqrt((4 * Math.abs(loopArea(hole))) / Math.PI)));
    }
    // Some are little more than the beam is wide, and none is less.
    expect(diameters.some((d) => d < 4)).toBe(true);
    expect(Math.min(...diameters)).toBeGreaterThan(2.97);
  });

  it('and a rib in a block, or none at all, are no reason to fail', () => {
    const design = seedDesign('long-275.board.json');
    design.frames.ribs = [40, ...design.frames.ribs];
    const crowded = planBoard(design);
    expect(crowded.findings.some((f) => f.code === 'rib-in-block' && f.place?.x === 40)).toBe(true);
    expect(planFrames(crowded).frames.some((f) => f.id === 'rib-1')).toBe(false);
    design.frames.ribs = [];
    const bare = planFrames(planBoard(design));
    expect(bare.frames.every((f) => f.kind === 'stringer')).toBe(true);
  });
});
