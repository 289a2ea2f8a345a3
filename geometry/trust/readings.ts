/**
 * The readings file (`*.readings.json`): what a maker measured on one board. Kept apart from the board file,
 * which holds what was decided; tied to it by the board's name and revision. Millimetres.
 */
import { z } from 'zod';
import { pathText, valueText, type FieldError } from '../design/fields';
import { strangeParts } from '../design/guard';
import { schemaErrors } from '../design/read';
import { boardSchema } from '../design/schema';
import { parseText } from '../design/text';
import type { ReadingField } from './types';

const READINGS_FORMAT = 'railwright-readings';
const READINGS_VERSION = 1;

/** The greatest a reading may be, mm. */
export const READING_MOST: Readonly<Record<ReadingField, number>> = { depth: 400, sole: 80, cap: 80, spacer: 120, tab: 400 };
const size = (field: ReadingField) => z.number().min(0).max(READING_MOST[field]).optional();

const reading = z.strictObject({
  /** Number of the rib as printed on it, 1 nearest the tail. */
  rib: z.number().int().min(1).max(80),
  side: z.enum(['starboard', 'port']),
  /** Height of the rib at its end, between the faces that carry the skins. */
  depth: size('depth'),
  /** Thickness of sole and cap strip, height of the spacer, beside this rib. */
  sole: size('sole'),
  cap: size('cap'),
  spacer: size('spacer'),
  /** Height of the tab, sole to cap. */
  tab: size('tab'),
});

const readingsSchema = z.strictObject({
  format: z.literal(READINGS_FORMAT),
  version: z.literal(READINGS_VERSION),
  board: boardSchema.shape.name,
  revision: boardSchema.shape.revision,
  note: boardSchema.shape.note,
  readings: z.array(reading).max(160),
});

export type Readings = z.infer<typeof readingsSchema>;
export type Reading = Readings['readings'][number];

/** The figures a reading may hold, in the order in which they are taken at the bench. */
export const READING_FIELDS = ['depth', 'sole', 'cap', 'spacer', 'tab'] as const satisfies readonly ReadingField[];

export type ReadingsResult = { ok: true; readings: Readings; notes: string[] } | { ok: false; errors: FieldError[] };

/** No readings yet for a board of this name and revision. */
export function noReadings(board: string, revision: string): Readings {
  return { format: READINGS_FORMAT, version: READINGS_VERSION, board, revision, readings: [] };
}

/** Check a parsed value. Returns the readings, or every error with field, value and what is allowed. */
export function checkReadings(input: unknown): ReadingsResult {
  if (typeof input !== 'object' || input === null || Array.isArray(input)) {
    return { ok: false, errors: [{ field: '', value: valueText(input), allowed: 'an object', message: 'a readings file holds one object' }] };
  }
  const strange = strangeParts(input);
  if (strange.length > 0) return { ok: false, errors: strange };
  const parsed = readingsSchema.safeParse(input);
  if (!parsed.success) return { ok: false, errors: schemaErrors(parsed.error.issues, input, readingsSchema, 'readings file') };
  const { readings } = parsed.data;
  const errors = readings.flatMap((r, i): FieldError[] => {
    const first = readings.findIndex((o) => o.rib === r.rib && o.side === r.side);
    if (first === i) return [];
    return [{
      field: pathText(['readings', i, 'rib']), value: r.rib, allowed: 'each rib once a side',
      message: `rib ${r.rib} ${r.side} has been read already, in readings[${first}]; keep one`,
    }];
  });
  return errors.length > 0 ? { ok: false, errors } : { ok: true, readings: parsed.data, notes: [] };
}

/** Read the text of a readings file: as a board file's text, then as `checkReadings`. */
export function readReadings(text: string): ReadingsResult {
  const parsed = parseText(text);
  if (!parsed.ok) return parsed;
  const checked = checkReadings(parsed.value);
  return checked.ok ? { ...checked, notes: [...parsed.notes, ...checked.notes] } : checked;
}

/** Readings as the text of a readings file: one line a rib, in the order of ribs. Throws a ZodError where the value is none. */
export function writeReadings(readings: Readings): string {
  const { readings: list, ...head } = readingsSchema.parse(readings);
  const sorted = list.toSorted((a, b) => a.rib - b.rib || (a.side === b.side ? 0 : a.side === 'starboard' ? -1 : 1));
  const lines = Object.entries(head).map(([key, value]) => `  ${JSON.stringify(key)}: ${JSON.stringify(value)}`);
  const rows = sorted.map((r) => `    ${JSON.stringify(r)}`).join(',\n');
  return `{\n${lines.join(',\n')},\n  "readings": [${rows === '' ? '' : `\n${rows}\n  `}]\n}\n`;
}
