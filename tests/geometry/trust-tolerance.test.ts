/** Tolerance bands: in closed form on a board of planes, against re-planned boards, and drawn against derived. */
import { describe, expect, it } from 'vitest';
import type { Design } from '../../geometry/design/schema';
import { planBoard } from '../../geometry/plan';
import { isFixed } from '../../geometry/rail/laid';
import type { Plan } from '../../geometry/types';
import { normals, quantile } from '../../geometry/trust/carlo';
import { BANDED, Cancelled, planTolerance } from '../../geometry/trust/tolerance';
import type { Band, Measure, ToleranceBands } from '../../geometry/trust/types';
import { wedgeDesign } from '../support/plain';
import { seedDesign, seedNames } from './boards';

const half = (b: Band) => (b.high - b.low) / 2;
const none = { strip: 0, skin: 0, glueLine: 0, kerf: 0, ribHeight: 0 };
const wedge = { length: 1800, tailHalf: 240, noseHalf: 240, tail: 20, ridge: 70, nose: 16, ridgeAt: 800 };
/** A board of planes; stops of three rows lie well inside straight flanks. */
const plain = (spread: Partial<Design['spread']>): Design => ({ ...wedgeDesign(wedge, { rows: 3, leastRow: 20 }), spread: { ...none, ...spread } });
const derived = (plan: Plan) => planTolerance(plan, { method: 'estimate', places: 41 });
const drawn = (plan: Plan, runs: number, seed = 7) => planTolerance(plan, { method: 'trials', runs, seed, places: 41 });
const shareOf = (bands: ToleranceBands, stop: number, measure: Measure) => bands.stops[stop].shares.find((s) => s.measure === measure)?.half ?? 0;

describe('the quick estimate on a board of planes', () => {
  // Flank's slope m, parallel sides, so the cap's slope along the rail is m too. The gap in closed form, as in
  // rail-stops.test.ts: t + m x - deck sqrt(1+m2) - bottom - (glue + cap) sqrt(1+m2) - glue - sole, square to a level sole.
  const flank = (end: 'tail' | 'nose') => (end === 'tail' ? (wedge.ridge - wedge.tail) / wedge.ridgeAt : (wedge.ridge - wedge.nose) / (wedge.length - wedge.ridgeAt));
  const oblique = (m: number) => Math.sqrt(1 + m * m);

  it('moves each stop by the share the closed form gives each measure', async () => {
    const spread = { strip: 0.3, skin: 0.2, glueLine: 0.04, kerf: 0.05, ribHeight: 0 };
    const bands = await derived(planBoard(plain(spread)));
    expect(bands.stops).toHaveLength(6);
    bands.stops.forEach((stop, i) => {
      const m = flank(stop.end);
      const want: Partial<Record<Measure, number>> = {
        sole: spread.strip / m,
        cap: (spread.strip * oblique(m)) / m,
        spacerHeight: (stop.row * spread.strip) / m,
        deckSkin: (spread.skin * oblique(m)) / m,
        bottomSkin: spread.skin / m,
        glueLine: (spread.glueLine * (1 + oblique(m))) / m,
        kerf: spread.kerf / m,
        // Neither a wider strip nor a wider spacer changes the gap where the sides run parallel.
        stripWidth: 0, spacerWidth: 0,
      };
      const total = Math.sqrt(Object.values(want).reduce((sum, v) => sum + v * v, 0));
      for (const [measure, v] of Object.entries(want)) expect(Math.abs(shareOf(bands, i, measure as Measure) - v)).toBeLessThan(1e-3 * total);
      expect(Math.abs(half(stop.s) - total)).toBeLessThan(1e-3 * total);
      expect(stop.curved).toBe(false);
      expect(stop.shares.reduce((sum, s) => sum + s.share, 0)).toBeCloseTo(1, 9);
    });
  });

  it('spreads independent rib heights straight between ribs: full at a rib, 1 / sqrt 2 midway', async () => {
    const bands = await planTolerance(planBoard(plain({ ribHeight: 0.4 })), { method: 'estimate', places: 181 });
    // The ribs stand every 180 mm from 180, the run is the station, places lie 10 mm apart.
    for (const [s, share] of [[360, 1], [450, Math.SQRT1_2], [410, Math.hypot(13 / 18, 5 / 18)], [1260, 1], [1350, Math.SQRT1_2], [60, 1]]) {
      const i = s / 10;
      expect(bands.s[i]).toBeCloseTo(s, 9);
      expect((bands.gap.high[i] - bands.gap.low[i]) / 2).toBeCloseTo(0.4 * share, 6);
    }
    for (const rib of bands.ribs) {
      expect(rib.shares.gap).toHaveLength(1);
      expect(rib.shares.gap[0]).toMatchObject({ measure: 'ribHeight', ofRib: rib.index, share: 1 });
    }
  });

  it('tilts the deck over the distance to the centreline where a rib end stands high', async () => {
    const bands = await derived(planBoard(plain({ ribHeight: 0.4 })));
    // 240 of half-breadth less two skins of 5 and a strip of 12; the deck is level, so the bevel is the tilt itself.
    for (const rib of bands.ribs) expect(half(rib.bands.bevel)).toBeCloseTo(0.4 / 218, 5);
  });

  it('gives no band and no advice where nothing has a spread', async () => {
    const bands = await derived(planBoard(plain({})));
    expect(Array.from(bands.gap.low)).toEqual(Array.from(bands.gap.high));
    expect(bands.stops.map((s) => half(s.s))).toEqual(bands.stops.map(() => 0));
    expect(bands.whatMatters).toEqual([]);
  });
});

