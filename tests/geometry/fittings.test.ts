/** Vent, fitting blocks and the way of the air; templates of the rail round and rocker supports. */
import type { ManifoldToplevel } from 'manifold-3d';
import { intersection, type Geom } from 'polyclip-ts';
import { beforeAll, describe, expect, it } from 'vitest';
import { loopArea } from '../../geometry/curves/polygon';
import type { Design } from '../../geometry/design/schema';
import { airPaths } from '../../geometry/frame/air';
import { blockAt } from '../../geometry/frame/ends';
import { planFittings, ventOf } from '../../geometry/frame/fittings';
import { planFrames } from '../../geometry/frame/frames';
import { planJigs, supportLift } from '../../geometry/frame/jigs';
import { innerAt, panelAt, panelProbe } from '../../geometry/hull/panel';
import { loadMilp, type MilpSolver } from '../../geometry/parts/milp';
import { planBoard } from '../../geometry/plan';
import { planParts } from '../../geometry/planParts';
import { sectionDrawing } from '../../geometry/rail/query';
import { meshBoard } from '../../geometry/solid/board';
import type { Plan } from '../../geometry/types';
import { makePapers } from '../../src/papers/index';
import { loadManifold, manifoldOf } from '../support/kernels';
import { overlapsOf } from '../support/overlaps';
import { mmText } from '../support/said';
import { seedDesign, seedNames } from './boards';

let solver: MilpSolver;
beforeAll(async () => {
  solver = await loadMilp();
});

const CHILD = 'child-155.board.json';
const child = (change: (design: Design) => void) => {
  const design = seedDesign(CHILD);
  change(design);
  return planBoard(design);
};
/** Where a remedy says to move to. */
const movedTo = (advice: string) => {
  const found = /Move it to (\d+) mm from the tail(?:, (\d+) mm to (starboard|port))?/.exec(advice);
  if (!found) throw new Error(advice);
  return { x: Number(found[1]), y: (found[3] === 'port' ? -1 : 1) * Number(found[2] ?? 0) };
};

describe('what is in the way', () => {
  const ribs = seedDesign(CHILD).frames.ribs;

  it('a vent through a rib is said with place and remedy, and the remedy is clear', () => {
    const vent = { x: ribs[3] + 2, y: 40, through: 'deck' as const, diameter: 12 };
    const { findings } = planFittings(child((d) => { d.vent = vent; }));
    expect(findings.map(({ code, level, place }) => [code, level, place?.x])).toEqual([['vent-in-way', 'check', vent.x]]);
    expect(mmText(findings[0].title)).toBe('The vent stands in rib 4');
    const to = movedTo(mmText(findings[0].advice));
    expect(planFittings(child((d) => { d.vent = { ...vent, ...to }; })).findings).toEqual([]);
  });

  it('fittings in the rail, in a rib, in the stringer, beyond the end and too deep, each by name', () => {
    const block = { kind: 'leash' as const, length: 60, width: 40, under: 'deck' as const };
    const plan = child((d) => {
      d.vent = { x: 640, y: 30, through: 'deck', diameter: 10 };
      d.fittings = [
        { ...block, x: 650, y: -215 }, { ...block, kind: 'fin', x: ribs[1], y: 60 }, { ...block, kind: 'handle', x: 830, y: 0 },
        { ...block, x: 1540, y: 0, name: 'Tow loop' }, { ...block, x: 1000, y: 60, depth: 200 },
      ];
    });
    const { findings, fittings } = planFittings(plan);
    const told = findings.map(({ level, title }) => `${level}: ${mmText(title)}`);
    expect(told).toEqual([
      'check: Leash block 1 stands in the rail box', 'check: Fin block stands in rib 2', 'note: Handle block stands in the stringer',
      expect.stringMatching(/^check: Tow loop stands in the (end of the board|nose block)/), 'check: Leash block 3 is deeper than the room between the skins',
    ]);
    expect(fittings.map(({ name }) => name)).toEqual(['Leash block 1', 'Fin block', 'Handle block', 'Tow loop', 'Leash block 3']);
    for (const i of [0, 1, 2]) {
      const to = movedTo(mmText(findings[i].advice));
      const moved = planFittings(child((d) => { d.fittings = [{ ...block, ...to }]; })).findings.filter(({ code }) => code !== 'vent-none');
      expect(moved).toEqual([]);
    }
    // The first lay to port, and stays there.
    expect(movedTo(mmText(findings[0].advice)).y).toBeLessThan(0);
  });

  it('and all other papers come out', async () => {
    const plan = child((d) => {
      d.vent = { x: ribs[2], y: 0, through: 'bottom', diameter: 10 };
      d.fittings = [{ kind: 'fin', x: 30, y: 250, length: 200, width: 100, under: 'bottom' }];
    });
    const parts = await planParts(plan, { solver });
    expect(parts.findings.some(({ code }) => code === 'not-made')).toBe(false);
    expect(parts.findings.filter(({ code }) => code.endsWith('in-way')).length).toBe(2);
    const papers = await makePapers(plan, parts, { date: '2026-11-26', paper: 'A4', units: 'mm', which: ['bench-sheet', 'fittings.csv', 'rail-rounds.svg', 'rocker-supports.dxf'] });
    expect(papers.map(({ id }) => id)).toEqual(['bench-sheet', 'rail-rounds.svg', 'rocker-supports.dxf', 'fittings.csv'].filter((id) => papers.some((paper) => paper.id === id)));
    expect(papers.length).toBe(4);
    const steps = parts.steps.map(({ text }) => mmText(text)).join(' ');
    expect(steps).toContain('Fin block, 200 x 100');
  });
});

