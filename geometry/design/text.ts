/** From the text of a file to a plain value, refusing first what could hang, hide or surprise. */
import { visit } from 'jsonc-parser';
import { pathText, shorten, type FieldError } from './fields';
import { DEPTH_LIMIT, strangeParts } from './guard';

/** Largest board file, in characters: a hundred times the largest sensible one. Own choice. */
export const FILE_LIMIT = 2_000_000;

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

/** Where a text stops being JSON: offset and length of the first complaint, its line and column from 1, and the field. */
interface Stumble {
  readonly offset: number;
  readonly length: number;
  readonly line: number;
  readonly column: number;
  readonly field: string;
}

/** The first place that is not JSON, in one pass that ends there; undefined where only strictness beyond this reader's is hurt. */
function stumble(text: string): Stumble | undefined {
  const path: (string | number)[] = [];
  let found: Stumble | undefined;
  const over = new Error('found');
  // What the text leaves open, the parser closes before it complains: the path is that of before.
  let left: { readonly offset: number; readonly part: string | number } | undefined;
  const leave = (offset: number) => {
    const part = path.pop();
    if (part !== undefined) left = { offset, part };
  };
  try {
    visit(text, {
      onObjectBegin: () => void path.push(''),
      onObjectEnd: leave,
      onObjectProperty: (name) => void (path[path.length - 1] = name),
      onArrayBegin: () => void path.push(0),
      onArrayEnd: leave,
      onSeparator: (character) => {
        const last = path[path.length - 1];
        if (character === ',') path[path.length - 1] = typeof last === 'number' ? last + 1 : '';
      },
      onError: (_error, offset, length, startLine, startCharacter) => {
        if (left?.offset === offset) path.push(left.part);
        found = { offset, length, line: startLine + 1, column: startCharacter + 1, field: pathText(path.filter((part) => part !== '')) };
        throw over;
      },
    }, { disallowComments: true, allowTrailingComma: false });
  } catch (error) {
    if (error !== over) throw error;
  }
  return found;
}

function syntaxError(text: string, open: boolean): TextResult {
  const written = text.trimEnd();
  const end = written.length;
  const first = stumble(written);
  const offset = first?.offset ?? end;
  // A cut file is sound up to its very end; the first complaint may be of a string or number left open there.
  const cut = open && offset + (first?.length ?? 0) >= end;
  const place = first === undefined ? 'its end' : `line ${first.line}, column ${first.column}${first.field === '' ? '' : `, in ${first.field}`}`;
  return cut
    ? refuse('a file cut short', 'a whole board file', `the file ends too early, at ${place}; fetch it again whole`)
    : refuse(`"${shorten(text.slice(offset, offset + 12), 12)}"`, 'JSON', `the file is not JSON at ${place}`);
}

/** Fields written twice: a reader would keep one of the two in silence. */
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
 * than DEPTH_LIMIT; then text that is not JSON (saying where), data of no sane size, and a field written twice:
 * in this order, so that the slower checks never see what the quicker refuse. Linear in the text's length.
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
  const strange = strangeParts(value);
  if (strange.length > 0) return { ok: false, errors: strange };
  const twice = twiceWritten(text);
  return twice.length > 0 ? { ok: false, errors: twice } : { ok: true, value, notes };
}
