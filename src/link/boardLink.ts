/**
 * Links that carry a whole board and what lies beside it: `#board=…&record=…&s=…&step=…`. What follows the # never leaves the browser, so a link
 * needs no server that knows of it, only the page itself.
 */
import type { FieldError } from '../../geometry/design/fields';
import type { Design } from '../../geometry/design/schema';
import type { Readings } from '../../geometry/trust/readings';
import { isEmptyRecord } from '../../geometry/trust/emptyRecord';
import { packDesign, packRecord, PACKED_LIMIT, unpackDesign, unpackRecord } from './pack';

/** Most bytes a QR code holds: version 40, level L, byte mode (ISO/IEC 18004:2015, table 7; from memory). */
export const QR_LIMIT = 2953;
/** Longest link offered, characters: what RFC 9110 (2022), section 4.1, asks every program to carry. */
export const LINK_LIMIT = 8000;

/** Greatest run and step a link may name; the board itself may allow less. */
const MOST = { s: 20_000, step: 99 } as const;

/** What lies beside a board, by what is left out first where there is no room: a plan does without readings, and changes without trial bends. */
const RECORD_PARTS = ['readings', 'ticks', 'trials'] as const;
type RecordPart = (typeof RECORD_PARTS)[number];
const PART_WORDS: Readonly<Record<RecordPart, string>> = { readings: 'readings', ticks: 'ticks, pieces cut and the step reached', trials: 'trial bends' };

/** What has no room, as a sentence. */
export const leftOutText = (parts: readonly RecordPart[]): string => `Left out, having no room: ${parts.map((part) => PART_WORDS[part]).join(', ')}.`;

export interface BoardLink {
  /** Whole address, or from the # on where there is no base. */
  readonly href: string;
  /** Characters, which are bytes too. */
  readonly length: number;
  readonly fitsLink: boolean;
  /** What the link leaves out of the record, so that it can be sent. */
  readonly leavesOut: readonly RecordPart[];
  /** What a QR code holds: the same address with as much of the record as has room; absent where the board has none, or no base is known. */
  readonly code?: { readonly href: string; readonly leavesOut: readonly RecordPart[] };
}

/** A record without some of its parts; undefined where nothing is left. */
function without({ readings, trials, ticks, cut, step, ...head }: Readings, parts: readonly RecordPart[]): Readings | undefined {
  const left: Readings = {
    ...head, readings: parts.includes('readings') ? [] : readings, ...(trials && !parts.includes('trials') ? { trials } : {}),
    ...(parts.includes('ticks') ? {} : { ...(ticks ? { ticks } : {}), ...(cut ? { cut } : {}), ...(step === undefined ? {} : { step }) }),
  };
  return isEmptyRecord(left) ? undefined : left;
}

/** The parts that a record has. */
const partsOf = ({ readings, trials = [], ticks = [], cut = [], step }: Readings): RecordPart[] => RECORD_PARTS.filter((part) =>
  (part === 'readings' ? readings.length > 0 : part === 'trials' ? trials.length > 0 : ticks.length > 0 || cut.length > 0 || step !== undefined));

/**
 * The link to a board at a run (mm; none where not finite) and a step of the work, with what lies beside the board.
 * @param base address of the page, as `checkBase` gives it; empty where none is known
 */
export function boardLink(design: Design, s: number, base: string, step?: number, record?: Readings): BoardLink {
  const board = `board=${packDesign(design)}`;
  const rest = [...(Number.isFinite(s) ? [`s=${Number(s.toFixed(1))}`] : []), ...(step === undefined ? [] : [`step=${step}`])];
  const parts = record ? partsOf(record) : [];
  /** The address with as much of the record as has room, or with none of it. */
  const within = (limit: number) => {
    for (let n = 0; ; n++) {
      const leavesOut = parts.slice(0, n);
      const left = record && without(record, leavesOut);
      const href = `${base}#${[board, ...(left ? [`record=${packRecord(left)}`] : []), ...rest].join('&')}`;
      if (href.length <= limit || n >= parts.length) return { href, leavesOut };
    }
  };
  const link = within(LINK_LIMIT);
  const code = within(QR_LIMIT);
  return {
    ...link, length: link.href.length, fitsLink: link.href.length <= LINK_LIMIT,
    ...(base !== '' && code.href.length <= QR_LIMIT ? { code } : {}),
  };
}

/** An address that a page may be served from, completed; or what is wrong with it. An empty text means no address. */
export function checkBase(text: string): { ok: true; base: string } | { ok: false; error: FieldError } {
  const wrong = (message: string) => ({
    ok: false as const,
    error: { field: 'address', value: text.length > 60 ? `${text.slice(0, 60)}…` : text, allowed: 'http:// or https:// and a site, at most 500 characters', message },
  });
  if (text.trim() === '') return { ok: true, base: '' };
  if (text.length > 500) return wrong('is too long');
  let url: URL;
  try {
    url = new URL(text.trim());
  } catch {
    return wrong('is not an address');
  }
  if (!/^https?:$/.test(url.protocol)) return wrong('is not the address of a page');
  if (url.username !== '' || url.password !== '') return wrong('must not contain a name or password');
  url.hash = '';
  url.search = '';
  return { ok: true, base: url.href };
}

/** What a link asks for. */
export type LinkRead =
  | { readonly ok: true; readonly design?: Design; readonly record?: Readings; readonly notes: readonly string[]; readonly s?: number; readonly step?: number }
  | { readonly ok: false; readonly errors: readonly FieldError[] };

/** Reads what follows the # in a page's address. An address without any of our fields asks for nothing. */
export function readLink(hash: string): LinkRead {
  if (hash.length > PACKED_LIMIT + 1000) {
    return { ok: false, errors: [{ field: 'link', value: `${hash.length} characters`, allowed: `at most ${PACKED_LIMIT}`, message: 'is too long' }] };
  }
  const fields = new URLSearchParams(hash.replace(/^#/, ''));
  const errors: FieldError[] = [];
  const figure = (field: 's' | 'step', least: number, whole: boolean): number | undefined => {
    const text = fields.get(field);
    if (text === null) return undefined;
    const value = Number(text);
    if (/^\d+(\.\d+)?$/.test(text) && value >= least && value <= MOST[field] && (!whole || Number.isInteger(value))) return value;
    const allowed = whole ? `a whole number, ${least} to ${MOST[field]}` : `${least} to ${MOST[field]} mm`;
    errors.push({ field, value: text.slice(0, 40), allowed, message: 'is out of range' });
    return undefined;
  };
  const s = figure('s', 0, false);
  const step = figure('step', 1, true);
  const packed = fields.get('board');
  const read = packed === null ? null : unpackDesign(packed);
  if (read && !read.ok) errors.push(...read.errors);
  // A record without its board would be that of whichever is open.
  const beside = packed === null ? null : fields.get('record');
  const record = beside === null ? null : unpackRecord(beside);
  if (record && !record.ok) errors.push(...record.errors);
  if (errors.length > 0) return { ok: false, errors };
  return {
    ok: true, design: read?.ok ? read.design : undefined, ...(record?.ok ? { record: record.readings } : {}),
    notes: read?.ok ? [...read.notes, ...(record?.ok ? record.notes : [])] : [], s, step,
  };
}