describe('as solids', () => {
  let module: ManifoldToplevel;
  beforeAll(async () => {
    module = await loadManifold();
  });
  const ROUND = 'round-tail-175.board.json';
  const round = (fittings: Design['fittings'], vent?: Design['vent']) => planBoard({ ...seedDesign(ROUND), fittings, vent });
  const block = { kind: 'fin' as const, x: 800, y: 60, length: 60, width: 40, under: 'deck' as const };
  const ofFittings = (plan: Plan) => meshBoard(plan).filter(({ kind }) => kind === 'fitting');
  /** What fittings and vent overlap, whatever the plan tells. */
  const meets = (plan: Plan) => overlapsOf(module, plan, meshBoard(plan), /fin-block|vent/).flatMap(({ parts }) => parts.filter((id) => !/fin-block|vent/.test(id)));

  it('are closed, as large as their room, on the skin they are glued under, and named in the files', async () => {
    const plan = round([block, { ...block, x: 900, depth: 10, under: 'bottom' }, { ...block, x: 700, kind: 'leash' }], { x: 1000, y: 60, through: 'deck', diameter: 12 });
    expect(planFittings(plan).findings).toEqual([]);
    const bodies = ofFittings(plan);
    expect(bodies.map(({ id }) => id)).toEqual(['fin-block', 'fin-block-2', 'leash-block', 'vent']);
    const [whole, thin, , vent] = bodies.map(({ mesh }) => manifoldOf(module, mesh));
    expect([whole, thin, vent].map((solid) => [solid.status(), solid.genus()])).toEqual([['NoError', 0], ['NoError', 0], ['NoError', 1]]);
    // From skin to skin: the room over its plan, by the midpoint rule on another grid.
    let room = 0;
    for (let i = 0; i < 30; i++) {
      for (let j = 0; j < 20; j++) {
        const [x, y] = [770 + 2 * i + 1, 40 + 2 * j + 1];
        room += 4 * (innerAt(plan.hull.deck, 1, plan.design.skins.deck, x, y, panelProbe()).z - innerAt(plan.hull.bottom, -1, plan.design.skins.bottom, x, y, panelProbe()).z);
      }
    }
    expect(Math.abs(whole.volume() / room - 1)).toBeLessThan(1e-3);
    expect(thin.volume()).toBeCloseTo(60 * 40 * 10, 0);
    // A washer 12 deep between circles of 16 and 6 (a polygon of 48 corners is 0.3 % less).
    expect(vent.volume() / (12 * Math.PI * (16 ** 2 - 6 ** 2))).toBeCloseTo(1, 2);
    expect(overlapsOf(module, plan)).toEqual([]);
    const parts = await planParts(plan, { solver });
    const ids = ['fin-block', 'fin-block-2', 'leash-block', 'vent'];
    const papers = await makePapers(plan, parts, { date: '2026-11-26', paper: 'A4', units: 'mm', which: ['assembly', ...ids.map((id) => `${id}.stl`)] });
    expect(papers.map(({ id }) => id).sort()).toEqual(['assembly', ...ids.map((id) => `${id}.stl`)].sort());
    const glb = new TextDecoder().decode(papers.find(({ id }) => id === 'assembly')?.bytes);
    for (const id of ids) expect(glb).toContain(`"name":"${id}"`);
    expect(parts.steps.find(({ title }) => title.includes('vent and fittings'))?.places).toContain('fitting');
  });

  it('overlap what the plan says they stand in, by boolean: a rib, the stringer, the rail box, a ring', () => {
    const bare = planBoard(seedDesign(ROUND));
    const rib = bare.rail.ribs[3];
    const ring = blockAt(bare, 'tail');
    if (!ring?.hole) throw new Error('no ring');
    const told = (plan: Plan) => planFittings(plan).findings.filter(({ code }) => code === 'fitting-in-way').map(({ title }) => mmText(title));
    for (const [at, words, part] of [
      [{ x: rib.x, y: 60 }, `Fin block stands in rib ${rib.index + 1}`, `rib-${rib.index + 1}`], [{ x: 800, y: 0 }, 'Fin block stands in the stringer', 'stringer'],
      [{ x: 800, y: bare.rail.ribs[2].ribY - 15 }, 'Fin block stands in the rail box', 'sole-starboard'], [{ x: ring.crown + 45, y: 60 }, 'Fin block stands in the tail block', 'block-tail'],
    ] as const) {
      const plan = round([{ ...block, ...at }]);
      expect(told(plan)).toEqual([words]);
      expect(meets(plan), words).toContain(part);
      // And the test of all boards leaves it out, since it is told.
      expect(overlapsOf(module, plan)).toEqual([]);
    }
  });

  it('a fitting in a ring\'s hole stands free: told so, and by boolean', () => {
    const ring = blockAt(planBoard(seedDesign(ROUND)), 'tail');
    if (!ring?.hole) throw new Error('no ring');
    const x = (ring.crown + 3 * ring.inner) / 4;
    const plan = round([{ ...block, length: 20, width: 20, x, y: 30 }]);
    expect(x).toBeLessThan(ring.inner);
    expect(planFittings(plan).findings.filter(({ code }) => code !== 'vent-none')).toEqual([]);
    expect(meets(plan)).toEqual([]);
    // Solid, the same block has no room for it.
    const solid = planBoard({ ...plan.design, ends: { tail: { block: 'solid', skins: 'wrapped' } } });
    expect(planFittings(solid).findings.map(({ code }) => code)).toContain('fitting-in-way');
    expect(meets(solid)).toContain('block-tail');
  });
});

