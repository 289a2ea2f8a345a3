/**
 * The trade's common practice as a case (common practice, no source): flat strips 12 x 6, square spacers 6 x 6 flush
 * with their outer faces, tabs stepped 6; so a hollow 6 deep; spacers stop short of both ends, the sole runs through.
 */
import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../geometry/design/read';
import { blankDesign } from '../../geometry/design/defaults';
import { cutRibs } from '../../geometry/frame/ribProfile';
import { planBoard } from '../../geometry/plan';
import { sectionDrawing } from '../../geometry/rail/query';
import { meshBoard } from '../../geometry/solid/board';

const design = blankDesign();
design.rail = { ...design.rail, stripWidth: 12, soleThickness: 6, capThickness: 6, spacerWidth: 6, spacerHeight: 6, rows: 3, glueLine: 0 };
const plan = planBoard(design);
const { rail } = plan;

describe('strips 12 x 6 and spacers 6 x 6', () => {
  it('make a sound design and a box without a stop to building', () => {
    expect(checkDesign(design).ok).toBe(true);
    expect(plan.findings.filter((f) => f.level === 'cannot')).toEqual([]);
    expect(rail.rows.length).toBeGreaterThan(0);
  });

  it('leave a hollow 6 deep behind the rows', () => {
    let seen = 0;
    for (let s = rail.rows[0].tail.s + 1; s < rail.rows[0].nose.s; s += 50) {
      const drawing = sectionDrawing(plan, s);
      const hollow = drawing.shapes.find((shape) => shape.kind === 'hollow');
      const row = drawing.shapes.find((shape) => shape.kind === 'row' && shape.order === 1);
      if (!hollow || !row) throw new Error(`no hollow or row at ${s}`);
      // Outboard measures from the rib-end line: the tab's own depth is the hollow's.
      const outboard = (points: Float64Array) => points.filter((_, i) => i % 2 === 0);
      expect(Math.min(...outboard(row.points))).toBeCloseTo(6, 12);
      expect(Math.max(...outboard(row.points))).toBeCloseTo(12, 12);
      expect(Math.min(...outboard(hollow.points))).toBe(0);
      expect(hollow.points[2]).toBeCloseTo(6, 12);
      seen++;
    }
    expect(seen).toBeGreaterThan(10);
  });

  it('stop every row short of both ends while the sole runs through', () => {
    for (const row of rail.rows) {
      expect(row.tail.s).toBeGreaterThan(rail.boxFrom + 20);
      expect(row.nose.s).toBeLessThan(rail.boxTo - 20);
    }
    // Higher rows stop no later than those under them.
    for (const row of rail.rows) {
      const under = rail.rows.find((r) => r.row === row.row - 1);
      if (!under) continue;
      expect(row.tail.s).toBeGreaterThanOrEqual(under.tail.s);
      expect(row.nose.s).toBeLessThanOrEqual(under.nose.s);
    }
    expect(rail.sole.s0).toBeCloseTo(rail.boxFrom, 6);
    expect(rail.sole.s1).toBeCloseTo(rail.boxTo, 6);
    const sole = meshBoard(plan).find((b) => b.id === 'sole-starboard');
    if (!sole) throw new Error('no sole');
    expect(Math.max(...(sole.mesh.run ?? []))).toBeCloseTo(rail.boxTo, 2);
  });

  it('step the tabs by 6 over the rows: behind them 6 deep, above them the whole 12', () => {
    const stepped = cutRibs(plan).ribs.filter(({ rib }) => rib.hasTab && rib.rows > 0 && rib.slot > 3);
    expect(stepped.length).toBeGreaterThan(0);
    for (const { rib, shape: { tab } } of stepped) {
      if (!tab) throw new Error(`rib ${rib.index} has no tab`);
      const across = Math.abs(rib.section.ny);
      // Half-breadths are seen in the rib's own plane, which the rail crosses at a slant: along the normal they are 6.
      expect((tab.back - tab.end) * across).toBeCloseTo(6, 1);
      expect((tab.face - tab.end) * across).toBeCloseTo(12, 1);
    }
  });

  // The stop itself: the gap that one row needs is its 6 and the clearance.
  it('stop row k where the gap is 6 k and the clearance', () => {
    const stops = rail.rows.flatMap((row) => [row.tail, row.nose]).filter((stop) => stop.cause === 'gap');
    expect(stops.length).toBeGreaterThan(0);
    for (const stop of stops) expect(stop.gap).toBeCloseTo(6 * stop.row + design.rail.clearance, 5);
  });
});
