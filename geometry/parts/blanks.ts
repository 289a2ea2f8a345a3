/**
 * The skin blanks: each layer unrolled, with its oversize and marks, and split into pieces that the
 * stock boards give. A layer runs unbroken round a round tail or nose: the piece there is one for both sides,
 * its own mirror image, and the joints lie either side. Where the two sides meet at an angle, or the end is
 * square, each side has its own piece and the joint is on the centreline.
 */
import { boundsOf, turned } from '../curves/polygon';
import { findRoot } from '../curves/roots';
import { SaidError } from '../errors';
import { numbered } from '../rail/decisions';
import { skinSpan } from '../rail/laid';
import { mm, said, size } from '../said';
import type { Finding, Place, Plan } from '../types';
import { developLayer, edgeAt, type Development } from './develop';
import { layBoards } from './boards';
import { blankBox, domainsOf, fitsAny, pieceLoop, reachOf, splitDomain, type Allowance, type Domain, type Reach, type Split, type SplitRules } from './split';
import type { FlatShape } from '../frame/types';
import { partingsOf } from './bending';
import type { Blank, BlankPiece, BoardLayout, StripBending } from './types';

type Draft = Omit<Finding, 'id'>;
type Mark = FlatShape['marks'][number];

/** Spacing of station ticks on a blank, and the length of a tick, mm. */
const TICK_STEP = 100;
const TICK_LENGTH = 8;

/** What `planBlanks` returns. */
export interface BlankPlan {
  readonly blanks: Blank[];
  /** The pieces laid out on boards; absent where none fits any board. */
  readonly boards?: BoardLayout;
  readonly findings: Finding[];
}

/** A layer being worked on: unrolled, with the reach of each of its stretches. */
interface SkinLayer {
  readonly dev: Development;
  readonly domains: readonly { readonly domain: Domain; readonly reach: Reach }[];
}

type Leaving = 'nothing' | 'far layers' | 'stagger' | 'least piece';

interface LayerSplit {
  readonly splits: readonly Split[];
  /** Which rules were dropped to split it at all. */
  readonly left: Leaving;
  readonly cost: number;
}

/** A piece with the stretches that are bent in layers: it is glued up over its whole length from as many blanks as the most of them wants. */
function layered(piece: BlankPiece, bending: readonly StripBending[]): BlankPiece {
  const partings = bending.filter(({ strip }) => strip.kind === 'outer-skin' && strip.order === piece.layer)
    .flatMap((bent) => partingsOf(bent, Math.max(0, piece.u0), piece.u1) ?? []);
  if (partings.length === 0) return piece;
  const layers = Math.max(...partings.map(({ n }) => n));
  return { ...piece, partings, layers, thickness: piece.thickness / layers };
}

/** All outer layers' blanks, box outward, the boards they are cut from, and what does not fit; `bending` tells where they are bent in layers. */
export function planBlanks(plan: Plan, bending: readonly StripBending[] = []): BlankPlan {
  const { rail, timber } = plan.design;
  const allowance: Allowance = {
    oversize: rail.blankOversize,
    scarf: rail.joint === 'scarf' ? rail.scarfRatio * rail.outerThickness : 0,
  };
  const layers = Array.from({ length: rail.outerLayers }, (_, i): SkinLayer => {
    const dev = developLayer(plan, i + 1);
    return { dev, domains: domainsOf(dev).map((domain) => ({ domain, reach: reachOf(dev, domain, timber.boards, allowance) })) };
  });
  const rules = { boards: timber.boards, allowance, leastPiece: rail.leastPiece, stagger: rail.jointStagger };
  const splits = splitLayers(layers, rules);
  const drafts: Draft[] = [];
  const uncut = layers.map(({ dev, domains }, i): Blank => {
    const { splits: parts } = splits[i];
    leftFinding(drafts, plan, dev, splits[i], splits.slice(0, i).flatMap((under, k) => jointRuns(layers[k].dev, under.splits)));
    const blank = blankOf(plan, dev, domains.map((d) => d.domain), parts, allowance, drafts);
    return { ...blank, pieces: blank.pieces.map((piece) => layered(piece, bending)) };
  });
  const { layout, types, short } = layBoards(uncut.flatMap((b) => b.pieces), timber.boards, timber.sawKerf);
  for (const { type, missing } of short) {
    const board = timber.boards[type];
    drafts.push({
      code: 'boards-short', level: 'check', unit: 'count', figure: missing + (board.onHand ?? 0), limit: board.onHand,
      title: said('The outer skins take {missing} more boards of {board} than are on hand', { missing, board: size(board.length, board.width) }),
      advice: 'Buy them, or allow another board in the stock list.',
    });
  }
  const blanks = uncut.map((blank) => ({
    ...blank,
    pieces: blank.pieces.map((piece) => ({ ...piece, board: types.get(pieceKey(piece)) })),
  }));
  return { blanks, ...(layout.boards.length > 0 ? { boards: layout } : {}), findings: numbered(drafts) };
}