describe('the way of the air', () => {
  it.each(seedNames)('%s: from every bay to the vent, which is proposed where none is placed', (name) => {
    const plan = planBoard(seedDesign(name));
    const { frames } = planFrames(plan);
    const vent = ventOf(plan);
    expect(vent.proposed).toBe(true);
    expect(planFittings(plan).findings.map(({ code }) => code)).toEqual(['vent-none']);
    const { rooms, findings } = airPaths(plan, frames, vent);
    expect(rooms.length).toBe(2 * (frames.filter(({ kind }) => kind === 'rib').length + 1));
    expect(rooms.filter(({ vented }) => !vented)).toEqual([]);
    expect(findings).toEqual([]);
    // And the proposed place is clear, were it the maker's.
    expect(planFittings(planBoard({ ...seedDesign(name), vent: { x: vent.x, y: vent.y, through: 'deck', diameter: vent.diameter } })).findings).toEqual([]);
  });

  it('stops at a rib without holes: one finding for the rib, with the bays it shuts in', () => {
    const plan = child(() => {});
    const { frames } = planFrames(plan);
    const shut = frames.map((part) => (part.rib === 1 || part.rib === 5 ? { ...part, shape: { ...part.shape, holes: [] } } : part));
    const { rooms, findings } = airPaths(plan, shut, ventOf(plan));
    expect(findings.map(({ title }) => mmText(title))).toEqual([
      'No air passes rib 2: 2 bays toward the tail without a way to the vent', 'No air passes rib 6: 2 bays toward the nose without a way to the vent',
    ]);
    expect(rooms.filter(({ vented }) => !vented).map(({ bay }) => bay)).toEqual([1, 1, 2, 2, 7, 7, 8, 8]);
    expect(findings[0].extent?.until.x).toBe(plan.design.frames.ribs[1]);
    expect(findings[1].extent?.from.x).toBe(plan.design.frames.ribs[5]);
  });

  it('stops at a stringer without holes', () => {
    const plan = child(() => {});
    const { frames } = planFrames(plan);
    const shut = frames.map((part) => (part.kind === 'stringer' ? { ...part, shape: { ...part.shape, holes: [] } } : part));
    const { rooms, findings } = airPaths(plan, shut, ventOf(plan));
    expect(findings.map(({ title }) => mmText(title))).toEqual(['No air passes the stringer: port has no way to the vent']);
    expect(rooms.filter(({ vented }) => !vented).map(({ side }) => side)).toEqual(rooms.filter(({ side }) => side === 'port').map(() => 'port'));
  });
});

