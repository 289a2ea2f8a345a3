/**
 * What was measured, tried and done on the open board, and the plan corrected by it. It is kept and undone with the board
 * (src/state); the design is not touched by a reading. src/work/record.ts changes it.
 */
import { create } from 'zustand';
import type { FieldError } from '../../geometry/errors';
import type { Readings } from '../../geometry/trust/readings';
import type { AsBuilt } from '../../geometry/trust/types';
import type { Plan, Side } from '../../geometry/types';
import { useFile } from '../state/boardFile';
import { addTaker } from '../state/drops';
import { useDesign } from '../state/design';
import { NOT_FETCHED, recordText, theFiles } from '../state/files';
import { useMade } from '../state/jobs';
import { eachPlan, planNow } from '../state/plan';
import { local } from '../state/storage';
import { useView } from '../state/view';
import { dropJob, runJob } from './jobs';

interface ReadingsState {
  /** The side read and shown. */
  readonly side: Side;
  /** The corrected rail is drawn over the designed one. */
  readonly shown: boolean;
}

/** The side is kept: a phone that is loaded again at the bench comes back to it. */
const SIDE_KEY = 'railwright-side';

export const useReadings = create<ReadingsState>()(() => ({ side: local.getItem(SIDE_KEY) === 'port' ? 'port' : 'starboard', shown: true }));
useReadings.subscribe(({ side }, { side: before }) => {
  if (side !== before) local.setItem(SIDE_KEY, side);
});

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

/** Greatest readings file that is read at all, bytes. */
const GREATEST = 1_000_000;

/** Opens a readings file: it takes the place of the record there is, as one step that can be undone, or is refused with its errors. */
export async function openReadings(file: File): Promise<void> {
  const refuse = (errors: readonly FieldError[]) => useFile.setState({ refused: { name: file.name, errors }, notes: [] });
  if (file.size > GREATEST) {
    refuse([{ field: '', value: `${file.size} bytes`, allowed: `at most ${GREATEST} bytes`, message: 'the file is too large' }]);
    return;
  }
  const read = await Promise.all([theFiles(), file.text()]).then(([{ readReadings }, text]) => readReadings(text), () => ({ ok: false as const, errors: [NOT_FETCHED] }));
  if (read.ok) {
    useDesign.getState().note(read.readings);
    useFile.setState({ refused: null, notes: read.notes });
  } else refuse(read.errors);
}

/** The text of the record's file. */
export function readingsText(): Promise<string> {
  const { record } = useDesign.getState();
  return theFiles().then(({ writeReadings }) => writeReadings(record), () => recordText(record));
}

const isReadings = (file: File) => /\.readings\.json$/i.test(file.name);

/** Follows the record of the open board and its plan, and takes readings files dropped on any page. Call once, after the board was found again. */
export function startReadings(): void {
  correct();
  addTaker((file) => {
    if (!isReadings(file)) return false;
    void openReadings(file).then(() => useView.getState().open('readings'));
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
