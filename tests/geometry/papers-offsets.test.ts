/** Parts by offsets and ribs by halves: both give back the part they are drawn from; the wall sheet; and how many pages all of a board's papers have. */
import { execFileSync } from 'node:child_process';
import { PDFDocument } from '@cantoo/pdf-lib';
import { beforeAll, describe, expect, it } from 'vitest';
import { ensurePoppler } from '../../.ci/poppler.mjs';
import { readDesign } from '../../geometry/design/read';
import { planBoard } from '../../geometry/plan';
import { planParts } from '../../geometry/planParts';
import { stopsOf } from '../../geometry/rail/laid';
import { planTolerance } from '../../geometry/trust/tolerance';
import { listPapers, makePapers, type PaperOptions } from '../../src/papers';
import { shapeStrokes, sketchOf, type Sketch } from '../../src/papers/drawing';
import { halfSketch } from '../../src/papers/halves';
import { partOffsets, offsetStep } from '../../src/papers/pdf/offsets';
import { pageTexts, plateParts, seedBench } from '../support/papers';
import { seedNames, starterTexts } from './boards';

beforeAll(() => ensurePoppler(), 180_000);

const options: PaperOptions = { date: '2031-02-28', paper: 'A4', units: 'mm' };
const rectangle = (points: number[]): Sketch => sketchOf('part', 'Part', [{ layer: 'cut', closed: true, points }]);

describe('offsets', () => {
  it('are the heights of a plate with a sloping top, at every step and at both ends; a notch is told apart', () => {
    // 450 long, top from 40 to 85 (1 in 10), a notch 198 to 206 down to 30.
    const plate = rectangle([0, 0, 450, 0, 450, 85, 206, 60.6, 206, 30, 198, 30, 198, 59.8, 0, 40]);
    const { stations, notches } = partOffsets(plate, offsetStep('mm'));
    expect(stations.map(({ x }) => Math.round(x))).toEqual([0, 100, 198, 300, 400, 450]);
    for (const { x, low, high } of stations) {
      expect(low).toBe(0);
      expect(high).toBeCloseTo(40 + x / 10, 1);
    }
    expect(notches).toEqual([{ from: 198, to: 206, floor: 30, above: true }]);
    // Lettering that reaches past the plate is none of it.
    const lettered = partOffsets(sketchOf('part', 'Part', [...plate.strokes, { layer: 'label', closed: false, points: [400, 10, 480, 90] }]), offsetStep('mm'));
    expect([lettered.width, lettered.height]).toEqual([450, 85]);
    expect(lettered.stations).toEqual(stations);
  });

  it('of the skin blanks lie on their edges, and are printed', async () => {
    const { plan, parts } = await seedBench('child-155');
    const [{ bytes }] = await makePapers(plan, parts, { ...options, which: ['skin-blanks.pdf'] });
    const text = pageTexts(bytes).join('\n');
    for (const piece of parts.blanks.flatMap((blank) => blank.pieces)) {
      const { stations, notches } = partOffsets(sketchOf('piece', '', shapeStrokes(piece.shape)), 100);
      expect(notches).toEqual([]);
      for (const { low, high } of stations.slice(1, -1)) {
        // No wider than the box that it is cut from, and never upside down.
        expect(low).toBeGreaterThanOrEqual(-1e-6);
        expect(high).toBeGreaterThan(low + 5);
        expect(high).toBeLessThanOrEqual(piece.boxWidth + 1e-6);
        expect(text).toContain(high.toFixed(1));
      }
    }
  });
});

