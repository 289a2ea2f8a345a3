/** Laying pieces of skin blanks on stock boards, grain along the board. */
import { loopArea } from '../curves/polygon';
import type { Design } from '../design/schema';
import { fitsSheet, packItems, type PackRules } from '../frame/pack';
import type { BlankPiece, BoardLayout } from './types';

type Board = Design['timber']['boards'][number];

/** Room left between pieces beyond the saw's kerf, mm: for cutting by hand to a line; own choice. */
const SAW_ROOM = 2;

interface Rect {
  readonly piece: BlankPiece;
  readonly copy: 1 | 2;
  readonly blank: number;
  readonly width: number;
  readonly height: number;
}

/** What laying out the boards gave: the layout, each piece's board type by "layer/index", and types that run short. */
export interface BoardsLaid {
  readonly layout: BoardLayout;
  readonly types: ReadonlyMap<string, number>;
  readonly short: readonly { readonly type: number; readonly missing: number }[];
}

/**
 * Lay every piece, twice where it is cut twice and as many blanks each as it has layers, on boards: the cheapest type first,
 * as long as it is on hand. Blanks of one thickness share boards, the thickest first.
 * Pieces that a type cannot hold or has no boards left for go to the next. Both copies of a piece come from
 * the type of the first. The packing is the library's heuristic, not proved best.
 */
export function layBoards(pieces: readonly BlankPiece[], boards: readonly Board[], sawKerf: number): BoardsLaid {
  const order = boards.map((_, i) => i).sort((a, b) => boards[a].price - boards[b].price || boards[a].length - boards[b].length || a - b);
  const gap = sawKerf + SAW_ROOM;
  const rulesOf = (b: Board): PackRules => ({ length: b.length, width: b.width, gap, border: 0, turns: false });
  const fits = (r: Rect, b: Board) => fitsSheet(r, rulesOf(b));
  const all: Rect[] = pieces
    .flatMap((piece) => Array.from({ length: piece.count * piece.layers }, (_, c): Rect => ({
      piece, copy: c < piece.layers ? 1 : 2, blank: (c % piece.layers) + 1, width: piece.boxLength, height: piece.boxWidth,
    })))
    .filter((r) => boards.some((b) => fits(r, b)));
  let left: Rect[] = [];
  const laid: BoardLayout['boards'][number][] = [];
  const types = new Map<string, number>();
  const missing = new Map<number, number>();
  const lay = (type: number, rects: readonly Rect[], limit: number): Rect[] => {
    const board = boards[type];
    const bins = packItems(rects, rulesOf(board)).map((bin) => bin.map(({ index, x, y }) => ({ rect: rects[index], x, y })));
    for (const bin of bins.slice(0, limit)) {
      const covered = bin.reduce((sum, { rect }) => sum + Math.abs(loopArea(rect.piece.shape.outline)), 0);
      laid.push({
        type, length: board.length, width: board.width, thickness: rects[0].piece.thickness, yield: covered / (board.length * board.width),
        pieces: bin.map(({ rect, x, y }) => ({ layer: rect.piece.layer, index: rect.piece.index, copy: rect.copy, blank: rect.blank, x, y })),
      });
      for (const { rect } of bin) {
        const key = `${rect.piece.layer}/${rect.piece.index}`;
        if (!types.has(key)) types.set(key, type);
      }
    }
    return bins.slice(limit).flatMap((bin) => bin.map(({ rect }) => rect));
  };
  for (const thickness of [...new Set(all.map(({ piece }) => piece.thickness))].sort((a, b) => b - a)) {
    left = all.filter(({ piece }) => piece.thickness === thickness);
    for (const type of order) {
      const here = left.filter((r) => fits(r, boards[type]));
      if (here.length === 0) continue;
      const used = laid.filter((board) => board.type === type).length;
      const over = new Set(lay(type, here, Math.max(0, (boards[type].onHand ?? Infinity) - used)));
      left = left.filter((r) => !here.includes(r) || over.has(r));
    }
    // What no board on hand is left for is still laid on the cheapest type, and the shortage is reported.
    for (const type of order) {
      const here = left.filter((r) => fits(r, boards[type]));
      if (here.length === 0) continue;
      const before = laid.length;
      lay(type, here, Infinity);
      missing.set(type, (missing.get(type) ?? 0) + laid.length - before);
      left = left.filter((r) => !here.includes(r));
    }
  }
  const short = [...missing].map(([type, count]) => ({ type, missing: count }));
  const total = laid.reduce((sum, b) => sum + b.length * b.width, 0);
  const covered = laid.reduce((sum, b) => sum + b.yield * b.length * b.width, 0);
  return { layout: { boards: laid, yield: total > 0 ? covered / total : 0 }, types, short };
}
