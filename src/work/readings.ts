/**
 * What was measured on the open board: kept on the shelf beside it at every change, and the plan corrected
 * by it. The design is not touched by a reading.
 */
import { create } from 'zustand';
import { fieldErrorLine, type FieldError } from '../../geometry/errors';
import { said, type Said } from '../../geometry/said';
import { holdsFigure, noReadings, readReadings, type Readings, putFigure, writeReadings } from '../../geometry/trust/readings';
import type { AsBuilt, ReadingField } from '../../geometry/trust/types';
import type { Plan, Side } from '../../geometry/types';
import { getReadings, onShelfLost, putReadings } from '../state/database';
import { keepBeside, useKeep } from '../state/keep';
import { useFile } from '../state/boardFile';
import { useDesign } from '../state/design';
import { useMade } from '../state/jobs';
import { eachPlan, planNow } from '../state/plan';
import { dropJob, runJob } from './jobs';

interface ReadingsState {
  /** The shelf's id of the board the record belongs to; '' before the first. */
  readonly board: string;
  readonly record: Readings;
  /** The side read and shown. */
  readonly side: Side;
  /** The corrected rail is drawn over the designed one. */
  readonly shown: boolean;
  /** What the shelf held and could not be read. */
  readonly trouble: Said | null;
}

export const useReadings = create<ReadingsState>()(() => ({
  board: '', record: noReadings('board', ''), side: 'starboard', shown: true, trouble: null,
}));

const empty = (): Readings => {
  const { name, revision } = useDesign.getState().design;
  return noReadings(name, revision);
};

/** How long a plan must stay unchanged before it is corrected, ms. */
const QUIET = 150;

/** Corrects the plan shown by the readings, if there are any. */
function correct(quiet = 0): void {
  const plan = planNow();
  const { record } = useReadings.getState();
  if (!plan || record.readings.length === 0) dropJob('built');
  else void runJob('built', { plan, record }, { quiet });
}

async function keep(): Promise<void> {
  const { board, record } = useReadings.getState();
  useReadings.setState({ trouble: null });
  await keepBeside(`readings of ${board}`, () => putReadings({ board, text: writeReadings(record), at: Date.now() }));
}

function take(record: Readings): void {
  useReadings.setState({ record });
  void keep();
  correct();
}

/** Puts one reading in the record, mm; undefined removes it. */
export function setReading(rib: number, side: Side, field: ReadingField, value: number | undefined): void {
  const { record } = useReadings.getState();
  const head = record.readings.length === 0 ? empty() : record;
  const before = record.readings.find((r) => r.rib === rib && r.side === side);
  const next = putFigure(before ?? { of: 'rib', rib, side }, field, value);
  take({ ...head, readings: [...record.readings.filter((r) => r !== before), ...(holdsFigure(next) ? [next] : [])] });
}

/** Deletes all readings of the board. */
export function deleteReadings(): void {
  take(empty());
}

/** The readings belong to the board as it is now called, and to this revision. */
export function claimReadings(): void {
  const { name, revision } = useDesign.getState().design;
  take({ ...useReadings.getState().record, board: name, revision });
}

/** Greatest readings file that is read at all, bytes. */
const GREATEST = 1_000_000;

/** Opens a readings file: it takes the place of the readings there are, or is refused with its errors. */
export async function openReadings(file: File): Promise<void> {
  const refuse = (errors: readonly FieldError[]) => useFile.setState({ refused: { name: file.name, errors }, notes: [] });
  if (file.size > GREATEST) {
    refuse([{ field: '', value: `${file.size} bytes`, allowed: `at most ${GREATEST} bytes`, message: 'the file is too large' }]);
    return;
  }
  const read = readReadings(await file.text());
  if (read.ok) {
    take(read.readings);
    useFile.setState({ refused: null, notes: read.notes });
  } else refuse(read.errors);
}

/** The text of the record's file. */
export const readingsText = (): string => writeReadings(useReadings.getState().record);

async function load(board: string): Promise<void> {
  dropJob('built');
  useReadings.setState({ board, record: empty(), trouble: null });
  try {
    const kept = await getReadings(board);
    if (useReadings.getState().board !== board) return;
    const read = kept && readReadings(kept.text);
    if (read?.ok) useReadings.setState({ record: read.readings });
    else if (read) useReadings.setState({ trouble: said('The readings kept with this board cannot be read: {why}', { why: fieldErrorLine(read.errors[0]) }) });
  } catch {
    // A browser that keeps nothing says so at the shelf.
  }
  correct();
}

/** Follows the open board and its plan. Call once, after the board was found again. */
export function startReadings(): void {
  void load(useKeep.getState().id);
  useKeep.subscribe(({ id }, before) => {
    if (id !== before.id) void load(id);
  });
  onShelfLost(() => {
    if (useReadings.getState().record.readings.length > 0) void keep();
  });
  eachPlan(() => correct(QUIET));
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
