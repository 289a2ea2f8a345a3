/** What readings move, as it is told before they are taken. */
import { sectionAt } from '../../geometry/rail/query';
import type { Correction } from '../../geometry/trust/types';
import type { Plan } from '../../geometry/types';
import { lengthText, lengthWithUnit, type Unit } from './units';

/** The stop that moves farthest, with how many move, and by how much, mm; null where none does. */
export function farthestMove(changes: readonly Correction[]): { readonly row: number | undefined; readonly end: Correction['end']; readonly was: number; readonly is: number; readonly by: number; readonly of: number } | null {
  const stops = changes.flatMap(({ what, row, end, was, is }) => (what === 'stop' && was !== undefined && is !== undefined ? [{ row, end, was, is, by: Math.abs(is - was) }] : []));
  const [far] = stops.toSorted((a, b) => b.by - a.by);
  return far ? { ...far, of: stops.length } : null;
}

/** The farthest move of a stop, and rows that come or go, in a sentence. */
export function movesText(plan: Plan, changes: readonly Correction[], unit: Unit): string {
  const far = farthestMove(changes);
  const place = (s: number) => {
    const { x } = sectionAt(plan, s);
    return lengthText(far?.end === 'nose' ? plan.hull.length - x : x, unit);
  };
  const told = [
    ...(far ? [`moves ${far.of === 1 ? 'one stop' : `${far.of} stops`}, row ${far.row}’s ${far.end} stop most: by ${lengthWithUnit(far.by, unit)}, from ${place(far.was)} to ${place(far.is)}`] : []),
    ...changes.filter(({ what }) => what === 'rows').map(({ row, is }) => `row ${row} ${is === undefined ? 'no longer fits' : 'fits now'}`),
  ];
  return told.length === 0 ? 'moves no stop' : told.join('; ');
}
