/** Corners in the lines: an angle at a place, and no bend. Closed forms on boards of planes, steadiness on curved ones. */
import { describe, expect, it } from 'vitest';
import type { Design } from '../../geometry/design/schema';
import { bendingFindings, planBending } from '../../geometry/parts/bending';
import { planBoard } from '../../geometry/plan';
import { proposing } from '../../geometry/search/proposals';
import { finish } from '../support/finish';
import { wedgeDesign, type Wedge } from '../support/plain';
import { seedDesign, seedNames } from './boards';

const wedges: [string, Wedge][] = [
  ['a ridge', { length: 1800, tailHalf: 240, noseHalf: 240, tail: 40, ridge: 80, nose: 36, ridgeAt: 800 }],
  ['a ridge over sides that close', { length: 1500, tailHalf: 260, noseHalf: 120, tail: 34, ridge: 96, nose: 40, ridgeAt: 700 }],
  ['a hollow', { length: 1800, tailHalf: 200, noseHalf: 260, tail: 84, ridge: 50, nose: 90, ridgeAt: 900.3 }],
];

describe.each(wedges)('a board of planes with %s', (_, wedge) => {
  const design = wedgeDesign(wedge);
  const way = Math.hypot(wedge.length, wedge.noseHalf - wedge.tailHalf);
  const [tx, ty] = [wedge.length / way, (wedge.noseHalf - wedge.tailHalf) / way];
  // Provable: a plane z = m x climbs m tx along the rail; the rib-end line crosses the ridge a strip's width square off the box face.
  const slope = (rise: number, length: number) => Math.atan((rise / length) * tx);
  const angle = Math.abs(slope(wedge.ridge - wedge.tail, wedge.ridgeAt) - slope(wedge.nose - wedge.ridge, wedge.length - wedge.ridgeAt));
  const s = (wedge.ridgeAt - design.rail.stripWidth * ty) / tx;

  it.each([0.5, 2, 7.3])('sampled %s mm apart: the cap has one corner, of its angle, and nothing is bent', (step) => {
    const plan = planBoard(design, { step });
    expect(plan.rail.kinks.sole).toEqual([]);
    expect(plan.rail.kinks.cap).toHaveLength(1);
    const [kink] = plan.rail.kinks.cap;
    expect(kink.angle).toBeCloseTo(angle, 7);
    expect(kink.x).toBeCloseTo(wedge.ridgeAt, 9);
    expect(kink.s).toBeCloseTo(s, 5);
    // What is left out about it is no longer than the skin is thick times the angle, and a hair.
    expect(kink.s1 - kink.s0).toBeLessThan(design.skins.deck * angle + 0.01);
    const bending = planBending(plan);
    for (const b of bending) expect(Math.max(...b.strain), `${b.strip.kind} ${b.strip.order}`).toBeLessThan(1e-5);
    expect(bendingFindings(plan, bending)).toEqual([]);
    const told = plan.findings.filter((f) => f.code === 'kink');
    expect(told.map((f) => [f.figure, f.unit, f.place?.x])).toEqual([[kink.angle, 'rad', kink.x]]);
  });
});

/** A starter board with corners in rocker, thickness and crown, none of them at a sample. */
function cornered(name: string): Design {
  const design = seedDesign(name);
  const { lines } = design;
  const at = (curve: Design['lines']['rocker'], index: number) =>
    ({ ...curve, points: curve.points.map((p, i) => (i === index ? { ...p, x: p.x + 0.37, corner: true } : p)) });
  return { ...design, lines: { ...lines, rocker: at(lines.rocker, 1), thickness: at(lines.thickness, 2), crown: at(lines.crown, 1) } };
}

describe.each(seedNames)('%s with corners in its lines', (name) => {
  const plans = [2, 1, 0.5, 0.25].map((step) => planBoard(cornered(name), { step }));
  const bent = plans.map(planBending);

  it('tells each corner once for sole and for cap, wherever the samples fall', () => {
    const [first] = plans;
    expect(first.rail.kinks.sole.length).toBeGreaterThan(0);
    expect(first.rail.kinks.cap.length).toBeGreaterThan(0);
    const rounded = (list: typeof first.rail.kinks.sole) => list.map((k) => [k.s.toFixed(5), k.angle.toFixed(7)]);
    for (const plan of plans) {
      for (const strip of ['sole', 'cap'] as const) expect(rounded(plan.rail.kinks[strip])).toEqual(rounded(first.rail.kinks[strip]));
      expect(plan.findings.filter((f) => f.code === 'kink').length).toBeGreaterThan(1);
    }
  });

  it('has strains, zones, advice and stops that do not hang on the sampling', () => {
    const worst = (values: Float64Array) => Math.max(...values);
    for (const coarse of bent) {
      coarse.forEach((b, i) => {
        const f = bent[3][i];
        expect(f.strip).toEqual(b.strip);
        // Second order in the spacing: within a hundredth at 2 mm.
        expect(Math.abs(worst(b.strain) / worst(f.strain) - 1), `${b.strip.kind} ${b.strip.order}`).toBeLessThan(0.01);
        expect(b.zones.map((z) => z.method)).toEqual(f.zones.map((z) => z.method));
        expect(Object.keys(b.advice ?? {})).toEqual(Object.keys(f.advice ?? {}));
      });
    }
    for (const { rail } of plans) {
      rail.rows.forEach((row, i) => {
        for (const end of ['tail', 'nose'] as const) expect(Math.abs(row[end].s - plans[3].rail.rows[i][end].s)).toBeLessThan(0.05);
      });
    }
  });

  it('offers to make a corner smooth, and that clears it', () => {
    const [plan] = plans;
    const kink = plan.findings.find((f) => f.code === 'kink');
    if (!kink) throw new Error('no corner was told');
    const [offer] = finish(proposing(plan, kink));
    expect(offer.clears).toBe(true);
    expect(offer.design.lines).not.toEqual(plan.design.lines);
  });
});

describe('a row that a curve stops', () => {
  it('is judged by the strain that stopped it: at its stop the limit, nowhere more', () => {
    // Strips split, spacers bent cold only: the rows stop before the blocks begin.
    const cold = { tail: 'cold', nose: 'cold' } as const;
    const plan = planBoard({ ...seedDesign('round-tail-175.board.json'), consents: { split: true }, methods: { rows: cold } });
    const bending = planBending(plan);
    const stopped = plan.rail.rows.flatMap((row) => [row.tail, row.nose].filter((stop) => stop.cause === 'bend'));
    expect(stopped.length).toBeGreaterThan(0);
    for (const stop of stopped) {
      const b = bending.find(({ strip, s }) => strip.kind === 'row' && strip.order === stop.row && (s[0] === stop.s || s[s.length - 1] === stop.s));
      if (!b) throw new Error('a row without its bending');
      const share = b.strain[stop.end === 'tail' ? 0 : b.strain.length - 1] / b.limits.cold;
      // A row stopped by the one it lies on bends a hair less.
      const below = plan.rail.rows.some((row) => row.row === stop.row - 1 && row[stop.end].s === stop.s);
      expect(share).toBeLessThan(1 + 5e-5);
      expect(share).toBeGreaterThan(1 - (below ? 1e-3 : 5e-5));
      expect(b.zones.map((z) => z.method)).not.toContain('block');
    }
  });
});
