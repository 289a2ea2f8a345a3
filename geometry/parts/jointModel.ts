/**
 * Where to joint and what to cut from what, as one exact problem over both sides and all layers: fewest pieces
 * first, then the shortest stock. Knows nothing about boards: layers, places a joint may be, pairs of places too
 * near each other, stock lengths.
 *
 * A layer stands on both sides alike, or on one alone where the two differ.
 * It is a path from its tail to its nose; each arc of the path is a piece. Columns of the programme are
 * the arcs of each side (0 or 1) and the cutting patterns (how many stock lengths are cut so). First the fewest pieces
 * of one side, with the stagger but without the stock; then, with that number fixed, the shortest stock, both
 * sides cut from it together. Only where the stock on hand does not allow that number is it raised.
 */
import {
  assignPieces, cuttingPatterns, cuttingRows, cutStock, distinctLengths, lengthIndex, PATTERN_LIMIT, type CutStock, type Pattern, type Stock,
} from './cutting';
import type { MilpModel, MilpResult, MilpRow, MilpSolver } from './milp';

/** A piece a layer may be made of: from one node to a later one. Node 0 is the tail end, `nodes - 1` the nose end. */
export interface Arc {
  readonly from: number;
  readonly to: number;
  /** Length to cut, mm. */
  readonly length: number;
}

export interface JointLayer {
  /** Which list of stock it is cut from. */
  readonly family: number;
  readonly nodes: number;
  readonly arcs: readonly Arc[];
  /** The one side it stands on; absent: both, alike. */
  readonly side?: 0 | 1;
}

/** Two joints of one side that may not both be. */
export interface Conflict {
  readonly layerA: number;
  readonly nodeA: number;
  readonly layerB: number;
  readonly nodeB: number;
}

export interface JointModel {
  readonly layers: readonly JointLayer[];
  readonly conflicts: readonly Conflict[];
  /** Stock of each family; families that are given the very same list share what is on hand, but no stock length. */
  readonly families: readonly (readonly Stock[])[];
  readonly kerf: number;
}

interface ChosenPiece extends Arc {
  readonly side: 0 | 1;
  readonly layer: number;
}

export interface JointSolution {
  readonly pieces: readonly ChosenPiece[];
  /** Stock lengths of each family; pieces are indices into `pieces`. */
  readonly used: readonly (CutStock & { readonly family: number })[];
  readonly optimal: boolean;
  readonly pieceBound: number;
  readonly stock: number;
  readonly stockBound: number;
  readonly limit?: string;
}

/**
 * Why there is no solution: the joints cannot keep their distances, no joints that do were found before the search had to
 * end, or the stock on hand does not reach.
 */
export type JointFailure = 'stagger' | 'late' | 'stock';

const SIDES = [0, 1] as const;

const standsOn = ({ side }: JointLayer, one: 0 | 1): boolean => side === undefined || side === one;
/** On how many sides a layer stands. */
const sidesOf = ({ side }: JointLayer): number => (side === undefined ? 2 : 1);

/** Fewest pieces from `start` (node 0) to every node, or to the far end from every node. */
function fewest(layer: JointLayer, backward: boolean): number[] {
  const best = new Array<number>(layer.nodes).fill(Infinity);
  best[backward ? layer.nodes - 1 : 0] = 0;
  const arcs = [...layer.arcs].sort((a, b) => (backward ? b.to - a.to || b.from - a.from : a.from - b.from || a.to - b.to));
  for (const arc of arcs) {
    const [at, next] = backward ? [arc.to, arc.from] : [arc.from, arc.to];
    best[next] = Math.min(best[next], best[at] + 1);
  }
  return best;
}

/** Fewest pieces a layer can be made of; Infinity where no path of pieces reaches its end. */
export const fewestPieces = (layer: JointLayer): number => fewest(layer, false)[layer.nodes - 1];

/** The farthest node that pieces reach from the tail, where they do not reach the nose. */
export function farthestNode(layer: JointLayer): number {
  const reach = fewest(layer, false);
  let last = 0;
  reach.forEach((n, i) => {
    if (Number.isFinite(n)) last = i;
  });
  return last;
}

/** Drop arcs that no path of at most (fewest + slack) pieces can use. */
function pruned(layer: JointLayer, slack: number): JointLayer {
  const ahead = fewest(layer, false);
  const behind = fewest(layer, true);
  const most = ahead[layer.nodes - 1] + slack;
  return { ...layer, arcs: layer.arcs.filter((a) => ahead[a.from] + 1 + behind[a.to] <= most) };
}

interface ArcColumns {
  readonly column: number[][];
  readonly count: number;
}

