/**
 * The rings of the box's parts: that none crosses itself, that planing leaves what its figures say, and that the
 * station card and the solids are of one shape. Areas by hand (provable): a trapezium where planing leaves an edge,
 * a triangle where it cuts through.
 */
import { describe, expect, it } from 'vitest';
import { loopArea } from '../../geometry/curves/polygon';
import { planBoard } from '../../geometry/plan';
import { runOf, sectionDrawing } from '../../geometry/rail/query';
import { rowsAt, solidAt } from '../../geometry/rail/laid';
import { boxRings, tidied, type SectionRing } from '../../geometry/rail/rings';
import { sampleReader } from '../../geometry/rail/samples';
import { meshBoard } from '../../geometry/solid/board';
import { applyReadings, expectedReadings } from '../../geometry/trust/asBuilt';
import { noReadings } from '../../geometry/trust/emptyRecord';
import type { Plan, RailSection, SectionShape } from '../../geometry/types';
import { seedDesign, seedNames } from './boards';

const seeds = seedNames.map((name) => [name, planBoard(seedDesign(name))] as const);
/** Strips so thin between so round a deck and so much vee that planing goes through both along much of the run. */
const thin = seedDesign('round-tail-175.board.json');
const cut = planBoard({
  ...thin, rail: { ...thin.rail, capThickness: 1, soleThickness: 0.3 },
  lines: { ...thin.lines, crown: { ...thin.lines.crown, points: thin.lines.crown.points.map((p) => ({ ...p, v: p.v * 2 })) }, vee: { points: [{ x: 0, v: 0.03 }, { x: 1750, v: 0.03 }] } },
});
const drawn = seeds[0][1];
const made = applyReadings(drawn, {
  ...noReadings(drawn.design.name, drawn.design.revision),
  readings: drawn.rail.ribs.map((rib, i) => {
    const own = expectedReadings(drawn, rib);
    return { of: 'rib' as const, rib: rib.index + 1, side: 'starboard' as const, depth: own.depth + 0.3 * (i % 3), cap: own.cap + 0.2, spacer: own.spacer - 0.1, ...(rib.hasTab ? { tab: own.tab + 0.4 } : {}) };
  }),
}).plan;
const boards = [...seeds, ['a board planed through', cut], ['a board as measured', made]] as const;

/** Turn of a, b, c: positive to the left. */
const turn = (p: Float64Array, a: number, b: number, c: number) =>
  (p[2 * b] - p[2 * a]) * (p[2 * c + 1] - p[2 * a + 1]) - (p[2 * b + 1] - p[2 * a + 1]) * (p[2 * c] - p[2 * a]);

/** Whether two edges of a closed outline cross. */
function crosses(p: Float64Array): boolean {
  const n = p.length / 2;
  for (let i = 0; i < n; i++) {
    for (let j = i + 2; j < n; j++) {
      const [a, b, c, d] = [i, (i + 1) % n, j, (j + 1) % n];
      if (a === d) continue;
      if (turn(p, a, b, c) * turn(p, a, b, d) < 0 && turn(p, c, d, a) * turn(p, c, d, b) < 0) return true;
    }
  }
  return false;
}

const flat = (ring: SectionRing) => Float64Array.from(tidied(ring).flat());

/** The rings that the solids are swept through at a section, as the card has them. */
function swept(plan: Plan, c: RailSection): SectionShape[] {
  const rings = boxRings(runOf(plan), plan.design.rail.outerThickness);
  const { sole, cap } = plan.rail;
  const rows = rowsAt(plan.rail.rows, c.s);
  const inside = (s0: number, s1: number) => c.s >= s0 && c.s <= s1;
  return [
    ...(inside(sole.s0, sole.s1) ? [{ kind: 'sole' as const, order: 0, points: flat(rings.sole(c)) }] : []),
    ...(inside(cap.s0, cap.s1) ? [
      { kind: 'cap' as const, order: 0, points: flat(rings.cap(c)) },
      ...Array.from({ length: rows }, (_, k) => ({ kind: 'row' as const, order: k + 1, points: flat(rings.row(c, k + 1)) })),
      solidAt(plan.rail.ends, c.s) ? { kind: 'block' as const, order: 0, points: flat(rings.tongue(c)) } : { kind: 'hollow' as const, order: 0, points: flat(rings.hollow(c, rows)) },
    ] : []),
    ...Array.from({ length: plan.design.rail.outerLayers }, (_, k) => ({ kind: 'outer-skin' as const, order: k + 1, points: flat(rings.outerSkin(c, k + 1)) })),
  ].filter(({ points }) => points.length > 4);
}

