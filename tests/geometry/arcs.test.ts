/** Lines as arcs: never farther from what they stand for than is said, either way, and straight where it is straight. */
import DxfParser from 'dxf-parser';
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planFrames } from '../../geometry/frame/frames';
import { cutRibs } from '../../geometry/frame/ribProfile';
import { kerfCompensated } from '../../geometry/frame/kerf';
import { fitMeasured, kerfMeasured, testPieces } from '../../geometry/frame/testPiece';
import { planBoard } from '../../geometry/plan';
import { asBends, type Bend } from '../../src/papers/arcs';
import { makePapers } from '../../src/papers';
import { notchWords } from '../../src/say/testPiece';
import { PLAIN_SHOP, type Shop } from '../../src/papers/shop';
import { asShopFile, checkShop, readShop, writeShop } from '../../src/papers/shopFile';
import { seedDesign, seedNames } from './boards';
import { seedBench } from '../support/papers';

type Point = readonly [number, number];

/** Points along bends, by the arc's own definition: the bulge is the tangent of a quarter of the turn (DXF reference, LWPOLYLINE, group 42). */
function walked(bends: readonly Bend[], closed: boolean): Point[] {
  return bends.flatMap(({ x, y, bulge }, i): Point[] => {
    const to = bends[i + 1] ?? (closed ? bends[0] : undefined);
    if (!to) return [[x, y]];
    const parts = 24;
    const turn = 4 * Math.atan(bulge);
    return Array.from({ length: parts }, (_, k): Point => {
      if (bulge === 0) return [x + ((to.x - x) * k) / parts, y + ((to.y - y) * k) / parts];
      // The chord to a point of the arc leans off the whole chord by half the turn that is left to go.
      const part = (turn * k) / parts;
      const radius = Math.hypot(to.x - x, to.y - y) / 2 / Math.sin(turn / 2);
      const chord = 2 * radius * Math.sin(part / 2);
      const lean = Math.atan2(to.y - y, to.x - x) - turn / 2 + part / 2;
      return [x + chord * Math.cos(lean), y + chord * Math.sin(lean)];
    });
  });
}

/** Greatest distance of points from bends: to the circle within an arc's sector, else to its ends. */
function strays(points: readonly Point[], bends: readonly Bend[], closed: boolean): number {
  const last = closed ? bends.length : bends.length - 1;
  return Math.max(...points.map(([x, y]) => {
    let nearest = Infinity;
    for (let i = 0; i < last; i++) {
      const [{ x: ax, y: ay, bulge }, { x: bx, y: by }] = [bends[i], bends[(i + 1) % bends.length]];
      const [dx, dy] = [bx - ax, by - ay];
      nearest = Math.min(nearest, Math.hypot(x - ax, y - ay), Math.hypot(x - bx, y - by));
      if (bulge === 0) {
        const t = ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy);
        if (t > 0 && t < 1) nearest = Math.min(nearest, Math.hypot(x - ax - t * dx, y - ay - t * dy));
        continue;
      }
      // The centre lies on the chord's bisector, to its left of a left turn.
      const up = (1 - bulge * bulge) / (4 * bulge);
      const [cx, cy] = [(ax + bx) / 2 - up * dy, (ay + by) / 2 + up * dx];
      const round = (px: number, py: number) => {
        const so = (Math.sign(bulge) * (Math.atan2(py - cy, px - cx) - Math.atan2(ay - cy, ax - cx))) % (2 * Math.PI);
        return so < 0 ? so + 2 * Math.PI : so;
      };
      if (round(x, y) < 4 * Math.atan(Math.abs(bulge))) nearest = Math.min(nearest, Math.abs(Math.hypot(x - cx, y - cy) - Math.hypot(ax - cx, ay - cy)));
    }
    return nearest;
  }));
}

const pairs = (flat: ArrayLike<number>): Point[] => Array.from({ length: flat.length >> 1 }, (_, i) => [flat[2 * i], flat[2 * i + 1]]);
const straight = (points: readonly Point[]): Bend[] => points.map(([x, y]) => ({ x, y, bulge: 0 }));
const circle = (radius: number, n: number) => Array.from({ length: 2 * n }, (_, i) => radius * (i % 2 === 0 ? Math.cos : Math.sin)((2 * Math.PI * (i >> 1)) / n));

