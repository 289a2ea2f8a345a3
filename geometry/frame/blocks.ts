/** Nose and tail blocks as parts: their plan, size and volume. */
import { innerAt, panelProbe } from '../hull/panel';
import { gauss5 } from '../curves/quadrature';
import type { BlockPart } from './types';
import { mm, said } from '../said';
import type { Finding, Plan } from '../types';
import { blockAt, blockHalf, type BlockPlan } from './ends';

/** Both ends' blocks, tail first, and a note of each with its size. */
export function planBlocks(plan: Plan): { blocks: BlockPart[]; findings: Omit<Finding, 'id'>[] } {
  const blocks: BlockPart[] = [];
  const findings: Omit<Finding, 'id'>[] = [];
  for (const end of ['tail', 'nose'] as const) {
    const at = blockAt(plan, end);
    if (!at) continue;
    const block = blockPart(plan, at);
    blocks.push(block);
    findings.push({
      code: 'block', level: 'note', place: { x: block.inner }, extent: { from: { x: Math.min(block.x0, block.inner) }, until: { x: Math.max(block.x1, block.inner) }, even: true }, figure: block.length, unit: 'mm',
      title: said('The {end} block is {length} long, {width} wide and {depth} deep', { end, length: mm(block.length), width: mm(block.width), depth: mm(block.depth) }),
      advice: block.housesSole
        ? 'Fit it between the skins where sole and cap touch, rebated over the sole that runs on under it.'
        : 'Fit it between the skins, against the ends of the strips and the stringer.',
    });
  }
  return { blocks, findings };
}

/** Heights of the inner faces over a point of the plan. */
function innerFaces({ hull, design: { skins } }: Plan): { top: (x: number, y: number) => number; low: (x: number, y: number) => number } {
  const deck = panelProbe();
  const bottom = panelProbe();
  return { top: (x, y) => innerAt(hull.deck, 1, skins.deck, x, y, deck).z, low: (x, y) => innerAt(hull.bottom, -1, skins.bottom, x, y, bottom).z };
}

/** Volume of a block between the inner faces, both halves, mm3: Gauss's rule in both directions, panel by panel of its plan. */
export function blockVolume(plan: Plan, at: BlockPlan): number {
  const { top, low } = innerFaces(plan);
  const { half } = at;
  let volume = 0;
  for (let i = 2; i < half.length; i += 2) {
    volume += gauss5((x) => 2 * gauss5((y) => Math.max(0, top(x, y) - low(x, y)), 0, blockHalf(at, x)), half[i - 2], half[i]);
  }
  return volume;
}

/** Size of a block: its plan (x, y), the timber box it is cut from, and its volume. */
function blockPart(plan: Plan, at: BlockPlan): BlockPart {
  const { rail } = plan;
  const { top, low } = innerFaces(plan);
  const { half } = at;
  let width = 0;
  let [z0, z1] = [Infinity, -Infinity];
  for (let i = 0; i < half.length; i += 2) {
    width = Math.max(width, 2 * half[i + 1]);
    for (let k = 0; k <= 4; k++) {
      const y = (half[i + 1] * k) / 4;
      z0 = Math.min(z0, low(half[i], y));
      z1 = Math.max(z1, top(half[i], y));
    }
  }
  const loop: number[] = [];
  for (let i = 0; i < half.length; i += 2) loop.push(half[i], -half[i + 1]);
  for (let i = half.length - 2; i >= 0; i -= 2) loop.push(half[i], half[i + 1]);
  const { sole, cap } = rail;
  return {
    end: at.end, x0: at.x0, x1: at.x1, inner: at.inner, length: at.x1 - at.x0, width, depth: z1 - z0, volume: blockVolume(plan, at),
    housesSole: cap.s1 > cap.s0 && (at.end === 'tail' ? sole.s0 < cap.s0 - 1 : sole.s1 > cap.s1 + 1),
    plan: { outline: Float64Array.from(loop), holes: [], marks: [] },
  };
}
