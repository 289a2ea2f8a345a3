/**
 * The readings file (`*.readings.json`): what a maker measured, tried and finished on one board. Kept apart from the board
 * file, which holds what was decided; tied to it by the board's name and revision. Millimetres; angles carry `Deg` in
 * their names and are degrees, as in the board file.
 */
import * as z from 'zod/mini';
import { mm, said } from '../said';
import { pathText, valueText, type FieldError } from '../design/fields';
import { strangeParts } from '../design/guard';
import { schemaErrors, toPresent, type Migration } from '../design/read';
import { boardSchema, MAX_TRIALS, trialSchema, type TrialBend } from '../design/schema';
import { parseText } from '../design/text';
import type { Side } from '../types';
import { trialStrain } from '../wood/trials';
import type { ReadingField } from './types';

const READINGS_FORMAT = 'railwright-readings';
const READINGS_VERSION = 2;
const KIND = { format: READINGS_FORMAT, version: READINGS_VERSION, name: 'readings file' } as const;

/** Version 1 knew readings at a rib and nothing else. */
const MIGRATIONS: Readonly<Record<number, Migration>> = {
  1: {
    step: (old) => ({
      ...old, version: 2,
      readings: Array.isArray(old.readings)
        ? old.readings.map((r: unknown) => (typeof r === 'object' && r !== null && !Array.isArray(r) ? { of: 'rib', ...r } : r)) : old.readings,
    }),
  },
};

/** The greatest a reading may be, mm; a bevel goes as far either way, radians. */
export const READING_MOST: Readonly<Record<ReadingField, number>> = { depth: 400, sole: 80, cap: 80, spacer: 120, tab: 400, bevel: Math.PI / 3 };
const size = (field: ReadingField) => z.optional(z.number().check(z.minimum(0), z.maximum(READING_MOST[field])));

const reading = z.strictObject({
  /** Read at one rib, or a size of the whole batch of strips, which stands at every rib where it was not read. */
  of: z.enum(['rib', 'batch']),
  /** Number of the rib as printed on it, 1 nearest the tail; a batch has none. */
  rib: z.optional(z.int().check(z.minimum(1), z.maximum(80))),
  /** A batch without a side is that of both. */
  side: z.optional(z.enum(['starboard', 'port'])),
  /** Height of the rib at its end, between the faces that carry the skins. */
  depth: size('depth'),
  /** Thickness of sole and cap strip, height of the spacer, beside this rib. */
  sole: size('sole'),
  cap: size('cap'),
  spacer: size('spacer'),
  /** Height of the tab, sole to cap. */
  tab: size('tab'),
  /** Bevel of the faired cap at the rib, square to the rail. */
  bevelDeg: z.optional(z.number().check(z.minimum(-60), z.maximum(60))),
});

/** Most ticks, and the longest id of what is ticked. */
const MAX_TICKS = 2000;

const readingsSchema = z.strictObject({
  format: z.literal(READINGS_FORMAT),
  version: z.literal(READINGS_VERSION),
  board: boardSchema.shape.name,
  revision: boardSchema.shape.revision,
  note: boardSchema.shape.note,
  readings: z.array(reading).check(z.maxLength(164)),
  /** Offcuts bent on trial. */
  trials: z.optional(z.array(trialSchema).check(z.maxLength(MAX_TRIALS))),
  /** Steps and checks of the order of work that are done, by their ids. */
  ticks: z.optional(z.array(z.string().check(z.minLength(1), z.maxLength(160), z.regex(/^[^\p{Cc}\p{Cs}\u2028\u2029\u202a-\u202e\u2066-\u2069]+$/u))).check(z.maxLength(MAX_TICKS))),
  /** Number of the step that the work has reached, 1 first. */
  step: z.optional(z.int().check(z.minimum(1), z.maximum(99))),
});

export type Readings = z.infer<typeof readingsSchema>;
export type Reading = Readings['readings'][number];