const pairs = (loop: ArrayLike<number>): [number, number][] => Array.from({ length: loop.length / 2 }, (_, i) => [loop[2 * i], loop[2 * i + 1]]);
const geom = (loop: ArrayLike<number>): Geom => [pairs(loop)];

describe.each(seedNames)('templates and supports of %s', (name) => {
  const plan = planBoard(seedDesign(name));
  const { rounds, supports } = planJigs(plan);

  it('fit the finished section with no overlap and no gap (polyclip-ts), at every rib and every end of a row', () => {
    expect(rounds.length).toBe(plan.rail.ribs.length + 2 * plan.rail.rows.length);
    for (const { place, shape } of rounds) {
      expect(loopArea(shape.outline)).toBeGreaterThan(0);
      const { finished } = sectionDrawing(plan, place.s ?? 0);
      const section = pairs(finished).filter(([o]) => o >= -30);
      // The finished section is a closed area from the rest's line outboard: none of it is in the template.
      const shared = intersection(geom(shape.outline), [section]).flat().reduce((sum, ring) => sum + Math.abs(loopArea(ring.flat())), 0);
      expect(shared).toBeLessThan(0.01);
      // And the template begins where it ends: each of its points is a corner of the template.
      const corners = new Set(pairs(shape.outline).map((point) => point.join()));
      expect(section.filter((point) => !corners.has(point.join()))).toEqual([]);
    }
  });

  it('stand the board at its rocker: the plate carries at one of its faces', () => {
    const lift = supportLift(plan);
    const half = plan.design.frames.ribThickness / 2;
    expect(supports.length).toBeGreaterThan(2);
    for (const { place, shape } of supports) {
      const edge = pairs(shape.outline).filter(([, z]) => z > 0);
      const low = Math.min(...edge.map(([, z]) => z));
      expect(low).toBeGreaterThan(20);
      for (const [y, z] of edge) {
        const faces = [-half, half].map((d) => panelAt(plan.hull.bottom, place.x + d, Math.abs(y), panelProbe()).z + lift);
        expect(z).toBeLessThan(Math.max(...faces) + 0.05);
        expect(Math.abs(z - Math.min(...faces))).toBeLessThan(0.1);
      }
    }
  });
});
