/** Nose and tail blocks as parts: their plan, size and volume. */
import { innerAt, panelProbe } from '../hull/panel';
import { loopArea, loopMoment } from '../curves/polygon';
import { gauss5, GAUSS5_W, GAUSS5_X } from '../curves/quadrature';
import { runOf } from '../rail/query';
import { boxRings } from '../rail/rings';
import type { BlockPart } from './types';
import { mm, said, size } from '../said';
import type { Finding, Plan } from '../types';
import { planLoop } from './blockTemplates';
import { layersOf } from './layers';
import { blockAt, halfAt, holeAt, type BesideBlock, type BlockPlan } from './ends';
import { CLOSELY, type Weighing } from './weighing';

/** Length of Gauss's panels along what a block has beside it, in steps of the weighing. */
const BESIDE_STEPS = 4;

/** Both ends' blocks, tail first, and a note of each with its size. */
export function planBlocks(plan: Plan): { blocks: BlockPart[]; findings: Omit<Finding, 'id'>[] } {
  const blocks: BlockPart[] = [];
  const findings: Omit<Finding, 'id'>[] = [];
  for (const end of ['tail', 'nose'] as const) {
    const at = blockAt(plan, end);
    if (!at) continue;
    const block = blockPart(plan, at);
    blocks.push(block);
    const { pieces } = block.layers;
    if (pieces?.widest !== undefined) {
      findings.push({
        code: 'ring-wide', level: 'check', place: { x: block.inner }, figure: pieces.board, limit: pieces.widest, unit: 'mm',
        title: said('The {end} ring wants boards {board} wide for its pieces; the widest are {widest}', { end, board: mm(pieces.board), widest: size(pieces.widest) }),
        advice: 'Make the ring narrower, enter a wider plank, or edge-glue two.',
      });
    }
    findings.push({
      code: 'block', level: 'note', place: { x: block.inner }, extent: { from: { x: Math.min(block.x0, block.inner) }, until: { x: Math.max(block.x1, block.inner) }, even: true }, figure: block.length, unit: 'mm',
      title: said('The {end} block is {length} long, {width} wide and {depth} deep', { end, length: mm(block.length), width: mm(block.width), depth: mm(block.depth) }),
      advice: block.landing !== undefined ? said('Fit it between the skins, shaped to the finished outline; the outer skins butt on its landing, {landing} from the {end}.', {
        landing: mm(end === 'tail' ? block.landing : plan.hull.length - block.landing), end,
      })
      : block.housesSole ? 'Fit it between the skins where sole and cap touch, rebated over the sole that runs on under it.'
      : 'Fit it between the skins, against the ends of the strips and the stringer.',
    });
  }
  return { blocks, findings };
}

/** Heights of the inner faces over a point of the plan. */
function innerFaces({ hull, design: { skins } }: Plan, inner = innerAt): { top: (x: number, y: number) => number; low: (x: number, y: number) => number } {
  const deck = panelProbe();
  const bottom = panelProbe();
  return { top: (x, y) => inner(hull.deck, 1, skins.deck, x, y, deck).z, low: (x, y) => inner(hull.bottom, -1, skins.bottom, x, y, bottom).z };
}

/** Stations of two lines of a block's plan, rising, each once. */
function stationsOf(...lines: readonly (Float64Array | undefined)[]): Float64Array {
  const of = new Float64Array(lines.reduce((sum, line) => sum + (line?.length ?? 0) / 2, 0));
  let n = 0;
  for (const line of lines) for (let i = 0; line && i < line.length; i += 2) of[n++] = line[i];
  of.sort();
  return of.filter((s, i) => i === 0 || s !== of[i - 1]);
}

/** A volume, mm3, and its moment about the tail, mm4. */
interface Weighed {
  readonly volume: number;
  readonly moment: number;
}

/**
 * What a block has beside its body, one side: sections carried along the run (Pappus). At a square end it is sawn off in
 * the board's end: the section there goes on as far as its middle lies inside that plane.
 */
