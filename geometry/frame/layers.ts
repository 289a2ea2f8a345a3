/** How an end's block is glued up: layers of board on the flat, those of a ring from pieces with the grain along their chords. */
import { panelProbe, innerAt } from '../hull/panel';
import type { Plan } from '../types';
import { halfAt, RING_WIDTH, type BlockPlan } from './ends';

/** Planed off a stack at the top and at the bottom, mm: own choice. */
const ALLOWANCE = 1.5;
/** The grain runs out of a piece's edge by one part in this at most: own choice. */
const RUN_OUT = 5;

/** Pieces that make an arc: how many, how long along their chord, and how wide a board each takes, mm. */
interface Crescents {
  readonly count: number;
  readonly chord: number;
  readonly board: number;
}

/**
 * An arc of a middle radius and a width (mm), turning by `turn` (radians), from equal pieces of board whose grain runs
 * along the chord and out of the edge by `slope` at most: with half a piece's turn phi at most atan(slope), there are
 * turn / (2 phi) of them, of chord 2 Ro sin(phi), from board Ro - Ri cos(phi) wide (provable).
 */
export function crescents(radius: number, width: number, turn: number, slope: number): Crescents {
  const [outer, inner] = [radius + width / 2, Math.max(0, radius - width / 2)];
  const count = Math.max(1, Math.ceil(turn / (2 * Math.atan(slope)) - 1e-9));
  const phi = turn / (2 * count);
  return { count, chord: 2 * outer * Math.sin(Math.min(phi, Math.PI / 2)), board: outer - inner * Math.cos(Math.min(phi, Math.PI / 2)) };
}

/** Most pieces to a layer of a ring: beyond it a wider plank is what is wanted. */
const MOST_PIECES = 60;
/** Points along a piece at which it is measured. */
const ALONG = 9;

/** A ring's pieces as they come out. */
interface RingPieces extends Crescents {
  /** The widest board there is for them, mm, where none is as wide as the ring itself. */
  readonly widest?: number;
  /** Where pieces meet, across the ring, (x, y) pairs: of the first layer and every other, and of those between, half a piece on. None where the ring goes round a corner. */
  readonly joints: readonly (readonly Float64Array[])[];
}

/** A block's stack of layers. */
export interface BlockLayers {
  readonly count: number;
  /** Thickness of the boards, mm, and of the stack that the block is shaped from, square to its slope. */
  readonly thickness: number;
  readonly depth: number;
  /** Slope of the stack along the board, radians: it follows the rocker. */
  readonly slope: number;
  /** Of a ring, pieces to a layer; every other layer's joints lie half a piece on. */
  readonly pieces?: RingPieces;
}

/** The layers of a block, from the thickest planks, or from the outer skins' boards where there are none. */
export function layersOf(plan: Plan, at: BlockPlan): BlockLayers {
  const { hull, design } = plan;
  const [deck, bottom] = [panelProbe(), panelProbe()];
  const low = (x: number, y: number) => innerAt(hull.bottom, -1, design.skins.bottom, x, y, bottom).z;
  const high = (x: number, y: number) => innerAt(hull.deck, 1, design.skins.deck, x, y, deck).z;
  const { half, hole } = at;
  const [x0, x1] = [half[0], half[half.length - 2]];
  const slope = Math.atan2(low(x1, 0) - low(x0, 0), x1 - x0);
  let [least, most] = [Infinity, -Infinity];
  for (let i = 0; i < half.length; i += 2) {
    const x = half[i];
    const from = hole && x >= hole[0] && x <= hole[hole.length - 2] ? halfAt(hole, x) : 0;
    for (let k = 0; k <= 4; k++) {
      const y = from + ((half[i + 1] - from) * k) / 4;
      least = Math.min(least, low(x, y) * Math.cos(slope) - x * Math.sin(slope));
      most = Math.max(most, high(x, y) * Math.cos(slope) - x * Math.sin(slope));
    }
  }
  const { thickness, widest } = boardsFor(design);
  const depth = most - least;
  return { count: Math.ceil((depth + 2 * ALLOWANCE) / thickness - 1e-9), thickness, depth, slope, ...(hole ? { pieces: piecesOf(plan, at, widest) } : {}) };
}