/** Path rows and stagger rows of one side, its arc columns from `first` on. */
function sideRows(model: JointModel, layers: readonly JointLayer[], side: 0 | 1, first: number): { rows: MilpRow[]; columns: ArcColumns } {
  const rows: MilpRow[] = [];
  const column: number[][] = [];
  let next = first;
  const arriving: number[][][] = [];
  for (const layer of layers) {
    if (!standsOn(layer, side)) {
      column.push([]);
      arriving.push(Array.from({ length: layer.nodes }, () => []));
      continue;
    }
    column.push(layer.arcs.map(() => next++));
    const into: number[][] = Array.from({ length: layer.nodes }, () => []);
    const outOf: number[][] = Array.from({ length: layer.nodes }, () => []);
    layer.arcs.forEach((a, i) => {
      into[a.to].push(column[column.length - 1][i]);
      outOf[a.from].push(column[column.length - 1][i]);
    });
    arriving.push(into);
    rows.push({ columns: outOf[0], values: outOf[0].map(() => 1), lower: 1, upper: 1 });
    for (let node = 1; node + 1 < layer.nodes; node++) {
      if (into[node].length + outOf[node].length === 0) continue;
      rows.push({
        columns: [...into[node], ...outOf[node]], values: [...into[node].map(() => 1), ...outOf[node].map(() => -1)], lower: 0, upper: 0,
      });
    }
  }
  for (const c of model.conflicts) {
    const columns = [...arriving[c.layerA][c.nodeA], ...arriving[c.layerB][c.nodeB]];
    if (arriving[c.layerA][c.nodeA].length > 0 && arriving[c.layerB][c.nodeB].length > 0) {
      rows.push({ columns, values: columns.map(() => 1), lower: 0, upper: 1 });
    }
  }
  return { rows, columns: { column, count: next - first } };
}

/** The fewest pieces of one side under the stagger; undefined where no choice keeps it. */
function fewestOfSide(model: JointModel, side: 0 | 1, solver: MilpSolver): MilpResult {
  const { rows, columns } = sideRows(model, model.layers, side, 0);
  return solver.solve(binary(columns.count, new Array<number>(columns.count).fill(1), rows));
}

const binary = (count: number, cost: number[], rows: MilpRow[]): MilpModel => ({
  cost, lower: new Array<number>(count).fill(0), upper: new Array<number>(count).fill(1), rows,
});

/** Both sides' arcs and every family's patterns in one programme. */
interface Joined {
  readonly model: MilpModel;
  readonly layers: readonly JointLayer[];
  readonly columns: readonly ArcColumns[];
  readonly lengths: readonly (readonly number[])[];
  readonly patterns: readonly (readonly Pattern[])[];
  readonly firstPattern: readonly number[];
  readonly arcCount: number;
}

function join(model: JointModel, layers: readonly JointLayer[]): Joined | undefined {
  const rows: MilpRow[] = [];
  const columns: ArcColumns[] = [];
  let next = 0;
  for (const side of SIDES) {
    const part = sideRows(model, layers, side, next);
    rows.push(...part.rows);
    columns[side] = part.columns;
    next += part.columns.count;
  }
  // Sides that are alike can be swapped: keep one of each pair of mirror solutions.
  const alike = layers.every(({ side }) => side === undefined);
  const weight = !alike ? [] : layers.flatMap((layer, l) => layer.arcs.map((a) => a.from * (l + 1)));
  const flat = columns.map((c) => c.column.flat());
  const mirror = weight.flatMap((w, i) => (w > 0 ? [i] : []));
  if (mirror.length > 0) {
    rows.push({
      columns: [...mirror.map((i) => flat[0][i]), ...mirror.map((i) => flat[1][i])],
      values: [...mirror.map((i) => weight[i]), ...mirror.map((i) => -weight[i])], lower: -Infinity, upper: 0,
    });
  }
  const arcCount = next;
  const cost = new Array<number>(arcCount).fill(0);
  const upper = new Array<number>(arcCount).fill(1);
  const lengths: number[][] = [];
  const patterns: Pattern[][] = [];
  const firstPattern: number[] = [];
  for (let family = 0; family < model.families.length; family++) {
    const mine = layers.flatMap((layer, l) => (layer.family === family ? layer.arcs.map((a, i) => ({ l, i, length: a.length })) : []));
    const stock = model.families[family];
    firstPattern.push(next);
    if (mine.length === 0) {
      lengths.push([]);
      patterns.push([]);
      continue;
    }
    const distinct = distinctLengths(mine.map((m) => m.length));
    const calls: number[][] = distinct.map(() => []);
    for (const m of mine) for (const side of SIDES) if (standsOn(layers[m.l], side)) calls[lengthIndex(distinct, m.length)].push(columns[side].column[m.l][m.i]);
    const most = 2 * mine.length;
    const found = cuttingPatterns(distinct, stock, model.kerf, most, PATTERN_LIMIT);
    if (!found) return undefined;
    lengths.push(distinct);
    patterns.push(found);
    for (const p of found) {
      cost.push(stock[p.stock].length);
      upper.push(Math.min(most, stock[p.stock].onHand ?? most));
    }
    rows.push(...cuttingRows(distinct, found, next, stock, calls, distinct.map(() => 0), true));
    next += found.length;
  }
  for (const stock of new Set(model.families)) {
    const sharing = model.families.flatMap((list, family) => (list === stock ? [family] : []));
    if (sharing.length < 2) continue;
    stock.forEach(({ onHand }, type) => {
      const used = sharing.flatMap((family) => patterns[family].flatMap((p, i) => (p.stock === type ? [firstPattern[family] + i] : [])));
      if (onHand !== undefined && used.length > 0) rows.push({ columns: used, values: used.map(() => 1), lower: 0, upper: onHand });
    });
  }
  return {
    model: { cost, lower: new Array<number>(next).fill(0), upper, rows }, layers, columns, lengths, patterns, firstPattern, arcCount,
  };
}