function weighBeside(plan: Plan, { kind, s0, s1 }: BesideBlock, how: Weighing): Weighed {
  const section = how.section(plan);
  const { rail, hull, design } = plan;
  const ring = boxRings(runOf(plan), design.rail.outerThickness)[kind];
  /** The section's area and the inset of its middle at a run: as it is there, read before the next. */
  const at = (s: number) => {
    const c = section(s);
    const corners = ring(c).flat();
    const area = loopArea(corners);
    return { c, area: Math.abs(area), inset: design.rail.stripWidth - (area === 0 ? design.rail.stripWidth / 2 : loopMoment(corners) / area) };
  };
  const n = Math.max(1, Math.ceil((s1 - s0) / (BESIDE_STEPS * how.step)));
  let [volume, moment] = [0, 0];
  for (let i = 0; i < n; i++) {
    const h = (s1 - s0) / n;
    for (let k = 0; k < 5; k++) {
      const { c, area, inset } = at(s0 + h * (i + GAUSS5_X[k]));
      const cell = GAUSS5_W[k] * h * area * (1 - c.kappa * inset);
      volume += cell;
      moment += cell * (c.x + inset * c.nx);
    }
  }
  for (const [end, s, way, x] of [['tail', s0, 1, 0], ['nose', s1, -1, hull.length]] as const) {
    if (rail.face[end].kind !== 'open' || Math.abs(s - (end === 'tail' ? 0 : rail.face.length)) > 1e-6) continue;
    const { c, area, inset } = at(s);
    const cell = (area * way * (c.x + inset * c.nx - x)) / c.tx;
    volume += cell;
    moment += (cell * (c.x + inset * c.nx + x)) / 2;
  }
  return { volume, moment };
}

/**
 * Volume of a block, both halves: its body between the inner faces by Gauss's rule in both directions, panel by panel of
 * its plan, and what it has beside it; and the volume of its tongues alone.
 */
export function weighBlock(plan: Plan, at: BlockPlan, how = CLOSELY): { readonly whole: Weighed; readonly tongues: number } {
  const { top, low } = innerFaces(plan, how.inner);
  const depth = (x: number, from: number, to: number) => gauss5((y) => Math.max(0, top(x, y) - low(x, y)), from, to);
  const ends = new Set([...at.corners, ...[at.body, at.hole].flatMap((line) => (line ? [line[0], line[line.length - 2]] : []))]);
  const x: number[] = [];
  for (const s of stationsOf(at.body, at.hole)) if (x.length === 0 || ends.has(s) || s - x[x.length - 1] >= how.block) x.push(s);
  let [volume, moment, tongues] = [0, 0, 0];
  for (let i = 1; i < x.length; i++) {
    const h = x[i] - x[i - 1];
    for (let k = 0; k < 5; k++) {
      const s = x[i - 1] + h * GAUSS5_X[k];
      const cell = GAUSS5_W[k] * h * 2 * depth(s, holeAt(at, s), halfAt(at.body, s));
      volume += cell;
      moment += cell * s;
    }
  }
  for (const piece of at.beside) {
    const own = weighBeside(plan, piece, how);
    volume += 2 * own.volume;
    moment += 2 * own.moment;
    if (piece.kind === 'tongue') tongues += 2 * own.volume;
  }
  return { whole: { volume, moment }, tongues };
}

/**
 * Surface of a block that is glued when it is set, both sides, mm2: to the two skins, to the outer skins along its side
 * and on its landing, and under and over the strips in their rebates. The glue between its own layers is not in it.
 */
function gluedArea(plan: Plan, at: BlockPlan): number {
  const { top, low } = innerFaces(plan);
  const { half } = at;
  const x = stationsOf(half, at.hole);
  let area = 0;
  for (let i = 1; i < x.length; i++) area += gauss5((s) => 4 * (halfAt(half, s) - holeAt(at, s)), x[i - 1], x[i]);
  for (let i = 2; i < half.length; i += 2) {
    const [xa, ya, xb, yb] = [half[i - 2], half[i - 1], half[i], half[i + 1]];
    // Beyond a landing its side is the board's own.
    if (at.landing && (at.end === 'tail' ? xb <= at.landing.outline + 1e-6 : xa >= at.landing.outline - 1e-6)) continue;
    const depth = Math.max(0, top((xa + xb) / 2, (ya + yb) / 2) - low((xa + xb) / 2, (ya + yb) / 2));
    area += 2 * Math.hypot(xb - xa, yb - ya) * depth;
  }
  // A tongue bears on both strips, what stands over a sole on that one.
  return area + at.beside.reduce((sum, { kind, s0, s1 }) => sum + (kind === 'tongue' ? 4 : 2) * (s1 - s0) * plan.design.rail.stripWidth, 0);
}

/** Size of a block: its plan (x, y), the timber box it is cut from, and its volume. */
function blockPart(plan: Plan, at: BlockPlan): BlockPart {
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
  return {
    end: at.end, shape: at.hole ? 'ring' : 'solid', x0: at.x0, x1: at.x1, inner: at.inner, length: at.x1 - at.x0, width, depth: z1 - z0, volume: weighBlock(plan, at).whole.volume,
    layers: layersOf(plan, at), glued: gluedArea(plan, at), ...(at.landing ? { landing: at.landing.face } : {}),
    housesSole: at.beside.some(({ kind }) => kind === 'over'),
    plan: { outline: planLoop(at), holes: [], marks: [] },
  };
}