describe('a rib by its half', () => {
  it('is half as wide, and its lines are those of the whole to starboard', async () => {
    const { parts } = await seedBench('child-155');
    const ribs = parts.frames.filter(({ kind }) => kind === 'rib');
    expect(ribs.length).toBeGreaterThan(3);
    for (const rib of ribs) {
      const whole = sketchOf(rib.id, '', shapeStrokes(rib.shape).filter(({ layer }) => layer === 'cut'));
      const half = halfSketch(rib);
      expect(half.width).toBeCloseTo(whole.width / 2, 6);
      const lengthOf = ({ strokes }: Sketch) => strokes.filter(({ layer }) => layer === 'cut').reduce((sum, { points, closed }) => {
        const n = points.length / 2;
        for (let i = 0; i < (closed ? n : n - 1); i++) {
          const j = (i + 1) % n;
          sum += Math.hypot(points[2 * j] - points[2 * i], points[2 * j + 1] - points[2 * i + 1]);
        }
        return sum;
      }, 0);
      expect(lengthOf(half)).toBeCloseTo(lengthOf(whole) / 2, 3);
    }
  });

  it('stays whole where its sides differ', () => {
    const [plate] = plateParts().frames;
    expect(halfSketch(plate).width).toBeCloseTo(sketchOf('', '', shapeStrokes(plate.shape)).width, 6);
  });
});

describe('the wall sheet', () => {
  it('is one A3 page, lying, with every rib, stop and piece in letters that are read from two metres', async () => {
    const { plan, parts } = await seedBench('child-155');
    const [{ bytes }] = await makePapers(plan, parts, { ...options, which: ['wall-sheet'] });
    const pdf = await PDFDocument.load(bytes, { updateMetadata: false });
    expect(pdf.getPageCount()).toBe(1);
    // ISO 216, mm in points of 1/72 inch.
    expect(pdf.getPage(0).getWidth()).toBeCloseTo((420 * 72) / 25.4, 3);
    expect(pdf.getPage(0).getHeight()).toBeCloseTo((297 * 72) / 25.4, 3);
    const words = [...execFileSync('pdftotext', ['-bbox', '-', '-'], { input: bytes }).toString('utf8').matchAll(/yMin="([\d.]+)" xMax="[\d.]+" yMax="([\d.]+)">([^<]*)</g)]
      .map(([, from, to, word]) => ({ word, high: ((Number(to) - Number(from)) * 25.4) / 72 }));
    const wanted = [
      ...plan.rail.ribs.flatMap((rib) => [rib.x.toFixed(1), (plan.hull.length - rib.x).toFixed(1), rib.gap.toFixed(1), `${((rib.section.bevel * 180) / Math.PI).toFixed(1)}°`]),
      ...stopsOf(plan.rail).map(({ x }) => Math.min(x, plan.hull.length - x).toFixed(0)),
      ...(parts.joints?.pieces ?? []).map(({ length }) => length.toFixed(1)),
    ];
    expect(wanted.length).toBeGreaterThan(40);
    for (const figure of wanted) {
      // Poppler's box of a word is 0.925 of its letters' size high, a capital 0.72 of it: 3.5 mm want 4.5.
      const seen = words.filter(({ word }) => word === figure);
      expect([figure, Math.max(0, ...seen.map(({ high }) => high)) >= 4.5]).toEqual([figure, true]);
    }
  });
});

/** The most pages: of the bench sheet, and of all PDFs of a board. */
const MOST = { sheet: 12, all: 30 };

describe('the pages of a board', () => {
  const starterBench = async (name: string, text: string) => {
    const read = readDesign(text);
    if (!read.ok) throw new Error(`${name} does not read`);
    const plan = planBoard(read.design);
    return { plan, parts: await planParts(plan) };
  };
  it.each([
    ...seedNames.map((name) => [name, () => seedBench(name.replace('.board.json', ''))] as const),
    ...starterTexts.map(([name, text]) => [name, () => starterBench(name, text)] as const),
  ])('%s: the bench sheet within 12, all PDFs within 30', async (_, bench) => {
    const { plan, parts } = await bench();
    const trust = { bands: await planTolerance(plan, { method: 'estimate' }) };
    const which = listPapers(plan, parts, { ...options, trust }).filter(({ mime }) => mime === 'application/pdf').map(({ id }) => id);
    const pages = new Map<string, number>();
    for (const { id, bytes } of await makePapers(plan, parts, { ...options, trust, which })) pages.set(id, (await PDFDocument.load(bytes, { updateMetadata: false })).getPageCount());
    expect(pages.size).toBeGreaterThan(3);
    expect(pages.get('bench-sheet')).toBeLessThanOrEqual(MOST.sheet);
    expect([...pages.values()].reduce((sum, n) => sum + n, 0)).toBeLessThanOrEqual(MOST.all);
  });
});
