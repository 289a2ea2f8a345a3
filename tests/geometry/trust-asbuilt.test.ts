/** Readings at the ribs: the plan corrected by them, against the same board drawn with those sizes, and by hand. */
import { describe, expect, it } from 'vitest';
import { fieldErrorLine } from '../../geometry/errors';
import { mmError, mmText } from '../support/said';
import { planBoard } from '../../geometry/plan';
import { hollowSpan } from '../../geometry/rail/laid';
import { sectionAt, sectionDrawing } from '../../geometry/rail/query';
import { applyReadings, expectedReadings } from '../../geometry/trust/asBuilt';
import { planTolerance } from '../../geometry/trust/tolerance';
import type { Reading, Readings } from '../../geometry/trust/readings';
import { noReadings } from '../../geometry/trust/emptyRecord';
import { checkReadings, readReadings, writeReadings } from '../../geometry/trust/readingsFile';
import type { TrialBend } from '../../geometry/design/schema';
import type { ReadingField } from '../../geometry/trust/types';
import { seedDesign, seedNames } from './boards';

const plan = planBoard(seedDesign('child-155.board.json'));
const { ribs } = plan.rail;
const expected = ribs.map((r) => expectedReadings(plan, r));

/** Readings on the starboard side, one object a rib number. */
const record = (list: (Omit<Reading, 'of' | 'side'> & { rib: number })[], side: Reading['side'] = 'starboard'): Readings => ({
  ...noReadings(plan.design.name, plan.design.revision),
  readings: list.map((r) => ({ of: 'rib', side, ...r })),
});
/** The same deviation of one figure read at every rib. */
const everywhere = (field: ReadingField, by: number) => record(ribs.map((r, i) => ({ rib: r.index + 1, [field]: expected[i][field] + by })));

describe.each(seedNames)('%s', (name) => {
  const own = planBoard(seedDesign(name));
  const full = own.rail.ribs.map((r) => ({
    of: 'rib' as const, rib: r.index + 1, side: 'starboard' as const, ...expectedReadings(own, r), bevelDeg: (expectedReadings(own, r).bevel * 180) / Math.PI,
    ...(r.hasTab ? {} : { tab: undefined }),
  }));

  it('read as drawn, stays as drawn', () => {
    const built = applyReadings(own, { ...noReadings(own.design.name, own.design.revision), readings: full });
    expect(built.flags).toEqual([]);
    expect(built.used).toBe(full.reduce((n, r) => n + (r.tab === undefined ? 5 : 6), 0));
    expect(built.changes).toEqual([]);
    built.plan.rail.rows.forEach((row, i) => {
      expect(row.tail.s).toBeCloseTo(own.rail.rows[i].tail.s, 4);
      expect(row.nose.s).toBeCloseTo(own.rail.rows[i].nose.s, 4);
    });
  });
});

describe('one size read alike at every rib', () => {
  it.each([['sole', 'soleThickness', 0.3], ['cap', 'capThickness', -0.25], ['spacer', 'spacerHeight', 0.2]] as const)(
    '%s: the corrected plan is that of a board drawn with it', (field, size, by) => {
      const built = applyReadings(plan, everywhere(field, by));
      const drawn = planBoard({ ...plan.design, rail: { ...plan.design.rail, [size]: plan.design.rail[size] + by } });
      expect(built.flags).toEqual([]);
      expect(built.plan.rail.rows).toHaveLength(drawn.rail.rows.length);
      drawn.rail.rows.forEach((row, i) => {
        for (const end of ['tail', 'nose'] as const) {
          expect(built.plan.rail.rows[i][end].s).toBeCloseTo(row[end].s, 3);
          expect(built.plan.rail.rows[i][end].need).toBeCloseTo(row[end].need, 9);
        }
      });
      for (const what of ['gap', 'slot', 'hollowArea', 'cover', 'capBottom', 'soleTop'] as const) {
        const [a, b] = [built.plan.rail.samples[what], drawn.rail.samples[what]];
        // A tongue is as long as the drawn strips ask: beside its end the two may differ.
        const [p, q] = [hollowSpan(built.plan.rail), hollowSpan(drawn.rail)];
        const inside = (s: number) => s > Math.max(p.s0, q.s0) && s < Math.min(p.s1, q.s1);
        expect(Math.max(...a.map((v, i) => (inside(drawn.rail.samples.s[i]) ? Math.abs(v - b[i]) : 0)))).toBeLessThan(1e-6);
      }
      const [p, q] = [hollowSpan(built.plan.rail), hollowSpan(drawn.rail)];
      const longer = Math.abs(p.s0 - q.s0) + Math.abs(p.s1 - q.s1);
      expect(Math.abs(built.plan.rail.hollowVolume - drawn.rail.hollowVolume)).toBeLessThan(0.5 + longer * plan.design.rail.stripWidth * drawn.rail.range.gap.max);
      // The design beside it is untouched: what the maker drew stays what was drawn.
      expect(built.plan.design).toBe(plan.design);
    });
});

