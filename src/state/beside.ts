/** What is kept beside a board on the shelf: its record of readings, trial bends, ticks and the step reached. */
import { fieldErrorLine } from '../../geometry/errors';
import { said, type Said } from '../../geometry/said';
import type { Readings } from '../../geometry/trust/readings';
import { getReadings, putReadings } from './database';
import { recordText, theFiles } from './files';

/** A record as far as it can be read; `trouble` says why one that is kept cannot be. */
export interface Beside {
  readonly record?: Readings;
  readonly trouble?: Said;
}

/** Records that the shelf has not taken yet, by their board. */
const unshelved = new Map<string, Readings>();

/** The record beside a board: the one that waits for the shelf, else the shelf's own. */
export async function besideOf(board: string): Promise<Beside> {
  const waits = unshelved.get(board);
  if (waits) return { record: waits };
  // A browser that keeps nothing says so at the shelf.
  const kept = await getReadings(board).catch(() => undefined);
  if (!kept) return {};
  const read = (await theFiles()).readReadings(kept.text);
  return read.ok ? { record: read.readings } : { trouble: said('The readings kept with this board cannot be read: {why}', { why: fieldErrorLine(read.errors[0]) }) };
}

/** Writes a board's record, unless a newer one has come. Rejects where the shelf does not take it; it waits then. */
export async function shelve(board: string, record: Readings, again = false): Promise<void> {
  if (again && unshelved.get(board) !== record) return;
  unshelved.set(board, record);
  await putReadings({ board, text: recordText(record), at: Date.now() });
  if (unshelved.get(board) === record) unshelved.delete(board);
}

/** A board's record goes with it. */
export const forget = (board: string): void => void unshelved.delete(board);

/** The record goes with a copy of its board; where it cannot, the copy begins without. */
export async function copyBeside(from: string, to: string): Promise<void> {
  const readings = await getReadings(from).catch(() => undefined);
  if (readings) await putReadings({ ...readings, board: to }).catch(() => undefined);
}