/** With every piece of both sides counted: at least and at most so many. */
const countRow = (joined: Joined, lower: number, upper: number): MilpRow => ({
  columns: Array.from({ length: joined.arcCount }, (_, i) => i), values: new Array<number>(joined.arcCount).fill(1), lower, upper,
});

/**
 * Solve. Every layer must have a path of pieces that its longest stock can serve (`fewestPieces` finite, and no
 * arc longer than every stock). Returns the solution with its proof, or why there is none.
 */
export function solveJoints(model: JointModel, solver: MilpSolver): JointSolution | JointFailure {
  if (model.layers.length === 0) return { pieces: [], used: [], optimal: true, pieceBound: 0, stock: 0, stockBound: 0 };
  const starboard = fewestOfSide(model, 0, solver);
  const alike = model.layers.every(({ side }) => side === undefined);
  const sides = [starboard, alike ? starboard : fewestOfSide(model, 1, solver)] as const;
  if (sides.some(({ status }) => status === 'infeasible')) return 'stagger';
  if (sides.some(({ values }) => values === undefined)) return settleThenCut(model, solver, sides);
  const counts = sides.map(({ values = [] }) => values.reduce((a, b) => a + b, 0));
  const slack = SIDES.map((s) => counts[s] - model.layers.reduce((sum, l) => sum + (standsOn(l, s) ? fewestPieces(l) : 0), 0));
  const pieceBound = boundOf(sides);
  const least = counts[0] + counts[1];
  const exact = sides.every(({ status }) => status === 'optimal');

  const joined = join(model, model.layers.map((l) => pruned(l, slack[l.side ?? 0])));
  if (!joined) return settleThenCut(model, solver, sides);
  const first = solver.solve({ ...joined.model, rows: [...joined.model.rows, countRow(joined, least, least)] });
  if (first.status !== 'infeasible') {
    if (first.values === undefined) return settleThenCut(model, solver, sides);
    return read(model, joined, first, { pieceBound, exact });
  }
  // The stock on hand cannot serve that few pieces: find the fewest it can.
  const wide = join(model, model.layers);
  if (!wide) return settleThenCut(model, solver, sides);
  const cost = wide.model.cost.map((_, i) => (i < wide.arcCount ? 1 : 0));
  const more = solver.solve({ ...wide.model, cost });
  if (more.status === 'infeasible') return 'stock';
  if (more.objective === undefined) return settleThenCut(model, solver, sides);
  const count = Math.round(more.objective);
  const last = solver.solve({ ...wide.model, rows: [...wide.model.rows, countRow(wide, count, count)] });
  const best = last.values === undefined ? { ...more, bound: stockBound(model, 0), status: 'limit' as const, limit: last.limit } : last;
  return read(model, wide, best, { pieceBound: Math.max(pieceBound, Math.ceil(more.bound - 1e-6)), exact: more.status === 'optimal' });
}