describe('depth read at some ribs', () => {
  const [a, b] = [ribs[1], ribs[4]];
  const by = [0.8, -0.5];
  const built = applyReadings(plan, record([
    { rib: a.index + 1, depth: expected[1].depth + by[0] }, { rib: b.index + 1, depth: expected[4].depth + by[1] },
  ]));

  /** The run between two ribs by their places in the list, t of the way. */
  const at = (i: number, t: number) => ribs[i].s + t * (ribs[i + 1].s - ribs[i].s);

  it('acts at its rib and is gone at the ribs before and after: 3 t^2 - 2 t^3 between, by hand', () => {
    for (const [s, lift] of [
      [a.s, 0.8], [at(0, 0.5), 0.4], [at(0, 0.25), 0.125], [ribs[0].s, 0], [ribs[0].s / 2, 0], [at(1, 0.75), 0.125], [ribs[2].s, 0], [at(2, 0.5), 0],
      [at(3, 0.25), -0.078125], [b.s, -0.5], [at(4, 0.5), -0.25], [ribs[5].s, 0], [(ribs[ribs.length - 1].s + plan.rail.boxTo) / 2, 0],
    ]) {
      const [was, is] = [sectionAt(plan, s), sectionAt(built.plan, s)];
      // Upright heights become figures square to the sole.
      const square = lift / Math.hypot(1, was.soleSlope);
      expect(is.gap - was.gap).toBeCloseTo(square, 9);
      expect(is.depth - was.depth).toBeCloseTo(square, 9);
      expect(is.deckRib - was.deckRib).toBeCloseTo(lift, 9);
      // The stringer holds the middle: the deck tilts about the centreline.
      if (s === a.s) expect((is.deckFace - was.deckFace - lift) / 12).toBeCloseTo((lift * -was.ny) / a.ribY, 9);
    }
  });

  it('passes over from one neighbour that was read to the next, and stays as it is beyond the first rib and the last', () => {
    const by = [0.6, -0.2, 0.4];
    const near = applyReadings(plan, record([0, 1, ribs.length - 1].map((i, k) => ({ rib: ribs[i].index + 1, depth: expected[i].depth + by[k] }))));
    for (const [s, lift] of [[ribs[0].s / 2, 0.6], [at(0, 0.25), 0.475], [at(0, 0.5), 0.2], [at(1, 0.5), -0.1], [(ribs[ribs.length - 1].s + plan.rail.boxTo) / 2, 0.4]]) {
      expect(sectionAt(near.plan, s).deckRib - sectionAt(plan, s).deckRib).toBeCloseTo(lift, 9);
    }
  });

  it('rises through ribs read in turn without a wave, and bends no strip at a rib', () => {
    const rising = applyReadings(plan, record([1, 2].map((i) => ({ rib: ribs[i].index + 1, depth: expected[i].depth + [0, 0.3, 0.9][i] }))));
    const [before, after] = [ribs[1].s - ribs[0].s, ribs[2].s - ribs[1].s];
    const slope = (3 * (before + after)) / (((2 * after + before) * before) / 0.3 + ((after + 2 * before) * after) / 0.6);
    const lift = (s: number) => sectionAt(rising.plan, s).deckRib - sectionAt(plan, s).deckRib;
    // A cubic half-way: the mean, and an eighth of the way by the slopes' difference.
    expect(lift(at(0, 0.5))).toBeCloseTo(0.15 - (before * slope) / 8, 9);
    expect(lift(at(1, 0.5))).toBeCloseTo(0.6 + (after * slope) / 8, 9);
    // Straight pieces would ask of a strip a bend at the rib that no timber takes, and a block to there.
    expect([rising.plan.rail.boxFrom, rising.plan.rail.ends]).toEqual([plan.rail.boxFrom, plan.rail.ends]);
  });

  it('solves the stops again on the corrected gap, and says how each that lies beside such a rib moved', () => {
    let moved = 0;
    for (const row of built.plan.rail.rows) {
      for (const end of ['tail', 'nose'] as const) {
        const stop = row[end];
        expect(stop.cause).toBe('gap');
        expect(sectionAt(built.plan, stop.s).gap).toBeCloseTo(6 * row.row + plan.design.rail.clearance, 5);
        const was = plan.rail.rows.find((r) => r.row === row.row)?.[end].s;
        const change = built.changes.find((c) => c.what === 'stop' && c.row === row.row && c.end === end);
        const beside = [[ribs[0], ribs[2]], [ribs[3], ribs[5]]].some(([from, to]) => stop.s > from.s && stop.s < to.s);
        if (!beside) expect([change, stop.s]).toEqual([undefined, expect.closeTo(was ?? 0, 4)]);
        else expect(change).toMatchObject({ was, is: stop.s, s: stop.s, x: stop.x });
        if (beside) moved++;
      }
    }
    expect(moved).toBeGreaterThan(0);
    expect(moved).toBeLessThan(6);
    expect(built.changes.filter((c) => c.what === 'gap').map((c) => c.rib)).toEqual([a.index, b.index]);
    const atA = built.changes.find((c) => c.what === 'gap' && c.rib === a.index);
    expect(atA).toMatchObject({ was: a.gap });
  });

  it('carries the same bands about the corrected figures', async () => {
    const [drawn, made] = await Promise.all([plan, built.plan].map((p) => planTolerance(p, { method: 'estimate', places: 25 })));
    for (let i = 0; i < made.n; i++) {
      expect(made.gap.value[i]).toBeCloseTo(sectionAt(built.plan, made.s[i]).gap, 9);
      // Central differences over 0.02 mm of heights good to 1e-6 mm at worst.
      expect(made.gap.high[i] - made.gap.low[i]).toBeCloseTo(drawn.gap.high[i] - drawn.gap.low[i], 4);
    }
    expect(made.stops.map((s) => s.s.value)).toEqual(built.plan.rail.rows.flatMap((r) => [r.tail.s, r.nose.s]));
  });

  it('is what the station card draws', () => {
    const cap = sectionDrawing(built.plan, a.s).shapes.find((x) => x.kind === 'cap');
    const drawn = sectionDrawing(plan, a.s).shapes.find((x) => x.kind === 'cap');
    expect((cap?.points[1] ?? 0) - (drawn?.points[1] ?? 0)).toBeCloseTo(0.8, 9);
    const deck = (p: typeof plan) => sectionDrawing(p, a.s).shapes.find((x) => x.kind === 'deck-skin')?.points ?? [];
    expect(Math.max(...deck(built.plan)) - Math.max(...deck(plan))).toBeGreaterThan(0.3);
  });
});