/** Names one piece of one layer. */
const pieceKey = (piece: { readonly layer: number; readonly index: number }): string => `${piece.layer}/${piece.index}`;

/** Split one layer, dropping what must be dropped: far layers' stagger, all stagger, then the least piece. */
function splitLayer(layer: SkinLayer, near: readonly number[], far: readonly number[], lean: SplitRules['lean'], rules: Omit<SplitRules, 'away' | 'lean'>): LayerSplit {
  const attempts: readonly [Leaving, Omit<SplitRules, 'lean'>][] = [
    ['nothing', { ...rules, away: [...near, ...far] }],
    ['far layers', { ...rules, away: near }],
    ['stagger', { ...rules, away: [] }],
    ['least piece', { ...rules, away: [], leastPiece: 0 }],
  ];
  for (const [left, attempt] of attempts) {
    const splits = layer.domains.map(({ domain, reach }) => splitDomain(layer.dev, domain, reach, { ...attempt, lean }));
    const whole = splits.filter((s) => s !== undefined);
    if (whole.length === splits.length) return { splits: whole, left, cost: whole.reduce((sum, s) => sum + s.cost, 0) };
  }
  // Every stretch between two places of a joint is a piece of its own at worst: only a board shorter than that is left.
  const { u, x } = layer.dev;
  const cells = layer.domains.flatMap(({ reach: { nodes } }) => nodes.slice(1).map((k, i) => ({ length: u[k] - u[nodes[i]], x: x[nodes[i]] })));
  const widest = cells.reduce((a, b) => (b.length > a.length ? b : a));
  throw new SaidError(said('outer skin {layer} takes a piece of {least} at least, {x} from the tail, and the longest board is {longest}: add a longer board to the stock', {
    layer: layer.dev.layer, least: mm(2 * widest.length), x: mm(widest.x), longest: size(Math.max(...rules.boards.map((board) => board.length))),
  }));
}

/** Runs of a split's joints on the box face. */
const jointRuns = (dev: Development, splits: readonly Split[]): number[] =>
  splits.flatMap((s) => s.nodes.slice(1, -1).map((k) => dev.s[k]));

/**
 * Split the layers in turn, each away from the joints of those before. One layer may leave no place for the next, so
 * it is done with the first layer's joints evenly spread, toward the tail and toward the nose, and the cheapest whole
 * is kept: fewest dropped rules, fewest pieces, best places.
 */
function splitLayers(layers: readonly SkinLayer[], rules: Omit<SplitRules, 'away' | 'lean'>): LayerSplit[] {
  const penalty: Record<Leaving, number> = { nothing: 0, 'far layers': 1e11, stagger: 1e12, 'least piece': 1e13 };
  let best: { cost: number; splits: LayerSplit[] } | undefined;
  for (const lean of [0, -1, 1] as const) {
    const done: LayerSplit[] = [];
    const joints: number[][] = [];
    let cost = 0;
    for (const [i, layer] of layers.entries()) {
      const split = splitLayer(layer, joints[i - 1] ?? [], joints.slice(0, Math.max(0, i - 1)).flat(), i === 0 ? lean : 0, rules);
      done.push(split);
      joints.push(jointRuns(layer.dev, split.splits));
      cost += split.cost + penalty[split.left];
    }
    if (!best || cost < best.cost - 1e-9) best = { cost, splits: done };
  }
  return best?.splits ?? [];
}

/** Where a layer's sample is. */
const nodeAt = (dev: Development, k: number): Place => ({ s: dev.s[k], x: dev.x[k] });

