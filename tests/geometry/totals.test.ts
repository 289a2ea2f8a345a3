/** Volumes, masses and costs: Simpson's worked example, discs in closed form, meshes, and sums that must agree. */
import type { ManifoldToplevel } from 'manifold-3d';
import { beforeAll, describe, expect, it } from 'vitest';
import { densityAt, speciesById } from '../../geometry/design/timber';
import { planBending } from '../../geometry/parts/bending';
import { planBlanks } from '../../geometry/parts/blanks';
import { planJoints } from '../../geometry/parts/joints';
import { loadMilp, type MilpSolver } from '../../geometry/parts/milp';
import { planTotals } from '../../geometry/parts/totals';
import type { FramePart } from '../../geometry/frame/types';
import type { Totals } from '../../geometry/parts/types';
import { CLOSELY } from '../../geometry/frame/weighing';
import { planedStrip, simpson, timberVolumes } from '../../geometry/parts/volumes';
import { planBoard } from '../../geometry/plan';
import { meshBoard } from '../../geometry/solid/board';
import { meshVolume } from '../support/meshVolume';
import type { Plan } from '../../geometry/types';
import { loadManifold, manifoldOf } from '../support/kernels';
import { seedDesign, seedNames } from './boards';
import { DISC_DEPTH, DISC_RADIUS, discDesign } from './disc';

let solver: MilpSolver;
let module: ManifoldToplevel;
beforeAll(async () => {
  solver = await loadMilp();
  module = await loadManifold();
});

describe("Simpson's first rule", () => {
  it('gives the worked waterplane of the naval text', () => {
    // Derrett and Barrass, Ship Stability for Masters and Mates, p. 74 (read, recomputed): waterline 120 m, half-ordinates
    // 0, 3.7, 5.9, 7.6, 7.5, 4.6, 0.1 m; area 1207 m2, 1206.67 unrounded.
    const half = [0, 3.7, 5.9, 7.6, 7.5, 4.6, 0.1];
    expect(2 * simpson(half, 20)).toBeCloseTo(1206.67, 2);
  });

  it('is exact for cubics', () => {
    // Tupper, Introduction to Naval Architecture, pp. 23-26 (provable): integral of x^3 - 2x over [0, 4] is 48.
    expect(simpson([0, 1, 2, 3, 4].map((x) => x ** 3 - 2 * x), 1)).toBeCloseTo(48, 12);
  });
});

describe('a planed strip', () => {
  it.each([[12, 6, 0, 0], [12, 6, 2.5, 0.004], [12, 6, 6, -0.003], [12, 6, 9, 0.01], [12, 6, -1, 0.002]])(
    'w %d, t %d, planing %d, curvature %d: the same as summed in thin slices', (w, t, planing, kappa) => {
      const n = 200_000;
      let sum = 0;
      for (let i = 0; i < n; i++) {
        const e = ((i + 0.5) * w) / n;
        const h = Math.min(t, Math.max(0, t - planing * (1 - e / w)));
        sum += (h * (1 - e * kappa) * w) / n;
      }
      expect(planedStrip(w, t, planing, kappa)).toBeCloseTo(sum, 6);
    },
  );
});

describe('a flat round board', () => {
  const design = discDesign();
  const plan = planBoard(design);
  const v = timberVolumes(plan);
  const r = design.rail;
  const face = DISC_RADIUS - r.outerLayers * r.outerThickness - r.shapingAllowance;
  /** Ring w wide inside radius R (Pappus, provable). */
  const ring = (R: number, w: number) => 2 * Math.PI * (R - w / 2) * w;
  const expectNear = (got: number, want: number) => expect(Math.abs(got / want - 1)).toBeLessThan(1e-5);

  it('holds the rings and discs of its closed form', () => {
    expectNear(v.sole, ring(face, r.stripWidth) * r.soleThickness);
    expectNear(v.cap, ring(face, r.stripWidth) * r.capThickness);
    const rows = new Set(plan.rail.rows.map((row) => row.row)).size;
    expectNear(v.rows, rows * ring(face, r.spacerWidth) * r.spacerHeight);
    expectNear(v.box, ring(face, r.stripWidth) * (DISC_DEPTH - design.skins.bottom - design.skins.deck));
    expectNear(v.bottomSkin, Math.PI * face * face * design.skins.bottom);
    expectNear(v.deckArea, Math.PI * DISC_RADIUS ** 2);
  });
});

