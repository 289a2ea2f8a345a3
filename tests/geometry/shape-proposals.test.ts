/**
 * Findings propose: every offer is planned again here from its own file and must do what it says. No outside source:
 * these are the project's own promises, checked by doing the work a second time.
 */
import { describe, expect, it } from 'vitest';
import { readDesign } from '../../geometry/design/read';
import type { Design } from '../../geometry/design/schema';
import { writeDesign } from '../../geometry/design/write';
import { planBoard } from '../../geometry/plan';
import { proposing, type Proposal } from '../../geometry/search/proposals';
import { REMEDIES } from '../../geometry/search/remedies';
import { massWithoutFrames } from '../../geometry/search/weigh';
import type { Finding, Plan } from '../../geometry/types';
import { seedDesign, seedNames } from './boards';
import { finish } from '../support/finish';
import { errorLines, mmText } from '../support/said';

const railed = (design: Design, change: Partial<Design['rail']>): Design => ({ ...design, rail: { ...design.rail, ...change } });

/** Boards with something to fix: starter boards, and one of them spoiled in several ways. */
const boards: readonly (readonly [string, Design])[] = [
  ...seedNames.map((name) => [name, seedDesign(name)] as const),
  ['a thin cap', railed(seedDesign('long-275.board.json'), { capThickness: 3, stripWidth: 16 })],
  ['much cover asked for', railed(seedDesign('child-155.board.json'), { leastCover: 8 })],
  ['long rows asked for', railed(seedDesign('round-tail-175.board.json'), { leastRow: 1200 })],
  ['a spacer too high', railed(seedDesign('child-155.board.json'), { spacerHeight: 44, rows: 1 })],
];

const stretch = (f: Finding): [number, number] => {
  const x = f.place?.x ?? 0;
  return [f.extent?.from.x ?? x, f.extent?.until.x ?? x];
};
const near = (a: Finding, b: Finding): boolean =>
  a.code === b.code && a.strip?.kind === b.strip?.kind && a.strip?.order === b.strip?.order && (!a.place || !b.place || (stretch(a)[0] - 100 <= stretch(b)[1] && stretch(b)[0] - 100 <= stretch(a)[1]));

function planAgain({ design }: Proposal): Plan {
  const back = readDesign(writeDesign(design));
  if (!back.ok) throw new Error(errorLines(back.errors));
  return planBoard(back.design);
}