/** Which rule a layer's joints do not keep, and where: at its shortest piece, or the joint nearest to one under it. */
function leftFinding(drafts: Draft[], plan: Plan, dev: Development, { splits, left }: LayerSplit, under: readonly number[]): void {
  const { rail } = plan.design;
  if (left === 'nothing') return;
  const pieces = splits.flatMap(({ nodes }) => nodes.slice(1).map((to, i) => ({ from: nodes[i], to, figure: dev.u[to] - dev.u[nodes[i]] })));
  const joints = splits.flatMap(({ nodes }) => nodes.slice(1, -1)).map((at) => ({ from: at, to: at, figure: Math.min(...under.map((s) => Math.abs(s - dev.s[at]))) }));
  const [worst] = (left === 'least piece' ? pieces : joints).sort((a, b) => a.figure - b.figure);
  const what = {
    'far layers': ['Outer skin {layer} keeps its joints staggered from the skin under it only', rail.jointStagger],
    stagger: ['Joints of outer skin {layer} cannot keep the stagger from the skin under it', rail.jointStagger],
    'least piece': ['Outer skin {layer} needs a piece shorter than the least piece', rail.leastPiece],
  } as const;
  drafts.push({
    code: 'blank-joints', level: left === 'far layers' ? 'note' : 'check', title: said(what[left][0], { layer: dev.layer }), figure: worst.figure, limit: what[left][1], unit: 'mm',
    place: nodeAt(dev, worst.from), extent: { from: nodeAt(dev, worst.from), until: nodeAt(dev, worst.to) }, strip: { kind: 'outer-skin', order: dev.layer },
    advice: 'Use longer or wider boards, or ask for less stagger or a shorter least piece.',
  });
}

/** One layer as a blank with its pieces; pieces that fit no board become findings. */
function blankOf(
  plan: Plan, dev: Development, domains: readonly Domain[], splits: readonly Split[], allowance: Allowance, drafts: Draft[],
): Blank {
  const { rail, timber } = plan.design;
  const { u, bottom, deck } = dev;
  const covered = skinSpan(plan.rail);
  const n = u.length;
  const marks = stationMarks(plan, dev);
  const pieces: BlankPiece[] = [];
  domains.forEach((domain, d) => {
    const { nodes } = splits[d];
    for (let k = 0; k + 1 < nodes.length; k++) {
      const [i, j] = [nodes[k], nodes[k + 1]];
      const wrapTail = domain.wrapTail && i === domain.from;
      const wrapNose = domain.wrapNose && j === domain.to;
      const u0 = wrapTail ? u[i] - (u[j] - u[i]) : u[i];
      const u1 = wrapNose ? u[j] + (u[j] - u[i]) : u[j];
      const last = j === n - 1;
      const loop = pieceLoop(dev, domain, i, j, allowance);
      const box = blankBox(loop);
      if (!fitsAny(box, timber.boards)) drafts.push(wideFinding(dev, domain, i, j, allowance, timber.boards));
      // Half-way along the starboard part, off the marks of a wrapping end's centreline.
      const middle = (u[i] + u[j]) / 2;
      const label = `L${dev.layer} P${pieces.length + 1} TAIL`;
      pieces.push({
        layer: dev.layer, index: pieces.length, u0, u1, count: wrapTail || wrapNose ? 1 : 2, layers: 1, thickness: rail.outerThickness,
        ...(wrapTail ? { wraps: 'tail' as const } : wrapNose ? { wraps: 'nose' as const } : {}),
        ...laid(loop, box.turn, [...marks.flatMap((m) => within(m, u, u0, u1)), pieceLabel(dev, u[i], u[j], label)], middle, edgeMiddle(dev, middle)),
        boxLength: box.length, boxWidth: box.width,
        // Two pieces that meet at a corner are mitred there whatever the other joints are.
        ...(last ? {} : { joint: { kind: j === domain.to ? 'butt' as const : rail.joint, u: u[j], s: dev.s[j] } }),
      });
    }
  });
  const whole: Domain = { from: 0, to: n - 1, wrapTail: false, wrapNose: false };
  const pairs = (v: Float64Array) => Float64Array.from({ length: 2 * n }, (_, k) => (k % 2 === 0 ? u[k >> 1] : v[k >> 1]));
  return {
    layer: dev.layer, length: dev.length, gain: dev.length - (covered.s1 - covered.s0),
    whole: { outline: pieceLoop(dev, whole, 0, n - 1, { ...allowance, scarf: 0 }), holes: [], marks: [...marks, grain(dev)] },
    rockerEdge: pairs(bottom), deckEdge: pairs(deck), pieces,
  };
}

/** What is too wide or long, where it is worst, and by how much. */
function wideFinding(dev: Development, domain: Domain, i: number, j: number, allowance: Allowance, boards: Plan['design']['timber']['boards']): Draft {
  let worst = { width: 0, k: i };
  for (let k = i; k < j; k += 2) {
    const { width } = blankBox(pieceLoop(dev, domain, k, Math.min(j, k + 2), allowance));
    if (width > worst.width) worst = { width, k };
  }
  const widest = Math.max(...boards.map((b) => b.width));
  return {
    code: 'blank-wide', level: 'check', unit: 'mm', figure: worst.width, limit: widest, place: nodeAt(dev, worst.k), extent: { from: nodeAt(dev, i), until: nodeAt(dev, j) },
    strip: { kind: 'outer-skin', order: dev.layer },
    title: said('Outer skin {layer} needs a board {needed} wide here; the widest is {widest}', { layer: dev.layer, needed: mm(worst.width), widest: size(widest) }),
    advice: 'Edge-glue two boards, buy a wider one, or ask for less oversize.',
  };
}