describe.each(boards)('%s', (_name, plan) => {
  const { samples, cap, sole } = plan.rail;
  const places = Array.from(samples.s).flatMap((s, i) => (i % 7 === 0 ? [[s, i] as const] : []));

  it('no ring of the card crosses itself; all run the same way round', () => {
    for (const [s] of places) {
      for (const { kind, points } of sectionDrawing(plan, s).shapes) {
        if (crosses(points)) throw new Error(`${kind} crosses itself at ${s}`);
        expect(loopArea(points)).toBeGreaterThan(0);
      }
    }
  });

  it('card and solids are of one shape to 1e-9 mm', () => {
    const read = sampleReader(samples);
    for (const [s, i] of places) {
      const { section, shapes } = sectionDrawing(plan, s);
      const card = shapes.filter(({ kind }) => !['rib', 'deck-skin', 'bottom-skin'].includes(kind));
      // A sample's slopes come of feet found to 1e-6 mm from another start: where planing runs out is less sharp by that.
      for (const [c, close] of [[section, 1e-9], [read.sample(i), 1e-8]] as const) {
        const solid = swept(plan, c);
        expect(solid.map(({ kind, order }) => [kind, order])).toEqual(card.map(({ kind, order }) => [kind, order]));
        solid.forEach(({ kind, points }, k) => {
          expect(points.length).toBe(card[k].points.length);
          const off = points.reduce((most, v, j) => Math.max(most, Math.abs(v - card[k].points[j])), 0);
          if (!(off < close)) throw new Error(`${kind} at ${s}: ${off}`);
        });
      }
    }
  });

  it('the cap\'s solid has its corners on the outline of the card\'s cap', () => {
    const body = meshBoard(plan).find(({ id }) => id === 'cap-starboard');
    if (!body?.mesh.run) throw new Error('no cap');
    const { positions, run } = body.mesh;
    for (let i = 0; i < run.length; i += 37) {
      // At a square end the solid is sawn off in the plane of the end.
      if (run[i] < 1e-3 || run[i] > plan.rail.face.length - 1e-3) continue;
      const { section: c, shapes } = sectionDrawing(plan, Math.min(cap.s1, Math.max(cap.s0, run[i])));
      const ring = shapes.find(({ kind }) => kind === 'cap')?.points ?? new Float64Array();
      const [o, z] = [(c.ribX - positions[3 * i]) * c.nx + (c.ribY - positions[3 * i + 1]) * c.ny, positions[3 * i + 2]];
      // Corners in line with their neighbours are none on the card: off its outline, then, not off its corners.
      let least = Infinity;
      for (let k = 0; k < ring.length; k += 2) {
        const [a, b] = [[ring[k], ring[k + 1]], [ring[(k + 2) % ring.length], ring[(k + 3) % ring.length]]];
        const along = Math.min(1, Math.max(0, ((o - a[0]) * (b[0] - a[0]) + (z - a[1]) * (b[1] - a[1])) / (Math.hypot(b[0] - a[0], b[1] - a[1]) ** 2 || 1)));
        least = Math.min(least, Math.hypot(a[0] + along * (b[0] - a[0]) - o, a[1] + along * (b[1] - a[1]) - z));
      }
      // Samples are joined straight, and positions held in 24 bits.
      expect(least).toBeLessThan(5e-3);
    }
  });

  it('planing leaves of sole and cap what its figures say', () => {
    const w = plan.design.rail.stripWidth;
    /** Area of a strip `inner` thick at its inner edge, `outer` at its outer: less than nothing where planing comes through before that. */
    const left = (inner: number, outer: number) => (outer < 0 ? (w * inner * inner) / (2 * (inner - outer)) : (w * (inner + outer)) / 2);
    for (const [s] of places) {
      const { section: c, shapes } = sectionDrawing(plan, s);
      const area = (kind: 'sole' | 'cap') => loopArea(shapes.find((shape) => shape.kind === kind)?.points ?? []);
      // Where a cap is as measured it may be proud of the deck at its inner edge: that is planed off all of it.
      const proud = c.planing - w * Math.tan(c.bevel);
      const ofCap = s < cap.s0 || s > cap.s1 ? 0 : left(c.capLeft + c.planing - proud, Math.min(c.capLeft, c.capLeft + c.planing));
      const ofSole = s < sole.s0 || s > sole.s1 ? 0 : left(c.soleLeft + c.solePlaning, Math.min(c.soleLeft, c.soleLeft + c.solePlaning));
      // Where a skin's inner face stands inside the straight pass the strip is relieved to it, by less than the height of the hollow over the whole width.
      const relief = (hollow: number) => w * Math.max(0, hollow) + 1e-6;
      for (const [strip, figure, hollow] of [
        ['cap', ofCap * Math.hypot(1, c.capSlope), -c.deckHollow * Math.hypot(1, c.capSlope)], ['sole', ofSole * Math.hypot(1, c.soleSlope), c.soleHollow * Math.hypot(1, c.soleSlope)],
      ] as const) {
        expect(area(strip)).toBeLessThan(figure + 1e-6);
        expect(area(strip)).toBeGreaterThan(figure - relief(hollow));
      }
    }
  });
});

it('planing goes through the cap of the thin board, and through its sole', () => {
  const { samples, cap } = cut.rail;
  const through = (left: Float64Array) => left.filter((v, i) => v < 0 && samples.s[i] >= cap.s0 && samples.s[i] <= cap.s1).length;
  expect(through(samples.capLeft)).toBeGreaterThan(100);
  expect(through(samples.soleLeft)).toBeGreaterThan(20);
});
