/** Outer skins that butt on an end's block, which reaches to the finished outline there: against manifold-3d, polygons of the outline's parallels, and the same board with its skins wrapped. */
import { beforeAll, describe, expect, it } from 'vitest';
import { frameAt, planeFrame } from '../../geometry/curves/plane';
import type { Design } from '../../geometry/design/schema';
import { blockAt } from '../../geometry/frame/ends';
import { planFrames } from '../../geometry/frame/frames';
import { bendingFindings, planBending } from '../../geometry/parts/bending';
import { planBlanks } from '../../geometry/parts/blanks';
import { layerInset } from '../../geometry/parts/develop';
import { glueAreas } from '../../geometry/parts/glue';
import { timberVolumes } from '../../geometry/parts/volumes';
import { planBoard } from '../../geometry/plan';
import { planParts } from '../../geometry/planParts';
import { allFindings, decisionsOf, numbered } from '../../geometry/rail/decisions';
import { runOf, sectionDrawing } from '../../geometry/rail/query';
import { proposing, type ProposalOptions } from '../../geometry/search/proposals';
import { hullMesh, meshBoard } from '../../geometry/solid/board';
import type { Finding, Plan } from '../../geometry/types';
import { railEvents } from '../../src/papers/railTables';
import { loadManifold, manifoldOf } from '../support/kernels';
import { mmText } from '../support/said';
import { seedDesign } from './boards';

let module: Awaited<ReturnType<typeof loadManifold>>;
beforeAll(async () => {
  module = await loadManifold();
});

const atEnds = (name: string, block: 'ring' | 'solid', skins: 'wrapped' | 'butted'): Design => ({ ...seedDesign(name), ends: { tail: { block, skins }, nose: { block, skins } } });
const ROUND = 'round-tail-175.board.json';
/** A body of a board by its id. */
const solidOf = (plan: Plan, id: string) => {
  const body = meshBoard(plan).find((one) => one.id === id);
  if (!body) throw new Error(`no ${id}`);
  return manifoldOf(module, body.mesh);
};

describe.each([[ROUND, 'ring'], ['long-275.board.json', 'ring']] as const)('%s, %s, skins butted at both ends', (name, block) => {
  const [wrapped, plan] = [planBoard(atEnds(name, block, 'wrapped')), planBoard(atEnds(name, block, 'butted'))];
  const ends = (['tail', 'nose'] as const).map((end) => {
    const ended = plan.rail.ends[end];
    const at = blockAt(plan, end);
    if (!ended?.skinsTo || !at?.landing) throw new Error(`no landing at the ${end}`);
    return { end, ended, at, skinsTo: ended.skinsTo };
  });

  it('the skins lap the block\'s side by 30 mm and end where no sole lies beyond; all else of the rail is as it was', () => {
    for (const { end, ended, skinsTo } of ends) {
      const lap = end === 'tail' ? ended.s - skinsTo : skinsTo - ended.s;
      expect(lap).toBeGreaterThanOrEqual(30 - 1e-9);
      expect(end === 'tail' ? plan.rail.sole.s0 - skinsTo : skinsTo - plan.rail.sole.s1).toBeGreaterThanOrEqual(-1e-9);
    }
    expect(plan.rail.cap).toEqual(wrapped.rail.cap);
    expect(plan.rail.range.cover).toEqual(wrapped.rail.range.cover);
    const told = (of: Plan) => of.findings.filter(({ code }) => code !== 'block').map(({ code, level }) => `${code} ${level}`);
    expect(told(plan)).toEqual(told(wrapped));
  });

  // Provable: the layer's middle lies on the outline's parallel; 4000 chords miss its length by less than a hundredth of a millimetre.
  it('each blank is shorter by what it no longer covers', () => {
    const [before, after] = [planBlanks(wrapped).blanks, planBlanks(plan).blanks];
    const { outline } = plan.hull;
    const [u0, u1] = [outline.knots[0], outline.knots[outline.knots.length - 1]];
    before.forEach((blank, i) => {
      const inset = layerInset(plan, i + 1);
      const left = ends.reduce((sum, { end, skinsTo }) => {
        const [from, to] = end === 'tail' ? [u0, runOf(plan).map.parameterAt(skinsTo)] : [runOf(plan).map.parameterAt(skinsTo), u1];
        const points = Array.from({ length: 4001 }, (_, k) => {
          const f = frameAt(outline, from + ((to - from) * k) / 4000, planeFrame());
          return [f.x + inset * f.nx, f.y + inset * f.ny];
        }).filter(([, y]) => y >= 0);
        // A square end's parallel goes on straight to the plane of the board's end.
        const corner = frameAt(outline, end === 'tail' ? u0 : u1, planeFrame());
        const on = plan.rail.face[end].kind === 'open' ? Math.abs((inset * corner.nx) / corner.tx) : 0;
        return sum + on + points.slice(1).reduce((all, [x, y], k) => all + Math.hypot(x - points[k][0], y - points[k][1]), 0);
      }, 0);
      // A chord over the centreline, where a parallel is trimmed, is left out: half a step.
      expect(Math.abs(blank.length - after[i].length - left)).toBeLessThan(0.1);
      expect(after[i].pieces.every(({ wraps }) => wraps === undefined)).toBe(true);
    });
  });

  it('every part is one whole solid, and the block fills what the skins have left between the panels', () => {
    for (const body of meshBoard(plan)) if (['block', 'outer-skin', 'bottom-skin'].includes(body.kind)) {
      const solid = manifoldOf(module, body.mesh);
      expect([body.id, solid.status(), solid.genus()]).toEqual([body.id, 'NoError', 0]);
    }
    for (const { end } of ends) {
      const [now, was] = [plan, wrapped].map((of) => solidOf(of, `block-${end}`));
      const skins = meshBoard(wrapped).filter(({ kind }) => kind === 'outer-skin').reduce((sum, { mesh }) => sum + manifoldOf(module, mesh).intersect(now).volume(), 0);
      expect(now.volume()).toBeGreaterThan(was.volume());
      // Facets of box face and outline: a hundredth of a millimetre over the block's side.
      expect(Math.abs((now.volume() - was.volume()) / skins - 1)).toBeLessThan(0.01);
    }
  });

  it('weighs the blocks as shaped: what the hull leaves of their solids', () => {
    const hull = manifoldOf(module, hullMesh(plan, 240));
    const left = meshBoard(plan).filter(({ kind }) => kind === 'block').reduce((sum, { mesh }) => sum + manifoldOf(module, mesh).intersect(hull).volume(), 0);
    const rough = planFrames(plan).blocks.reduce((sum, { volume }) => sum + volume, 0);
    const { blocks } = timberVolumes(plan);
    expect(blocks).toBeLessThan(rough);
    expect(Math.abs(blocks / left - 1)).toBeLessThan(3e-3);
  });

  it('skins and block share all timber between box face and outline', () => {
    const [a, b] = [wrapped, plan].map((of) => timberVolumes(of));
    expect(b.outerSkins).toBeLessThan(a.outerSkins);
    // Bottom skin under the block, where a wrapped skin reaches down over its edge: nothing comes or goes.
    expect(Math.abs((b.outerSkins + b.blocks + b.bottomSkin) / (a.outerSkins + a.blocks + a.bottomSkin) - 1)).toBeLessThan(1e-4);
  });

  it('glues a butt at each landing, and less skin', () => {
    const areas = [wrapped, plan].map((of) => glueAreas(of, planBending(of)));
    expect(areas[1].outerSkins).toBeLessThan(areas[0].outerSkins);
    expect(areas[1].blocks).toBeGreaterThan(areas[0].blocks);
    for (const { landing } of planFrames(plan).blocks) expect(landing).toBeDefined();
    for (const { ended, end, skinsTo } of ends) {
      expect(sectionDrawing(plan, skinsTo + (end === 'tail' ? -1 : 1)).shapes.some(({ kind }) => kind === 'outer-skin')).toBe(false);
      expect(sectionDrawing(plan, (ended.s + skinsTo) / 2).shapes.some(({ kind }) => kind === 'outer-skin')).toBe(true);
    }
  });
});