describe('findings propose', () => {
  it.each(boards)('%s: every offer reads, plans, and does what it says', (_, design) => {
    const plan = planBoard(design);
    for (const finding of plan.findings) {
      for (const offer of finish(proposing(plan, finding, { weigh: massWithoutFrames }))) {
        const again = planAgain(offer);
        // What has become a note is decided.
        const there = again.findings.filter((f) => near(f, finding) && (f.level !== 'note' || finding.level === 'note'));
        expect(`${mmText(offer.title)} clears ${finding.id}: ${there.length === 0}`).toBe(`${mmText(offer.title)} clears ${finding.id}: ${offer.clears}`);
        expect(offer.still.map((f) => f.id).sort()).toEqual(there.map((f) => f.id).sort());
        expect(offer.costs.volume).toBeCloseTo(again.hull.volume - plan.hull.volume, 3);
        expect(offer.costs.mass).toBeCloseTo(massWithoutFrames(again) - massWithoutFrames(plan), 9);
        expect(offer.costs.bevel).toBeCloseTo(again.rail.range.bevel.max - plan.rail.range.bevel.max, 12);
        for (const f of offer.costs.appeared) expect(plan.findings.some((was) => near(was, f))).toBe(false);
        for (const f of offer.costs.gone) expect(again.findings.some((now) => near(now, f))).toBe(false);
      }
    }
    expect(plan.findings.length).toBeGreaterThan(0);
  });

  it('offers what the trade would: a thicker cap where planing cuts through, a moved rib where a stop is near its tab', () => {
    const thin = planBoard(railed(seedDesign('long-275.board.json'), { capThickness: 3, stripWidth: 16 }));
    const through = thin.findings.find((f) => f.code === 'plane-through');
    if (!through) throw new Error('the scenario has lost its finding');
    const offers = finish(proposing(thin, through));
    expect(offers[0].clears).toBe(true);
    expect(offers.filter((o) => o.clears).map((o) => mmText(o.title)).join('; ')).toMatch(/Cap strip thickness \+/);
    const caps = offers.find((o) => mmText(o.title).startsWith('Cap strip'));
    expect(caps?.design.rail.capThickness).toBeGreaterThan(3);
    // The least rung that clears: half a millimetre less does not.
    const less = planBoard(railed(thin.design, { capThickness: (caps?.design.rail.capThickness ?? 0) - 0.5 }));
    expect(less.findings.some((f) => f.code === 'plane-through')).toBe(true);

    const base = seedDesign('paddle-305.board.json');
    const clean = planBoard(base);
    const stop = clean.rail.rows[0].tail.x;
    const ribs = [...base.frames.ribs.filter((x) => Math.abs(x - stop) > 60), Math.round(stop) + 6].sort((a, b) => a - b);
    const spoiled = planBoard({ ...base, frames: { ...base.frames, ribs } });
    const close = spoiled.findings.find((f) => f.code === 'stop-near-tab' && Math.abs((f.place?.x ?? 0) - stop) < 5);
    if (!close) throw new Error('the scenario has lost its finding');
    const [first] = finish(proposing(spoiled, close));
    expect(first.clears).toBe(true);
    expect(mmText(first.title)).toMatch(/^Rib \d+ moved \d+ mm toward the/);
    expect(first.costs.volume).toBe(0);
  });

  it('offers more cover where cover is thin, and says what is still there when it only improves', () => {
    const plan = planBoard(railed(seedDesign('child-155.board.json'), { leastCover: 8 }));
    const cover = plan.findings.find((f) => f.code === 'cover');
    if (!cover) throw new Error('the scenario has lost its finding');
    const offers = finish(proposing(plan, cover));
    expect(offers.length).toBeGreaterThan(0);
    for (const o of offers.filter((one) => !one.clears)) {
      const size = (f: Finding) => Math.abs((f.figure ?? 0) - (f.limit ?? 0)) * (stretch(f)[1] - stretch(f)[0] + 10);
      expect(o.still.reduce((sum, f) => sum + size(f), 0)).toBeLessThanOrEqual(0.75 * size(cover));
    }
  });

  it('clears a board on which no row fits', () => {
    const plan = planBoard(boards[boards.length - 1][1]);
    const none = plan.findings.find((f) => f.code === 'no-row' || f.code === 'row-no-tab' || f.code === 'row-short');
    if (!none) throw new Error(`the scenario has lost its finding: ${plan.findings.map((f) => f.id).join(', ')}`);
    expect(finish(proposing(plan, none)).some((o) => o.clears)).toBe(true);
  });

  it('judges by findings from elsewhere too, and offers nothing for what calls for nothing', () => {
    const plan = planBoard(seedDesign('child-155.board.json'));
    const extra = (p: Plan): Finding[] =>
      p.design.frames.notchFit < 0 ? [{ id: 'notch-tight-1', code: 'notch-tight', level: 'note', title: 't', advice: 'a', figure: p.design.frames.notchFit, limit: 0 }] : [];
    const tight = planBoard({ ...plan.design, frames: { ...plan.design.frames, notchFit: -0.2 } });
    const offers = finish(proposing(tight, extra(tight)[0], { more: extra }));
    expect(offers).toHaveLength(1);
    expect(offers[0]).toMatchObject({ clears: true, costs: { volume: 0, appeared: [], gone: [], stops: [] } });
    const meet = plan.findings.find((f) => f.code === 'boxes-meet');
    if (!meet) throw new Error('the scenario has lost its finding');
    expect(finish(proposing(plan, meet))).toEqual([]);
    expect(REMEDIES['boxes-meet']).toBeUndefined();
  });

  it('reports each board tried, and refuses a finding of another plan', () => {
    const plan = planBoard(seedDesign('round-tail-175.board.json'));
    const [finding] = plan.findings.filter((f) => REMEDIES[f.code]);
    const search = proposing(plan, finding);
    const counts: number[] = [];
    for (let next = search.next(); !next.done && counts.length < 5; next = search.next()) counts.push(next.value);
    expect(counts).toEqual([1, 2, 3, 4, 5].slice(0, counts.length));
    expect(counts.length).toBeGreaterThan(1);
    expect(() => finish(proposing(plan, { ...finding, id: 'elsewhere-7' }))).toThrow(/finding: elsewhere-7 given; one of/);
  });
});