describe('a tab read', () => {
  it('sets the gap, and what it has over the room is planed off the whole cap', () => {
    const [rib, i] = [ribs[3], 3];
    const built = applyReadings(plan, record([{ rib: rib.index + 1, tab: expected[i].tab + 0.6 }]));
    const [was, is] = [rib.section, built.plan.rail.ribs[i].section];
    expect(is.capBottom - is.soleTop).toBeCloseTo(expected[i].tab + 0.6, 9);
    expect(is.deckRib).toBe(was.deckRib);
    const proud = 0.6 / Math.hypot(1, was.capSlope);
    expect(is.planing - was.planing).toBeCloseTo(proud, 9);
    expect(is.planing + is.capLeft).toBeCloseTo(plan.design.rail.capThickness, 9);
  });

  it('and the depth read with it: the cap sits as drawn where both grew alike', () => {
    const [rib, i] = [ribs[3], 3];
    const built = applyReadings(plan, record([{ rib: rib.index + 1, tab: expected[i].tab + 0.4, depth: expected[i].depth + 0.4 }]));
    const is = built.plan.rail.ribs[i].section;
    expect(is.planing - rib.section.planing).toBeCloseTo(plan.design.rail.stripWidth * (Math.tan(is.bevel) - Math.tan(rib.section.bevel)), 9);
    expect(is.capBottom - is.soleTop).toBeCloseTo(expected[i].tab + 0.4, 9);
  });
});

