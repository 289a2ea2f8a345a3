/** Where spacer rows stop: in closed form on a board of planes, and steady under finer sampling on every board. */
import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../geometry/design/read';
import type { Design } from '../../geometry/design/schema';
import { planBoard } from '../../geometry/plan';
import { sectionAt } from '../../geometry/rail/query';
import { stopsOf } from '../../geometry/rail/laid';
import type { Plan, RailSamples, RailSection } from '../../geometry/types';
import { cutEdges } from '../../src/say/words';
import { mmText } from '../support/said';
import { wedgeDesign, type Wedge } from '../support/plain';
import { seedDesign, seedNames } from './boards';

/**
 * The stop in closed form (provable). The inner deck is the plane z = t + m x - skin sqrt(1 + m^2): a parallel
 * plane. Along the straight rail, heading (tx, ty), the cap slopes a = m tx and takes its thickness over
 * cos(slope) of height; the sole lies level, and the gap is measured square to it. So gap(x) = t + m x - skins -
 * stack at the rib-end line's station x, linear in x.
 */
function closedStop(w: Wedge, design: Design, row: number, end: 'tail' | 'nose'): { x: number; s: number } {
  const { rail, skins } = design;
  const run = Math.hypot(w.length, w.noseHalf - w.tailHalf);
  const tx = w.length / run;
  const nx = (w.noseHalf - w.tailHalf) / run;
  const m = end === 'tail' ? (w.ridge - w.tail) / w.ridgeAt : (w.nose - w.ridge) / (w.length - w.ridgeAt);
  const t = w.ridge - m * w.ridgeAt;
  const a = m * tx;
  const lost = skins.deck * Math.sqrt(1 + m * m) + skins.bottom + (rail.glueLine + rail.capThickness) * Math.sqrt(1 + a * a) + rail.glueLine + rail.soleThickness;
  const need = row * rail.spacerHeight + rail.clearance;
  const ribX = (need + lost - t) / m;
  // The box face starts in the plane of the tail; the rib-end line lies a strip's width square off it.
  const x = ribX - rail.stripWidth * nx;
  return { x, s: x / tx };
}

const wedges: [string, Wedge][] = [
  ['parallel sides', { length: 1800, tailHalf: 240, noseHalf: 240, tail: 20, ridge: 70, nose: 16, ridgeAt: 800 }],
  ['sides closing to the nose', { length: 1800, tailHalf: 260, noseHalf: 120, tail: 20, ridge: 70, nose: 16, ridgeAt: 800 }],
  ['sides opening to the nose, steep', { length: 700, tailHalf: 110, noseHalf: 280, tail: 14, ridge: 96, nose: 12, ridgeAt: 300 }],
];

describe.each(wedges)('a board of planes, %s', (_, wedge) => {
  it.each([1, 3])('%s row(s): both ends stop where the closed form says, to 0.01 mm', (rows) => {
    const design = wedgeDesign(wedge, { rows, leastRow: 20 });
    expect(checkDesign(design).ok).toBe(true);
    const plan = planBoard(design);
    expect(plan.hull.fairness.loftError).toBeLessThan(1e-9);
    expect(plan.rail.rows).toHaveLength(rows);
    for (const row of plan.rail.rows) {
      for (const end of ['tail', 'nose'] as const) {
        const want = closedStop(wedge, design, row.row, end);
        expect(row[end].cause).toBe('gap');
        expect(Math.abs(row[end].s - want.s)).toBeLessThan(0.01);
        expect(Math.abs(row[end].x - want.x)).toBeLessThan(0.01);
      }
    }
  });

  it('rows with a wider clearance or a thicker glue line stop as much sooner as the closed form says', () => {
    for (const rail of [{ clearance: 3 }, { glueLine: 1 }, { shapingAllowance: 12, stripWidth: 20 }]) {
      const design = wedgeDesign(wedge, { rows: 2, leastRow: 20, ...rail });
      for (const row of planBoard(design).rail.rows) {
        for (const end of ['tail', 'nose'] as const) expect(Math.abs(row[end].s - closedStop(wedge, design, row.row, end).s)).toBeLessThan(0.01);
      }
    }
  });

  it('the stop does not hang on where the samples fall', () => {
    const design = wedgeDesign(wedge, { rows: 3, leastRow: 20 });
    for (const step of [0.7, 2, 9.3, 25]) {
      for (const row of planBoard(design, { step }).rail.rows) {
        for (const end of ['tail', 'nose'] as const) expect(Math.abs(row[end].s - closedStop(wedge, design, row.row, end).s)).toBeLessThan(0.01);
      }
    }
  });
});

/** A sampled figure at run s, linear between samples: as the ribbon and the meshes read it. */
function read(samples: RailSamples, field: keyof RailSection, s: number): number {
  const i = Math.min(samples.n - 2, Math.floor(s / samples.step));
  const t = s / samples.step - i;
  return samples[field][i] * (1 - t) + samples[field][i + 1] * t;
}