/** Boards that a block is glued up from: the thickest planks, or the outer skins' boards where there are none. */
function boardsFor({ rail, timber }: Plan['design']): { thickness: number; widest: number } {
  const planks = timber.planks ?? [];
  const thickness = planks.length > 0 ? Math.max(...planks.map((plank) => plank.thickness)) : rail.outerThickness;
  const from = planks.length > 0 ? planks.filter((plank) => plank.thickness === thickness) : timber.boards;
  return { thickness, widest: Math.max(...from.map(({ width }) => width)) };
}

/** Pieces of a ring's layer: each turns as far as its neighbours, no farther than the grain may run out, and comes from a board that there is. */
function piecesOf(plan: Plan, { end, landing }: BlockPlan, widest: number): RingPieces {
  const { rail: { samples, ends, face }, design } = plan;
  // From its hole to the box face, or on to the outline where the outer skins butt on it.
  const inner = design.ends?.ringWidth ?? RING_WIDTH;
  const width = inner + (landing ? face.offset : 0);
  const middle = inner - width / 2;
  const tail = end === 'tail';
  const stop = ends[end]?.s ?? (tail ? 0 : face.length);
  // From the end of the board to where the strips end: sample and turn so far.
  const turns: [number, number][] = [];
  let [turn, length] = [0, 0];
  for (let k = 0; k < samples.n; k++) {
    const i = tail ? k : samples.n - 1 - k;
    if (tail ? samples.s[i] > stop : samples.s[i] < stop) break;
    if (k > 0) {
      const kappa = (samples.kappa[i] + samples.kappa[tail ? i - 1 : i + 1]) / 2;
      turn += Math.abs(kappa) * samples.step;
      length += samples.step * Math.max(0, 1 - kappa * middle);
    }
    turns.push([i, turn]);
  }
  const fits = width <= widest ? {} : { widest };
  // Both sides in one; nearly straight legs have no radius to speak of.
  const plain = crescents(turn > 1e-6 ? length / turn : length * 1e6, width, 2 * turn, 1 / RUN_OUT);
  // Round a corner no piece is bent: the legs either side are told as one arc would be.
  if (face[end].kind !== 'round' || turns.length < 2) return { ...plain, ...fits, joints: [] };
  /** Across the ring at a turn from the centreline, port negative: outer and inner point. */
  const across = (theta: number): [outer: [number, number], inner: [number, number]] => {
    const at = Math.min(turn, Math.abs(theta));
    const k = Math.max(1, turns.findIndex(([, so]) => so >= at - 1e-12));
    const [[i, a], [j, b]] = [turns[k - 1], turns[k]];
    const t = b > a ? (at - a) / (b - a) : 0;
    const mix = (field: 'x' | 'y' | 'nx' | 'ny' | 's') => samples[field][i] * (1 - t) + samples[field][j] * t;
    const out = landing && (tail ? mix('s') < landing.s : mix('s') > landing.s) ? -face.offset : 0;
    const side = theta < 0 ? -1 : 1;
    return [out, inner].map((inset) => [mix('x') + inset * mix('nx'), side * Math.max(0, mix('y') + inset * mix('ny'))]) as [[number, number], [number, number]];
  };
  /** Length and width of the board a piece takes, laid along its chord. */
  const boardOf = (from: number, until: number): [number, number] => {
    const points = Array.from({ length: ALONG }, (_, k) => across(from + ((until - from) * k) / (ALONG - 1))).flat();
    const [[ax, ay], [bx, by]] = [from, until].map((theta) => across(theta)[0]);
    const long = Math.hypot(bx - ax, by - ay) || 1;
    const span = (along: (p: readonly [number, number]) => number) => Math.max(...points.map(along)) - Math.min(...points.map(along));
    return [span(([x, y]) => (x * (bx - ax) + y * (by - ay)) / long), span(([x, y]) => (y * (bx - ax) - x * (by - ay)) / long)];
  };
  for (let { count } = plain; ; count++) {
    const each = (2 * turn) / count;
    const cuts = [0, 0.5].map((on) => Array.from({ length: on === 0 ? count - 1 : count }, (_, k) => -turn + (k + (on === 0 ? 1 : on)) * each));
    const boards = cuts.flatMap((at) => [-turn, ...at, turn].slice(1).map((until, k) => boardOf(k === 0 ? -turn : at[k - 1], until)));
    const [chord, board] = [0, 1].map((axis) => Math.max(...boards.map((one) => one[axis])));
    if (board > widest && width <= widest && count < MOST_PIECES) continue;
    return { count, chord, board, ...(board > widest ? { widest } : {}), joints: cuts.map((at) => at.map((theta) => Float64Array.from(across(theta).flat()))) };
  }
}
