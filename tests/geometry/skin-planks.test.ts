/** Deck and bottom skin from planks: a disc in closed form, cover by polyclip-ts, surfaces of the volumes, and what is bought. */
import { execFileSync } from 'node:child_process';
import { difference, union, type Geom } from 'polyclip-ts';
import { beforeAll, describe, expect, it } from 'vitest';
import { ensurePoppler } from '../../.ci/poppler.mjs';
import { loopArea } from '../../geometry/curves/polygon';
import { readDesign } from '../../geometry/design/read';
import type { Design } from '../../geometry/design/schema';
import { loadMilp, type MilpSolver } from '../../geometry/parts/milp';
import { glueUpWords, PANEL_OVERSIZE, planSkinPlanks } from '../../geometry/parts/skinPlanks';
import { timberVolumes } from '../../geometry/parts/volumes';
import { planBoard } from '../../geometry/plan';
import { planParts } from '../../geometry/planParts';
import { makePapers } from '../../src/papers/index';
import { mmText } from '../support/said';
import { seedDesign, seedNames, starterTexts } from './boards';
import { DISC_RADIUS, discDesign } from './disc';

let solver: MilpSolver;
beforeAll(async () => {
  solver = await loadMilp();
  ensurePoppler();
});

const KINDS = [{ length: 1900, width: 118, price: 9 }, { length: 3300, width: 97, price: 21 }];
const planked = (design: Design, skinPlanks: NonNullable<Design['timber']['skinPlanks']> = KINDS) => {
  design.timber.skinPlanks = skinPlanks;
  const plan = planBoard(design);
  const { skins, findings } = planSkinPlanks(plan);
  if (!skins) throw new Error(findings.map(({ title }) => mmText(title)).join());
  return { plan, skins, findings };
};
const pairs = (loop: ArrayLike<number>): [number, number][] => Array.from({ length: loop.length / 2 }, (_, i) => [loop[2 * i], loop[2 * i + 1]]);
const rect = (u0: number, v0: number, u1: number, v1: number): Geom => [[[u0, v0], [u1, v0], [u1, v1], [u0, v1]]];
const areaOf = (g: ReturnType<typeof union>) => g.flat().reduce((sum, ring) => sum + loopArea(ring.flat()), 0);

describe.each(seedNames)('%s', (name) => {
  const { plan, skins } = planked(seedDesign(name));
  const v = timberVolumes(plan);

  it('lays each skin out as large as its surface, and leaves the oversize all round', () => {
    for (const { panel, shape } of skins.panels) {
      const net = shape.marks[0].points;
      expect(Math.abs(loopArea(net)) / (panel === 'deck' ? v.deckArea : v.bottomArea)).toBeCloseTo(1, 3);
      const [xs, ys] = [0, 1].map((k) => Array.from(shape.outline).filter((_, i) => i % 2 === k));
      const [nx, ny] = [0, 1].map((k) => Array.from(net).filter((_, i) => i % 2 === k));
      expect(Math.min(...nx) - Math.min(...xs)).toBeGreaterThan(PANEL_OVERSIZE - 0.1);
      expect(Math.max(...ys) - Math.max(...ny)).toBeCloseTo(PANEL_OVERSIZE, 1);
    }
  });

  it('covers every skin with its planks, none over another (polyclip-ts)', () => {
    for (const { shape, pieces } of skins.panels) {
      const rects = pieces.map(({ u0, v0, u1, v1 }) => rect(u0, v0, u1, v1));
      const all = union(rects[0], ...rects.slice(1));
      expect(areaOf(all) / rects.reduce((sum, r) => sum + areaOf([r as [number, number][][]]), 0)).toBeCloseTo(1, 9);
      expect(areaOf(difference([pairs(shape.outline)], all))).toBeLessThan(1);
    }
  });

  it('cuts every piece once, from a plank that holds it with its kerfs', () => {
    const pieces = skins.panels.flatMap((panel) => panel.pieces);
    expect(pieces.map(({ number }) => number)).toEqual(pieces.map((_, i) => i + 1));
    expect(skins.planks.flatMap((plank) => plank.pieces).sort((a, b) => a - b)).toEqual(pieces.map(({ number }) => number));
    skins.planks.forEach((plank, i) => {
      const cut = plank.pieces.map((n) => pieces[n - 1]);
      expect(cut.every((piece) => piece.plank === i + 1)).toBe(true);
      const used = cut.reduce((sum, { length }) => sum + length, 0) + (cut.length - 1) * plan.design.timber.sawKerf;
      expect(used + plank.left).toBeLessThanOrEqual(skins.length);
      expect(plank.left).toBeGreaterThanOrEqual(0);
    });
  });
});

