/** What reads, checks and writes the files of boards and records: fetched when the first is asked for, since the first picture does without. */
import type { Design } from '../../geometry/design/schema';
import type { Readings } from '../../geometry/trust/readings';
import { withoutTrials } from '../../geometry/wood/trials';

async function fetched() {
  const [read, write, readings] = await Promise.all([import('../../geometry/design/read'), import('../../geometry/design/write'), import('../../geometry/trust/readingsFile')]);
  return { ...read, ...write, ...readings };
}

let files: ReturnType<typeof fetched> | null = null;

/** Rejects where it cannot be fetched, as without a network on a first visit; the next that asks tries again. */
export const theFiles = (): ReturnType<typeof fetched> => (files ??= fetched().catch((error: unknown) => {
  files = null;
  throw error;
}));

/** What is said where it cannot be fetched. */
export const NOT_FETCHED = { field: '', value: 'a part of this page', allowed: 'a network, or a page that was loaded whole once', message: 'cannot be fetched' };

/** A board, and a record, as the shelf keeps them: text that the readers of their files take, made without fetching anything, so that it can be written as a page goes. */
export const boardText = (design: Design): string => JSON.stringify(withoutTrials(design));
export const recordText = (record: Readings): string => JSON.stringify(record);