/** Turn columns into pieces and stock lengths. */
function read(
  model: JointModel, joined: Joined, result: MilpResult, proof: { pieceBound: number; exact: boolean },
): JointSolution {
  const values = result.values ?? [];
  const pieces = SIDES.flatMap((side) => joined.layers.flatMap((layer, l) =>
    layer.arcs.filter((_, i) => values[joined.columns[side].column[l][i]] === 1).map((a): ChosenPiece => ({ ...a, side, layer: l }))));
  const used = model.families.flatMap((_, family) => {
    const mine = pieces.flatMap((p, i) => (model.layers[p.layer].family === family ? [i] : []));
    const chosen = joined.patterns[family].flatMap((p, i) => new Array<Pattern>(values[joined.firstPattern[family] + i]).fill(p));
    const cut = assignPieces(mine.map((i) => pieces[i].length), joined.lengths[family], chosen);
    return cut.map((one) => ({ family, stock: one.stock, pieces: one.pieces.map((i) => mine[i]) }));
  });
  const stock = used.reduce((sum, b) => sum + model.families[b.family][b.stock].length, 0);
  const optimal = result.status === 'optimal' && proof.exact;
  const bound = result.status === 'optimal' ? stock : Math.min(stock, Math.max(0, result.bound));
  return {
    pieces, used, optimal, pieceBound: proof.exact ? pieces.length : proof.pieceBound, stock, stockBound: bound,
    ...(optimal ? {} : { limit: result.limit ?? 'the count of pieces was not proved' }),
  };
}

/** A stock length no plan can beat: all pieces end to end, from the model's shortest possible total. */
function stockBound(model: JointModel, family: number): number {
  const total = model.layers.reduce((sum, layer) => {
    if (layer.family !== family) return sum;
    // Any path's pieces add up to at least the span; arcs hold it (scarfs only add).
    const shortest = new Array<number>(layer.nodes).fill(Infinity);
    shortest[0] = 0;
    for (const a of [...layer.arcs].sort((p, q) => p.from - q.from)) shortest[a.to] = Math.min(shortest[a.to], shortest[a.from] + a.length);
    return sum + sidesOf(layer) * shortest[layer.nodes - 1];
  }, 0);
  return total;
}

/**
 * Where one programme would be too large: settle the joints (fewest pieces of one side, mirrored), then cut
 * those pieces at best. Not proved the best of all; the bound is the pieces' own length.
 */
function settleThenCut(model: JointModel, solver: MilpSolver, sides: readonly [MilpResult, MilpResult]): JointSolution | JointFailure {
  const late = sides.find(({ values }) => values === undefined);
  if (late && model.conflicts.length > 0) return 'late';
  const pieces = SIDES.flatMap((side) => {
    const { values } = sides[side];
    const paths = values === undefined ? model.layers.map((layer) => (standsOn(layer, side) ? shortestPath(layer) : [])) : pathsOf(model, side, values);
    return paths.flatMap((path, layer) => path.map((a): ChosenPiece => ({ ...a, side, layer })));
  });
  const used: (CutStock & { family: number })[] = [];
  for (let family = 0; family < model.families.length; family++) {
    const mine = pieces.flatMap((p, i) => (model.layers[p.layer].family === family ? [i] : []));
    const list = model.families[family];
    const left = list.map(({ length, onHand }, type): Stock => {
      const taken = used.filter((b) => b.stock === type && model.families[b.family] === list).length;
      return onHand === undefined ? { length } : { length, onHand: Math.max(0, onHand - taken) };
    });
    const cut = cutStock(mine.map((i) => pieces[i].length), left, model.kerf, solver);
    if (!cut) return 'stock';
    used.push(...cut.used.map((b) => ({ ...b, family, pieces: b.pieces.map((i) => mine[i]) })));
  }
  return {
    pieces, used, optimal: false,
    pieceBound: sides.every(({ bound }) => Number.isFinite(bound)) ? boundOf(sides) : model.layers.reduce((n, l) => n + sidesOf(l) * fewestPieces(l), 0),
    stock: used.reduce((sum, b) => sum + model.families[b.family][b.stock].length, 0),
    stockBound: model.families.reduce((sum, _, family) => sum + stockBound(model, family), 0),
    limit: late ? late.limit : `more than ${PATTERN_LIMIT} ways to cut a stock length, or no answer within the limit: joints settled first, then cut at best`,
  };
}

function pathsOf(model: JointModel, side: 0 | 1, values: readonly number[]): Arc[][] {
  let next = 0;
  return model.layers.map((layer) => (standsOn(layer, side) ? layer.arcs.filter(() => values[next++] === 1) : []));
}

/** Pieces that both sides together cannot go below. */
const boundOf = (sides: readonly [MilpResult, MilpResult]): number => sides.reduce((sum, { bound }) => sum + Math.ceil(bound - 1e-6), 0);

function shortestPath(layer: JointLayer): Arc[] {
  const behind = fewest(layer, true);
  const path: Arc[] = [];
  for (let at = 0; at < layer.nodes - 1;) {
    const arc = layer.arcs.find((a) => a.from === at && behind[a.to] + 1 === behind[at]);
    if (!arc) break;
    path.push(arc);
    at = arc.to;
  }
  return path;
}