/** The figures a reading may hold, in the order in which they are taken at the bench. */
export const READING_FIELDS = ['depth', 'sole', 'cap', 'spacer', 'tab', 'bevel'] as const satisfies readonly ReadingField[];
/** Those of a batch: what comes off one setting of the saw. */
export const BATCH_FIELDS = ['sole', 'cap', 'spacer'] as const satisfies readonly ReadingField[];

/** A figure of a reading, mm; the bevel radians. Undefined where it was not read. */
export function readingOf(read: Reading, field: ReadingField): number | undefined {
  if (field !== 'bevel') return read[field];
  return read.bevelDeg === undefined ? undefined : (read.bevelDeg * Math.PI) / 180;
}

/** A reading with a figure put in, mm (the bevel radians), or taken out. */
export function putFigure(read: Reading, field: ReadingField, value: number | undefined): Reading {
  const key = field === 'bevel' ? 'bevelDeg' : field;
  const { [key]: _, ...rest } = read;
  // A hundredth of a degree is finer than any bevel gauge.
  return value === undefined ? rest : { ...rest, [key]: field === 'bevel' ? Number(((value * 180) / Math.PI).toFixed(2)) : value };
}

/** Whether a reading holds a figure at all. */
export const holdsFigure = (read: Reading): boolean => READING_FIELDS.some((field) => readingOf(read, field) !== undefined);

/** Whether a record says something of a side: a reading of its own, or one of the batch of both. */
export const isMeasured = ({ readings }: Readings, side: Side): boolean => readings.some((r) => (r.side ?? side) === side && holdsFigure(r));

/** Whether a record says nothing at all. */
export const isEmptyRecord = ({ readings, trials = [], ticks = [], step }: Readings): boolean =>
  readings.length === 0 && trials.length === 0 && ticks.length === 0 && step === undefined;

/** Whether a record says all that another does: figures, trial bends and ticks, and a step no earlier. */
export function holdsRecord(whole: Readings, part: Readings): boolean {
  const same = (a: object, b: object) => JSON.stringify(Object.entries(a).sort()) === JSON.stringify(Object.entries(b).sort());
  return part.readings.every((r) => whole.readings.some((own) => own.of === r.of && own.rib === r.rib && own.side === r.side
    && READING_FIELDS.every((field) => readingOf(r, field) === undefined || readingOf(r, field) === readingOf(own, field))))
    && (part.trials ?? []).every((trial) => whole.trials?.some((own) => same(own, trial)))
    && (part.ticks ?? []).every((tick) => whole.ticks?.includes(tick))
    && (part.step ?? 0) <= (whole.step ?? 0);
}

export type ReadingsResult = { ok: true; readings: Readings; notes: string[] } | { ok: false; errors: FieldError[] };

/** No readings yet for a board of this name and revision. */
export function noReadings(board: string, revision: string): Readings {
  return { format: READINGS_FORMAT, version: READINGS_VERSION, board, revision, readings: [] };
}

/** What is wrong with a reading beside the others. */
function readingErrors(r: Reading, i: number, all: readonly Reading[]): FieldError[] {
  const at = (field: string) => pathText(['readings', i, field]);
  const found: FieldError[] = [];
  if (r.of === 'rib') {
    if (r.rib === undefined) found.push({ field: at('rib'), value: 'nothing', allowed: 'the number of a rib', message: 'is missing' });
    if (r.side === undefined) found.push({ field: at('side'), value: 'nothing', allowed: 'starboard or port', message: 'is missing' });
  } else {
    for (const field of ['rib', 'depth', 'tab', 'bevelDeg'] as const) {
      if (r[field] !== undefined) found.push({ field: at(field), value: valueText(r[field]), allowed: 'nothing', message: 'a batch has strips, and no rib: sole, cap or spacer' });
    }
  }
  const first = all.findIndex((o) => o.of === r.of && o.rib === r.rib && o.side === r.side);
  if (first !== i) {
    found.push(r.of === 'rib' ? {
      field: at('rib'), value: r.rib ?? '', allowed: 'each rib once a side', message: `rib ${r.rib} ${r.side} has been read already, in readings[${first}]; keep one`,
    } : {
      field: at('of'), value: '"batch"', allowed: 'one batch a side, or one of both', message: `the batch has been read already, in readings[${first}]; keep one`,
    });
  }
  return found;
}

