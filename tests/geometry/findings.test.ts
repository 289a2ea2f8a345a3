/** What a finding keeps: its stretch and its worst place, to every list and paper; the strip it is of, to what is offered for it. */
import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import { bendingFindings, planBending } from '../../geometry/parts/bending';
import { planBoard } from '../../geometry/plan';
import { allFindings, decisionsOf, numbered } from '../../geometry/rail/decisions';
import { hollowSpan } from '../../geometry/rail/laid';
import { proposing } from '../../geometry/search/proposals';
import type { Finding, Plan, RailSection } from '../../geometry/types';
import { summaryText } from '../../src/cli/summary';
import { makePapers } from '../../src/papers';
import { findingPlace } from '../../src/say/findings';
import { finish } from '../support/finish';
import { seedBench } from '../support/papers';
import { mmText } from '../support/said';
import { seedDesign, seedNames } from './boards';

const bent = (plan: Plan): Finding[] => numbered(bendingFindings(plan, planBending(plan)));

/** Findings that are a figure of the section under a limit: which. */
const UNDER: Readonly<Record<string, keyof RailSection>> = {
  'plane-through': 'capLeft', 'cap-thin': 'capLeft', 'sole-thin': 'soleLeft', cover: 'cover', 'break-through': 'cover', 'box-cut': 'boxCover',
};

describe('a stretch', () => {
  it.each(seedNames)('%s: begins and ends where the figure passes its limit, and is led to where it is worst', (name) => {
    const design = seedDesign(name);
    const plan = planBoard({ ...design, rail: { ...design.rail, leastCover: 9, capThickness: 4, rows: 2 } });
    const { samples, cap } = plan.rail;
    let judged = 0;
    for (const f of plan.findings) {
      const field = UNDER[f.code];
      if (field === undefined || !f.extent || !f.place) continue;
      judged += 1;
      const [from, until] = [f.extent.from.s ?? Number.NaN, f.extent.until.s ?? Number.NaN];
      // Cover is told over the hollow, the rest over the cap.
      const span = f.code === 'cover' || f.code === 'break-through' ? hollowSpan(plan.rail) : cap;
      const under = (i: number) => samples.s[i] >= span.s0 && samples.s[i] <= span.s1 && samples[field][i] < (f.limit ?? 0);
      const inside = Array.from(samples.s.keys()).filter((i) => samples.s[i] >= from && samples.s[i] <= until);
      expect(inside.every(under)).toBe(true);
      expect([inside[0] - 1, (inside.at(-1) ?? 0) + 1].some(under)).toBe(false);
      expect(Math.min(...inside.map((i) => samples[field][i]))).toBe(f.figure);
      expect(samples[field][inside.find((i) => samples.s[i] === f.place?.s) ?? -1]).toBe(f.figure);
    }
    expect(judged).toBeGreaterThan(0);
  });

  it.each(seedNames)('%s: is told with its beginning, its end and its worst place on screen, paper, CSV and command line', async (name) => {
    const { plan, parts } = await seedBench(name.replace('.board.json', ''));
    const findings = allFindings(plan, parts);
    const long = findings.filter((f) => f.extent && f.extent.until.x - f.extent.from.x > 20);
    expect(long.length).toBeGreaterThan(0);
    const summary = summaryText(plan, parts);
    for (const f of long) {
      const ends = [f.extent?.from.x ?? 0, f.extent?.until.x ?? 0];
      const worst = f.place?.x ?? Number.NaN;
      expect(worst).toBeGreaterThanOrEqual(ends[0]);
      expect(worst).toBeLessThanOrEqual(ends[1]);
      const from = (x: number) => Math.abs(Math.round(worst <= plan.hull.length / 2 ? x : plan.hull.length - x)).toFixed(0);
      const [a, b] = ends.map(from).sort((p, q) => Number(p) - Number(q));
      const words = mmText(findingPlace(plan, f) ?? '');
      expect(words).toBe(`${a} to ${b} mm from ${worst <= plan.hull.length / 2 ? 'tail' : 'nose'}${f.extent?.even ? '' : `, worst at ${from(worst)} mm`}`);
      expect(summary).toContain(words);
    }
    const [paper] = await makePapers(plan, parts, { date: '2031-02-28', paper: 'A4', units: 'mm', which: ['findings.csv'] });
    const rows: Record<string, string>[] = parse(Buffer.from(paper.bytes), { columns: true, bom: true, record_delimiter: '\r\n' });
    const cell = (value: number | undefined) => (value === undefined ? '' : String(Number(value.toFixed(3)) + 0));
    expect(rows.map((r) => [r['station from tail (mm)'], r['begins, station from tail (mm)'], r['ends, station from tail (mm)'], r['ends, along the rail from tail (mm)']])).toEqual(
      findings.map((f) => [f.place?.x, f.extent?.from.x, f.extent?.until.x, f.extent?.until.s].map(cell)),
    );
  });
});

