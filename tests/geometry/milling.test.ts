/** Milling: what a saw gives by hand-computable cases, every plank's volume in balance, lengths against the solids, and what is bought. */
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Design } from '../../geometry/design/schema';
import { loadMilp, type MilpSolver } from '../../geometry/parts/milp';
import { planMilling } from '../../geometry/parts/milling';
import { plankRoom, PLANK_EDGES, PLANK_ENDS, ripsAcross } from '../../geometry/parts/planks';
import type { JointPlan, MillPlan, Parts } from '../../geometry/parts/types';
import { planBoard } from '../../geometry/plan';
import { planParts } from '../../geometry/planParts';
import { meshBoard } from '../../geometry/solid/board';
import type { Plan } from '../../geometry/types';
import { shopTable } from '../../src/papers/listTables';
import { millTable } from '../../src/papers/millTable';
import { columnAt } from '../../src/papers/tables';
import { meshVolume } from '../support/meshVolume';
import { mmText } from '../support/said';
import { seedDesign, seedNames } from './boards';

let solver: MilpSolver;
beforeAll(async () => {
  solver = await loadMilp();
});

type Planks = NonNullable<Design['timber']['planks']>;
const KINDS: Planks = [{ length: 2600, width: 150, thickness: 27, price: 20, onHand: 1 }, { length: 2000, width: 200, thickness: 20, price: 18 }];

/** A cutting plan of stock lengths of one piece each. */
const cut = (...sections: readonly (readonly [count: number, width: number, thickness: number, length: number])[]): JointPlan => {
  const all = sections.flatMap(([count, width, thickness, length]) => Array.from({ length: count }, () => ({ width, thickness, length })));
  return {
    pieces: all.map(({ length }, i) => ({ strip: { kind: 'sole', order: 0, stretch: 1 }, side: 'starboard', index: 0, s0: 0, s1: length, length, stockLength: i })),
    joints: [], stockLengths: all.map((one, i) => ({ ...one, stock: 'strips', ripped: true, type: 0, pieces: [i], waste: 0 })),
    proof: { optimal: true, pieces: all.length, pieceBound: all.length, stock: 0, stockBound: 0 },
  };
};
const milledFrom = (planks: Planks, sawKerf: number, joints: JointPlan) => {
  const design = seedDesign(seedNames[0]);
  Object.assign(design.timber, { planks, sawKerf });
  return planMilling(design, joints, solver);
};

/** What is wrong with a milling plan: room, kerfs, sections, lengths and volumes of every plank counted again, and every strip ripped once. */
function faultsOf({ strips, planks }: MillPlan, kinds: Planks, kerf: number): string[] {
  const faults: string[] = [];
  const taken = (sizes: readonly number[]) => sizes.reduce((sum, one) => sum + one, 0) + (sizes.length - 1) * kerf;
  const ripped = planks.flatMap(({ slices }) => slices.flatMap(({ rips }) => rips.flatMap((rip) => rip.strips)));
  if (new Set(ripped).size !== ripped.length) faults.push('a strip is ripped twice');
  for (const { type, slices, volume } of planks) {
    const room = plankRoom(kinds[type]);
    if (taken(slices.map(({ fence }) => fence)) > room.width + 1e-6) faults.push('slices wider than the plank');
    for (const { fence, rips } of slices) {
      if (taken(rips.map(({ second }) => second)) > room.thickness + 1e-6) faults.push('strips thicker than the plank');
      for (const { second, strips: own } of rips) {
        if (taken(own.map((i) => strips[i].length)) > room.length + 1e-6) faults.push('strips longer than the plank');
        for (const i of own) if (Math.abs(fence * second - strips[i].width * strips[i].thickness) > 1e-6 || ![strips[i].width, strips[i].thickness].includes(fence)) faults.push('another section');
      }
    }
    if (Math.abs(volume.pieces + volume.kerf + volume.left - volume.whole) > 1e-6 * volume.whole) faults.push('volumes out of balance');
    if (!(volume.pieces > 0 && volume.kerf >= 0 && volume.left >= 0)) faults.push('a negative volume');
  }
  return faults;
}

