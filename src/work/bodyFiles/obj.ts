/** Reads the corners and faces of an OBJ file; faces of more than three corners are cut into fans. Its own, for a fault is told by line; a test holds it against another reader. */
import { shorten } from '../../../geometry/design/fields';
import { BuildError } from '../../../geometry/errors';
import type { Triangles } from '../../../geometry/shape/hullIn/body';
import { Growing, linesOf } from './lines';

export function readObj(bytes: Uint8Array): Triangles {
  const positions = new Growing(new Float32Array(3 * 4096));
  const indices = new Growing(new Uint32Array(3 * 4096));
  let line = 0;
  let begun = '';
  for (const text of linesOf(bytes)) {
    line++;
    // A line that ends in a backslash goes on.
    if (text.endsWith('\\')) {
      begun += `${text.slice(0, -1)} `;
      continue;
    }
    const whole = begun + text;
    begun = '';
    const wrong = (allowed: string, message: string): never => {
      throw new BuildError({ field: `line ${line}`, value: shorten(whole.trim(), 40), allowed, message });
    };
    if (!/^\s*[vf]\s/.test(whole)) continue;
    const [word, ...words] = whole.replace(/#.*/, '').trim().split(/\s+/);
    if (word === 'v') {
      const numbers = words.map(Number);
      if (numbers.length < 3 || !numbers.every(Number.isFinite)) wrong('v and three numbers', 'the corner cannot be read');
      for (const value of numbers.slice(0, 3)) positions.push(value);
      continue;
    }
    const count = positions.length / 3;
    const corners = words.map((each) => {
      const n = Number(each.split('/')[0]);
      if (!Number.isInteger(n) || n === 0 || n > count || n < -count) wrong(`corners 1 to ${count}, which stand before it`, 'the face names a corner that is not there');
      return n > 0 ? n - 1 : count + n;
    });
    if (corners.length < 3) wrong('three corners or more', 'the face has too few corners');
    for (let i = 2; i < corners.length; i++) for (const k of [corners[0], corners[i - 1], corners[i]]) indices.push(k);
  }
  return { positions: positions.taken(), indices: indices.taken() };
}
