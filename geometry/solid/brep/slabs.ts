/** The skins as solids: the outside on the panel, the inside on its true offset, and the edge between them. */
import { roundPoint } from '../../hull/station';
import { frameAt, planeFrame } from '../../curves/plane';
import { landingAt } from '../../frame/ends';
import { runOf } from '../../rail/query';
import { skinSpan } from '../../rail/laid';
import { boxOnRun } from '../../rail/run';
import type { Plan } from '../../types';
import { skinAcross } from '../skin';
import { fitRows, surfaceOf } from './fit';
import { borders, gone, lineBetween, ShellBuilder, wallBetween, wayAlong, type Brep } from './shell';

/** Steps across half a skin, a multiple of five for `innerAcross`, and the points on them. */
const STEPS = 10;
const COLUMNS = STEPS + 1;

/** A stretch of a skin's edge: its point at a parameter, and how it is fitted. */
interface EdgeStretch {
  readonly t0: number;
  readonly t1: number;
  readonly step: number;
  readonly at: (t: number) => readonly [number, number];
}

/** A skin over the plan between the centreline and its edge, both halves. */
function slab(plan: Plan, id: 'deck-skin' | 'bottom-skin', stretches: readonly EdgeStretch[]): Brep {
  const face = id === 'deck-skin' ? 1 : -1;
  const { outside, inside } = skinAcross(plan, face, STEPS);
  const [outer, inner] = [new Float64Array(COLUMNS), new Float64Array(COLUMNS)];
  /** Outside and inside, centreline to edge. */
  const row = ([x, y]: readonly [number, number]): Float64Array => {
    outside(x, y, outer);
    inside(x, y, inner);
    const out = new Float64Array(6 * COLUMNS);
    [...outer, ...inner].forEach((z, j) => out.set([x, (y * (j % COLUMNS)) / STEPS, z], 3 * j));
    return out;
  };
  const shell = new ShellBuilder();
  const edges: { x: number; y: number; ways: ReturnType<typeof wayAlong>[] }[] = [];
  stretches.forEach(({ t0, t1, step, at }, i) => {
    const spline = fitRows((t) => row(at(t)), t0, t1, { step, least: step / 64, tolerance: 2e-3 });
    const [top, under] = [surfaceOf(spline, 0, COLUMNS), surfaceOf(spline, COLUMNS, COLUMNS)];
    shell.patch(top, face === 1, true);
    shell.patch(under, face === -1, true);
    // The edge between them, square-cut.
    shell.patch(wallBetween(borders(top).v1, borders(under).v1), face === 1, true);
    for (const end of ['u0', 'u1'] as const) {
      if ((end === 'u0' && i > 0) || (end === 'u1' && i < stretches.length - 1)) continue;
      const [x, y] = at(end === 'u0' ? t0 : t1);
      if (!(y > 0)) continue;
      const [a, b] = [borders(top)[end], borders(under)[end]];
      const line = lineBetween(Array.from(a.points.subarray(-3)), Array.from(b.points.subarray(-3)));
      const way = [wayAlong(a), wayAlong(line), wayAlong(b, false)];
      edges.push({ x, y, ways: face === 1 ? gone(way) : way });
    }
  });
  for (const { x, ways } of edges) shell.acrossEnd(ways, x, x > plan.hull.length / 2 ? 1 : -1);
  return shell.build(id, id, 'centre');
}

/** Deck and bottom skin, each to be made by itself: one that comes to nothing within its outline throws a RangeError. */
export function skinBreps(plan: Plan): { readonly id: string; readonly make: () => Brep }[] {
  const { hull, rail } = plan;
  const { knots } = hull.outline;
  const last = knots[knots.length - 1];
  const p = new Float64Array(3);
  const shoulder: EdgeStretch = {
    t0: knots[0], t1: last, step: 60,
    at: (u) => {
      roundPoint(hull, u, 1, p);
      return [p[0], Math.max(0, p[1])];
    },
  };
  const run = runOf(plan);
  const { s0, s1 } = skinSpan(rail);
  const face: EdgeStretch = {
    t0: s0, t1: s1, step: 60,
    at: (s) => {
      const { x, y } = boxOnRun(run, s);
      return [x, Math.max(0, y)];
    },
  };
  const beyond = (end: 'tail' | 'nose'): EdgeStretch[] => {
    const s = rail.ends[end]?.skinsTo;
    if (s === undefined) return [];
    const { face: inner, outline, u } = landingAt(plan, s);
    const frame = planeFrame();
    const way = end === 'tail' ? -1 : 1;
    // Tail to nose: the step in, or out, is straight.
    const step = (t: number): readonly [number, number] => [inner[0] + t * (outline[0] - inner[0]), inner[1] + t * (outline[1] - inner[1])];
    const rest: EdgeStretch = {
      t0: way === 1 ? u : knots[0], t1: way === 1 ? last : u, step: 30,
      at: (t) => {
        const { x, y } = frameAt(hull.outline, t, frame);
        return [x, Math.max(0, y)];
      },
    };
    const over: EdgeStretch = { t0: 0, t1: 1, step: 1, at: (t) => step(way === 1 ? t : 1 - t) };
    return way === 1 ? [over, rest] : [rest, over];
  };
  return [
    { id: 'bottom-skin', make: () => slab(plan, 'bottom-skin', [...beyond('tail'), face, ...beyond('nose')]) },
    { id: 'deck-skin', make: () => slab(plan, 'deck-skin', [shoulder]) },
  ];
}