it('the round tail builds as listed with its skins butted at the tail: every paper, no decision', async () => {
  const plan = planBoard({ ...seedDesign(ROUND), ends: { tail: { block: 'ring', skins: 'butted' }, nose: { block: 'ring', skins: 'wrapped' } } });
  const parts = await planParts(plan);
  expect(decisionsOf(allFindings(plan, parts), plan.hull.length).map(({ cause }) => cause)).toEqual([]);
  expect(parts.findings.filter(({ code }) => code === 'not-made')).toEqual([]);
  expect(railEvents(plan, parts).filter(({ what }) => what === 'Outer skins: butt on the tail block').map(({ s }) => s)).toEqual([plan.rail.ends.tail?.skinsTo]);
  const said = parts.steps.flatMap(({ text, checks }) => [mmText(text), ...checks.map(({ what }) => mmText(what))]).join('\n');
  expect(said).toContain('Landing of the outer skins on the tail block');
  expect(said).toContain('butt on the block\'s landing');
});

describe('offers', () => {
  const more: NonNullable<ProposalOptions['more']> = (plan) => numbered(bendingFindings(plan, planBending(plan)));
  const offersFor = (plan: Plan, finding: Finding) => {
    const asked = proposing(plan, finding, { more });
    for (let step = asked.next(); ; step = asked.next()) if (step.done) return step.value;
  };

  it('skins that no method brings round the tail are offered a butt on its block, which clears it', () => {
    const design = seedDesign(ROUND);
    const plan = planBoard({ ...design, methods: { skins: { tail: 'wet' } } });
    const [tight] = more(plan);
    expect([tight.code, tight.strip?.kind]).toEqual(['will-not-bend', 'outer-skin']);
    const butt = offersFor(plan, tight).find(({ design: { ends } }) => ends?.tail?.skins === 'butted');
    expect(butt?.clears).toBe(true);
    expect(butt && mmText(butt.title)).toBe('The outer skins butted on the tail block');
    expect(butt && more(planBoard(butt.design))).toEqual([]);
  });

  it('a block too short to lap and butt on says so, and is offered skins that go round it', () => {
    const plan = planBoard(atEnds('child-155.board.json', 'solid', 'butted'));
    const [tail, nose] = ['tail', 'nose'].map((end) => plan.findings.find(({ code, place }) => code === 'skins-run-on' && place && (place.x < plan.hull.length / 2) === (end === 'tail')));
    if (!tail || !nose) throw new Error('not said');
    expect(plan.rail.ends.tail?.skinsTo).toBeUndefined();
    expect(offersFor(plan, tail).map(({ clears, design: { ends } }) => [clears, ends?.tail?.skins, ends?.nose?.skins])).toEqual([[true, 'wrapped', 'butted']]);
  });
});
