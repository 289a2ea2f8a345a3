/**
 * What a readings file holds (`*.readings.json`; readingsFile.ts reads and writes it): what a maker measured, tried and
 * finished on one board. Kept apart from the board file, which holds what was decided; tied to it by the board's name and
 * revision. Millimetres; angles carry `Deg` in their names and are degrees, as in the board file.
 */
import type { Side } from '../types';
import type { Reading, Readings } from './readingsFile';
import type { ReadingField } from './types';

export type { Reading, Readings } from './readingsFile';

/** The figures a reading may hold, in the order in which they are taken at the bench. */
export const READING_FIELDS = ['depth', 'sole', 'cap', 'spacer', 'tab', 'bevel'] as const satisfies readonly ReadingField[];
/** Sizes of a batch: what comes off one setting of the saw. */
export const BATCH_FIELDS = ['sole', 'cap', 'spacer'] as const satisfies readonly ReadingField[];
/** What a batch says of its frames, cut with one setting: not a size, which each rib has of its own, but how far all are off it. */
export const FRAME_FIELDS = ['depth', 'tab'] as const satisfies readonly ReadingField[];

/** Whether a figure is of the frames: of the batch it is how far all are off their own, not a size. */
export const isFrameField = (field: ReadingField): field is (typeof FRAME_FIELDS)[number] => FRAME_FIELDS.some((one) => one === field);

/** Under which name a reading holds a figure. */
function keyOf({ of }: Reading, field: ReadingField) {
  if (field === 'bevel') return 'bevelDeg';
  return of === 'batch' && isFrameField(field) ? (`${field}Off` as const) : field;
}

/** A figure of a reading, mm (a batch's depth and tab: off the drawn ones); the bevel radians. Undefined where it was not read. */
export function readingOf(read: Reading, field: ReadingField): number | undefined {
  const value = read[keyOf(read, field)];
  return value === undefined || field !== 'bevel' ? value : (value * Math.PI) / 180;
}

/** What was read of a side's batch, as `readingOf` has it: a batch of this side is better known than one of both. */
export function batchFigures({ readings }: Readings, side: Side): Partial<Record<ReadingField, number>> {
  const batches = readings.filter((r) => r.of === 'batch' && (r.side ?? side) === side).toSorted((a, b) => Number(b.side === side) - Number(a.side === side));
  const figures: Partial<Record<ReadingField, number>> = {};
  for (const field of [...BATCH_FIELDS, ...FRAME_FIELDS]) {
    const [value] = batches.flatMap((r) => readingOf(r, field) ?? []);
    if (value !== undefined) figures[field] = value;
  }
  return figures;
}

/** A reading with a figure put in, as `readingOf` has it, or taken out. */
export function putFigure(read: Reading, field: ReadingField, value: number | undefined): Reading {
  const key = keyOf(read, field);
  const { [key]: _, ...rest } = read;
  // A hundredth of a degree is finer than any bevel gauge.
  return value === undefined ? rest : { ...rest, [key]: field === 'bevel' ? Number(((value * 180) / Math.PI).toFixed(2)) : value };
}

/** Whether a reading holds a figure at all. */
export const holdsFigure = (read: Reading): boolean => READING_FIELDS.some((field) => readingOf(read, field) !== undefined);

/** Whether a record says something of a side: a reading of its own, or one of the batch of both. */
export const isMeasured = ({ readings }: Readings, side: Side): boolean => readings.some((r) => (r.side ?? side) === side && holdsFigure(r));

/** Whether a record says all that another does: figures, trial bends, ticks and pieces cut, and a step no earlier. */
export function holdsRecord(whole: Readings, part: Readings): boolean {
  const same = (a: object, b: object) => JSON.stringify(Object.entries(a).sort()) === JSON.stringify(Object.entries(b).sort());
  return part.readings.every((r) => whole.readings.some((own) => own.of === r.of && own.rib === r.rib && own.side === r.side
    && READING_FIELDS.every((field) => readingOf(r, field) === undefined || readingOf(r, field) === readingOf(own, field))))
    && (part.trials ?? []).every((trial) => whole.trials?.some((own) => same(own, trial)))
    && (part.ticks ?? []).every((tick) => whole.ticks?.includes(tick))
    && (part.cut ?? []).every((piece) => whole.cut?.includes(piece))
    && (part.step ?? 0) <= (whole.step ?? 0);
}
