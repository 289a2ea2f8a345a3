/** The order of work and the gathering of parts: what must come before what, and that one failure stays alone. */
import { beforeAll, describe, expect, it } from 'vitest';
import { blockAt } from '../../geometry/frame/ends';
import { planBending } from '../../geometry/parts/bending';
import { loadMilp, type MilpSolver } from '../../geometry/parts/milp';
import { PARTS_STAGES, PartsCancelled, planParts } from '../../geometry/planParts';
import { workSteps } from '../../geometry/parts/work';
import { planBoard } from '../../geometry/plan';
import { meshBoard } from '../../geometry/solid/board';
import { seedDesign, seedNames } from './boards';
import { mmText } from '../support/said';

let solver: MilpSolver;
beforeAll(async () => {
  solver = await loadMilp();
});

describe.each(seedNames)('order of work of %s', (name) => {
  const plan = planBoard(seedDesign(name));
  const steps = workSteps(plan, planBending(plan));
  const at = (title: string) => steps.findIndex((s) => s.title === title);

  it('keeps the trade\'s order (common practice, no source)', () => {
    const order = ['Bottom skin on the bench', 'Stringer and ribs', 'Sole, glued', 'Cap', 'Spacer rows', 'Clamps moved to hold the whole box',
      'Fair the box to the deck', 'Trim the bottom skin', 'Outer skins', 'Deck skin', 'Shape the rail round', 'Seal'];
    const places = order.map(at);
    expect(places.every((p) => p >= 0)).toBe(true);
    expect([...places].sort((a, b) => a - b)).toEqual(places);
    expect(steps.map((s) => s.index)).toEqual(steps.map((_, i) => i + 1));
  });

  it('is ticked off by names that old records hold, whatever the titles come to say', () => {
    const ids = ['bottom-skin-on-the-bench', 'stringer-and-ribs', 'clean-the-rib-ends', 'sole-dry', 'sole-glued', 'cap', 'spacer-rows', 'clamps-moved-to-hold-the-whole-box', 'the-other-side',
      'fair-the-box-to-the-deck', 'trim-the-bottom-skin', 'outer-skins', 'trim-and-fair-the-outer-skins', 'deck-supports-vent-and-fittings', 'deck-skin', 'shape-the-rail-round', 'seal'];
    expect(steps.map(({ id }) => id).filter((id) => !/-blocks?$/.test(id))).toEqual(ids);
  });

  it('warns where there is something to warn of: of resin where glue is mixed, of a springing strip where one is clamped, of blades where timber is trimmed', () => {
    const lacking = (word: string, of: (step: (typeof steps)[number]) => boolean) => steps.filter((step) => of(step) && !step.cautions.some((line) => line.includes(word))).map(({ id }) => id);
    expect(steps.filter(({ glue }) => glue).length).toBeGreaterThan(4);
    expect(lacking('resin', ({ glue }) => glue !== undefined)).toEqual([]);
    expect(lacking('springs', ({ id }) => ['sole-dry', 'cap', 'spacer-rows', 'the-other-side', 'outer-skins'].includes(id))).toEqual([]);
    expect(lacking('Edge tools', ({ text }) => /\b(?:Trim|Plane the|Pare|Shape|Drill)\b/.test(mmText(text)))).toEqual([]);
  });

  it('sets vent and fittings before the deck skin, to figures, and drills the vent when its skin is on', () => {
    const fitted = planBoard({ ...plan.design, vent: { x: 1000, y: -60, through: 'deck', diameter: 12 }, fittings: [{ kind: 'fin', x: 800, y: 60, length: 60, width: 40, under: 'bottom' }] });
    const done = workSteps(fitted, planBending(fitted));
    const of = (id: string) => done.findIndex((step) => step.id === id);
    expect(of('deck-supports-vent-and-fittings')).toBe(of('deck-skin') - 1);
    expect(done[of('deck-supports-vent-and-fittings')].checks.slice(0, 4).map(({ what, value }) => [mmText(what), value])).toEqual([
      ['Vent: middle from the tail', 1000], ['Vent: middle from the centreline, to port', 60], ['Fin block: middle from the tail', 800], ['Fin block: middle from the centreline, to starboard', 60],
    ]);
    expect(done.filter(({ text }) => mmText(text).includes('Drill the vent')).map(({ id }) => id)).toEqual(['deck-skin']);
  });

  it('has a step for blocks where, and only where, an end has one, between the frames and the sole', () => {
    const ends = (['nose', 'tail'] as const).filter((end) => blockAt(plan, end));
    const solid = meshBoard(plan).filter(({ id }) => /^block-[a-z]+$/.test(id)).map(({ id }) => id.replace('block-', ''));
    expect([...solid].sort()).toEqual(ends);
    const title = { '': undefined, nose: 'Nose block', tail: 'Tail block', 'nose tail': 'Nose and tail blocks' }[ends.join(' ')];
    expect(steps.filter((step) => /block$|blocks$/.test(step.title)).map((step) => step.title)).toEqual(title === undefined ? [] : [title]);
    expect(steps.some((step) => step.places.includes('block'))).toBe(title !== undefined);
    if (title === undefined) return;
    const step = at(title);
    expect(step).toBeGreaterThan(at('Stringer and ribs'));
    expect(step).toBeLessThan(at('Sole, dry'));
    expect(steps[step - 1].places).not.toContain('block');
    expect(steps[step].checks.filter(({ what }) => mmText(what).startsWith('Inner face')).length).toBe(ends.length);
  });

  it('clamps the cap behind the ribs alone until the rows are in', () => {
    const tabs = plan.rail.ribs.filter((r) => r.hasTab).map((r) => r.s);
    expect(steps[at('Cap')].clamps.map((c) => c.s)).toEqual(tabs);
    expect(steps[at('Cap')].places).not.toContain('row');
    expect(steps[at('Spacer rows')].clamps).toEqual([]);
    expect(steps[at('Clamps moved to hold the whole box')].places).toContain('row');
    expect(steps[at('Clamps moved to hold the whole box')].clamps.length).toBeGreaterThan(3);
  });

  it('says what to measure, in figures that are there', () => {
    const checks = steps.flatMap((s) => s.checks);
    expect(checks.length).toBeGreaterThan(20);
    expect(checks.every((c) => Number.isFinite(c.value))).toBe(true);
    const rib = plan.rail.ribs.find((r) => r.hasTab);
    const bevel = checks.find((c) => c.unit === 'rad' && c.place?.s === rib?.s);
    expect(bevel?.value).toBe(rib?.section.bevel);
    for (const row of plan.rail.rows) {
      for (const stop of [row.tail, row.nose]) expect(checks.some((c) => c.value === stop.s)).toBe(true);
    }
  });

  it('warns of steam exactly where something is steamed', () => {
    const steamed = planBending(plan).some((b) => b.strip.kind === 'sole' && b.zones.some((z) => z.method === 'wet'));
    expect(steps[at('Sole, dry')].cautions.some((c) => c.includes('Steam'))).toBe(steamed);
    expect(mmText(steps[at('Sole, dry')].text).includes('Wet heat')).toBe(steamed);
  });
});