describe('readings that cannot be right', () => {
  it.each<[string, Readings, string, RegExp]>([
    ['a depth in inches', record([{ rib: 3, depth: 1.6 }]), 'rib 3, depth', /measure again/],
    ['a sole of another strip', record([{ rib: 3, sole: 9 }]), 'rib 3, sole', /measure again/],
    ['a rib the board has not', record([{ rib: 40, depth: 30 }]), 'rib 40', /no such rib/],
    ['a tab that the depth leaves no room for', record([{ rib: 3, tab: expected[2].tab + 2, depth: expected[2].depth - 3 }]), 'rib 3, tab', /does not add up/],
  ])('%s is flagged by field, value and range, and left out', (_, readings, field, message) => {
    const { flags, used } = applyReadings(plan, readings);
    expect(flags).toHaveLength(1);
    const flag = mmError(flags[0]);
    expect(flag.field).toBe(field);
    expect(flag.message).toMatch(message);
    expect([flag.value, flag.allowed]).not.toContain('');
    expect(used).toBe(readings.readings[0].tab === undefined ? 0 : 1);
  });

  it('left out, they change nothing, and the rest still counts', () => {
    const built = applyReadings(plan, record([{ rib: 3, sole: 9, cap: 6.2 }]));
    expect(built.used).toBe(1);
    expect(built.plan.rail.ribs[2].section.soleTop).toBe(ribs[2].section.soleTop);
    expect(applyReadings(plan, record([{ rib: 3, sole: 9 }])).plan).toBe(plan);
  });

  it('says when the readings are another board\'s, and takes the other side\'s only when asked', () => {
    const foreign = { ...record([{ rib: 2, cap: 6.1 }]), board: 'Another' };
    expect(applyReadings(plan, foreign).flags).toMatchObject([{ field: 'board', value: '"Another"' }]);
    const port = record([{ rib: 2, cap: 6.1 }], 'port');
    expect(applyReadings(plan, port).used).toBe(0);
    expect(applyReadings(plan, port, 'port').used).toBe(1);
  });

  it('flags a tab where none stands, and a rib clear of the box', () => {
    const design = {
      // The nose block's tongue lies beside the last rib but one; the last stands in the block.
      ...plan.design, frames: { ...plan.design.frames, ribs: [...plan.design.frames.ribs, 1490, 1546] },
    };
    const far = planBoard(design);
    const last = far.design.frames.ribs.length;
    const { flags } = applyReadings(far, record([{ rib: last - 1, tab: 1 }, { rib: last, depth: 10 }]));
    expect(flags.map((f) => f.field)).toEqual([`rib ${last - 1}, tab`, `rib ${last}`]);
    expect(far.rail.ribs.at(-1)?.hasTab).toBe(false);
  });
});