describe.each(seedNames)('%s: the quick estimate against boards planned again', (name) => {
  const design = seedDesign(name);
  const plan = planBoard(design);
  /** Measures that the board file itself can change, each with its field. */
  const fields: [Measure, (d: Design, v: number) => Design][] = [
    ['sole', (d, v) => ({ ...d, rail: { ...d.rail, soleThickness: d.rail.soleThickness + v } })],
    ['cap', (d, v) => ({ ...d, rail: { ...d.rail, capThickness: d.rail.capThickness + v } })],
    ['spacerHeight', (d, v) => ({ ...d, rail: { ...d.rail, spacerHeight: d.rail.spacerHeight + v } })],
    ['glueLine', (d, v) => ({ ...d, rail: { ...d.rail, glueLine: d.rail.glueLine + v } })],
    ['deckSkin', (d, v) => ({ ...d, skins: { ...d.skins, deck: d.skins.deck + v } })],
    ['bottomSkin', (d, v) => ({ ...d, skins: { ...d.skins, bottom: d.skins.bottom + v } })],
  ];

  it.each(fields)('%s moves the stops as a design with that size changed does', async (measure, change) => {
    const bands = await derived(plan);
    const d = 0.02;
    const spreadOf = { sole: 'strip', cap: 'strip', spacerHeight: 'strip', glueLine: 'glueLine', deckSkin: 'skin', bottomSkin: 'skin' } as const;
    const width = design.spread[spreadOf[measure as keyof typeof spreadOf]];
    const [up, down] = [d, -d].map((v) => planBoard(change(design, v)).rail.rows.flatMap((r) => [r.tail.s, r.nose.s]));
    expect(up).toHaveLength(bands.stops.length);
    bands.stops.forEach((_, i) => {
      // A block is cut where the plan says: a stop at it stays, though a board drawn with the size has its block elsewhere.
      if (isFixed(bands.stops[i])) return expect(half(bands.stops[i].s)).toBe(0);
      const want = (Math.abs(up[i] - down[i]) / (2 * d)) * width;
      // What brings less than a millionth of the variance is not listed.
      if (!bands.stops[i].shares.some((share) => share.measure === measure)) return expect(want).toBeLessThan(1e-3 * half(bands.stops[i].s));
      // A stop near the gap's crest moves with the square root: its own central difference is off by a little.
      return expect(Math.abs(shareOf(bands, i, measure) - want)).toBeLessThan(0.005 * want + 0.001);
    });
  });

  it('bands of drawn boards agree with the quick estimate where the gap is straight, within the draw\'s own error', async () => {
    const runs = 400;
    const [a, b] = [await derived(plan), await drawn(plan, runs)];
    // The p-quantile of n normal draws has standard error sqrt(p (1-p) / n) / density, in sd (textbook); the
    // half-width is two sd and the mean of two such quantiles. Five standard errors are allowed.
    const error = Math.sqrt((0.02275 * 0.97725) / runs) / 0.05399 / 2 / Math.SQRT2;
    const straight = a.stops.map((s, i) => ({ s, i })).filter(({ s }) => !s.curved && !isFixed(s));
    expect(straight.length).toBeGreaterThan(3);
    for (const { s, i } of straight) {
      // Bends of the gap within the band, up to the fifth that is still called straight, add their own.
      expect(Math.abs(half(b.stops[i].s) / half(s.s) - 1)).toBeLessThan(5 * error + 0.1);
      expect(b.stops[i].present).toBe(1);
    }
    for (const k of ['gap', 'bevel'] as const) {
      for (let i = 0; i < a.n; i++) {
        const [ha, hb] = [a, b].map((t) => (t[k].high[i] - t[k].low[i]) / 2);
        expect(Math.abs(hb / ha - 1)).toBeLessThan(5 * error);
      }
    }
  });
});

