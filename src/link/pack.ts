/** A design, and what lies beside it, as a short text that may stand in a link: JSON without blanks, deflated (RFC 1951), base64url (RFC 4648). */
import { deflateSync, Inflate } from 'fflate';
import type { FieldError } from '../../geometry/design/fields';
import type { Design } from '../../geometry/design/schema';
import { type ReadResult, readDesign } from '../../geometry/design/read';
import { writeDesign } from '../../geometry/design/write';
import type { Readings } from '../../geometry/trust/readings';
import { type ReadingsResult, readReadings, writeReadings } from '../../geometry/trust/readingsFile';
import { DICTIONARY_1, DICTIONARY_2, RECORD_DICTIONARY_1 } from './dictionary';

type Dictionaries = ReadonlyMap<string, Uint8Array>;

const byDigit = (...texts: readonly string[]): Dictionaries => new Map(texts.map((text, i) => [String(i + 1), new TextEncoder().encode(text)]));

/** Dictionaries by the first digit of a packed board; the last one packs. */
const DICTIONARIES = byDigit(DICTIONARY_1, DICTIONARY_2);
const VERSION = '2';
/** The same for packed records. */
const RECORD_DICTIONARIES = byDigit(RECORD_DICTIONARY_1);
const RECORD_VERSION = '1';

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

/** Packs JSON text with a dictionary, its version digit first. */
const packText = (text: string, version: string, dictionaries: Dictionaries): string =>
  version + toBase64Url(deflateSync(new TextEncoder().encode(JSON.stringify(JSON.parse(text))), { level: 9, dictionary: dictionaries.get(version) }));

/** A design, packed. The same design gives the same text. Throws where the value is not a design. */
export const packDesign = (design: Design): string => packText(writeDesign(design), VERSION, DICTIONARIES);

/** A record of readings, packed likewise. */
export const packRecord = (record: Readings): string => packText(writeReadings(record), RECORD_VERSION, RECORD_DICTIONARIES);

type Refused = { readonly ok: false; readonly errors: FieldError[] };

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

/** Unpacks what a link's field holds and hands its text to a reader; or says what is wrong with it. */
function unpack<T>(field: 'board' | 'record', packed: string, newest: string, dictionaries: Dictionaries, read: (text: string) => T): T | Refused {
  const fault = (allowed: string, message: string): Refused => ({
    ok: false, errors: [{ field, value: packed.length > 24 ? `${packed.slice(0, 24)}… (${packed.length} characters)` : packed, allowed, message }],
  });
  if (packed.length > PACKED_LIMIT) return fault(`at most ${PACKED_LIMIT} characters`, `is too long to be a ${field}`);
  const dictionary = dictionaries.get(packed.slice(0, 1));
  if (!dictionary) {
    const allowed = newest === '1' ? 'beginning with 1' : `beginning with 1 to ${newest}`;
    return fault(allowed, /^\d/.test(packed) ? 'was made by a newer Railwright' : `is not a Railwright ${field}`);
  }
  const body = packed.slice(1);
  const whole = `a whole packed ${field}`;
  if (!/^[A-Za-z0-9_-]+$/.test(body) || body.length % 4 === 1) return fault(whole, 'is broken: copy the whole link');
  try {
    const text = inflate(fromBase64Url(body), dictionary);
    return text === null ? fault(`unpacking to at most ${UNPACKED_LIMIT} bytes`, 'is far too large once unpacked') : read(text);
  } catch {
    return fault(whole, 'is broken: copy the whole link');
  }
}

/** Unpacks a board and checks it like any file: a valid design, or what is wrong by field, value and what is allowed. */
export const unpackDesign = (packed: string): ReadResult => unpack('board', packed, VERSION, DICTIONARIES, readDesign);

/** Unpacks a record of readings likewise. */
export const unpackRecord = (packed: string): ReadingsResult => unpack('record', packed, RECORD_VERSION, RECORD_DICTIONARIES, readReadings);