describe('a size of the batch', () => {
  it('stands at every rib, as if it had been read at each', () => {
    const built = applyReadings(plan, { ...record([]), readings: [{ of: 'batch', cap: 6.2, sole: 5.8 }] });
    const each = applyReadings(plan, record(ribs.map((r) => ({ rib: r.index + 1, cap: 6.2, sole: 5.8 }))));
    expect(built.used).toBe(2);
    expect(built.plan.rail).toEqual(each.plan.rail);
    expect(built.changes.length).toBeGreaterThan(0);
  });

  it('gives way at a rib where it was read, and that of a side to none but the other', () => {
    const own = { of: 'rib' as const, rib: ribs[2].index + 1, side: 'port' as const, cap: 5.9 };
    const readings: Reading[] = [{ of: 'batch', cap: 6.2 }, own, { of: 'batch', side: 'starboard', cap: 6.4 }];
    const capOf = (side: 'starboard' | 'port', i: number) => {
      const { capTop, capBottom, capSlope } = applyReadings(plan, { ...record([]), readings }, side).plan.rail.ribs[i].section;
      return (capTop - capBottom) / Math.hypot(1, capSlope);
    };
    expect([0, 2, 4].map((i) => capOf('port', i))).toEqual([6.2, 5.9, 6.2].map((v) => expect.closeTo(v, 9)));
    expect([0, 2, 4].map((i) => capOf('starboard', i))).toEqual([6.4, 6.4, 6.4].map((v) => expect.closeTo(v, 9)));
  });

  it('that cannot be right is flagged once, of no rib', () => {
    const { flags, used } = applyReadings(plan, { ...record([]), readings: [{ of: 'batch', cap: 16, spacer: 6.1, depthOff: -20 }] });
    expect(used).toBe(1);
    expect(flags.map(mmError)).toMatchObject([{ field: 'batch, cap', value: '16 mm' }, { field: 'batch, depth', value: '−20 mm' }]);
    expect(flags.map(({ rib }) => rib)).toEqual([undefined, undefined]);
  });

  it('of its frames puts every rib off alike, on both sides, but where one was read itself', () => {
    const own = { of: 'rib' as const, rib: ribs[2].index + 1, side: 'starboard' as const, depth: expected[2].depth + 0.2 };
    const readings: Reading[] = [{ of: 'batch', depthOff: -0.4 }, own];
    const lift = (side: 'starboard' | 'port') => {
      const built = applyReadings(plan, { ...record([]), readings }, side).plan;
      return [ribs[0].s / 2, ribs[1].s, (ribs[1].s + ribs[2].s) / 2, ribs[2].s, ribs[3].s].map((s) => sectionAt(built, s).deckRib - sectionAt(plan, s).deckRib);
    };
    expect(lift('starboard')).toEqual([-0.4, -0.4, -0.1, 0.2, -0.4].map((v) => expect.closeTo(v, 9)));
    expect(lift('port')).toEqual([-0.4, -0.4, -0.4, -0.4, -0.4].map((v) => expect.closeTo(v, 9)));
    // The same with the tab, by which the gap is as drawn but for what it is off.
    const tab = applyReadings(plan, { ...record([]), readings: [{ of: 'batch', tabOff: -0.3 }] });
    for (const [i, { section, hasTab }] of tab.plan.rail.ribs.entries()) {
      if (hasTab) expect(section.capBottom - section.soleTop).toBeCloseTo(expected[i].tab - 0.3, 9);
    }
    expect(tab.used).toBe(1);
  });

  it('of its tabs is held against the depth and the strips of every rib, whoever read them, and left out whole', () => {
    const apply = (readings: Reading[]) => applyReadings(plan, { ...record([]), readings });
    const deep = (i: number) => ({ of: 'rib' as const, rib: ribs[i].index + 1, side: 'starboard' as const, depth: expected[i].depth + 4 });
    for (const [readings, without, rib] of [
      [[{ of: 'batch', depthOff: 4, tabOff: -1.8 }], [{ of: 'batch', depthOff: 4 }], 1],
      [[{ of: 'batch', tabOff: -1.8 }, deep(0)], [deep(0)], 1],
      [[{ of: 'batch', side: 'starboard', tabOff: -1.8 }, deep(3)], [deep(3)], 4],
    ] as [Reading[], Reading[], number][]) {
      const built = apply(readings);
      expect(built.flags.map(mmError)).toMatchObject([{ field: 'batch, tab', value: '−1.8 mm', message: expect.stringContaining(`at rib ${rib}, which leave`) as string }]);
      expect([built.flags[0].rib, built.flags[0].reading, built.used]).toEqual([undefined, 'tab', 1]);
      expect(built.plan.rail).toEqual(apply(without).plan.rail);
    }
    // Where a tab was read the batch's says nothing; one read that cannot be is flagged as that rib's, and then the batch's counts, if it may.
    const both = (tab: number, tabOff: number) => {
      const { flags, used } = apply([{ of: 'batch', tabOff }, { ...deep(0), tab: expected[0].tab + tab }]);
      return [...flags.map(({ field }) => field), used];
    };
    expect(both(1.7, -1.8)).toEqual([3]);
    expect(both(-1, 1.7)).toEqual(['rib 1, tab', 2]);
    expect(both(-1, -1.8)).toEqual(['rib 1, tab', 'batch, tab', 1]);
  });

  it('may be off either way by what the rib that bears least of it may, and by no more than a low tab is high', () => {
    const low = planBoard({ ...plan.design, spread: { ...plan.design.spread, ribHeight: 0.6 }, frames: { ...plan.design.frames, ribs: [24, ...plan.design.frames.ribs] } });
    const { tab } = expectedReadings(low, low.rail.ribs[0]);
    expect(tab).toBeGreaterThan(1);
    expect(tab).toBeLessThan(1.5);
    const off = (tabOff: number) => applyReadings(low, { ...record([]), readings: [{ of: 'batch', tabOff }] });
    expect([off(1.5), off(-tab + 0.01)].map(({ flags, used }) => [flags, used])).toEqual([[[], 1], [[], 1]]);
    expect(off(-1.5).flags.map(mmError)).toMatchObject([{ field: 'batch, tab', value: '−1.5 mm', allowed: expect.stringContaining(`−${tab.toFixed(2)}`) as string }]);
    expect(off(-1.5).plan).toBe(low);
  });

  it('moves every stop where a rib\'s own moves those beside it: 0.7 mm on a tab', () => {
    const moved = (readings: Reading[]) => applyReadings(plan, { ...record([]), readings }).changes.filter((c) => c.what === 'stop').map((c) => ({ ...c, by: Math.abs((c.is ?? 0) - (c.was ?? 0)) }));
    const stops = plan.rail.rows.flatMap((row) => [row.tail.s, row.nose.s]);
    const alone = moved([{ of: 'rib', rib: ribs[1].index + 1, side: 'starboard', tab: expected[1].tab - 0.7 }]);
    const all = moved([{ of: 'batch', tabOff: -0.7 }]);
    expect(all).toHaveLength(stops.length);
    expect(alone.map(({ was }) => was)).toEqual(stops.filter((s) => s > ribs[0].s && s < ribs[2].s));
    expect(Math.max(...all.map(({ by }) => by))).toBeGreaterThan(Math.max(0, ...alone.map(({ by }) => by)));
  });
});