describe('a line as arcs', () => {
  it.each(seedNames)('%s: every cutting line within the tolerance of its arcs, and they of it, in a quarter of the points or less', (name) => {
    const { frames } = planFrames(planBoard(seedDesign(name)));
    let [points, bends, arcs] = [0, 0, 0];
    for (const { shape } of frames) {
      const { outline, holes } = kerfCompensated(shape, 0.15);
      for (const loop of [outline, ...holes]) {
        const made = asBends(loop, true, 0.02);
        // Files are written to a tenth of a micrometre.
        expect(strays(pairs(loop), made, true)).toBeLessThan(0.0202);
        expect(strays(walked(made, true), straight(pairs(loop)), true)).toBeLessThan(0.0202);
        points += loop.length / 2;
        bends += made.length;
        arcs += made.filter(({ bulge }) => bulge !== 0).length;
      }
    }
    expect(bends).toBeLessThan(points / 4);
    expect(arcs).toBeGreaterThan(bends / 4);
  });

  it('is a circle in three arcs, and a rounded box in four and four lines, to the last digit straight', () => {
    expect(asBends(circle(30, 200), true, 0.02)).toHaveLength(3);
    const corner = (cx: number, cy: number, from: number) => Array.from({ length: 13 }, (_, k): Point => [cx + 6 * Math.cos(from + (Math.PI / 24) * k), cy + 6 * Math.sin(from + (Math.PI / 24) * k)]);
    const box = [...corner(100, 40, -Math.PI / 2), ...corner(100, 80, 0), ...corner(0, 80, Math.PI / 2), ...corner(0, 40, Math.PI)];
    const bends = asBends(box.flat(), true, 0.02);
    expect(bends.map(({ bulge }) => (bulge === 0 ? 'line' : bulge > 0 ? 'left' : 'right')).sort()).toEqual([...Array<string>(4).fill('left'), ...Array<string>(4).fill('line')]);
    // A quarter turn's bulge is the tangent of 22.5 degrees.
    for (const { bulge } of bends.filter((bend) => bend.bulge !== 0)) expect(bulge).toBeCloseTo(Math.tan(Math.PI / 8), 3);
    for (const [i, { x, y, bulge }] of bends.entries()) {
      const to = bends[(i + 1) % bends.length];
      if (bulge === 0) expect(Math.min(Math.abs(to.x - x), Math.abs(to.y - y))).toBe(0);
    }
  });

  it('keeps a polygon of edges as it is, whatever its corners', () => {
    const steps = [0, 0, 20, 0, 20, 5, 26, 5, 26, 11, 60, 11, 60, 30, 0, 30];
    expect(asBends(steps, true, 0.02).map(({ x, y }) => [x, y])).toHaveLength(8);
    expect(asBends(steps, true, 0.02).every(({ bulge }) => bulge === 0)).toBe(true);
    expect(asBends(circle(50, 8), true, 0.02).every(({ bulge }) => bulge === 0)).toBe(true);
  });

  it('keeps within the tolerance of points that scatter about a circle by as much', () => {
    fc.assert(fc.property(
      fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 6, maxLength: 40 }), fc.double({ min: 2, max: 60, noNaN: true }), fc.double({ min: 0.005, max: 0.2, noNaN: true }),
      (noise, radius, tolerance) => {
        const line = noise.map((off, k): Point => [(radius + off * tolerance) * Math.cos((5 * k) / noise.length), (radius + off * tolerance) * Math.sin((5 * k) / noise.length)]);
        const made = asBends(line.flat(), false, tolerance);
        expect(strays(line, made, false)).toBeLessThan(tolerance + 2e-4);
        // Pieces of the line too: its points twenty to a piece.
        const dense = walked(straight(line), false);
        expect(strays(dense, made, false)).toBeLessThan(tolerance + 2e-4);
      },
    ), { numRuns: 300, seed: 1 });
  });

  it('open or closed, of random points near a curve, stays within any tolerance', () => {
    fc.assert(fc.property(
      fc.array(fc.tuple(fc.double({ min: 0.05, max: 8, noNaN: true }), fc.double({ min: -0.4, max: 0.4, noNaN: true })), { minLength: 2, maxLength: 60 }), fc.double({ min: 0.002, max: 0.4, noNaN: true }), fc.boolean(),
      (steps, tolerance, closed) => {
        let [x, y, way] = [0, 0, 0];
        const line = steps.map(([length, turn]): Point => {
          way += turn;
          x += length * Math.cos(way);
          y += length * Math.sin(way);
          return [x, y];
        });
        const made = asBends(line.flat(), closed, tolerance);
        expect(strays(line, made, closed)).toBeLessThan(tolerance + 2e-4);
        expect(strays(walked(made, closed), straight(line), closed)).toBeLessThan(tolerance + 2e-4);
        expect(made.length).toBeLessThanOrEqual(line.length);
      },
    ), { numRuns: 150, seed: 1 });
  });
});

