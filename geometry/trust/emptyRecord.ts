/** A record that says nothing yet. */
import type { Readings } from './readingsFile';
import { READINGS_FORMAT, READINGS_VERSION } from './readingsHead';

/** Whether a record says nothing at all. */
export const isEmptyRecord = ({ readings, trials = [], ticks = [], cut = [], step }: Readings): boolean =>
  readings.length === 0 && trials.length === 0 && ticks.length === 0 && cut.length === 0 && step === undefined;

/** No readings yet for a board of this name and revision. */
export function noReadings(board: string, revision: string): Readings {
  return { format: READINGS_FORMAT, version: READINGS_VERSION, board, revision, readings: [] };
}
