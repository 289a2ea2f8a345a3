/** What an end's block is drawn and shaped to, full size: its plan, its profile on the centreline, and two sections. */
import { loopArea, reversed } from '../curves/polygon';
import { innerAt, panelProbe } from '../hull/panel';
import { boxRings, type SectionRing } from '../rail/rings';
import { boxOnRun } from '../rail/run';
import { runOf } from '../rail/query';
import type { Plan } from '../types';
import { blockAt, halfAt, type BlockPlan } from './ends';
import { labelIn } from './label';
import { layersOf } from './layers';
import type { FlatShape, JigPart } from './types';

/** Points along a profile or across half a section. */
const POINTS = 24;
/** How far a mark runs either way of a rebate's end, mm. */
const TICK = 6;
/** A block no longer than this along the board is faired from its inner face to its end by eye, mm: own choice. */
const SHORT = 100;

const ccw = (loop: Float64Array): Float64Array => (loopArea(loop) < 0 ? reversed(loop) : loop);

/** Pairs (x, y) as (y, x). */
const upright = (pairs: Float64Array): Float64Array => pairs.map((_, i) => pairs[i % 2 === 0 ? i + 1 : i - 1]);

/** A block's outline in plan, (x, y) pairs counter-clockwise; a ring's goes round its hole, which is open toward the board. */
export function planLoop({ half, hole, end }: BlockPlan): Float64Array {
  const pairs = (line: Float64Array, side: 1 | -1) => Array.from({ length: line.length / 2 }, (_, i): [number, number] => [line[2 * i], side * line[2 * i + 1]]);
  const [port, starboard] = [pairs(half, -1), pairs(half, 1).reverse()];
  // Toward the nose along port, back along starboard: a tail's hole is met at the nose's end of that way, a nose's at its end.
  const [near, far] = end === 'tail' ? [-1 as const, 1 as const] : [1 as const, -1 as const];
  const rim = !hole ? [] : end === 'tail'
    ? [...pairs(hole, near).reverse(), ...pairs(hole, far).slice(1)]
    : [...pairs(hole, near), ...pairs(hole, far).reverse().slice(1)];
  return Float64Array.from((end === 'tail' ? [...port, ...rim, ...starboard] : [...port, ...starboard, ...rim]).flat());
}

/** Where sole and cap lie in their rebates beside a block: lines of the tongue's two edges and its end, both sides. */
function tongueMarks(plan: Plan, { beside }: BlockPlan): FlatShape['marks'] {
  const run = runOf(plan);
  return beside.flatMap(({ kind, s0, s1 }) => [1, -1].flatMap((side) => {
    const [rib, face]: [number[], number[]] = [[], []];
    for (let i = 0; i <= POINTS; i++) {
      const c = boxOnRun(run, s0 + ((s1 - s0) * i) / POINTS);
      rib.push(c.ribX, side * c.ribY);
      face.push(c.x, side * c.y);
    }
    const inner = kind === 'tongue' ? face.slice(-2).concat(rib.slice(-2)) : [];
    const outer = face.slice(0, 2).concat(rib.slice(0, 2));
    return [rib, face, inner, outer].filter((line) => line.length > 3).map((points) => ({ kind: 'line' as const, points: Float64Array.from(points) }));
  }));
}

/** Where the pieces of a ring's layers meet: odd layers' joints right across it, even layers', half a piece on, as ticks at its two edges. */
function ringJoints(plan: Plan, at: BlockPlan): FlatShape['marks'] {
  const [odd = [], even = []] = layersOf(plan, at).pieces?.joints ?? [];
  return [
    ...odd.map((points, i) => ({ kind: 'line' as const, points, ...(i === 0 ? { text: 'ODD LAYERS' } : {}) })),
    ...even.flatMap(([ax, ay, bx, by], i) => {
      const t = Math.min(0.3, TICK / Math.hypot(bx - ax, by - ay));
      return [[ax, ay, ax + t * (bx - ax), ay + t * (by - ay)], [bx, by, bx + t * (ax - bx), by + t * (ay - by)]]
        .map((line, k) => ({ kind: 'tick' as const, points: Float64Array.from(line), ...(i === 0 && k === 0 ? { text: 'EVEN' } : {}) }));
    }),
  ];
}

/** A template of one block: named, of one end, at a station. */
const part = (end: string, what: string, label: string, x: number, shape: FlatShape): JigPart => ({ id: `block-${end}-${what}`, label, place: { x }, shape });

