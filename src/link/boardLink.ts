/**
 * Links that carry a whole board: `#board=…&s=…&step=…`. What follows the # never leaves the browser, so a link
 * needs no server that knows of it, only the page itself.
 */
import type { FieldError } from '../../geometry/design/fields';
import type { Design } from '../../geometry/design/schema';
import { packDesign, PACKED_LIMIT, unpackDesign } from './pack';

/** Most bytes a QR code holds: version 40, level L, byte mode (ISO/IEC 18004:2015, table 7; from memory). */
export const QR_LIMIT = 2953;
/** Longest link offered, characters: what RFC 9110 (2022), section 4.1, asks every program to carry. */
export const LINK_LIMIT = 8000;

/** Greatest run and step a link may name; the board itself may allow less. */
const MOST = { s: 20_000, step: 99 } as const;

export interface BoardLink {
  /** Whole address, or from the # on where there is no base. */
  readonly href: string;
  /** Characters, which are bytes too. */
  readonly length: number;
  readonly fitsLink: boolean;
  readonly fitsQr: boolean;
}

/**
 * The link to a board at a run (mm; none where not finite) and a step of the work.
 * @param base address of the page, as `checkBase` gives it; empty where none is known
 */
export function boardLink(design: Design, s: number, base: string, step?: number): BoardLink {
  const fields = [
    `board=${packDesign(design)}`,
    ...(Number.isFinite(s) ? [`s=${Number(s.toFixed(1))}`] : []),
    ...(step === undefined ? [] : [`step=${step}`]),
  ];
  const href = `${base}#${fields.join('&')}`;
  return { href, length: href.length, fitsLink: href.length <= LINK_LIMIT, fitsQr: base !== '' && href.length <= QR_LIMIT };
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
  | { readonly ok: true; readonly design?: Design; readonly notes: readonly string[]; readonly s?: number; readonly step?: number }
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
  if (errors.length > 0) return { ok: false, errors };
  return { ok: true, design: read?.ok ? read.design : undefined, notes: read?.ok ? read.notes : [], s, step };
}