describe('gathering the parts', () => {
  const plan = planBoard(seedDesign('child-155.board.json'));

  it('makes them all and tells how far it is', async () => {
    const told: string[] = [];
    const shares: number[] = [];
    const parts = await planParts(plan, { solver, onProgress: (stage, share) => (told.push(stage), shares.push(share)) });
    expect(told).toEqual([...PARTS_STAGES, 'done']);
    expect(shares[0]).toBe(0);
    expect(shares[shares.length - 1]).toBe(1);
    expect(parts.joints?.proof.optimal).toBe(true);
    expect(parts.totals?.mass).toBeGreaterThan(1);
    expect(parts.blanks.length).toBe(plan.design.rail.outerLayers);
    expect(parts.frames.length).toBeGreaterThan(plan.design.frames.ribs.length);
    expect(new Set(parts.findings.map((f) => f.id)).size).toBe(parts.findings.length);
  });

  it('keeps a failure to itself: a broken solver costs the joints, and a finding says so', async () => {
    const broken: MilpSolver = { solve: () => { throw new Error('no memory'); } };
    const parts = await planParts(plan, { solver: broken });
    expect(parts.joints).toBeUndefined();
    expect(mmText(parts.findings.find((f) => f.code === 'not-made')?.advice ?? '')).toContain('no memory');
    expect(parts.totals?.mass).toBeGreaterThan(1);
    expect(parts.steps.length).toBeGreaterThan(10);
    expect(parts.bending.length).toBeGreaterThan(4);
  });

  it('stops between stages when asked', async () => {
    const signal = { aborted: false };
    const seen: string[] = [];
    const pause = async () => {
      if (seen.length === 2) signal.aborted = true;
    };
    await expect(planParts(plan, { solver, signal, pause, onProgress: (stage) => seen.push(stage) })).rejects.toThrow(PartsCancelled);
    expect(seen.length).toBe(2);
  });

  it('makes every other paper where stock, boards and sheet are all too small', async () => {
    const design = seedDesign('child-155.board.json');
    design.timber.strips = [{ length: 120, price: 0 }];
    design.timber.spacers = [{ length: 120, price: 0 }];
    design.timber.boards = [{ length: 200, width: 20, price: 0 }];
    design.frames.sheet = { length: 100, width: 100, price: 0 };
    const parts = await planParts(planBoard(design), { solver });
    expect(parts.findings.filter((f) => f.code === 'stock-short').length).toBe(5);
    expect(parts.findings.some((f) => f.code === 'not-made')).toBe(false);
    expect(parts.totals?.mass).toBeGreaterThan(1);
    expect(parts.steps.length).toBeGreaterThan(10);
    expect(parts.blanks.length).toBe(2);
  });
});
