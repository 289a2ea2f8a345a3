/**
 * What was measured, tried and done on the open board, and the plan corrected by it. It is kept and undone with the board
 * (src/state); the design is not touched by a reading.
 */
import { create } from 'zustand';
import type { TrialBend } from '../../geometry/design/schema';
import type { FieldError } from '../../geometry/errors';
import { checkReadings, holdsFigure, putFigure, readingOf, readReadings, type Reading, type Readings, writeReadings } from '../../geometry/trust/readings';
import type { AsBuilt, ReadingField } from '../../geometry/trust/types';
import type { Plan, Side } from '../../geometry/types';
import { useFile } from '../state/boardFile';
import { addTaker } from '../state/drops';
import { emptyRecord, useDesign } from '../state/design';
import { useMade } from '../state/jobs';
import { eachPlan, planNow } from '../state/plan';
import { useView } from '../state/view';
import { dropJob, runJob } from './jobs';

interface ReadingsState {
  /** The side read and shown. */
  readonly side: Side;
  /** The corrected rail is drawn over the designed one. */
  readonly shown: boolean;
}

export const useReadings = create<ReadingsState>()(() => ({ side: 'starboard', shown: true }));

/** The record of the open board. */
export const useRecord = (): Readings => useDesign((state) => state.record);

/** How long a plan must stay unchanged before it is corrected, ms. */
const QUIET = 150;

/** Corrects the plan shown by the readings, if there are any. */
function correct(quiet = 0): void {
  const plan = planNow();
  const { record } = useDesign.getState();
  if (!plan || record.readings.length === 0) dropJob('built');
  else void runJob('built', { plan, record }, { quiet });
}

/** The record with a change in it; one without readings belongs to the board as it is now called. */
function change(part: Partial<Pick<Readings, 'readings' | 'trials' | 'ticks' | 'step'>>): void {
  const { design, record, note } = useDesign.getState();
  const { board, revision } = record.readings.length === 0 ? emptyRecord(design) : record;
  note({ ...record, board, revision, ...part });
}

/** Puts one figure in the record, mm (a bevel: radians); undefined removes it. `at`: a rib of a side, or the batch of both sides. */
export function setReading(at: { readonly rib: number; readonly side: Side } | 'batch', field: ReadingField, value: number | undefined): void {
  const { readings } = useDesign.getState().record;
  const fresh: Reading = at === 'batch' ? { of: 'batch' } : { of: 'rib', ...at };
  const before = readings.find((r) => r.of === fresh.of && r.rib === fresh.rib && r.side === fresh.side);
  const next = putFigure(before ?? fresh, field, value);
  // A field that loses the focus says again what Enter said: no step of its own.
  if (readingOf(next, field) === readingOf(before ?? fresh, field)) return;
  change({ readings: [...readings.filter((r) => r !== before), ...(holdsFigure(next) ? [next] : [])] });
}

/** Adds a trial bend to the record; what is wrong with it, where it is no trial. */
export function addTrial(trial: TrialBend): readonly FieldError[] {
  const { record } = useDesign.getState();
  const trials = [...(record.trials ?? []), trial];
  const read = checkReadings({ ...record, trials });
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

/** Ticks something off or takes its tick away; `reached`: the step that the work has reached by it, if it is farther than before. */
export function tick(id: string, done: boolean, reached = 1): void {
  const { ticks: before = [], step: was = 1, ...rest } = useDesign.getState().record;
  const ticks = [...before.filter((one) => one !== id), ...(done ? [id] : [])];
  const step = Math.max(was, reached);
  useDesign.getState().note({ ...rest, ...(ticks.length > 0 ? { ticks } : {}), ...(step > 1 ? { step } : {}) });
}

/** Deletes all readings of the board and its trial bends; ticks stay. */
export function deleteReadings(): void {
  const { trials: _, ...record } = useDesign.getState().record;
  useDesign.getState().note({ ...record, readings: [] });
}

/** The readings belong to the board as it is now called, and to this revision. */
export function claimReadings(): void {
  const { design, record, note } = useDesign.getState();
  note({ ...record, board: design.name, revision: design.revision });
}

/** Greatest readings file that is read at all, bytes. */
const GREATEST = 1_000_000;

/** Opens a readings file: it takes the place of the record there is, as one step that can be undone, or is refused with its errors. */
export async function openReadings(file: File): Promise<void> {
  const refuse = (errors: readonly FieldError[]) => useFile.setState({ refused: { name: file.name, errors }, notes: [] });
  if (file.size > GREATEST) {
    refuse([{ field: '', value: `${file.size} bytes`, allowed: `at most ${GREATEST} bytes`, message: 'the file is too large' }]);
    return;
  }
  const read = readReadings(await file.text());
  if (read.ok) {
    useDesign.getState().note(read.readings);
    useFile.setState({ refused: null, notes: read.notes });
  } else refuse(read.errors);
}

/** The text of the record's file. */
export const readingsText = (): string => writeReadings(useDesign.getState().record);

const isReadings = (file: File) => /\.readings\.json$/i.test(file.name);

/** Follows the record of the open board and its plan, and takes readings files dropped on any page. Call once, after the board was found again. */
export function startReadings(): void {
  correct();
  addTaker((file) => {
    if (!isReadings(file)) return false;
    void openReadings(file).then(() => useView.setState({ panel: 'readings' }));
    return true;
  });
  useDesign.subscribe(({ record }, { record: before }) => {
    if (record.readings !== before.readings || record.board !== before.board || record.revision !== before.revision) correct();
  });
  eachPlan(() => correct(QUIET));
}

/** The sides that were measured, where as built leads; none where it does not. */
export function useMeasuredSides(plan: Plan | null): readonly Side[] {
  const built = useMade('built', plan);
  const shown = useReadings((state) => state.shown);
  return shown ? (['starboard', 'port'] as const).filter((side) => (built?.[side]?.used ?? 0) > 0) : [];
}

/** The plan of a side as measured, for this very plan; null where nothing was measured there. */
export function useBuilt(plan: Plan | null): AsBuilt | null {
  const built = useMade('built', plan);
  return useReadings(({ side }) => built?.[side] ?? null);
}

/** The same where it is to be drawn over the design, and rests on at least one reading. */
export function useShownBuilt(plan: Plan | null): AsBuilt | null {
  const built = useBuilt(plan);
  return useReadings(({ shown }) => (shown && built && built.used > 0 ? built : null));
}
