/** The table of offsets on the page: its text, how it is to be read, and the lines fitted to it. */
import { create } from 'zustand';
import { FIT_TOLERANCE } from '../../../geometry/shape/offsetsFit';
import { type OffsetsError, type OffsetsReadOptions, TEXT_LIMIT } from '../../../geometry/shape/offsetsRead';
import type { OutlineEnds } from '../../../geometry/shape/outlineFit';
import { useDesign } from '../../state/design';
import type { OffsetsRead, TableFitted } from '../../state/jobKinds';
import { isBusy, useJob } from '../../state/jobs';
import { propose, discardProposal } from '../../state/proposal';
import { tab } from '../../state/storage';
import { dropJob, endJob, runJob } from '../../work/jobs';
import { useLines } from './lines';

interface OffsetsState {
  readonly text: string;
  /** Where the text came from, if from a file. */
  readonly source: string | null;
  readonly options: OffsetsReadOptions;
  readonly tolerance: number;
  readonly ends: OutlineEnds;
  /** Why a file was not even looked into. */
  readonly refused: OffsetsError | null;
}

export const OFFSETS_TITLE = 'Lines fitted to the table';

/** Name under which a tab keeps the table that was typed or pasted, so that a reload does not lose it. */
const KEPT = 'railwright-offsets';

export const useOffsets = create<OffsetsState>()(() => ({ text: tab.getItem(KEPT) ?? '', source: null, options: {}, tolerance: FIT_TOLERANCE, ends: {}, refused: null }));

/** Time without typing after which a table is read, ms. */
const PAUSE = 350;

/** Reads the present table and fits the present board to it. */
export async function fitAgain(quiet = 0): Promise<void> {
  const { text, options, tolerance, ends } = useOffsets.getState();
  if (text.trim() === '') {
    dropJob('offsets');
    return;
  }
  const { design } = useDesign.getState();
  const result = await runJob('offsets', { text, options, tolerance, ends, design }, { quiet });
  if (!result?.ok) return;
  // The board was changed meanwhile: the fit is made again, on the board as it is now.
  if (design !== useDesign.getState().design) await fitAgain();
  else if (result.fit.ok) propose(OFFSETS_TITLE, result.fit.design);
}

/** Changes the table or how it is read; it is read and fitted after a pause in the typing. */
export function changeOffsets(change: Partial<Omit<OffsetsState, 'refused'>>): void {
  discardProposal();
  useOffsets.setState({ ...change, refused: null });
  if (change.text !== undefined) tab.setItem(KEPT, change.text);
  void fitAgain(PAUSE);
}

/** Another table has commas and columns of its own. */
export const ofAnother = (options: OffsetsReadOptions): OffsetsReadOptions => ({ ...options, commas: undefined, columns: undefined });

/** Ends reading and fitting, as when the tool is closed. */
export const stopOffsets = (): void => endJob('offsets');

/** The table as read, its fit once it is made, and what is wrong with a table that cannot be read. */
export function useOffsetsRead(): { readonly read: OffsetsRead | null; readonly result: TableFitted | null; readonly busy: boolean } {
  const job = useJob('offsets');
  const busy = isBusy(job);
  // A table that is being fitted takes the place of what the one before came to.
  const result = busy && job.progress ? null : job.result;
  return { read: result?.ok ? result.read : result ? null : job.progress, result, busy };
}

/** Takes a table from a file. */
export async function loadOffsets(file: File): Promise<void> {
  useLines.getState().set({ tool: 'offsets' });
  if (file.size > 4 * TEXT_LIMIT) {
    const error: OffsetsError = { row: 0, column: '', value: `${(file.size / 1e6).toFixed(1)} megabytes`, allowed: `at most ${TEXT_LIMIT / 1e6} million characters`, message: 'the file is far too long for a table of offsets' };
    dropJob('offsets');
    useOffsets.setState({ refused: error, source: file.name });
    return;
  }
  changeOffsets({ text: await file.text(), source: file.name, options: ofAnother(useOffsets.getState().options) });
}

/** Whether a dropped file is a table by its kind or name. */
export const isTable = (file: File): boolean => /^text\/(csv|plain|tab-separated-values)$/.test(file.type) || /\.(csv|tsv|txt)$/i.test(file.name);