describe('where the two must differ', () => {
  it('a stop near the crest of the gap is called curved, and boards without the row are counted', async () => {
    const design = seedDesign('long-275.board.json');
    const bands = await derived(planBoard(design));
    const crest = bands.stops.findIndex((s) => s.curved);
    expect(crest).toBeGreaterThanOrEqual(0);
    const mc = await drawn(planBoard(design), 400);
    expect(Math.abs(half(mc.stops[crest].s) / half(bands.stops[crest].s) - 1)).toBeGreaterThan(0.2);

    // Clearance set so that the last row only just fits at the crest: it is there in about half of the boards.
    const plan = planBoard(plain({ strip: 0.3 }));
    const most = plan.rail.range.gap.max;
    const tight = {
      ...plan.design, frames: { ...plan.design.frames, ribs: [200, 800, 1400] },
      rail: { ...plan.design.rail, clearance: most - 18 - 0.02, leastRow: 0 },
    };
    const just = planBoard(tight);
    const last = just.rail.rows.findIndex((r) => r.row === 3);
    expect(last).toBeGreaterThanOrEqual(0);
    const few = await drawn(just, 400);
    expect((await derived(just)).stops[2 * last].curved).toBe(true);
    expect(few.stops[2 * last].present).toBeGreaterThan(0.35);
    expect(few.stops[2 * last].present).toBeLessThan(0.65);
  });

  it('cover where a slot may open: drawn boards see it, the quick estimate stays with the side it is on', async () => {
    const plan = planBoard(seedDesign('child-155.board.json'));
    const [a, b] = [await derived(plan), await drawn(plan, 400)];
    const widest = (t: ToleranceBands) => Math.max(...t.cover.high.map((h, i) => h - t.cover.low[i]));
    expect(widest(b)).toBeGreaterThan(2 * widest(a));
  });
});

describe('the draw', () => {
  it('is the same for the same seed, and another for another', async () => {
    const plan = planBoard(plain({ strip: 0.2, ribHeight: 0.3 }));
    const [a, b, c] = [await drawn(plan, 60, 1), await drawn(plan, 60, 1), await drawn(plan, 60, 2)];
    expect(a).toEqual(b);
    expect(a.gap.low).not.toEqual(c.gap.low);
  });

  it('gives normal numbers: mean 0, variance 1, and a twentieth beyond 1.96', () => {
    // Abramowitz & Stegun, table 26.1: P(|z| > 1.96) = 0.05 (from memory).
    const normal = normals(11);
    const z = Float64Array.from({ length: 40_000 }, normal);
    const mean = z.reduce((a, v) => a + v, 0) / z.length;
    expect(Math.abs(mean)).toBeLessThan(4 / Math.sqrt(z.length));
    expect(Math.abs(z.reduce((a, v) => a + v * v, 0) / z.length - 1)).toBeLessThan(4 * Math.sqrt(2 / z.length));
    expect(Math.abs(z.filter((v) => Math.abs(v) > 1.96).length / z.length - 0.05)).toBeLessThan(4 * Math.sqrt((0.05 * 0.95) / z.length));
    expect(quantile([1, 2, 4], 0.75)).toBe(3);
    expect(quantile([5], 0.1)).toBe(5);
    expect(quantile([], 0.5)).toBeNaN();
  });

  it('tells how far it is, and stops when told', async () => {
    const plan = planBoard(plain({ strip: 0.2 }));
    const shares: number[] = [];
    await planTolerance(plan, { method: 'trials', runs: 100, onProgress: (s) => void shares.push(s) });
    expect(shares).toEqual([0, 0.25, 0.5, 0.75, 1]);
    const signal = { aborted: false };
    const halted = planTolerance(plan, { method: 'trials', runs: 1000, signal, onProgress: (s) => void (signal.aborted = s >= 0.1) });
    await expect(halted).rejects.toThrow(Cancelled);
  });
});

describe('what matters', () => {
  it('ranks by how much an error a maker would notice each measure brings, and names the rib', async () => {
    const plan = planBoard(seedDesign('child-155.board.json'));
    const { whatMatters } = await derived(plan);
    expect(whatMatters.length).toBeGreaterThan(20);
    expect(whatMatters.map((m) => m.weight)).toEqual(whatMatters.map((m) => m.weight).toSorted((a, b) => b - a));
    expect(whatMatters.filter((m) => m.share < 0.1 || m.rib === undefined)).toEqual([]);
    // Three spacers stacked err three times as far as one strip: the top row's stops hang on the spacer's height.
    expect(whatMatters[0]).toMatchObject({ quantity: 'stop', row: 3, measure: 'spacerHeight' });
    for (const name of BANDED) expect(whatMatters.some((m) => m.quantity === name)).toBe(true);
  });
});
