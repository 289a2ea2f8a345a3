/** Reads a table of offsets and fits lines to it, off the main thread: ten thousand rows take seconds. */
import type { Design } from '../../../geometry/design/schema';
import { BuildError, whatOf, type FieldError } from '../../../geometry/errors';
import type { OffsetTable, OffsetColumn } from '../../../geometry/shape/offsets';
import { type FitMiss, fitOffsets, withOffsets } from '../../../geometry/shape/offsetsFit';
import { type OffsetsError, type OffsetsReading, type OffsetsReadOptions, parseOffsets } from '../../../geometry/shape/offsetsRead';
import type { OutlineEnds } from '../../../geometry/shape/outlineFit';

export interface OffsetsJob {
  readonly id: number;
  readonly text: string;
  readonly options: OffsetsReadOptions;
  readonly tolerance: number;
  readonly ends: OutlineEnds;
  readonly design: Design;
}

export type OffsetsAnswer =
  | { readonly id: number; readonly step: 'unread'; readonly errors: readonly OffsetsError[]; readonly more: number }
  | { readonly id: number; readonly step: 'read'; readonly table: OffsetTable; readonly reading: OffsetsReading; readonly notes: readonly string[] }
  | {
    readonly id: number; readonly step: 'fitted'; readonly design: Design; readonly met: boolean; readonly tolerance: number;
    readonly misses: Partial<Record<OffsetColumn, FitMiss>>; readonly ms: number;
  }
  | { readonly id: number; readonly step: 'unfit'; readonly errors: readonly FieldError[] };

self.onmessage = ({ data: { id, text, options, tolerance, ends, design } }: MessageEvent<OffsetsJob>) => {
  const answer = (message: OffsetsAnswer) => self.postMessage(message);
  const start = performance.now();
  const read = parseOffsets(text, options);
  if (!read.ok) {
    answer({ id, step: 'unread', errors: read.errors, more: read.more });
    return;
  }
  answer({ id, step: 'read', table: read.table, reading: read.reading, notes: read.notes });
  try {
    const fit = fitOffsets(read.table, { tolerance, ends });
    const fitted = withOffsets(design, fit);
    if (fitted.ok) answer({ id, step: 'fitted', design: fitted.design, met: fit.met, tolerance, misses: fit.misses, ms: performance.now() - start });
    else answer({ id, step: 'unfit', errors: fitted.errors });
  } catch (error) {
    const wrong: FieldError = error instanceof BuildError
      ? error.fault : { field: 'offsets', value: '', allowed: 'a table that makes a board', message: whatOf(error) };
    answer({ id, step: 'unfit', errors: [wrong] });
  }
};
