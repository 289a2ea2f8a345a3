/** Reading, checking and writing a readings file: every error found, nothing clamped. */
import * as z from 'zod/mini';
import { mm, said } from '../said';
import { pathText, valueText, type FieldError } from '../design/fields';
import { strangeParts } from '../design/guard';
import { schemaErrors, toPresent, type Migration } from '../design/read';
import { boardSchema, MAX_TRIALS, trialSchema, type TrialBend } from '../design/schema';
import { parseText } from '../design/text';
import { trialStrain } from '../wood/trials';
import { READING_MOST, READINGS_FORMAT, READINGS_VERSION } from './readingsHead';
import type { ReadingField } from './types';

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

const size = (field: ReadingField) => z.optional(z.number().check(z.minimum(0), z.maximum(READING_MOST[field])));
/** Farthest that all ribs together may be off the drawing, mm. */
const off = z.optional(z.number().check(z.minimum(-60), z.maximum(60)));

const reading = z.strictObject({
  /** Read at one rib, whose own it is; or of the whole batch of strips and frames, where it stands at every rib at which it was not read. */
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
  /** Of a batch: how far depth and tab of every rib are off the drawn ones, greater above 0. */
  depthOff: off,
  tabOff: off,
});

/** Most ticks, and what may stand in the id of what is ticked. */
const MAX_TICKS = 2000;
const tickList = z.optional(z.array(z.string().check(z.minLength(1), z.maxLength(160), z.regex(/^[^\p{Cc}\p{Cs}\u2028\u2029\u202a-\u202e\u2066-\u2069]+$/u))).check(z.maxLength(MAX_TICKS)));

const readingsSchema = z.strictObject({
  format: z.literal(READINGS_FORMAT),
  version: z.literal(READINGS_VERSION),
  board: boardSchema.shape.name,
  revision: boardSchema.shape.revision,
  note: boardSchema.shape.note,
  readings: z.array(reading).check(z.maxLength(164)),
  /** Offcuts bent on trial. */
  trials: z.optional(z.array(trialSchema).check(z.maxLength(MAX_TRIALS))),
  /** Steps and checks of the order of work that are done, by their ids; a step that each side has for itself with the side behind it. */
  ticks: tickList,
  /** Pieces of the cut list that are cut, by their ids. */
  cut: tickList,
  /** Number of the step that the work has reached, 1 first. */
  step: z.optional(z.int().check(z.minimum(1), z.maximum(99))),
});

export type Readings = z.infer<typeof readingsSchema>;
export type Reading = Readings['readings'][number];

export type ReadingsResult = { ok: true; readings: Readings; notes: string[] } | { ok: false; errors: FieldError[] };

/** What is wrong with a reading beside the others. */
function readingErrors(r: Reading, i: number, all: readonly Reading[]): FieldError[] {
  const at = (field: string) => pathText(['readings', i, field]);
  const found: FieldError[] = [];
  if (r.of === 'rib') {
    if (r.rib === undefined) found.push({ field: at('rib'), value: 'nothing', allowed: 'the number of a rib', message: 'is missing' });
    if (r.side === undefined) found.push({ field: at('side'), value: 'nothing', allowed: 'starboard or port', message: 'is missing' });
    for (const field of ['depthOff', 'tabOff'] as const) {
      if (r[field] !== undefined) found.push({ field: at(field), value: valueText(r[field]), allowed: 'nothing', message: 'is of a batch; a rib has its own depth and tab' });
    }
  } else {
    for (const field of ['rib', 'depth', 'tab', 'bevelDeg'] as const) {
      if (r[field] !== undefined) found.push({ field: at(field), value: valueText(r[field]), allowed: 'nothing', message: 'a batch has no one rib: sole, cap or spacer, and how far depth or tab is off (depthOff, tabOff)' });
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
  const { readings, trials = [], ticks, cut } = parsed.data;
  const errors = [
    ...readings.flatMap(readingErrors), ...trials.flatMap(trialErrors),
    ...Object.entries({ ticks, cut }).flatMap(([name, list = []]) => list.flatMap((tick, i): FieldError[] => (list.indexOf(tick) === i ? [] : [{
      field: pathText([name, i]), value: valueText(tick), allowed: 'each once', message: 'is ticked already',
    }]))),
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
  const { readings, trials = [], ticks = [], cut = [], step, ...head } = readingsSchema.parse(record);
  const rows = (list: readonly unknown[]) => (list.length === 0 ? '[]' : `[\n${list.map((item) => `    ${JSON.stringify(item)}`).join(',\n')}\n  ]`);
  return `{\n${[
    ...Object.entries(head).map(([key, value]) => `  ${JSON.stringify(key)}: ${JSON.stringify(value)}`),
    `  "readings": ${rows(readings.toSorted(inOrder))}`,
    ...(trials.length > 0 ? [`  "trials": ${rows(trials)}`] : []),
    ...(ticks.length > 0 ? [`  "ticks": ${rows(ticks)}`] : []),
    ...(cut.length > 0 ? [`  "cut": ${rows(cut)}`] : []),
    ...(step === undefined ? [] : [`  "step": ${step}`]),
  ].join(',\n')}\n}\n`;
}