/** Greatest strain that a trial may claim to have held, a ratio: what a species' own limits may be (design/schema.ts). */
const HELD_MOST = { cold: 0.05, wet: 0.2 } as const;

/** A trial bend that no timber takes. */
function trialErrors(trial: TrialBend, i: number): FieldError[] {
  const strain = trialStrain(trial);
  const most = HELD_MOST[trial.heat];
  if (strain <= most) return [];
  return [{
    field: pathText(['trials', i, 'radius']), value: mm(trial.radius), allowed: said('{least} or more at this size', { least: mm((strain * trial.radius) / most) }),
    message: 'is tighter than any timber bends: is it the radius, and over which side?',
  }];
}

/** Check a parsed value. Returns the readings, or every error with field, value and what is allowed. */
export function checkReadings(input: unknown): ReadingsResult {
  if (typeof input !== 'object' || input === null || Array.isArray(input)) {
    return { ok: false, errors: [{ field: '', value: valueText(input), allowed: 'an object', message: 'a readings file holds one object' }] };
  }
  const strange = strangeParts(input);
  if (strange.length > 0) return { ok: false, errors: strange };
  const present = toPresent(input as Record<string, unknown>, MIGRATIONS, KIND);
  if ('field' in present) return { ok: false, errors: [present] };
  const parsed = readingsSchema.safeParse(present.value);
  if (!parsed.success) return { ok: false, errors: schemaErrors(parsed.error.issues, present.value, readingsSchema, 'readings file') };
  const { readings, trials = [], ticks = [] } = parsed.data;
  const errors = [
    ...readings.flatMap(readingErrors), ...trials.flatMap(trialErrors),
    ...ticks.flatMap((tick, i): FieldError[] => (ticks.indexOf(tick) === i ? [] : [{
      field: pathText(['ticks', i]), value: valueText(tick), allowed: 'each once', message: 'is ticked already',
    }])),
  ];
  return errors.length > 0 ? { ok: false, errors } : { ok: true, readings: parsed.data, notes: present.notes };
}

/** Read the text of a readings file: as a board file's text, then as `checkReadings`. */
export function readReadings(text: string): ReadingsResult {
  const parsed = parseText(text);
  if (!parsed.ok) return parsed;
  const checked = checkReadings(parsed.value);
  return checked.ok ? { ...checked, notes: [...parsed.notes, ...checked.notes] } : checked;
}

/** In which order readings are written: the batch, then rib by rib, starboard first. */
const inOrder = (a: Reading, b: Reading): number => (a.rib ?? 0) - (b.rib ?? 0) || placeOf(a.side) - placeOf(b.side);
const placeOf = (side: Reading['side']): number => [undefined, 'starboard', 'port'].indexOf(side);

/** Readings as the text of a readings file: one line a reading, in the order of ribs, one a trial. Throws a ZodError where the value is none. */
export function writeReadings(record: Readings): string {
  const { readings, trials = [], ticks = [], step, ...head } = readingsSchema.parse(record);
  const rows = (list: readonly unknown[]) => (list.length === 0 ? '[]' : `[\n${list.map((item) => `    ${JSON.stringify(item)}`).join(',\n')}\n  ]`);
  return `{\n${[
    ...Object.entries(head).map(([key, value]) => `  ${JSON.stringify(key)}: ${JSON.stringify(value)}`),
    `  "readings": ${rows(readings.toSorted(inOrder))}`,
    ...(trials.length > 0 ? [`  "trials": ${rows(trials)}`] : []),
    ...(ticks.length > 0 ? [`  "ticks": ${rows(ticks)}`] : []),
    ...(step === undefined ? [] : [`  "step": ${step}`]),
  ].join(',\n')}\n}\n`;
}