/** Turn a loop and its marks onto the least-width box, lower left at the origin; the grain arrow about (u, v). */
function laid(loop: Float64Array, turn: number, marks: readonly Mark[], u: number, v: number): { shape: FlatShape; turn: number } {
  const { x0, y0, x1 } = boundsOf(turned(loop, turn));
  const place = (points: ArrayLike<number>) => turned(points, turn, -x0, -y0);
  const [x, y] = place([u, v]);
  const half = Math.min(20, (x1 - x0) / 6);
  // The board's own grain: along the box.
  const arrow = arrowPoints(x - half, y, x + half, y);
  return {
    turn,
    shape: {
      outline: place(loop), holes: [],
      marks: [...marks.map((m) => ({ ...m, points: place(m.points) })), { kind: 'grain', points: arrow, text: 'grain' }],
    },
  };
}

/** An arrow along x as one open line: shaft, then the head's two barbs. */
function arrowPoints(x0: number, y0: number, x1: number, y1: number): Float64Array {
  const h = (x1 - x0) / 8;
  return Float64Array.from([x0, y0, x1, y1, x1 - h, y1 + h / 2, x1, y1, x1 - h, y1 - h / 2]);
}

/** Height half-way between the edges at u. */
const edgeMiddle = (dev: Development, u: number): number => (edgeAt(dev, dev.bottom, u) + edgeAt(dev, dev.deck, u)) / 2;

function grain(dev: Development): Mark {
  const mid = dev.length / 2;
  const v = edgeMiddle(dev, mid);
  return { kind: 'grain', points: arrowPoints(mid - 30, v, mid + 30, v), text: 'grain' };
}

/** Layer and piece, written at the piece's tail end. */
function pieceLabel(dev: Development, u0: number, u1: number, text: string): Mark {
  const at = u0 + Math.min(12, (u1 - u0) / 4);
  const v = edgeMiddle(dev, at);
  return { kind: 'label', points: Float64Array.from([at, v, Math.min(u1, at + 40), v]), text };
}

/** Ribs as lines from edge to edge, stations as ticks on both edges, named by their distance from the tail. */
function stationMarks(plan: Plan, dev: Development): Mark[] {
  const marks: Mark[] = [];
  const { length } = dev;
  const uAt = (x: number): number | undefined => {
    for (let k = 0; k + 1 < dev.u.length; k++) {
      if (dev.x[k] <= x && x <= dev.x[k + 1]) return findRoot((at) => dev.xAt(at) - x, dev.u[k], dev.u[k + 1], 1e-6);
    }
    return undefined;
  };
  const line = (kind: 'line' | 'tick', u: number, from: number, to: number, text?: string) =>
    marks.push({ kind, points: Float64Array.from([u, from, u, to]), ...(text === undefined ? {} : { text }) });
  for (const [i, x] of plan.design.frames.ribs.entries()) {
    const u = uAt(x);
    if (u !== undefined) line('line', u, edgeAt(dev, dev.bottom, u), edgeAt(dev, dev.deck, u), `R${i + 1}`);
  }
  for (let x = TICK_STEP; x < plan.hull.length; x += TICK_STEP) {
    const u = uAt(x);
    if (u === undefined) continue;
    const low = edgeAt(dev, dev.bottom, u);
    const high = edgeAt(dev, dev.deck, u);
    const tick = Math.min(TICK_LENGTH, (high - low) / 3);
    line('tick', u, low, low + tick, `${x}`);
    line('tick', u, high, high - tick);
  }
  // The widest place, where the skin is held to the box first.
  const widest = uAt(plan.hull.widest.x);
  if (widest !== undefined && widest > 0 && widest < length) {
    line('line', widest, edgeAt(dev, dev.bottom, widest), edgeAt(dev, dev.deck, widest), 'WIDEST');
  }
  return marks;
}

/** A mark if it lies on [u0, u1]; round a tail or a nose also its mirror image on the port half. */
function within(mark: Mark, u: Float64Array, u0: number, u1: number): Mark[] {
  const at = mark.points[0];
  const end = u[u.length - 1];
  const images = [at, -at, 2 * end - at].filter((v, i) => v > u0 + 1e-9 && v < u1 - 1e-9 && (i === 0 || (i === 1 ? u0 < 0 : u1 > end)));
  return images.map((to) => ({
    ...mark, points: Float64Array.from([to, mark.points[1], to, mark.points[3]]),
  }));
}
