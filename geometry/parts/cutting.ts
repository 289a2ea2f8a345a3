/**
 * Cutting stock, exactly: every maximal way to cut a stock length, and the fewest or shortest that serve all pieces.
 *
 * A pattern's slot serves any piece no longer than itself. As the sets "slots at least this long" are nested,
 * slots can be matched to pieces exactly when for every length there are at least as many slots of that length
 * or more as pieces (Hall's condition on a chain). So only patterns need be kept that cannot take one slot
 * more, nor one slot a size longer.
 */
import type { MilpRow, MilpSolver } from './milp';

/** One length of stock; `onHand` absent: as many as needed. */
export interface Stock {
  readonly length: number;
  readonly onHand?: number;
}

/** One way to cut a stock length: slots as indices into the distinct lengths, longest first. */
export interface Pattern {
  readonly stock: number;
  readonly slots: readonly number[];
}

/** Lengths closer than this are one length, and this much over a stock length still fits, mm. */
export const LENGTH_TOLERANCE = 1e-6;

/** Most cutting patterns of one programme; beyond, joints are settled before they are cut. */
export const PATTERN_LIMIT = 12000;

/** Distinct lengths, longest first. */
export function distinctLengths(lengths: readonly number[]): number[] {
  const sorted = [...lengths].sort((a, b) => b - a);
  return sorted.filter((length, i) => i === 0 || sorted[i - 1] - length > LENGTH_TOLERANCE);
}

/** Index of a length in a list made by `distinctLengths`: the shortest entry that is no shorter. */
export function lengthIndex(lengths: readonly number[], length: number): number {
  let i = lengths.length - 1;
  while (i > 0 && lengths[i] < length - LENGTH_TOLERANCE) i--;
  return i;
}

/**
 * All maximal patterns of the stock for these distinct lengths (longest first): pieces and the saw cuts between
 * them fit the stock length, no slot could be added (up to `most` slots each), and none could be a size longer.
 * Undefined where there would be more than `limit`.
 */
export function cuttingPatterns(
  lengths: readonly number[], stock: readonly Stock[], kerf: number, most: number, limit: number,
): Pattern[] | undefined {
  const out: Pattern[] = [];
  const shortest = lengths[lengths.length - 1] + kerf;
  let seen = 0;
  const slots: number[] = [];
  /** False once there are too many. */
  const fill = (type: number, from: number, left: number): boolean => {
    if (++seen > 50 * limit) return false;
    const full = slots.length >= most || left < shortest - LENGTH_TOLERANCE;
    if (full) {
      const longer = slots.some((k, i) => k > 0 && slots[i - 1] !== k && left >= lengths[k - 1] - lengths[k] - LENGTH_TOLERANCE);
      if (!longer && slots.length > 0) out.push({ stock: type, slots: [...slots] });
      return out.length <= limit;
    }
    for (let k = from; k < lengths.length; k++) {
      if (lengths[k] + kerf > left + LENGTH_TOLERANCE) continue;
      slots.push(k);
      const go = fill(type, k, left - lengths[k] - kerf);
      slots.pop();
      if (!go) return false;
    }
    return true;
  };
  for (let type = 0; type < stock.length; type++) {
    // The last piece of a stock length needs no cut behind it.
    if (stock[type].onHand !== 0 && !fill(type, 0, stock[type].length + kerf)) return undefined;
  }
  return out;
}

/**
 * Rows that make patterns serve pieces: for each distinct length, slots at least that long, less pieces at
 * least that long, is not negative; and no stock is used beyond what is on hand. `pieces` gives for each
 * length the columns that call for one piece of it; `fixed` a number of pieces called for in any case.
 */
export function cuttingRows(
  lengths: readonly number[], patterns: readonly Pattern[], firstColumn: number, stock: readonly Stock[],
  pieces: readonly (readonly number[])[], fixed: readonly number[], useOnHand: boolean,
): MilpRow[] {
  const rows: MilpRow[] = [];
  const called: number[] = [];
  let count = 0;
  for (let k = 0; k < lengths.length; k++) {
    called.push(...pieces[k]);
    count += fixed[k];
    const columns: number[] = [];
    const values: number[] = [];
    patterns.forEach((p, i) => {
      const n = p.slots.filter((slot) => slot <= k).length;
      if (n > 0) {
        columns.push(firstColumn + i);
        values.push(n);
      }
    });
    rows.push({ columns: [...columns, ...called], values: [...values, ...called.map(() => -1)], lower: count, upper: Infinity });
  }
  if (useOnHand) {
    stock.forEach((s, type) => {
      const columns = patterns.flatMap((p, i) => (p.stock === type ? [firstColumn + i] : []));
      if (s.onHand !== undefined && columns.length > 0) {
        rows.push({ columns, values: columns.map(() => 1), lower: 0, upper: s.onHand });
      }
    });
  }
  return rows;
}