const other: Shop = {
  layers: { ...PLAIN_SHOP.layers, cut: { name: 'CUT 1', colour: 'red', sent: true }, note: { name: 'words', colour: 'red', sent: false } }, curves: 'lines', within: 0.05,
};

describe('a shop profile', () => {
  const options = { date: '2031-02-28', paper: 'A4', units: 'mm' } as const;
  const read = (bytes: Uint8Array) => {
    const dxf = new DxfParser().parseSync(new TextDecoder().decode(bytes));
    if (!dxf) throw new Error('dxf-parser read nothing');
    return { layers: dxf.tables.layer.layers, entities: dxf.entities as unknown as { type: string; layer: string; colorIndex?: number; text?: string; vertices?: { x: number; y: number; bulge?: number }[] }[] };
  };

  it('names and colours the layers of DXF and SVG, leaves out what is not sent, and says how curves are written', async () => {
    const { plan, parts } = await seedBench('child-155');
    const which = ['sheet-1.svg', 'sheet-1.dxf'];
    const [plainSvg, plain] = await makePapers(plan, parts, { ...options, which });
    const [ownSvg, own] = await makePapers(plan, parts, { ...options, which, shop: other });
    const [a, b] = [read(plain.bytes), read(own.bytes)];
    const cut = ({ entities }: typeof a, layer: string) => entities.filter((each) => each.layer === layer && each.type === 'LWPOLYLINE');
    // Colour numbers, DXF reference, group 62: 7 black (or white), 1 red.
    expect(a.layers.cut.colorIndex).toBe(7);
    expect(b.layers['CUT 1'].colorIndex).toBe(1);
    expect(cut(b, 'CUT 1')).toHaveLength(cut(a, 'cut').length);
    const bulges = (each: ReturnType<typeof cut>) => each.flatMap(({ vertices = [] }) => vertices.flatMap(({ bulge = 0 }) => (bulge === 0 ? [] : [bulge])));
    expect(bulges(cut(a, 'cut')).length).toBeGreaterThan(50);
    expect(bulges(cut(b, 'CUT 1'))).toEqual([]);
    // As another reads them: the arcs of the one file within the tolerance of the lines of the other, and they of the arcs.
    const asRead = (each: ReturnType<typeof cut>) => each.map(({ vertices = [] }) => vertices.map(({ x, y, bulge = 0 }): Bend => ({ x, y, bulge })));
    const [arcs, lines] = [asRead(cut(a, 'cut')), asRead(cut(b, 'CUT 1'))];
    arcs.forEach((bends, i) => {
      expect(strays(lines[i].map(({ x, y }) => [x, y]), bends, true)).toBeLessThan(0.0203);
      expect(strays(walked(bends, true), lines[i], true)).toBeLessThan(0.0203);
    });
    const words = a.entities.flatMap(({ text }) => text ?? []).join('\n');
    for (const said of ['curves as arcs within 0.02 mm', 'black, layer cut: cut through', 'its face grain']) expect(words).toContain(said);
    expect(b.entities.some(({ type }) => type === 'TEXT')).toBe(false);
    expect(Object.keys(b.layers)).not.toContain('words');
    const [svg, svgOwn] = [plainSvg, ownSvg].map(({ bytes }) => new TextDecoder().decode(bytes));
    expect(svg).toMatch(/<g id="cut" fill="none" stroke="#000000"/);
    expect(svg).toMatch(/A\d/);
    expect(svgOwn).toMatch(/<g id="CUT_1" fill="none" stroke="#ff0000"/);
    expect(svgOwn).not.toMatch(/A\d|layer cut|<g id="words"/);
  });

  it('comes back from its file as it went, and says what is wrong with one by field, value and range', () => {
    expect(readShop(writeShop(other))).toEqual({ ok: true, shop: other });
    const wrong = (change: (file: ReturnType<typeof JSON.parse>) => void) => {
      const file = structuredClone(asShopFile(other));
      change(file);
      const result = checkShop(file);
      return result.ok ? [] : result.errors.map(({ field, value }) => `${field}: ${JSON.stringify(value)}`);
    };
    expect(wrong((file) => (file.layers.cut.name = 'a/b'))).toEqual(['layers.cut.name: "\\"a/b\\""']);
    expect(wrong((file) => (file.layers.score.name = 'cut 1'))).toEqual(['layers.score.name: "\\"cut 1\\""']);
    expect(wrong((file) => (file.layers.score.name = 'cut_1'))).toEqual(['layers.score.name: "\\"cut_1\\""']);
    // What is sent in the colour of the cut would be cut.
    expect(wrong((file) => (file.layers.note.sent = true))).toEqual(['layers.note.colour: "\\"red\\""']);
    expect(wrong((file) => (file.layers.cut.sent = false))).toEqual(['layers.cut.sent: "false"']);
    expect(wrong((file) => (file.layers.label.colour = 'pink'))).toHaveLength(1);
    expect(wrong((file) => (file.within = 2))).toHaveLength(1);
    expect(wrong((file) => (file.format = 'railwright-board'))).toHaveLength(1);
    expect(readShop('{')).toMatchObject({ ok: false });
  });
});