describe.each(seedNames)('%s', (name) => {
  const design = seedDesign(name);
  const plan = planBoard(design);
  const v = timberVolumes(plan);

  it('converges: half the spacing moves no volume by a thousandth', () => {
    const fine = timberVolumes(plan, { ...CLOSELY, step: 2.5 });
    // A tenth of a cubic millimetre beside the relative measure: some boards have next to no blocks.
    const moved = (Object.keys(v) as (keyof typeof v)[]).filter((key) => Math.abs(fine[key] - v[key]) > 1e-3 * v[key] + 0.1);
    expect(moved).toEqual([]);
  });

  it('agrees with the meshes of strips and bottom skin', () => {
    // The meshes leave the glue line out at the strips' outer edges, and are drawn in flat facets: within 2 %.
    const mesh = new Map<string, number>();
    for (const body of meshBoard(plan)) mesh.set(body.kind, (mesh.get(body.kind) ?? 0) + meshVolume(body.mesh));
    const pairs = [['sole', v.sole], ['cap', v.cap], ['row', v.rows], ['bottom-skin', v.bottomSkin]] as const;
    const off = pairs.filter(([kind, volume]) => !(Math.abs(volume / (mesh.get(kind) ?? 0) - 1) < 0.02));
    expect(off).toEqual([]);
  });

  it('fills the ends with blocks as large as the meshes, tongues among them', () => {
    const sum = (of: (id: string) => boolean) => meshBoard(plan).filter(({ kind, id }) => kind === 'block' && of(id)).reduce((all, body) => all + meshVolume(body.mesh), 0);
    expect(Math.abs(v.blocks / sum(() => true) - 1)).toBeLessThan(3e-3);
    expect(Math.abs(v.tongues / sum((id) => id.includes('tongue')) - 1)).toBeLessThan(3e-3);
  });

  it('weighs its blocks as the solids left by manifold-3d once the strips are taken out of them: they are rebated for them', () => {
    const bodies = meshBoard(plan);
    const blocks = bodies.filter((body) => body.kind === 'block').map((body) => manifoldOf(module, body.mesh));
    const strips = bodies.filter(({ kind }) => kind === 'sole' || kind === 'cap').map((body) => manifoldOf(module, body.mesh));
    const solid = blocks.reduce((sum, block) => sum + strips.reduce((left, strip) => left.subtract(strip), block).volume(), 0);
    const { totals } = planTotals(plan, { bending: planBending(plan), frames: [] });
    const line = totals.parts.find(({ part }) => part === 'blocks');
    if (blocks.length === 0) {
      expect(line).toBeUndefined();
      return;
    }
    if (!line) throw new Error('no blocks in the totals');
    // Facets between rings.
    expect(Math.abs(line.volume / solid - 1)).toBeLessThan(0.005);
    // Blocks are of the outer skins' timber, as the field of the design says.
    expect(line.mass).toBeCloseTo(line.volume * 1e-9 * speciesById(design, design.timber.outer).density, 9);
    expect(line.cost).toBeGreaterThan(0);
  });

  it('leaves what the rail\'s own hollow says between solid and hollow, glue aside', () => {
    const bare = structuredClone(design);
    bare.rail.glueLine = 0;
    const p = planBoard(bare);
    const b = timberVolumes(p);
    const empty = b.box - b.sole - b.cap - b.rows - b.tabs - b.tongues;
    // The cap's planed face is straight across, the deck is not.
    expect(Math.abs(empty / (2 * p.rail.hollowVolume) - 1)).toBeLessThan(0.005);
  });
});

/** A frame part of known area: a square 100 mm with a 20 mm hole. */
const plate = (kind: 'rib' | 'stringer', thickness: number): FramePart => ({
  id: kind, kind, label: kind, thickness,
  shape: {
    outline: Float64Array.from([0, 0, 100, 0, 100, 100, 0, 100]),
    holes: [Float64Array.from([40, 40, 40, 60, 60, 60, 60, 40])], marks: [],
  },
});

function totalsOf(plan: Plan, frames: readonly FramePart[] = [plate('rib', 4), plate('stringer', 6)]): { totals: Totals; codes: string[] } {
  const bending = planBending(plan);
  const { joints } = planJoints(plan, bending, solver);
  const { boards } = planBlanks(plan);
  const nest = { sheets: [4, 6, 6].map((thickness) => ({ length: 1000, width: 500, thickness, parts: [], yield: 0.5 })), unplaced: [], yield: 0.5 };
  const { totals, findings } = planTotals(plan, { bending, joints, boards, frames, nest });
  return { totals, codes: findings.map((f) => f.code) };
}