/** A stock length cut to pieces: indices of the pieces given, longest first. */
export interface CutStock {
  readonly stock: number;
  readonly pieces: readonly number[];
}

/** Hand pieces out to the slots of chosen patterns, longest to longest; those left empty are not used. */
export function assignPieces(
  pieceLengths: readonly number[], lengths: readonly number[], chosen: readonly Pattern[],
): CutStock[] {
  const used = chosen.map((p) => ({ stock: p.stock, pieces: [] as number[] }));
  const slots = chosen.flatMap((p, one) => p.slots.map((k) => ({ one, length: lengths[k] })));
  slots.sort((a, b) => b.length - a.length);
  const order = pieceLengths.map((_, i) => i).sort((a, b) => pieceLengths[b] - pieceLengths[a] || a - b);
  order.forEach((piece, i) => used[slots[i].one].pieces.push(piece));
  return used.filter((b) => b.pieces.length > 0);
}

export interface CutPlan {
  readonly used: readonly CutStock[];
  readonly optimal: boolean;
  readonly stock: number;
  readonly stockBound: number;
  readonly limit?: string;
}

/**
 * The classic cutting-stock problem: given pieces, the shortest total of stock lengths. Undefined where the stock on
 * hand does not reach. `optimal` where proved.
 */
export function cutStock(
  pieces: readonly number[], stock: readonly Stock[], kerf: number, solver: MilpSolver,
): CutPlan | undefined {
  if (pieces.length === 0) return { used: [], optimal: true, stock: 0, stockBound: 0 };
  const lengths = distinctLengths(pieces);
  const counts = lengths.map(() => 0);
  for (const p of pieces) counts[lengthIndex(lengths, p)]++;
  const total = (used: readonly CutStock[]) => used.reduce((sum, b) => sum + stock[b.stock].length, 0);
  const patterns = cuttingPatterns(lengths, stock, kerf, pieces.length, 4 * PATTERN_LIMIT);
  if (patterns) {
    const result = solver.solve({
      cost: patterns.map((p) => stock[p.stock].length),
      lower: patterns.map(() => 0),
      upper: patterns.map((p) => Math.min(pieces.length, stock[p.stock].onHand ?? pieces.length)),
      rows: cuttingRows(lengths, patterns, 0, stock, lengths.map(() => []), counts, true),
    });
    if (result.status === 'infeasible') return undefined;
    if (result.values) {
      const values = result.values;
      const used = assignPieces(pieces, lengths, patterns.flatMap((p, i) => new Array<Pattern>(values[i]).fill(p)));
      const optimal = result.status === 'optimal';
      return { used, optimal, stock: total(used), stockBound: optimal ? total(used) : result.bound, limit: result.limit };
    }
  }
  const used = firstFit(pieces, stock, kerf);
  return used && {
    used, optimal: false, stock: total(used), stockBound: pieces.reduce((a, b) => a + b, 0), limit: 'too many ways to cut a stock length: longest pieces first',
  };
}

/** Longest piece first into the first stock length with room, else a new one, the longest left. */
function firstFit(pieces: readonly number[], stock: readonly Stock[], kerf: number): CutStock[] | undefined {
  const used: { stock: number; pieces: number[]; left: number }[] = [];
  const order = pieces.map((_, i) => i).sort((a, b) => pieces[b] - pieces[a] || a - b);
  const types = stock.map((_, i) => i).sort((a, b) => stock[b].length - stock[a].length);
  for (const i of order) {
    let one = used.find((b) => b.left >= pieces[i] + kerf);
    if (!one) {
      const type = types.find((t) => stock[t].length >= pieces[i] && used.filter((b) => b.stock === t).length < (stock[t].onHand ?? Infinity));
      if (type === undefined) return undefined;
      one = { stock: type, pieces: [], left: stock[type].length + kerf };
      used.push(one);
    }
    one.pieces.push(i);
    one.left -= pieces[i] + kerf;
  }
  return used.map(({ stock: type, pieces: list }) => ({ stock: type, pieces: list }));
}
