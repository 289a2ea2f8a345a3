/** Reads STL, binary and text: three corners a facet, no unit. Its own, for a fault is told by facet or line; a test holds it against another reader. */
import { shorten } from '../../../geometry/design/fields';
import { BuildError } from '../../../geometry/errors';
import type { Triangles } from '../../../geometry/shape/hullIn/body';
import { Growing, linesOf } from './lines';

const HEAD = 84;
const FACET = 50;

/** Corners in a row, three a triangle. */
const inRow = (positions: Float32Array): Triangles => ({ positions, indices: Uint32Array.from({ length: positions.length / 3 }, (_, i) => i) });

export function readStl(bytes: Uint8Array): Triangles {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const count = bytes.length >= HEAD ? view.getUint32(80, true) : 0;
  // A binary file may begin with "solid" too: its size tells.
  const whole = bytes.length === HEAD + FACET * count;
  const begin = new TextDecoder('latin1').decode(bytes.subarray(0, 1024));
  if (!whole && /^\s*solid\b/i.test(begin) && !begin.includes('\0')) return readText(bytes);
  if (bytes.length < HEAD || bytes.length < HEAD + FACET * count) {
    throw new BuildError({ field: 'STL file', value: `${bytes.length} bytes`, allowed: bytes.length < HEAD ? `a head of ${HEAD} bytes` : `${HEAD + FACET * count} bytes for the ${count} facets it announces`, message: 'the file ends too soon' });
  }
  const positions = new Float32Array(9 * count);
  for (let i = 0, at = HEAD, k = 0; i < count; i++, at += FACET) {
    for (let j = 12; j < 48; j += 4, k++) {
      const value = view.getFloat32(at + j, true);
      if (!Number.isFinite(value)) throw new BuildError({ field: `facet ${i + 1}`, value: String(value), allowed: 'a number', message: 'a corner is not a number' });
      positions[k] = value;
    }
  }
  return inRow(positions);
}

function readText(bytes: Uint8Array): Triangles {
  const values = new Growing(new Float32Array(9 * 4096));
  let line = 0;
  let corners = 0;
  const wrong = (value: string, allowed: string, message: string): never => {
    throw new BuildError({ field: `line ${line}`, value: shorten(value.trim(), 40), allowed, message });
  };
  for (const text of linesOf(bytes)) {
    line++;
    const words = text.trim().split(/\s+/);
    const word = words[0].toLowerCase();
    if (word === 'vertex') {
      const numbers = words.slice(1).map(Number);
      if (numbers.length !== 3 || !numbers.every(Number.isFinite)) wrong(text, 'vertex and three numbers', 'the corner cannot be read');
      for (const value of numbers) values.push(value);
      corners++;
    } else if (word === 'endloop' || word === 'outer') {
      if (word === 'endloop' && corners !== 3) wrong(`${corners} corners`, 'three corners a facet', 'the facet cannot be read');
      corners = 0;
    } else if (!['', 'solid', 'endsolid', 'facet', 'endfacet'].includes(word)) wrong(text, 'solid, facet, outer loop, vertex and their ends', 'the line cannot be read');
  }
  if (values.length % 9 !== 0) wrong('the end of the file', 'endloop', 'the file ends within a facet');
  return inRow(values.taken());
}