describe('a bevel read', () => {
  it('is the bevel as built at its rib, and moves no stop', () => {
    const [rib, i] = [ribs[3], 3];
    const degrees = (expected[i].bevel * 180) / Math.PI + 1.5;
    const built = applyReadings(plan, record([{ rib: rib.index + 1, bevelDeg: degrees }]));
    const is = built.plan.rail.ribs[i].section;
    expect((is.bevel * 180) / Math.PI).toBeCloseTo(degrees, 9);
    expect(is.planing).toBeCloseTo(plan.design.rail.stripWidth * Math.tan((degrees * Math.PI) / 180), 9);
    expect(is.gap).toBe(rib.section.gap);
    expect(built.changes.filter((c) => c.what === 'stop' || c.what === 'gap')).toEqual([]);
    expect(built.changes.some((c) => c.what === 'planing' && c.rib === rib.index)).toBe(true);
  });

  it('outweighs the tilt that a high rib end would bring, and is flagged where it cannot be', () => {
    const [rib, i] = [ribs[3], 3];
    const number = rib.index + 1;
    const both = applyReadings(plan, record([{ rib: number, depth: expected[i].depth + 0.8, bevelDeg: 9 }]));
    expect((both.plan.rail.ribs[i].section.bevel * 180) / Math.PI).toBeCloseTo(9, 9);
    const { flags } = applyReadings(plan, record([{ rib: number, bevelDeg: 40 }]));
    expect(flags.map(mmError)).toMatchObject([{ field: `rib ${number}, bevel`, value: '40.0°' }]);
  });
});

