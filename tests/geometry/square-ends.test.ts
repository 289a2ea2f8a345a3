/** Boards of straight lines with square ends: everything in closed form (provable: planes and straight lines). */
import { describe, expect, it } from 'vitest';
import { checkDesign } from '../../geometry/design/read';
import type { Design } from '../../geometry/design/schema';
import { blockAt } from '../../geometry/frame/ends';
import { bendingFindings, planBending } from '../../geometry/parts/bending';
import { planBlanks } from '../../geometry/parts/blanks';
import { planBoard } from '../../geometry/plan';
import { sectionAt } from '../../geometry/rail/query';
import { innerAt, panelProbe } from '../../geometry/hull/panel';
import { wedgeDesign } from '../support/plain';

const LENGTH = 1600;

/** Straight sides from one half-breadth to the other, a flat bottom on the bench, a flat deck from one thickness to the other. */
function planks(tailHalf: number, noseHalf: number, tail: number, nose: number, rail: Partial<Design['rail']> = {}): Design {
  const design = wedgeDesign({ length: LENGTH, tailHalf, noseHalf, tail, ridge: 1, nose, ridgeAt: 1 }, { rows: 2, ...rail });
  design.lines.thickness = { points: [{ x: 0, v: tail }, { x: LENGTH, v: nose }] };
  return design;
}

const boards: [string, Design][] = [
  ['sides that close toward the nose', planks(260, 120, 50, 62)],
  ['sides that open toward the nose', planks(120, 270, 62, 40)],
  ['sides that open by a third', planks(80, 560, 60, 48, { stripWidth: 30, outerLayers: 3 })],
  ['parallel sides', planks(200, 200, 50, 60)],
  ['a round of thick outer skins', planks(300, 90, 60, 60, { outerLayers: 4, outerThickness: 8 })],
];

describe.each(boards)('%s', (_, design) => {
  const plan = planBoard(design);
  const { rail, hull } = plan;
  const [from, to] = design.lines.outline.points;
  const way = Math.hypot(LENGTH, to.y - from.y);
  const [tx, ty] = [LENGTH / way, (to.y - from.y) / way];
  const [low, high] = design.lines.thickness.points;
  const m = (high.v - low.v) / LENGTH;

  it('the box runs from end plane to end plane, straight', () => {
    expect(checkDesign(design).ok).toBe(true);
    for (const line of [rail.face, rail.ribEnd]) {
      expect(line.tail).toMatchObject({ kind: 'open' });
      expect(line.nose).toMatchObject({ kind: 'open' });
      expect(line.tail.x).toBeCloseTo(0, 9);
      expect(line.nose.x).toBeCloseTo(LENGTH, 9);
      expect(line.length).toBeCloseTo(way, 9);
      expect(line.tail.y).toBeCloseTo(from.y - line.offset / tx, 9);
    }
    expect([rail.boxFrom, rail.boxTo]).toEqual([0, rail.face.length]);
    const { samples } = rail;
    for (let i = 0; i < samples.n; i++) {
      expect(Math.abs(samples.x[i] - samples.s[i] * tx)).toBeLessThan(1e-8);
      expect(Math.abs(samples.kappa[i])).toBeLessThan(1e-12);
    }
  });

  it('bevel, gap and inner faces are those of planes up to the ends', () => {
    // Square to the rail the deck falls by m nx a millimetre outboard; about a rail that climbs m tx that is the bevel.
    const bevel = Math.atan((m * ty) / Math.hypot(1, m * tx));
    const { skins, rail: size } = design;
    const per = Math.hypot(1, m * tx);
    for (const s of [0, 1e-3, 0.4, 1, 2, 5, 30, way / 2, way - 5, way - 1, way - 0.3, way]) {
      const c = sectionAt(plan, s);
      expect(c.bevel).toBeCloseTo(bevel, 9);
      expect(c.soleBevel).toBeCloseTo(0, 12);
      const depth = low.v + m * c.ribX - skins.deck * Math.hypot(1, m) - skins.bottom;
      expect(c.depth).toBeCloseTo(depth, 8);
      expect(c.gap).toBeCloseTo(depth - size.soleThickness - size.glueLine - (size.capThickness + size.glueLine) * per, 8);
    }
  });

  it('nothing is strained, and nothing is found that will not bend', () => {
    const bending = planBending(plan);
    for (const b of bending) for (const e of b.strain) expect(e).toBeLessThan(1e-9);
    expect(bendingFindings(plan, bending)).toEqual([]);
  });

  it('blocks and outer skins end with the board', () => {
    for (const end of ['tail', 'nose'] as const) {
      const block = blockAt(plan, end);
      expect(block).toBeDefined();
      expect(block?.x0).toBeGreaterThanOrEqual(0);
      expect(block?.x1).toBeLessThanOrEqual(LENGTH + 1e-9);
      expect(end === 'tail' ? block?.x0 : block?.x1).toBeCloseTo(end === 'tail' ? 0 : LENGTH, 9);
      // Its ends lie on the rib-end lines.
      const half = block?.half ?? new Float64Array(0);
      const inset = rail.ribEnd.offset / tx;
      for (let i = 0; i < half.length; i += 2) expect(half[i + 1]).toBeCloseTo(from.y + (half[i] * ty) / tx - inset, 6);
    }
    for (const blank of planBlanks(plan).blanks) expect(blank.length).toBeCloseTo(way, 6);
  });

  it('cover does not change where the box face runs on past the outline\'s own end', () => {
    const { s0, s1 } = rail.cap;
    const at = (s: number) => sectionAt(plan, s).cover;
    for (const [a, b] of [[s0, s0 + 0.5], [s1, s1 - 0.5]]) expect(Math.abs(at(a) - at(b))).toBeLessThan(0.02);
  });

  it('the faces go on beyond the ends as they came', () => {
    for (const x of [-3, -0.1, LENGTH + 0.1, LENGTH + 3]) {
      const p = innerAt(hull.deck, 1, design.skins.deck, x, 40, panelProbe());
      expect(p.z).toBeCloseTo(low.v + m * x - design.skins.deck * Math.hypot(1, m), 8);
      expect(p.zx).toBeCloseTo(m, 9);
    }
  });
});
