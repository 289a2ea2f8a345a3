/** What the box is, stretch by stretch, from tail to nose. */
import type { BoxState, BoxStretch, RailEnd, RailPlan, RailSamples, RailSection, RowStretch } from '../types';
import { rowsAt } from './laid';
import { boxOnRun, gapOnRun, whereHolds, type Interval, type Run } from './run';

export interface Extents {
  /** Where the gap is open (strips clear of each other), and where there is room for the sole at all. */
  readonly open: readonly Interval[];
  readonly room: readonly Interval[];
}

/** What the sole has left under the deck, mm: at the rib-end line, or at its outer edge where the deck falls faster. */
const soleRoom = ({ deckRib, deckFace, soleTop }: Pick<RailSection, 'deckRib' | 'deckFace' | 'soleTop'>): number => Math.min(deckRib, deckFace) - soleTop;

/** Stretches of the box where the strips are clear of each other, and where the sole has room; ends refined. */
export function boxExtents(run: Run, { n, s, gap, deckRib, deckFace, soleTop }: RailSamples): Extents {
  const rooms = new Float64Array(n);
  for (let i = 0; i < n; i++) rooms[i] = Math.min(deckRib[i], deckFace[i]) - soleTop[i];
  return {
    open: whereHolds((at) => gapOnRun(run, at), s, gap, run.boxFrom, run.boxTo),
    room: whereHolds((at) => soleRoom(boxOnRun(run, at)), s, rooms, run.boxFrom, run.boxTo),
  };
}

/** The longest of some stretches; undefined for none. */
export const longest = (list: readonly Interval[]): Interval | undefined =>
  list.reduce<Interval | undefined>((best, i) => (!best || i.s1 - i.s0 > best.s1 - best.s0 ? i : best), undefined);

const inside = (list: readonly Interval[], s: number) => list.some((i) => s >= i.s0 && s <= i.s1);

/** The box's states in order along the whole run; boundaries are the refined roots. */
export function boxStretches(run: Run, rows: readonly RowStretch[], extents: Extents, ends: RailPlan['ends']): BoxStretch[] {
  const { tail, nose } = ends;
  const cuts = [0, run.total, run.boxFrom, run.boxTo];
  for (const end of [tail, nose]) if (end && end.cause !== 'touch') cuts.push(end.s, end.rowsTo);
  /** Whether a run lies beyond an end's place, toward that end. */
  const beyond = (place: (end: RailEnd) => number, s: number) => (tail !== undefined && s < place(tail)) || (nose !== undefined && s > place(nose));
  for (const i of [...extents.open, ...extents.room]) cuts.push(i.s0, i.s1);
  for (const r of rows) cuts.push(r.tail.s, r.nose.s);
  const edges = [...new Set(cuts.filter((c) => c >= 0 && c <= run.total))].sort((a, b) => a - b);
  const out: BoxStretch[] = [];
  for (let i = 0; i + 1 < edges.length; i++) {
    const mid = (edges[i] + edges[i + 1]) / 2;
    if (edges[i + 1] - edges[i] < 1e-6) continue;
    const standing = rowsAt(rows, mid);
    const state: BoxState =
      beyond((end) => (end.cause === 'bend' ? end.s : Number.NaN), mid) ? 'block'
      : mid < run.boxFrom || mid > run.boxTo ? 'meet'
      : beyond((end) => end.rowsTo, mid) && !beyond((end) => end.s, mid) ? 'tongue'
      : !inside(extents.room, mid) ? 'none'
      : !inside(extents.open, mid) ? 'closed'
      : standing === run.sizes.rows ? 'full'
      : standing > 0 ? 'fewer'
      : 'open';
    const count = state === 'full' || state === 'fewer' ? standing : 0;
    const last = out[out.length - 1];
    if (last && last.state === state && last.rows === count) out[out.length - 1] = { ...last, s1: edges[i + 1] };
    else out.push({ state, rows: count, s0: edges[i], s1: edges[i + 1] });
  }
  return out;
}
