/** What a rail that has been planned says of its rows, its stops and its ends. */
import type { RailPlan, RowStretch, Stop } from '../types';
import type { Interval } from './run';

/** Least length of a block that closes a square end, mm: own choice. */
const LEAST_BLOCK = 20;

/** Every stop of the rows, row by row from the sole up, each stretch's tail end first. */
export const stopsOf = ({ rows }: { readonly rows: readonly RowStretch[] }): Stop[] => rows.flatMap(({ tail, nose }) => [tail, nose]);

/** A stop that moved by less is where it was, mm: own choice. */
const MOVED = 0.5;

/** Stops of a rail that are elsewhere, or no more, in another. */
export function movedStops(was: { readonly rows: readonly RowStretch[] }, now: { readonly rows: readonly RowStretch[] }): Stop[] {
  const there = stopsOf(now);
  return stopsOf(was).filter((stop) => there.every(({ row, end, s }) => row !== stop.row || end !== stop.end || Math.abs(s - stop.s) > MOVED));
}

/** Whether no measure moves a stop: it ends with the box, or at a block that is cut where the plan says. */
export const isFixed = ({ cause }: Pick<Stop, 'cause'>): boolean => cause === 'end' || cause === 'block';

/** Rows standing at a run: rows nest, so their number is the highest that covers it. */
export function rowsAt(rows: readonly RowStretch[], s: number): number {
  let n = 0;
  for (const r of rows) if (s >= r.tail.s && s <= r.nose.s && r.row > n) n = r.row;
  return n;
}

/** The stretch of run over which the box is hollow: between the tongues, or as far as the cap goes. */
export const hollowSpan = ({ cap, ends }: Pick<RailPlan, 'cap' | 'ends'>): Interval => ({ s0: ends.tail?.rowsTo ?? cap.s0, s1: ends.nose?.rowsTo ?? cap.s1 });

/** The stretch of run that the outer skins cover: all of it, but for blocks that they butt on. */
export const skinSpan = ({ face, ends }: Pick<RailPlan, 'face' | 'ends'>): Interval => ({ s0: ends.tail?.skinsTo ?? 0, s1: ends.nose?.skinsTo ?? face.length });

/** Whether a block or its tongue fills the box at run s. */
export const solidAt = ({ tail, nose }: RailPlan['ends'], s: number): boolean =>
  (tail !== undefined && tail.cause !== 'touch' && s < tail.rowsTo) || (nose !== undefined && nose.cause !== 'touch' && s > nose.rowsTo);

/** Station of an end's inner face: where the strips end, or as far in as a square end needs to be closed. */
export function innerFace(rail: Pick<RailPlan, 'ends' | 'face' | 'samples'>, length: number, end: 'tail' | 'nose'): number {
  const { ribX, n } = rail.samples;
  const x = rail.ends[end]?.x ?? ribX[end === 'tail' ? 0 : n - 1];
  if (rail.face[end].kind !== 'open') return x;
  return end === 'tail' ? Math.max(LEAST_BLOCK, x) : Math.min(length - LEAST_BLOCK, x);
}
