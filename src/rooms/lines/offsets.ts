/** The table of offsets on the page: its text, how it was read, and the lines fitted to it by a worker. */
import { create } from 'zustand';
import type { FieldError } from '../../../geometry/design/fields';
import type { Design } from '../../../geometry/design/schema';
import type { OffsetColumn, OffsetTable } from '../../../geometry/shape/offsets';
import { type FitMiss, FIT_TOLERANCE } from '../../../geometry/shape/offsetsFit';
import { type OffsetsError, type OffsetsReading, type OffsetsReadOptions, TEXT_LIMIT } from '../../../geometry/shape/offsetsRead';
import type { OutlineEnds } from '../../../geometry/shape/outlineFit';
import { useDesign } from '../../state/design';
import type { OffsetsAnswer, OffsetsJob } from './offsets.worker';
import OffsetsWorker from './offsets.worker?worker';
import { useLines } from './lines';
import { propose, refuseProposal } from '../../state/proposal';

interface OffsetsState {
  readonly text: string;
  /** Where the text came from, if from a file. */
  readonly source: string | null;
  readonly options: OffsetsReadOptions;
  readonly tolerance: number;
  readonly ends: OutlineEnds;
  readonly busy: boolean;
  readonly table: OffsetTable | null;
  readonly reading: OffsetsReading | null;
  readonly notes: readonly string[];
  readonly errors: readonly OffsetsError[];
  readonly more: number;
  readonly misses: Partial<Record<OffsetColumn, FitMiss>> | null;
  readonly met: boolean;
  readonly unfit: readonly FieldError[];
}

const NOTHING = { table: null, reading: null, notes: [], errors: [], more: 0, misses: null, met: false, unfit: [] } as const;

export const OFFSETS_TITLE = 'Lines fitted to the table';

export const useOffsets = create<OffsetsState>()(() => ({
  text: '', source: null, options: {}, tolerance: FIT_TOLERANCE, ends: {}, busy: false, ...NOTHING,
}));

let worker: Worker | null = null;
/** The board the present job fits to. */
let fitted: Design | null = null;
let lastId = 0;
let waiting: ReturnType<typeof setTimeout> | undefined;
/** Time without typing after which a table is read, ms. */
const PAUSE = 350;

function onAnswer({ data }: MessageEvent<OffsetsAnswer>): void {
  if (data.id !== lastId) return;
  switch (data.step) {
    case 'unread':
      useOffsets.setState({ ...NOTHING, errors: data.errors, more: data.more, busy: false });
      break;
    case 'read':
      useOffsets.setState({ ...NOTHING, table: data.table, reading: data.reading, notes: data.notes });
      break;
    case 'fitted':
      // The board was changed meanwhile: the fit is made again, on what stands now.
      if (fitted !== useDesign.getState().design) {
        start();
        break;
      }
      useOffsets.setState({ misses: data.misses, met: data.met, busy: false });
      propose(OFFSETS_TITLE, data.design);
      break;
    case 'unfit':
      useOffsets.setState({ unfit: data.errors, busy: false });
  }
}

/** A job under way is ended: only the newest table counts. */
function stop(): void {
  worker?.terminate();
  worker = null;
  clearTimeout(waiting);
}

function start(): void {
  stop();
  const { text, options, tolerance, ends } = useOffsets.getState();
  if (text.trim() === '') {
    useOffsets.setState({ ...NOTHING, busy: false });
    return;
  }
  worker = new OffsetsWorker();
  worker.onmessage = onAnswer;
  fitted = useDesign.getState().design;
  const job: OffsetsJob = { id: ++lastId, text, options, tolerance, ends, design: fitted };
  useOffsets.setState({ busy: true });
  worker.postMessage(job);
}

/** Changes the table or how it is read; it is read and fitted after a pause in the typing. */
export function changeOffsets(change: Partial<Pick<OffsetsState, 'text' | 'source' | 'options' | 'tolerance' | 'ends'>>): void {
  refuseProposal();
  stop();
  lastId += 1;
  useOffsets.setState({ ...change, busy: (change.text ?? useOffsets.getState().text).trim() !== '' });
  waiting = setTimeout(start, PAUSE);
}

/** Fits the present table again, to the present board. */
export const fitAgain = (): void => start();

/** Ends reading and fitting, as when the tool is closed. */
export function stopOffsets(): void {
  stop();
  useOffsets.setState({ busy: false });
}

/** Takes a table from a file. */
export async function loadOffsets(file: File): Promise<void> {
  useLines.getState().set({ tool: 'offsets' });
  if (file.size > 4 * TEXT_LIMIT) {
    const error: OffsetsError = { row: 0, column: '', value: `${(file.size / 1e6).toFixed(1)} megabytes`, allowed: `at most ${TEXT_LIMIT / 1e6} million characters`, message: 'the file is far too long for a table of offsets' };
    useOffsets.setState({ ...NOTHING, errors: [error], source: file.name, busy: false });
    return;
  }
  changeOffsets({ text: await file.text(), source: file.name });
}

/** Whether a dropped file is a table by its kind or name. */
export const isTable = (file: File): boolean => /^text\/(csv|plain|tab-separated-values)$/.test(file.type) || /\.(csv|tsv|txt)$/i.test(file.name);