describe('totals', () => {
  const design = seedDesign('child-155.board.json');
  const plan = planBoard(design);
  const v = timberVolumes(plan);
  const part = (t: Totals, name: string) => {
    const found = t.parts.find((p) => p.part === name);
    if (!found) throw new Error(`no ${name}`);
    return found;
  };

  it('weigh each part by its species, and sum', () => {
    const { totals, codes } = totalsOf(plan);
    expect(codes).toEqual([]);
    for (const p of totals.parts) expect(p.mass).toBeCloseTo(p.volume * 1e-9 * speciesById(design, p.species).density, 9);
    expect(totals.mass).toBeCloseTo(totals.parts.reduce((a, p) => a + p.mass, 0), 9);
    expect(totals.cost).toBeCloseTo(totals.parts.reduce((a, p) => a + p.cost, 0), 9);
    expect(totals.boardVolume).toBe(plan.hull.volume);
    expect(totals.centre.x).toBeGreaterThan(plan.hull.length * 0.4);
    expect(totals.centre.x).toBeLessThan(plan.hull.length * 0.6);
    // 100 x 100 less 20 x 20, times the thickness.
    expect(part(totals, 'ribs').volume).toBeCloseTo(9600 * 4, 6);
    expect(part(totals, 'stringer').volume).toBeCloseTo(9600 * 6, 6);
  });

  it('a known density weighs a known volume', () => {
    // SG 0.33 at 12 %: 1000 x 0.33 x 1.12 = 369.6 kg/m3 (Wood Handbook, ch. 4; formula from memory). A litre and a half of it.
    expect(densityAt(0.33, 12) * 1.5e-3).toBeCloseTo(0.5544, 10);
    const { totals } = totalsOf(plan);
    expect(part(totals, 'ribs').mass).toBeCloseTo(369.6 * 9600 * 4 * 1e-9, 9);
  });

  it('cost what is bought: stock lengths, boards and sheets', () => {
    const { totals } = totalsOf(plan);
    const bending = planBending(plan);
    const { joints } = planJoints(plan, bending, solver);
    const stockLengths = (stock: 'strips' | 'spacers') =>
      (joints?.stockLengths ?? []).filter((b) => b.stock === stock).reduce((sum, b) => sum + design.timber[stock][b.type].price, 0);
    expect(part(totals, 'sole').cost + part(totals, 'cap').cost).toBeCloseTo(stockLengths('strips'), 9);
    expect(part(totals, 'rows').cost).toBeCloseTo(stockLengths('spacers'), 9);
    expect(part(totals, 'ribs').cost).toBeCloseTo(design.frames.sheet.price, 9);
    expect(part(totals, 'stringer').cost).toBeCloseTo(2 * design.frames.sheet.price, 9);
  });

  it('compare with solid laminations: heavier by the hollow, and the difference adds up', () => {
    const { totals: t } = totalsOf(plan);
    expect(t.saving.volume).toBeCloseTo(t.solidRail.volume - t.hollowRail.volume, 6);
    expect(t.saving.mass).toBeGreaterThan(0);
    // The hollow of both sides, and the glue lines (four of 0.1 mm by 12 mm by the length of the box).
    const glue = 4 * design.rail.glueLine * design.rail.stripWidth * (plan.rail.sole.s1 - plan.rail.sole.s0);
    expect(Math.abs(t.saving.volume / (2 * plan.rail.hollowVolume + glue) - 1)).toBeLessThan(0.01);
    // Box 12 wide from laminations of 5: three more a side than the two outer layers.
    expect(t.solidRail.laminations).toBe(5);
  });

  it('compare in one timber: no saving is that of a lighter one', () => {
    const other = structuredClone(design);
    other.timber.rail = 'western-redcedar';
    const { totals: t } = totalsOf(planBoard(other));
    const { totals: own } = totalsOf(plan);
    const rho = (id: string) => speciesById(other, id).density * 1e-9;
    // What is saved is the void at the density of what would fill it, less the tabs that stand in it.
    const tabs = v.tabs;
    expect(t.saving.mass).toBeCloseTo((t.saving.volume + tabs) * rho('western-redcedar') - tabs * rho(other.timber.frames), 6);
    expect(t.saving.volume).toBeCloseTo(own.saving.volume, 6);
  });

  it('tell timber, glue and the maker\'s own weights apart', () => {
    const own = structuredClone(design);
    own.weights = { finish: 0.4, vent: 0.05 };
    const { totals: t } = totalsOf(planBoard(own));
    expect(t.own).toEqual({ finish: 0.4, vent: 0.05, fittings: 0 });
    expect(t.glue.placeholder).toBe(true);
    expect(t.glue.left).toBeCloseTo(t.glue.area * own.rail.glueLine * 1.15e-6, 9);
    expect(t.glue.mix).toBeCloseTo(t.glue.area * 1e-6 * 0.2 * 1.2, 9);
    expect(t.boardMass).toBeCloseTo(t.mass + t.glue.left + 0.45, 9);
  });

  it('balance where the parts do: a disc at its middle', () => {
    const round = planBoard(discDesign());
    // The frames of the stub stand elsewhere: without them all is symmetric.
    const { totals: t } = planTotals(round, { bending: planBending(round), frames: [] });
    expect(t.balance).toBeCloseTo(DISC_RADIUS, 2);
    const ribs = planTotals(round, { bending: planBending(round), frames: [{ ...plate('rib', 4), rib: 0 }] }).totals;
    const rib = part(ribs, 'ribs').mass;
    expect(ribs.balance).toBeCloseTo((t.balance * t.mass + round.design.frames.ribs[0] * rib) / (t.mass + rib), 2);
  });

  it('stand with zero prices, and without joints, boards or frames', () => {
    const free = structuredClone(design);
    for (const list of [free.timber.strips, free.timber.spacers, free.timber.boards]) for (const s of list) s.price = 0;
    free.timber.skinPricePerM2 = 0;
    free.frames.sheet.price = 0;
    expect(totalsOf(planBoard(free)).totals.cost).toBe(0);
    const { totals, findings } = planTotals(plan, { bending: planBending(plan), frames: [] });
    expect(findings.map((f) => f.code)).toEqual(['cost-estimate', 'cost-estimate', 'cost-estimate']);
    expect(totals.cost).toBeGreaterThan(0);
    expect(Number.isFinite(totals.mass)).toBe(true);
  });
});
