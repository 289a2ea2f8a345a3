/** How long a row is cut, once the bench has worked it out. */
import type { Parts } from '../../geometry/parts/types';
import type { Plan, Side } from '../../geometry/types';
import { lengthText } from '../say/units';
import { useUnits } from '../state/unit';
import { usePartsCurrent, usePartsOf } from '../work/parts';
import { useReadings } from '../work/readings';

/** A run counts as within a piece that ends so near to it, mm. */
const AT_END = 1;

const reaches = (s0: number, s1: number, s: number): boolean => s >= s0 - AT_END && s <= s1 + AT_END;

/** The lengths of a row's pieces; empty where the row as made here is in no cut list. */
function lengthsIn({ bending, joints }: Parts, side: Side, row: number, s: number): readonly number[] {
  const pieces = joints?.pieces.filter((piece) => piece.side === side && piece.strip.kind === 'row' && piece.strip.order === row) ?? [];
  // Pieces are cut as built, strips bent as drawn: a row that moved is found among its pieces alone.
  const strip = bending.find(({ strip: { kind, order }, s: runs }) => kind === 'row' && order === row && reaches(runs[0], runs[runs.length - 1], s));
  const stretch = pieces.find(({ s0, s1 }) => reaches(s0, s1, s))?.strip.stretch ?? strip?.strip.stretch;
  const own = pieces.filter((piece) => piece.strip.stretch === stretch).sort((a, b) => a.s0 - b.s0);
  if (own.length > 0) return own.map(({ length }) => length);
  // Without a stock to cut from there are no pieces: the strip as long as it lies.
  return strip ? [strip.along[strip.along.length - 1]] : [];
}

/** Of a row that stands at run s on the side shown: the lengths of its pieces, tail first, as text; "…" while parts are not made, or not of these readings. */
export function useCutLength(plan: Plan): (row: number, s: number) => string {
  const unit = useUnits((state) => state.unit);
  const parts = usePartsOf(plan);
  const current = usePartsCurrent(plan);
  const side = useReadings((state) => state.side);
  return (row, s) => {
    if (!parts || !current) return '…';
    return lengthsIn(parts, side, row, s).map((length) => lengthText(length, unit)).join(' + ') || '–';
  };
}
