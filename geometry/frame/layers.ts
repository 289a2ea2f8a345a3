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

/** A block's stack of layers. */
export interface BlockLayers {
  readonly count: number;
  /** Thickness of the boards, mm, and of the stack that the block is shaped from, square to its slope. */
  readonly thickness: number;
  readonly depth: number;
  /** Slope of the stack along the board, radians: it follows the rocker. */
  readonly slope: number;
  /** Of a ring, pieces to a layer; every other layer's joints lie half a piece on. */
  readonly pieces?: Crescents;
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
  const thickness = design.timber.planks ? Math.max(...design.timber.planks.map((plank) => plank.thickness)) : design.rail.outerThickness;
  const depth = most - least;
  return { count: Math.ceil((depth + 2 * ALLOWANCE) / thickness - 1e-9), thickness, depth, slope, ...(hole ? { pieces: piecesOf(plan, at) } : {}) };
}

/** Pieces of a ring's layer: the tightest middle radius holds for all of them. */
function piecesOf({ rail: { samples, ends, face }, design }: Plan, { end, landing }: BlockPlan): Crescents {
  // From its hole to the box face, or on to the outline where the outer skins butt on it.
  const inner = design.ends?.ringWidth ?? RING_WIDTH;
  const width = inner + (landing ? face.offset : 0);
  const middle = inner - width / 2;
  const tail = end === 'tail';
  const stop = ends[end]?.s ?? (tail ? 0 : face.length);
  let [turn, length] = [0, 0];
  for (let i = 0; i + 1 < samples.n; i++) {
    if (tail ? samples.s[i + 1] > stop : samples.s[i] < stop) continue;
    const kappa = (samples.kappa[i] + samples.kappa[i + 1]) / 2;
    turn += Math.abs(kappa) * samples.step;
    length += samples.step * Math.max(0, 1 - kappa * middle);
  }
  // Both sides in one; nearly straight legs have no radius to speak of.
  return crescents(turn > 1e-6 ? length / turn : length * 1e6, width, 2 * turn, 1 / RUN_OUT);
}