describe.each(seedNames)('%s, sampled at 2 mm and at 1 mm', (name) => {
  const design = seedDesign(name);
  const [coarse, fine]: [Plan, Plan] = [planBoard(design), planBoard(design, { step: 1 })];

  it('every stop is the same within 0.05 mm, and stops for the same cause', () => {
    expect(coarse.rail.rows.length).toBeGreaterThan(0);
    expect(fine.rail.rows.map((r) => [r.row, r.tail.cause, r.nose.cause])).toEqual(coarse.rail.rows.map((r) => [r.row, r.tail.cause, r.nose.cause]));
    coarse.rail.rows.forEach((row, i) => {
      for (const end of ['tail', 'nose'] as const) expect(Math.abs(fine.rail.rows[i][end].s - row[end].s)).toBeLessThan(0.05);
    });
    for (const part of ['sole', 'cap'] as const) {
      expect(Math.abs(fine.rail[part].s0 - coarse.rail[part].s0)).toBeLessThan(0.05);
      expect(Math.abs(fine.rail[part].s1 - coarse.rail[part].s1)).toBeLessThan(0.05);
    }
  });

  it('every bevel read between samples is the same within 0.02 degrees', () => {
    const limit = (0.02 * Math.PI) / 180;
    const { s0, s1 } = coarse.rail.cap;
    let worst = 0;
    for (let s = s0; s <= s1; s += 0.37) {
      for (const field of ['bevel', 'stationBevel', 'soleBevel'] as const) {
        worst = Math.max(worst, Math.abs(read(coarse.rail.samples, field, s) - read(fine.rail.samples, field, s)));
      }
    }
    expect(worst).toBeLessThan(limit);
    expect(Math.abs(coarse.rail.range.bevel.max - fine.rail.range.bevel.max)).toBeLessThan(limit);
    expect(Math.abs(coarse.rail.range.bevel.min - fine.rail.range.bevel.min)).toBeLessThan(limit);
  });

  it('gap at every stop for want of gap is the rows\' height and the clearance', () => {
    const { spacerHeight, clearance } = design.rail;
    for (const row of coarse.rail.rows) {
      for (const stop of [row.tail, row.nose]) {
        if (stop.cause !== 'gap') continue;
        expect(Math.abs(stop.gap - (row.row * spacerHeight + clearance))).toBeLessThan(1e-5);
        expect(Math.abs(read(coarse.rail.samples, 'gap', stop.s) - stop.gap)).toBeLessThan(1e-3);
      }
    }
  });
});

describe.each(seedNames)('a row\'s square-cut end of %s', (name) => {
  const plan = planBoard(seedDesign(name));
  const h = plan.design.rail.spacerHeight;

  it('has its upper edge at the stop and its lower one square below it, along the sole\'s own slope', () => {
    let farthest = 0;
    for (const stop of stopsOf(plan.rail)) {
      expect(stop.cause).not.toBe('end');
      // At a block's tongue the outer edge stops, whichever it is: neither may reach into it.
      const outer = (stop.end === 'nose') === stop.upper.s > stop.lower.s ? stop.upper : stop.lower;
      const edge = stop.cause === 'block' ? outer : stop.upper;
      expect([edge.s, edge.x]).toEqual([stop.s, stop.x]);
      // In the vertical plane along the rail (run, z): the row's top over the stop, its underside over the lower edge's foot.
      const [c, d] = [sectionAt(plan, stop.upper.s), sectionAt(plan, stop.lower.s)];
      expect([stop.upper.x, stop.lower.x].map((x, i) => Math.abs(x - [c.x, d.x][i]) < 1e-6)).toEqual([true, true]);
      const top = [c.s, c.soleTop + stop.row * h * Math.hypot(1, c.soleSlope)];
      const under = [d.s, d.soleTop + (stop.row - 1) * h * Math.hypot(1, d.soleSlope)];
      const cut = [top[0] - under[0], top[1] - under[1]];
      // Over two millimetres the sole's slope turns by less than a thousandth: so near lies the cut to square, and its length to the spacer's height.
      expect(Math.abs(Math.hypot(...cut) - h)).toBeLessThan(0.01);
      expect(Math.abs(cut[0] + cut[1] * c.soleSlope) / Math.hypot(1, c.soleSlope)).toBeLessThan(0.02);
      farthest = Math.max(farthest, Math.abs(stop.lower.s - stop.upper.s));
    }
    // A millimetre and more: worth telling.
    expect(farthest).toBeGreaterThan(1);
  });

  it('is told with both edges', () => {
    for (const stop of stopsOf(plan.rail)) {
      const [own, other] = stop.s === stop.upper.s ? [stop.upper, stop.lower] : [stop.lower, stop.upper];
      const [off, out] = [Math.abs(own.s - other.s), stop.end === 'nose' ? other.s > own.s : other.s < own.s];
      const way = out ? 'nearer the end' : 'farther in';
      const [first, second] = own === stop.upper ? ['upper', 'lower'] : ['lower', 'upper'];
      expect(mmText(cutEdges(stop))).toBe(off < 0.05 ? 'both edges of the square cut' : `${first} edge of the square cut, ${second} edge ${off.toFixed(1)} mm ${way}`);
    }
  });
});

it('a row that runs to the end of the box passes it with neither edge', () => {
  const design = seedDesign('child-155.board.json');
  design.rail.rows = 1;
  design.lines.thickness.points.forEach((p) => { p.v += 30; });
  const { rail } = planBoard(design);
  const ends = stopsOf(rail).filter(({ cause }) => cause === 'end');
  expect(ends.length).toBeGreaterThan(0);
  for (const { s, end, upper, lower } of ends) {
    expect(end === 'nose' ? Math.max(upper.s, lower.s) : Math.min(upper.s, lower.s)).toBe(s);
    expect(upper.s).not.toBe(lower.s);
  }
});
