/** Changes to what was measured, tried and done on the open board: a figure at a time, each one step of its history; and what a figure would move before it is taken. */
import { useEffect, useEffectEvent, useMemo } from 'react';
import type { TrialBend } from '../../geometry/design/schema';
import type { FieldError } from '../../geometry/errors';
import { BATCH_FIELDS, holdsFigure, isFrameField, putFigure, readingOf, type Reading, type Readings } from '../../geometry/trust/readings';
import type { ReadingField } from '../../geometry/trust/types';
import type { Plan, Side } from '../../geometry/types';
import { emptyRecord, useDesign } from '../state/design';
import { NOT_FETCHED, theFiles } from '../state/files';
import type { Given, Result } from '../state/jobKinds';
import { isBusy, useJob, useJobs } from '../state/jobs';
import { dropJob, runJob } from './jobs';
import { useRecord } from './readings';

/** The record with a change in it; one without readings belongs to the board as it is now called. */
function change(part: Partial<Pick<Readings, 'readings' | 'trials' | 'ticks' | 'step'>>): void {
  const { design, record, note } = useDesign.getState();
  const { board, revision } = record.readings.length === 0 ? emptyRecord(design) : record;
  note({ ...record, board, revision, ...part });
}

/** Where something was read: at a rib of a side, or off the batch of both sides. */
type ReadAt = { readonly rib: number; readonly side: Side } | 'batch';

/** Readings with one figure put in, as `readingOf` has it; undefined removes it. The same list where it says what it said. */
function withReading(readings: Readings['readings'], at: ReadAt, field: ReadingField, value: number | undefined): Readings['readings'] {
  const fresh: Reading = at === 'batch' ? { of: 'batch' } : { of: 'rib', ...at };
  const before = readings.find((r) => r.of === fresh.of && r.rib === fresh.rib && r.side === fresh.side);
  const next = putFigure(before ?? fresh, field, value);
  // A field that loses the focus says again what Enter said: no step of its own.
  if (readingOf(next, field) === readingOf(before ?? fresh, field)) return readings;
  return [...readings.filter((r) => r !== before), ...(holdsFigure(next) ? [next] : [])];
}

/** What was read at a rib of a side, mm (a bevel: radians), and what it is as drawn. */
export interface RibReading {
  readonly rib: number;
  readonly side: Side;
  readonly field: ReadingField;
  readonly value: number;
  readonly drawn: number;
}

/** One way to take it: where it goes, and the figure as `readingOf` has it there. */
export interface Taking {
  readonly at: ReadAt;
  readonly value: number;
}

/** What was read at a rib may be the rib's own, first; or that of the whole batch, of whose frames it says how far they are off what is drawn. */
export function waysOf({ rib, side, field, value, drawn }: RibReading): readonly Taking[] {
  const alone = { at: { rib, side }, value };
  if (BATCH_FIELDS.some((one) => one === field)) return [alone, { at: 'batch', value }];
  // A hundredth is as fine as a caliper reads.
  return isFrameField(field) ? [alone, { at: 'batch', value: Number((value - drawn).toFixed(2)) }] : [alone];
}

/** Readings with what was read at a rib taken in a way: of the batch, it is no more the rib's own. */
const withWay = (readings: Readings['readings'], { rib, side, field }: RibReading, { at, value }: Taking): Readings['readings'] =>
  withReading(at === 'batch' ? withReading(readings, { rib, side }, field, undefined) : readings, at, field, value);

/** Takes what was read at a rib in a way, as one step. */
export function takeWay(read: RibReading, way: Taking): void {
  const { readings: before } = useDesign.getState().record;
  const readings = withWay(before, read, way);
  if (readings !== before) change({ readings });
}

/** What was read, while it is asked what it is of. */
interface Asked {
  readonly ways: readonly Taking[];
  /** What each way would move, in their order; null where that is not known. */
  readonly moves: Result<'asked'> | null;
  /** It is being worked out: the job 'asked', which says how far it is, and why it failed. */
  readonly busy: boolean;
}

/** The ways to take what was read, and what each would move, worked out as long as it is asked; null where nothing is. `read` is the same object until something else is asked. `onMoves` hears them when they come. */
export function useAsked(plan: Plan, read: RibReading | null, onMoves: (moves: Result<'asked'>) => void = () => {}): Asked | null {
  const record = useRecord();
  const given = useMemo((): Given<'asked'> | null => read && {
    plan, record, side: read.side, ways: waysOf(read).map((way) => ({ ...record, readings: withWay(record.readings, read, way) })),
  }, [plan, record, read]);
  const job = useJob('asked');
  const hear = useEffectEvent(onMoves);
  useEffect(() => {
    if (!given) return undefined;
    // Of the store, not of this call: it may fail and be begun again.
    const deaf = useJobs.subscribe(({ asked }, { asked: before }) => {
      if (asked !== before && asked.of === given && asked.result) hear(asked.result);
    });
    void runJob('asked', given);
    return () => {
      deaf();
      dropJob('asked');
    };
  }, [given]);
  if (!read) return null;
  // Before the effect the job is of what was asked last.
  return { ways: waysOf(read), moves: job.of === given ? job.result : null, busy: job.given !== given || isBusy(job) };
}

/** Puts one figure in the record, as `withReading`. */
export function setReading(at: ReadAt, field: ReadingField, value: number | undefined): void {
  const { readings: before } = useDesign.getState().record;
  const readings = withReading(before, at, field, value);
  if (readings !== before) change({ readings });
}

/** Adds a trial bend to the record; what is wrong with it, where it is no trial. */
export async function addTrial(trial: TrialBend): Promise<readonly FieldError[]> {
  const files = await theFiles().catch(() => null);
  if (!files) return [NOT_FETCHED];
  const { record } = useDesign.getState();
  const trials = [...(record.trials ?? []), trial];
  const read = files.checkReadings({ ...record, trials });
  if (!read.ok) return read.errors;
  change({ trials });
  return [];
}

/** Takes a trial bend out of the record. */
export function dropTrial(trial: TrialBend): void {
  const { trials, ...rest } = useDesign.getState().record;
  const left = trials?.filter((t) => t !== trial) ?? [];
  useDesign.getState().note({ ...rest, ...(left.length > 0 ? { trials: left } : {}) });
}

/** Deletes all readings of the board and its trial bends; ticks and pieces cut stay. */
export function deleteReadings(): void {
  const { trials: _, ...record } = useDesign.getState().record;
  useDesign.getState().note({ ...record, readings: [] });
}

/** The readings belong to the board as it is now called, and to this revision. */
export function claimReadings(): void {
  const { design, record, note } = useDesign.getState();
  note({ ...record, board: design.name, revision: design.revision });
}
