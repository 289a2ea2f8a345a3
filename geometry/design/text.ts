/** From the text of a file to a plain value, refusing at the door what could hang, hide or surprise. */
import { getLocation, parse, visit, type ParseError } from 'jsonc-parser';
import { pathText, shorten, type FieldError } from './fields';

/** Largest board file, in characters: a hundred times the largest sensible one. Own choice. */
export const FILE_LIMIT = 2_000_000;

/** Deepest nesting of a board file; the format itself needs five. */
export const DEPTH_LIMIT = 16;

export type TextResult = { ok: true; value: unknown; notes: string[] } | { ok: false; errors: FieldError[] };

const refuse = (value: string, allowed: string, message: string): TextResult => ({
  ok: false,
  errors: [{ field: '', value, allowed, message }],
});

/** Deepest nesting of brackets outside strings, and whether anything is still open at the end: one pass, no recursion. */
function nesting(text: string): { deepest: number; open: boolean } {
  let depth = 0;
  let deepest = 0;
  let quoted = false;
  for (let i = 0; i < text.length; i++) {
    const c = text.charCodeAt(i);
    if (quoted) {
      if (c === 0x5c) i++;
      else if (c === 0x22) quoted = false;
    } else if (c === 0x22) quoted = true;
    else if (c === 0x5b || c === 0x7b) deepest = Math.max(deepest, ++depth);
    else if (c === 0x5d || c === 0x7d) depth--;
  }
  return { deepest, open: quoted || depth > 0 };
}

/** Where an offset lies, for a person: line and column from 1, and the field it is in. */
function placeText(text: string, offset: number): string {
  const before = text.slice(0, offset);
  const line = before.split('\n').length;
  const column = offset - before.lastIndexOf('\n');
  const field = pathText(getLocation(text, offset).path.filter((part) => part !== ''));
  return `line ${line}, column ${column}${field === '' ? '' : `, in ${field}`}`;
}

function syntaxError(text: string, open: boolean): TextResult {
  const errors: ParseError[] = [];
  parse(text, errors, { disallowComments: true, allowTrailingComma: false });
  const [first] = errors;
  const offset = first?.offset ?? text.length;
  const end = text.trimEnd().length;
  // A cut file is sound up to its very end; the first complaint may be of a string or number left open there.
  const cut = open && offset + (first?.length ?? 0) >= end;
  const place = placeText(text, Math.min(offset, end));
  return cut
    ? refuse('a file cut short', 'a whole board file', `the file ends too early, at ${place}; fetch it again whole`)
    : refuse(`"${shorten(text.slice(offset, offset + 12), 12)}"`, 'JSON', `the file is not JSON at ${place}`);
}

/** Fields written twice: a reader would keep one of the two without a word. */
function twiceWritten(text: string): FieldError[] {
  const found: FieldError[] = [];
  const names: Set<string>[] = [];
  visit(text, {
    onObjectBegin: () => void names.push(new Set()),
    onObjectEnd: () => void names.pop(),
    onObjectProperty: (name, _offset, _length, line, _column, path) => {
      const seen = names[names.length - 1];
      if (seen.has(name) && found.length < 10) {
        found.push({
          field: pathText([...path(), name]),
          value: `a second one on line ${line + 1}`,
          allowed: 'each field once',
          message: 'is written twice; keep one',
        });
      }
      seen.add(name);
    },
  });
  return found;
}

/**
 * Parse the text of a board file. Refuses, before parsing, more than FILE_LIMIT characters or nesting deeper
 * than DEPTH_LIMIT; then text that is no JSON (saying where) or that writes a field twice. Linear in the
 * text's length.
 */
export function parseText(source: string): TextResult {
  if (source.length > FILE_LIMIT) {
    return refuse(`${(source.length / 1e6).toFixed(1)} million characters`, `at most ${FILE_LIMIT / 1e6} million characters`,
      'the file is far too large for a board file');
  }
  const notes: string[] = [];
  let text = source;
  if (text.startsWith('\ufeff')) {
    text = text.slice(1);
    notes.push('A byte order mark before the text was left out.');
  }
  if (text.trim() === '') return refuse('nothing', 'a board file', 'the file is empty');
  const { deepest, open } = nesting(text);
  if (deepest > DEPTH_LIMIT) {
    return refuse(`${deepest} levels deep`, `at most ${DEPTH_LIMIT} levels`, 'the file is nested too deeply for a board file');
  }
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return syntaxError(text, open);
  }
  const twice = twiceWritten(text);
  return twice.length > 0 ? { ok: false, errors: twice } : { ok: true, value, notes };
}