/** Templates of both ends' blocks: plan with the strips' rebates, profile on the centreline, sections at the inner face and midway. */
export function blockTemplates(plan: Plan): JigPart[] {
  const { hull, design } = plan;
  const [deck, bottom] = [panelProbe(), panelProbe()];
  const low = (x: number, y: number) => innerAt(hull.bottom, -1, design.skins.bottom, x, Math.abs(y), bottom).z;
  const high = (x: number, y: number) => Math.max(low(x, y), innerAt(hull.deck, 1, design.skins.deck, x, Math.abs(y), deck).z);
  return (['tail', 'nose'] as const).flatMap((end) => {
    const at = blockAt(plan, end);
    if (!at) return [];
    const tail = end === 'tail';
    const name = tail ? 'Tail block' : 'Nose block';
    const { half, hole, inner } = at;
    const [x0, x1] = [half[0], half[half.length - 2]];
    const tip = tail ? x0 : x1;
    // Nose up, starboard to the right: alike on both sides of the centreline, as the sections are.
    const lying: FlatShape = {
      outline: ccw(upright(planLoop(at))), holes: [],
      marks: [{ kind: 'line' as const, points: Float64Array.from([x0, 0, x1, 0]), text: 'CENTRELINE' }, ...tongueMarks(plan, at), ...ringJoints(plan, at)].map((mark) => ({ ...mark, points: upright(mark.points) })),
    };
    // Bottom edge out, deck edge back: the whole profile, where a ring has its hole too, since skins run on over it.
    const along = Array.from({ length: POINTS + 1 }, (_, i) => x0 + ((x1 - x0) * i) / POINTS);
    const profile: FlatShape = {
      outline: ccw(Float64Array.from([...along.flatMap((x) => [x, low(x, 0)]), ...along.slice().reverse().flatMap((x) => [x, high(x, 0)])])), holes: [],
      marks: hole ? [{ kind: 'line', points: Float64Array.from([at.crown, low(at.crown, 0), at.crown, high(at.crown, 0)]), text: 'INSIDE OF RING' }] : [],
    };
    const section = (x: number, what: string, label: string): JigPart => {
      const breadth = halfAt(half, x);
      const ys = Array.from({ length: 2 * POINTS + 1 }, (_, i) => breadth * (i / POINTS - 1));
      const gap = hole && x >= hole[0] && x <= hole[hole.length - 2] ? halfAt(hole, x) : 0;
      const sides = gap > 0 ? [gap, -gap].map((y) => ({ kind: 'line' as const, points: Float64Array.from([y, low(x, y), y, high(x, y)]) })) : [];
      return part(end, what, label, x, {
        outline: ccw(Float64Array.from([...ys.flatMap((y) => [y, low(x, y)]), ...ys.slice().reverse().flatMap((y) => [y, high(x, y)])])), holes: [],
        marks: [{ kind: 'tick', points: Float64Array.from([0, low(x, 0), 0, low(x, 0) + TICK]) }, ...sides],
      });
    };
    const rebates = at.beside.some(({ kind }) => kind === 'tongue') ? [tongueEnd(plan, at, `${name}: tongue at the strips' end, square to the rail`)] : [];
    const named = (what: JigPart): JigPart => {
      const box = [0, 1].map((axis) => what.shape.outline.filter((_, i) => i % 2 === axis));
      const [a, b] = box.map((list) => [Math.min(...list), Math.max(...list)]);
      const third = (b[1] - b[0]) / 3;
      return { ...what, shape: { ...what.shape, marks: [...what.shape.marks, ...labelIn([what.label.toUpperCase()], a[0] + (a[1] - a[0]) * 0.3, b[0] + third, a[0] + (a[1] - a[0]) * 0.7, b[1] - third)] } };
    };
    // Where the sides' strips meet the inner face has no breadth: the section is taken where the block has some.
    const face = tail ? Math.min(inner, x1) : Math.max(inner, x0);
    return [
      part(end, 'plan', `${name}, plan`, inner, lying),
      named(part(end, 'profile', `${name}, profile on the centreline`, inner, profile)),
      ...(halfAt(half, face) > TICK ? [named(section(face, 'inner', `${name}, section at the inner face`))] : []),
      ...(x1 - x0 > SHORT ? [named(section((face + tip) / 2, 'middle', `${name}, section midway`))] : []),
      ...rebates,
    ];
  });
}

/** The tongue's end as the strips meet it: its section between the rebates, with sole and cap drawn over and under. */
function tongueEnd(plan: Plan, { end, beside }: BlockPlan, label: string): JigPart {
  const run = runOf(plan);
  const rings = boxRings(run, plan.design.rail.outerThickness);
  const [{ s0, s1 }] = beside;
  const c = boxOnRun(run, end === 'tail' ? s0 : s1);
  const closed = (ring: SectionRing) => Float64Array.from([...ring, ring[0]].flat());
  return part(end, 'tongue', label, c.x, {
    outline: ccw(Float64Array.from(rings.tongue(c).flat())), holes: [],
    marks: [rings.sole(c), rings.cap(c)].map((ring) => ({ kind: 'line', points: closed(ring) })),
  });
}