describe('a flat round board', () => {
  it('takes as many planks as its diameter says, shortest at the sides (circle; provable)', () => {
    const { skins } = planked(discDesign(), [{ length: 1000, width: 103, price: 1 }]);
    const R = DISC_RADIUS + PANEL_OVERSIZE;
    const [bottom] = skins.panels;
    expect(bottom.strakes).toBe(Math.ceil((2 * R) / 100));
    for (const { v0, v1, length } of bottom.pieces) {
      const near = v0 < 0 && v1 > 0 ? 0 : Math.min(Math.abs(v0), Math.abs(v1));
      expect(length).toBeCloseTo(2 * Math.sqrt(R * R - near * near), 0);
    }
  });

  it('butts short planks over ribs, neighbours apart', () => {
    const design = discDesign();
    const { skins } = planked(design, [{ length: 700, width: 103, price: 1 }]);
    const butts = (strake: number) => skins.panels[0].pieces.filter((piece) => piece.strake === strake).slice(1).map(({ u0 }) => u0);
    const all = Array.from({ length: skins.panels[0].strakes }, (_, i) => butts(i + 1));
    expect(all.flat().length).toBeGreaterThan(4);
    // Flat: the length along the skin is the station.
    for (const u of all.flat()) expect(Math.min(...design.frames.ribs.map((x) => Math.abs(x - u)))).toBeLessThan(1e-3);
    const middle = Math.floor(all.length / 2);
    expect(all[middle - 1].some((u) => all[middle].some((w) => Math.abs(u - w) < 1))).toBe(all.length % 2 === 0);
    expect(all[middle + 1].some((u) => all[middle].some((w) => Math.abs(u - w) < 1))).toBe(false);
  });
});