describe('the saw', () => {
  it('gives ten strips of 12 from 150 with a kerf of 3, and no eleventh (arithmetic: 10 x 12 + 9 x 3 = 147, 11 x 12 + 10 x 3 = 162)', () => {
    expect(ripsAcross(150, 12, 3)).toBe(10);
    expect(ripsAcross(147, 12, 3)).toBe(10);
    expect(ripsAcross(146.9, 12, 3)).toBe(9);
    expect(ripsAcross(11, 12, 3)).toBe(0);
  });

  it('takes one kerf less than there are strips, whatever the sizes', () => {
    fc.assert(fc.property(fc.double({ min: 5, max: 600, noNaN: true }), fc.double({ min: 2, max: 80, noNaN: true }), fc.double({ min: 0, max: 6, noNaN: true }), (room, strip, kerf) => {
      const n = ripsAcross(room, strip, kerf);
      expect(n * strip + Math.max(0, n - 1) * kerf).toBeLessThanOrEqual(room + 1e-6);
      expect((n + 1) * strip + n * kerf).toBeGreaterThan(room - 1e-6);
    }));
  });

  // The room of a plank is what its shot edges and trimmed ends leave.
  const plank = (width: number, thickness: number, length: number): Planks[number] => ({ width: width + PLANK_EDGES, thickness, length: length + PLANK_ENDS, price: 10 });

  it('gives 17 strips of 12 x 6 from a plank 150 x 12 at a fence of 6, and the 18th takes another (17 x 6 + 16 x 3 = 150)', () => {
    const planks = [plank(150, 12, 1800)];
    const count = (n: number) => milledFrom(planks, 3, cut([n, 12, 6, 1800])).milling.planks.length;
    expect(count(17)).toBe(1);
    expect(count(18)).toBe(2);
    expect(count(34)).toBe(2);
  });

  it('lays strips on edge and flat, whichever gives more: 25 thick is 12 + 6 + two kerfs, or three times 6', () => {
    // At a fence of 12 a slice gives 3 of 12 x 6 (3 x 6 + 2 x 3 = 24); at 6 one of them and a spacer (12 + 3 + 6 = 21).
    const { milling } = milledFrom([plank(12, 25, 1800)], 3, cut([3, 12, 6, 1800]));
    expect(milling.planks.map(({ slices }) => slices.map(({ fence, rips }) => [fence, rips.map(({ second }) => second)]))).toEqual([[[12, [6, 6, 6]]]]);
    const mixed = milledFrom([plank(6, 25, 1800)], 3, cut([1, 12, 6, 1800], [1, 6, 6, 1800])).milling;
    expect(mixed.planks.map(({ slices }) => slices.map(({ fence, rips }) => [fence, rips.map(({ second }) => second).sort((a, b) => a - b)]))).toEqual([[[6, [6, 12]]]]);
    expect(mixed.optimal).toBe(true);
  });

  it('takes the cheaper plank that is long enough, and those on hand before it asks for more', () => {
    const kinds = [{ ...plank(60, 12, 2400), price: 9 }, { ...plank(60, 12, 1200), price: 4 }];
    const types = (length: number) => milledFrom(kinds, 3, cut([6, 12, 6, length])).milling.planks.map(({ type }) => type);
    expect(types(1200)).toEqual([1]);
    expect(types(1201)).toEqual([0]);
    const few = milledFrom([{ ...kinds[0], onHand: 1 }], 3, cut([20, 12, 6, 2400]));
    // 7 to a plank: 7 x 6 + 6 x 3 = 60.
    expect(few.milling.planks).toHaveLength(3);
    expect(few.findings.map(({ code, figure, limit }) => [code, figure, limit])).toEqual([['planks-short', 3, 1]]);
  });

  it('finds a plan where there are too many ways to prove the best', () => {
    const sections = Array.from({ length: 9 }, (_, i): [number, number, number, number] => [4, 3 + 0.7 * i, 2 + 0.3 * i, 900 + 40 * i]);
    const planks = [plank(500, 120, 2400)];
    const { milling } = milledFrom(planks, 1, cut(...sections));
    expect(milling.optimal).toBe(false);
    expect(milling.strips).toHaveLength(36);
    expect(milling.planks.flatMap(({ slices }) => slices.flatMap(({ rips }) => rips.flatMap((rip) => rip.strips)))).toHaveLength(36);
    expect(faultsOf(milling, planks, 1)).toEqual([]);
  });
});