describe('what is offered for a strip', () => {
  it('fits that strip: its own sizes, its own findings left, and none of another is counted as it', () => {
    // Strips so wide that blocks would leave no box: they are planned through, and told where they are too tight.
    const design = seedDesign('round-tail-175.board.json');
    design.rail.stripWidth = 45;
    const plan = planBoard(design);
    const warned = bent(plan).filter((f) => f.code === 'will-not-bend');
    const sizes = { sole: /^(Strip width|Sole strip thickness|Strips )/, cap: /^(Strip width|Cap strip thickness|Strips )/, row: /^Spacer (width|height)/, 'outer-skin': /^Outer skin thickness/ } as const;
    const kinds = new Set(warned.map((f) => f.strip?.kind));
    expect(kinds.size).toBeGreaterThan(1);
    // One of each kind, each at a place where another strip is warned of too.
    for (const kind of kinds) {
      const finding = warned.find((f) => f.strip?.kind === kind);
      if (!finding?.strip || kind === undefined) throw new Error('a strip too tight to bend, and no strip');
      const offers = finish(proposing(plan, finding, { more: bent }));
      for (const offer of offers) {
        expect(mmText(offer.title)).toMatch(sizes[kind]);
        for (const f of offer.still) expect([f.strip?.kind, f.strip?.order]).toEqual([finding.strip.kind, finding.strip.order]);
        // Judged again from the board it makes: is this strip still too tight hereabouts?
        const again = planBoard(offer.design);
        const [a, b] = [finding.extent?.from.x ?? 0, finding.extent?.until.x ?? 0];
        const there = bent(again).filter((f) => f.code === finding.code && f.strip?.kind === kind && f.strip.order === finding.strip?.order
          && (f.extent?.from.x ?? 0) <= b + 100 && (f.extent?.until.x ?? 0) >= a - 100);
        expect(offer.clears).toBe(there.length === 0);
      }
    }
  });
});

describe('decisions', () => {
  it('are causes, each once with its worst first, whatever number of places has it', () => {
    const at = (x: number, figure: number, code = 'cover'): Finding => ({ id: `${code}-${x}`, code, level: 'check', title: '', advice: '', place: { x }, figure, limit: 3 });
    const decisions = decisionsOf([at(100, 2), at(800, 0.5), at(1500, 1), at(200, 4, 'last-bay'), at(1600, 5, 'last-bay'), { ...at(300, 1), level: 'note' }], 1700);
    expect(decisions.map(({ cause, findings }) => [cause, findings.map(({ id }) => id)])).toEqual([
      ['cover', ['cover-800', 'cover-1500', 'cover-100']], ['last-bay.tail', ['last-bay-200']], ['last-bay.nose', ['last-bay-1600']],
    ]);
  });

  it('are settled at the bench by their cause: told as notes, offered no more, and nothing that cannot be built goes away', () => {
    const design = { ...seedDesign('child-155.board.json'), rail: { ...seedDesign('child-155.board.json').rail, leastCover: 9 } };
    const plan = planBoard(design);
    const [decision] = decisionsOf(plan.findings, plan.hull.length);
    expect(decision.cause).toBe('cover');
    const settled = planBoard({ ...design, settled: [decision.cause, 'no-row'] });
    expect(decisionsOf(settled.findings, plan.hull.length).map(({ cause }) => cause)).not.toContain('cover');
    const told = settled.findings.filter(({ code }) => code === 'cover');
    expect(told.length).toBe(decision.findings.length);
    for (const f of told) expect(f).toMatchObject({ level: 'note', settled: true });
    const none = planBoard({ ...design, settled: ['no-row'], rail: { ...design.rail, clearance: 10, rows: 1, spacerHeight: 40 } });
    expect(none.findings.find(({ code }) => code === 'no-row')).toMatchObject({ level: 'cannot' });
  });
});
