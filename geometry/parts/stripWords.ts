/** What a strip, a piece of it and its way of bending are called by: apart from how it bends, which the page leaves to its threads. */
import type { BendZone, Piece, StripId } from './types';

/** A strip's name as screens and papers say it. */
export function stripName(id: StripId): string {
  const part = id.stretch > 1 ? `, part ${id.stretch}` : '';
  if (id.kind === 'row') return `Row ${id.order}${part}`;
  if (id.kind === 'outer-skin') return `Outer skin ${id.order}${part}`;
  return `${id.kind === 'sole' ? 'Sole' : 'Cap'}${part}`;
}

/** What a piece is ticked off by when it is cut: its strip, side and place in it, 1 nearest the tail. Stays while its length changes. */
export const pieceId = ({ strip: { kind, order, stretch }, side, index }: Pick<Piece, 'strip' | 'side' | 'index'>): string =>
  `${kind} ${order}.${stretch}/${side}/${index}`;

/** Whether each method brings heat. */
export const HEATED: Readonly<Record<BendZone['method'], boolean>> = { cold: false, forced: false, wet: true, split: true, layers: true, strap: true, block: false };
/** Whether a method brings heat. */
export const isHeated = ({ method }: Pick<BendZone, 'method'>): boolean => HEATED[method];

/** Whether a strip bends there as it comes: only there is it joined, since the ends of a forced piece would spring off. */
export const bendsFreely = ({ method }: Pick<BendZone, 'method'>): boolean => method === 'cold';