describe('the test piece', () => {
  const wide = (loop: ArrayLike<number>) => Math.max(...pairs(loop).map(([x]) => x)) - Math.min(...pairs(loop).map(([x]) => x));
  /** Width of the notch of the first rib as its file has it. */
  const cutNotch = (design: ReturnType<typeof seedDesign>) => {
    const plan = planBoard(design);
    const [{ shape }] = cutRibs(plan).ribs;
    const floor = pairs(kerfCompensated({ ...shape, marks: [] }, design.frames.kerf).outline).filter(([y, z]) => Math.abs(y) < design.frames.stringerThickness && Math.abs(z - shape.notch.floor) < 0.5).map(([y]) => y);
    return Math.max(...floor) - Math.min(...floor);
  };

  it('tells kerf and clearance: entered, a notch comes out as wide as the one that the offcut went into, whatever was entered before', () => {
    const [piece] = testPieces(seedDesign('child-155.board.json'));
    // The beam as it truly is, what the file was moved for, and what the machine's own program allowed for besides.
    for (const [beam, entered, machine] of [[0.3, 0.15, 0], [0.12, 0.3, 0], [0.25, 0, 0.2], [0.25, 0, 0.25]]) {
      const came = beam - machine;
      const { outline, holes: [hole] } = kerfCompensated(piece.shape, entered);
      const [open, fell] = [wide(hole) + came, wide(hole) - machine - beam];
      const kerf = kerfMeasured(open, fell);
      expect(kerf).toBeCloseTo(beam, 6);
      const floors = pairs(outline).filter(([, y]) => y > piece.square && y < Math.max(...pairs(outline).map(([, z]) => z)) - 1).map(([x]) => x).sort((a, b) => a - b);
      expect(floors).toHaveLength(2 * piece.notches.length);
      piece.notches.forEach(({ fit }, i) => {
        const own = floors[2 * i + 1] - floors[2 * i] + came;
        const design = seedDesign('child-155.board.json');
        // A program that allows for the kerf is told it; else the file is.
        Object.assign(design.frames, { kerf: machine > 0 ? 0 : kerf, notchFit: fitMeasured(fit, open, piece.square) });
        if (design.frames.notchFit < -0.5 || i % 3 > 0) return;
        const comes = cutNotch(design) + beam - (machine > 0 ? kerf : 0);
        expect(comes - design.frames.stringerThickness).toBeCloseTo(own - piece.into, 2);
      });
    }
  });

  it('has notches of its own clearances, whatever the board has, and one piece for one thickness', () => {
    const { frames } = seedDesign('child-155.board.json');
    const pieces = (change: Partial<typeof frames>) => testPieces({ frames: { ...frames, ribThickness: 4, stringerThickness: 9, ...change } });
    const [ribs, stringer] = pieces({});
    expect([ribs.thickness, ribs.into, stringer.thickness, stringer.into]).toEqual([4, 9, 9, 4]);
    expect(ribs.notches.map(({ letter, fit }) => `${letter} ${fit}`)).toEqual(['A -0.3', 'B -0.2', 'C -0.1', 'D 0', 'E 0.1', 'F 0.2', 'G 0.3', 'H 0.4']);
    expect(pieces({ notchFit: 0.37, kerf: 1 })).toEqual(pieces({}));
    expect(pieces({ stringerThickness: 4 })).toHaveLength(1);
    const told = (unit: 'mm' | 'in16') => ribs.notches.map((notch) => notchWords(notch, unit));
    expect(told('mm')[2]).toBe('C −0.10');
    expect(new Set(told('in16').map((words) => words.slice(2))).size).toBe(ribs.notches.length);
  });
});