describe.each(seedNames)('%s from planks', (name) => {
  let plan: Plan;
  let parts: Parts;
  beforeAll(async () => {
    const design = seedDesign(name);
    design.timber.planks = KINDS;
    design.consents = { split: true };
    plan = planBoard(design);
    parts = await planParts(plan, { solver });
  });

  it('keeps to every plank, and accounts for all its timber', () => {
    const { milling } = parts;
    expect(milling && faultsOf(milling, KINDS, plan.design.timber.sawKerf)).toEqual([]);
    expect(milling?.planks.flatMap(({ slices }) => slices.flatMap(({ rips }) => rips.flatMap((rip) => rip.strips))).sort((a, b) => a - b)).toEqual(milling?.strips.map((_, i) => i));
  });

  it('mills every piece of the cutting plan once, as many strips as it is split in, each as long as it at least', () => {
    const { strips = [] } = parts.milling ?? {};
    const { pieces = [] } = parts.joints ?? {};
    pieces.forEach((piece, i) => {
      const n = Math.max(1, ...(piece.partings ?? []).map((parting) => parting.n));
      const mine = strips.filter((strip) => strip.pieces.includes(i));
      expect(mine).toHaveLength(n);
      for (const strip of mine) expect(strip.length).toBeGreaterThan(piece.length - 1e-6);
      const width = piece.strip.kind === 'row' ? plan.design.rail.spacerWidth : plan.design.rail.stripWidth;
      expect(mine.reduce((sum, strip) => sum + strip.width, 0)).toBeCloseTo(width, 9);
    });
  });

  it('gives the rows as much timber as their solids hold, and sole and cap no less', () => {
    const { spacerWidth, spacerHeight, stripWidth, soleThickness, capThickness } = plan.design.rail;
    const bodies = meshBoard(plan);
    const milled = (kind: string) => (parts.joints?.pieces ?? []).filter(({ strip }) => strip.kind === kind).reduce((sum, { length }) => sum + length, 0)
      - (parts.joints?.joints ?? []).filter(({ strip }) => strip.kind === kind).reduce((sum, { scarf = 0 }) => sum + scarf, 0);
    const solid = (kind: string) => bodies.filter((body) => body.kind === kind).reduce((sum, body) => sum + meshVolume(body.mesh), 0);
    expect(solid('row')).toBeGreaterThan(0);
    expect(Math.abs((milled('row') * spacerWidth * spacerHeight) / solid('row') - 1)).toBeLessThan(2e-3);
    for (const [kind, thickness] of [['sole', soleThickness], ['cap', capThickness]] as const) {
      const share = solid(kind) / (milled(kind) * stripWidth * thickness);
      expect(share).toBeLessThan(1.002);
      expect(share).toBeGreaterThan(0.7);
    }
  });

  it('buys the planks in place of strips, and prices sole, rows and cap by them', () => {
    const table = shopTable(plan, parts);
    const [item, needed, cost] = ['item', 'needed', 'cost'].map((id) => columnAt(table, id));
    const items = table.rows.map((row) => mmText(row[item] ?? ''));
    expect(items.some((text) => /^(Flat|Spacer) strip/.test(text))).toBe(false);
    const planks = table.rows.filter((_, i) => items[i].endsWith('for strips and spacers'));
    expect(planks.reduce((sum, row) => sum + Number(row[needed]), 0)).toBe(parts.milling?.planks.length);
    expect(planks.every((row) => Number.isFinite(row[cost]))).toBe(true);
    const price = (parts.milling?.planks ?? []).reduce((sum, { type }) => sum + KINDS[type].price, 0);
    const priced = (parts.totals?.parts ?? []).filter(({ part }) => ['sole', 'rows', 'cap'].includes(part)).reduce((sum, part) => sum + part.cost, 0);
    expect(priced).toBeCloseTo(price, 9);
  });

  it('tells every strip in the mill list', () => {
    const table = millTable(plan, parts);
    const [many, plank] = ['strips', 'plank'].map((id) => columnAt(table, id));
    const rips = parts.milling?.planks.flatMap(({ slices }) => slices.flatMap(({ rips: here }) => here)) ?? [];
    expect(table.rows.filter((row) => row[plank] !== undefined).reduce((sum, row) => sum + Number(row[many]), 0)).toBe(rips.length);
  });
});

describe('planks that do not do', () => {
  const withPlanks = (planks: Planks) => {
    const design = seedDesign(seedNames[0]);
    design.timber.planks = planks;
    return planParts(planBoard(design), { solver });
  };

  it('are said with a remedy, and the strips are counted as bought ready', async () => {
    const parts = await withPlanks([{ length: 2400, width: 150, thickness: 3, price: 5 }]);
    expect(parts.findings.filter(({ code }) => code === 'mill-none').length).toBeGreaterThan(0);
    expect(parts.findings.filter(({ code }) => code === 'mill-none').every(({ level, limit }) => level === 'check' && limit === 3)).toBe(true);
    expect(parts.milling?.planks).toEqual([]);
    expect(parts.joints?.stockLengths.every(({ ripped }) => !ripped)).toBe(true);
    expect(parts.totals && parts.steps.length > 0).toBeTruthy();
  });

  it('that are too short leave the strip out as too short stock does, and all else comes out', async () => {
    const parts = await withPlanks([{ length: 320, width: 150, thickness: 25, price: 5 }]);
    expect(parts.findings.some(({ code }) => code === 'stock-short')).toBe(true);
    expect(parts.totals && parts.blanks.length > 0 && parts.steps.length > 0).toBeTruthy();
  });
});

describe('without planks', () => {
  it('the mill list says sections and counts, and what is bought stays', async () => {
    const plan = planBoard(seedDesign(seedNames[0]));
    const parts = await planParts(plan, { solver });
    const table = millTable(plan, parts);
    const many = columnAt(table, 'strips');
    expect(parts.milling?.planks).toEqual([]);
    const strips = table.rows.filter((row) => mmText(row[columnAt(table, 'for')] ?? '').includes('stock length'));
    expect(strips.reduce((sum, row) => sum + Number(row[many]), 0)).toBe(parts.joints?.stockLengths.length);
    expect(shopTable(plan, parts).rows.some(([item]) => mmText(item ?? '').startsWith('Flat strip'))).toBe(true);
  });
});