describe('two sides', () => {
  it('read alike are two equal rails, each from its own readings', () => {
    const list = [{ rib: ribs[1].index + 1, depth: expected[1].depth + 0.6, cap: 6.2 }, { rib: ribs[5].index + 1, depth: expected[5].depth - 0.4 }];
    const both = { ...record([]), readings: [...record(list).readings, ...record(list, 'port').readings] };
    const [starboard, port] = (['starboard', 'port'] as const).map((side) => applyReadings(plan, both, side));
    expect(port).toEqual(starboard);
    const other = { ...both, readings: both.readings.map((r) => (r.side === 'port' && r.cap !== undefined ? { ...r, cap: 5.8 } : r)) };
    expect(applyReadings(plan, other).plan.rail).toEqual(starboard.plan.rail);
    expect(applyReadings(plan, other, 'port').plan.rail.rows).not.toEqual(starboard.plan.rail.rows);
  });
});

/** 12 mm on edge to 1 m: a strain of 0.6 %. */
const trial: TrialBend = { of: 'rail', width: 12, thickness: 6, bent: 'edge', radius: 1000, heat: 'cold', held: true };

describe('the readings file', () => {
  const sample = record([{ rib: 2, depth: 25.1 }, { rib: 1, depth: 20, sole: 6.1, cap: 5.9, spacer: 6, tab: 9 }]);

  it('is written in the order of ribs and read back the same', () => {
    const text = writeReadings(sample);
    const read = readReadings(text);
    expect(read.ok && read.readings.readings.map((r) => r.rib)).toEqual([1, 2]);
    expect(read.ok && writeReadings(read.readings)).toBe(text);
    const empty = readReadings(writeReadings(noReadings('A', '')));
    expect(empty.ok && empty.readings).toEqual(noReadings('A', ''));
  });

  it('holds all that it may hold, and reads it back the same', () => {
    const full: Readings = {
      ...noReadings('A', 'B'), note: 'two lines\nof it', step: 7, ticks: ['sole-dry', 'cap: Gap at rib 3 "wide"'], cut: ['row 3.1/starboard/1', 'sole 0.1/port/2'], trials: [trial, { ...trial, of: 'outer', bent: 'flat', heat: 'wet', held: false, note: 'knot' }],
      readings: [{ of: 'batch', cap: 6.1, depthOff: -0.4, tabOff: 0.3 }, { of: 'batch', side: 'port', sole: 6 }, { of: 'rib', rib: 2, side: 'starboard', bevelDeg: 7.25 }, { of: 'rib', rib: 2, side: 'port', tab: 9.4 }],
    };
    const read = readReadings(writeReadings({ ...full, readings: full.readings.toReversed() }));
    expect(read.ok && read.readings).toEqual(full);
    expect(read.ok && writeReadings(read.readings)).toBe(writeReadings(full));
  });

  it('of version 1 opens with all that came later left out', () => {
    const { trials: _, ...old } = { ...sample, trials: undefined, version: 1, readings: sample.readings.map(({ of: __, ...r }) => r) };
    const read = readReadings(JSON.stringify(old));
    expect(read.ok && read.readings).toEqual(sample);
    expect(read.ok && read.notes).toEqual(['Brought from version 1 of the readings file to 2.']);
    // What version 1 did not know is not taken in its name.
    const early = checkReadings({ ...old, readings: [{ rib: 0, side: 'port' }] });
    expect(early.ok ? [] : early.errors.map((e) => e.field)).toEqual(['readings[0].rib']);
  });

  it.each<[string, unknown, string]>([
    ['a version of tomorrow', { ...sample, version: 3 }, 'version'],
    ['a version that is none', { ...sample, version: '2' }, 'version'],
    ['a version before the first', { ...sample, version: 0 }, 'version'],
    ['a board file', plan.design, 'format'],
    ['text for a number', { ...sample, readings: [{ of: 'rib', rib: 1, side: 'port', depth: '20' }] }, 'readings[0].depth'],
    ['a negative depth', { ...sample, readings: [{ of: 'rib', rib: 1, side: 'port', depth: -1 }] }, 'readings[0].depth'],
    ['no number', { ...sample, readings: [{ of: 'rib', rib: 1, side: 'port', depth: Number.NaN }] }, 'readings[0].depth'],
    ['half a rib', { ...sample, readings: [{ of: 'rib', rib: 1.5, side: 'port' }] }, 'readings[0].rib'],
    ['a reading of nothing', { ...sample, readings: [{ rib: 1, side: 'port' }] }, 'readings[0].of'],
    ['a rib without a number', { ...sample, readings: [{ of: 'rib', side: 'port', cap: 6 }] }, 'readings[0].rib'],
    ['a rib on no side', { ...sample, readings: [{ of: 'rib', rib: 2, cap: 6 }] }, 'readings[0].side'],
    ['a batch at a rib', { ...sample, readings: [{ of: 'batch', rib: 2, cap: 6 }] }, 'readings[0].rib'],
    ['a rib off like a batch', { ...sample, readings: [{ of: 'rib', rib: 2, side: 'port', tabOff: -0.3 }] }, 'readings[0].tabOff'],
    ['the depth of a batch', { ...sample, readings: [{ of: 'batch', depth: 40 }] }, 'readings[0].depth'],
    ['a batch off by a hand', { ...sample, readings: [{ of: 'batch', depthOff: 90 }] }, 'readings[0].depthOff'],
    ['the bevel of a batch', { ...sample, readings: [{ of: 'batch', bevelDeg: 6 }] }, 'readings[0].bevelDeg'],
    ['a batch twice', { ...sample, readings: [{ of: 'batch', cap: 6 }, { of: 'batch', sole: 6 }] }, 'readings[1].of'],
    ['a bevel of a roof', { ...sample, readings: [{ of: 'rib', rib: 1, side: 'port', bevelDeg: 75 }] }, 'readings[0].bevelDeg'],
    ['a trial in a fire', { ...sample, trials: [{ ...trial, heat: 'fire' }] }, 'trials[0].heat'],
    ['a trial tighter than any timber bends', { ...sample, trials: [trial, { ...trial, radius: 40 }] }, 'trials[1].radius'],
    ['a trial that nobody watched', { ...sample, trials: [{ ...trial, held: undefined }] }, 'trials[0].held'],
    ['a tick twice', { ...sample, ticks: ['sole-dry', 'sole-dry'] }, 'ticks[1]'],
    ['a tick of two lines', { ...sample, ticks: ['sole\ndry'] }, 'ticks[0]'],
    ['a piece cut twice', { ...sample, cut: ['sole 0.1/port/1', 'sole 0.1/port/1'] }, 'cut[1]'],
    ['half a step', { ...sample, step: 2.5 }, 'step'],
    ['a side that is none', { ...sample, readings: [{ of: 'rib', rib: 1, side: 'left' }] }, 'readings[0].side'],
    ['an extra field', { ...sample, readings: [{ of: 'rib', rib: 1, side: 'port', width: 2 }] }, 'readings[0].width'],
    ['a rib twice', { ...sample, readings: [...sample.readings, sample.readings[0]] }, 'readings[2].rib'],
    ['a million readings', { ...sample, readings: new Array(1_000_000).fill(0) }, 'readings'],
    ['machinery', JSON.parse(`{"__proto__": {}, "readings": []}`), '__proto__'],
    ['no object', 7, ''],
    ['a list', [], ''],
  ])('%s is refused by field', (_, value, field) => {
    const read = checkReadings(value);
    if (read.ok) throw new Error('taken as sound');
    expect(read.errors.map((e) => e.field)).toContain(field);
    expect(read.errors.filter((e) => e.value === '' || e.allowed === '' || e.message === '')).toEqual([]);
    for (const e of read.errors) expect(mmText(fieldErrorLine(e))).not.toContain('undefined');
  });

  it('cut short, says so', () => {
    expect(readReadings(writeReadings(sample).slice(0, 60))).toMatchObject({ ok: false, errors: [{ value: 'a file cut short' }] });
  });
});