describe('what is bought and said', () => {
  it('takes the cheaper kind, and what is on hand in number before it', () => {
    const cheap = planked(seedDesign('child-155.board.json'));
    expect(cheap.skins.type).toBe(0);
    const short = planked(seedDesign('child-155.board.json'), [{ ...KINDS[0], onHand: 2 }, KINDS[1]]);
    expect(short.skins.type).toBe(1);
    expect(short.findings).toEqual([]);
    const both = planked(seedDesign('child-155.board.json'), [{ ...KINDS[0], onHand: 2 }]);
    expect(both.findings.map(({ code, figure, limit }) => [code, figure, limit])).toEqual([['skin-planks-short', 2, both.skins.planks.length]]);
  });

  it('costs its planks, and its papers are a list and two drawings', async () => {
    const design = seedDesign('child-155.board.json');
    design.timber.skinPlanks = KINDS;
    const parts = await planParts(planBoard(design), { solver });
    const cost = parts.totals?.parts.filter(({ part }) => part.endsWith('skin')).reduce((sum, part) => sum + part.cost, 0);
    expect(cost).toBeCloseTo(9 * (parts.skins?.planks.length ?? 0), 9);
    const papers = await makePapers(planBoard(design), parts, { date: '2026-11-26', paper: 'A4', units: 'mm', which: ['skin-planks.csv', 'deck-skin.svg', 'bottom-skin.dxf', 'shopping.csv'] });
    expect(papers.map(({ id }) => id).sort()).toEqual(['bottom-skin.dxf', 'deck-skin.svg', 'shopping.csv', 'skin-planks.csv']);
    const shopping = new TextDecoder().decode(papers.find(({ id }) => id === 'shopping.csv')?.bytes);
    expect(shopping).toContain('Plank 1900 x 118 x');
    expect(shopping).not.toContain('Panel for');
    expect(mmText(parts.steps[0].text)).toContain('Glue up the bottom skin from');
    expect(mmText(parts.steps.find(({ title }) => title === 'Deck skin')?.text ?? '')).toContain('Glue up the deck skin from');
  });

  it.each(starterTexts)('%s: has its place in the bench sheet, every piece with its length, the sheet within 12 pages (poppler)', async (_, text) => {
    const read = readDesign(text);
    if (!read.ok) throw new Error('a starter that does not read');
    const plan = planBoard({ ...read.design, timber: { ...read.design.timber, skinPlanks: KINDS } });
    const parts = await planParts(plan, { solver });
    const [sheet] = await makePapers(plan, parts, { date: '2026-11-26', paper: 'A4', units: 'mm', which: ['bench-sheet'] });
    const printed = execFileSync('pdftotext', ['-raw', '-', '-'], { input: sheet.bytes }).toString('utf8');
    expect(printed).toContain('Cut: deck and bottom skin from planks');
    for (const { number, length, plank } of parts.skins?.panels.flatMap(({ pieces }) => pieces) ?? []) expect(printed).toMatch(new RegExp(`${number}: ${length.toFixed(1)}\\s*plank ${plank},`));
    expect(printed.split('\f').length - 1).toBeLessThanOrEqual(12);
  });

  it('is glued up from the middle out', () => {
    const six = planked(seedDesign('child-155.board.json'), [{ length: 1900, width: 95, price: 1 }]).skins;
    expect(glueUpWords(six, 'deck').map((words) => mmText(words)).join(' ')).toContain('3 and 4, then 2 and 5, then 1 and 6,');
    const wide = planked(seedDesign('child-155.board.json'), [{ length: 1900, width: 115, price: 1 }]).skins;
    expect(glueUpWords(wide, 'bottom').map((words) => mmText(words)).join(' ')).toContain('3, then 2 and 4, then 1 and 5,');
    expect(glueUpWords(undefined, 'deck')).toEqual([]);
  });

  it('wants glue on every joint of it, told with the step and in the totals', async () => {
    const design = seedDesign('child-155.board.json');
    const bare = await planParts(planBoard(design), { solver });
    design.timber.skinPlanks = KINDS;
    const parts = await planParts(planBoard(design), { solver });
    const [bottom, deck] = (parts.skins?.panels ?? []).map((panel) => {
      // Alike on both sides: each joint is as long as the plank outboard of it, but for one on the centreline.
      const long = panel.pieces.map(({ length }) => length);
      const joints = long.slice(1).map((length, i) => Math.min(length, long[i]));
      return panel.thickness * joints.reduce((sum, length) => sum + length, 0);
    });
    expect(bare.steps[0].glue).toBeUndefined();
    expect(parts.steps[0].glue?.area).toBeCloseTo(bottom, 6);
    expect((parts.totals?.glue.area ?? 0) - (bare.totals?.glue.area ?? 0)).toBeCloseTo(bottom + deck, 3);
  });

  it('where no plank makes a skin says so, prices panels, and makes the rest', async () => {
    const design = seedDesign('child-155.board.json');
    design.timber.skinPlanks = [{ length: 120, width: 90, price: 1 }];
    const parts = await planParts(planBoard(design), { solver });
    expect(parts.findings.filter(({ code }) => code === 'skin-planks').length).toBe(1);
    expect(parts.skins).toBeUndefined();
    expect(parts.totals?.cost).toBeGreaterThan(0);
    expect(parts.steps.length).toBeGreaterThan(10);
  });
});
