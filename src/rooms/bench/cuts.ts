/** The pieces of the cut list as the screen tells them: where each ends, how it bends, which tabs it meets. */
import { bendText } from '../../say/bendWords';
import { pieceId, stripName } from '../../../geometry/parts/stripWords';
import type { BendZone, Parts, Piece } from '../../../geometry/parts/types';
import { sectionAt } from '../../../geometry/rail/query';
import type { Plan, Side } from '../../../geometry/types';
import { cutStockLengths } from '../../papers/listTables';

/** One end of a piece: at the board's tip, at a row's stop, where its strip ends, or on a joint. Station from the tail, and run. */
export interface CutEnd {
  readonly kind: 'tip' | 'stop' | 'end' | 'joint';
  readonly s: number;
  readonly x: number;
}

export interface CutLine {
  readonly id: string;
  /** Numbers of the piece and of its stock length, on all papers. */
  readonly number: number;
  readonly stock: number;
  readonly piece: Piece;
  /** The strip, and which of its pieces this is where there are several. */
  readonly name: string;
  readonly ends: { readonly tail: CutEnd; readonly nose: CutEnd };
  readonly width: number;
  readonly thickness: number;
  readonly how: string;
  /** Numbers of the ribs whose tabs it meets. */
  readonly tabs: readonly number[];
}

/** A piece of less than this short of the rail's end ends there, mm. */
const TIP = 0.5;

/** How a piece bends, by its ends: the methods other than cold that its stretch of strip wants, each toward which end. */
function howText(zones: readonly BendZone[], { s0, s1 }: Piece): string {
  const middle = (s0 + s1) / 2;
  const at = new Map<string, Set<'tail' | 'nose'>>();
  for (const zone of zones) {
    if (zone.method === 'cold' || zone.s1 <= s0 || zone.s0 >= s1) continue;
    const ends = at.get(bendText(zone)) ?? new Set();
    if (zone.s0 < middle) ends.add('tail');
    if (zone.s1 > middle) ends.add('nose');
    at.set(bendText(zone), ends);
  }
  if (at.size === 0) return 'bends cold';
  return [...at].map(([words, ends]) => `${words} ${ends.size === 2 ? 'at both ends' : `toward the ${[...ends][0]}`}`).join(', ');
}

/** The cut list by its numbers. `planOf`: the plan of a side, as built where it was measured. */
export function cutLines(parts: Parts, planOf: (side: Side) => Plan): CutLine[] {
  const { pieces: all = [] } = parts.joints ?? {};
  return cutStockLengths(parts).flatMap(({ stock, number: of, pieces }) => pieces.map(({ piece, number }): CutLine => {
    const { strip, side, index, s0, s1 } = piece;
    const plan = planOf(side);
    const { face, ribs } = plan.rail;
    const mates = all.filter((one) => one.side === side && one.strip.kind === strip.kind && one.strip.order === strip.order && one.strip.stretch === strip.stretch);
    const first = mates.every((one) => one.s0 >= s0);
    const last = mates.every((one) => one.s1 <= s1);
    const end = (s: number, toTip: number, free: boolean): CutEnd =>
      ({ kind: !free ? 'joint' : strip.kind === 'row' ? 'stop' : toTip < TIP ? 'tip' : 'end', s, x: sectionAt(plan, s).x });
    const bent = parts.bending.find((one) => one.strip.kind === strip.kind && one.strip.order === strip.order && one.strip.stretch === strip.stretch);
    return {
      id: pieceId(piece), number, stock: of, piece,
      name: mates.length > 1 ? `${stripName(strip)}, piece ${index} of ${mates.length}` : stripName(strip),
      ends: { tail: end(s0, s0, first), nose: end(s1, face.length - s1, last) },
      width: stock.width, thickness: stock.thickness, how: bent ? howText(bent.zones, piece) : '',
      tabs: ribs.filter((rib) => rib.hasTab && rib.s >= s0 && rib.s <= s1).map((rib) => rib.index + 1),
    };
  }));
}
