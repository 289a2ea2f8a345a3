/** A design as a short text that may stand in a link: JSON without blanks, deflated (RFC 1951), base64url (RFC 4648). */
import { deflateSync, Inflate } from 'fflate';
import type { FieldError } from '../../geometry/design/fields';
import type { Design } from '../../geometry/design/schema';
import { type ReadResult, readDesign } from '../../geometry/design/read';
import { writeDesign } from '../../geometry/design/write';
import { DICTIONARY_1, DICTIONARY_2 } from './dictionary';

/** Dictionaries by the first digit of a packed board; the last one packs. */
const DICTIONARIES: ReadonlyMap<string, Uint8Array> = new Map([['1', DICTIONARY_1], ['2', DICTIONARY_2]].map(([digit, text]) => [digit, new TextEncoder().encode(text)]));
const VERSION = '2';

/** Longest packed board that is unpacked at all, characters, and the longest text it may grow to, bytes. */
export const PACKED_LIMIT = 60_000;
export const UNPACKED_LIMIT = 1_000_000;
/** Bytes unpacked at a time: deflate grows its input at most about a thousandfold, so a bomb is seen in time. */
const CHUNK = 256;

function toBase64Url(bytes: Uint8Array): string {
  let text = '';
  for (const byte of bytes) text += String.fromCharCode(byte);
  return btoa(text).replace(/\+/g, '-').replace(/\//g, '_').replace(/=+$/, '');
}

const fromBase64Url = (text: string): Uint8Array =>
  Uint8Array.from(atob(text.replace(/-/g, '+').replace(/_/g, '/')), (letter) => letter.charCodeAt(0));

/** A design, packed. The same design gives the same text. Throws where the value is not a design. */
export function packDesign(design: Design): string {
  const text = JSON.stringify(JSON.parse(writeDesign(design)));
  return VERSION + toBase64Url(deflateSync(new TextEncoder().encode(text), { level: 9, dictionary: DICTIONARIES.get(VERSION) }));
}

const fault = (packed: string, allowed: string, message: string): ReadResult => {
  const error: FieldError = { field: 'board', value: packed.length > 24 ? `${packed.slice(0, 24)}… (${packed.length} characters)` : packed, allowed, message };
  return { ok: false, errors: [error] };
};

/** The text of a packed board, or null where it grows past the limit. Throws where the bytes are not deflated. */
function inflate(bytes: Uint8Array, dictionary: Uint8Array): string | null {
  const parts: Uint8Array[] = [];
  let size = 0;
  let ended = false;
  const stream = new Inflate({ dictionary }, (part, last) => {
    parts.push(part);
    size += part.length;
    ended = last;
  });
  for (let at = 0; at < bytes.length && !ended; at += CHUNK) {
    stream.push(bytes.subarray(at, at + CHUNK), at + CHUNK >= bytes.length);
    if (size > UNPACKED_LIMIT) return null;
  }
  const whole = new Uint8Array(size);
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return new TextDecoder('utf-8', { fatal: true }).decode(whole);
}

/** Unpacks a board and checks it like any file: a valid design, or what is wrong by field, value and what is allowed. */
export function unpackDesign(packed: string): ReadResult {
  if (packed.length > PACKED_LIMIT) return fault(packed, `at most ${PACKED_LIMIT} characters`, 'is too long to be a board');
  const dictionary = DICTIONARIES.get(packed.slice(0, 1));
  if (!dictionary) {
    return fault(packed, `beginning with 1 to ${VERSION}`, /^\d/.test(packed) ? 'was made by a newer Railwright' : 'is not a Railwright board');
  }
  const body = packed.slice(1);
  const whole = 'a whole packed board';
  if (!/^[A-Za-z0-9_-]+$/.test(body) || body.length % 4 === 1) return fault(packed, whole, 'is broken: copy the whole link');
  try {
    const text = inflate(fromBase64Url(body), dictionary);
    return text === null ? fault(packed, `unpacking to at most ${UNPACKED_LIMIT} bytes`, 'is far too large once unpacked') : readDesign(text);
  } catch {
    return fault(packed, whole, 'is broken: copy the whole link');
  }
}
