/** Whole boards there and back through STL, every board of the starters and of the tests, and one of two million triangles with a scanner's noise. */
import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { readDesign } from '../../geometry/design/read';
import { readStl } from '../../src/work/bodyFiles/stl';
import { seedDesign, seedNames, starterTexts } from '../geometry/boards';
import { fitted, oddly, stlOf } from '../support/bodies';

/** Farthest that a board may come back off itself, mm. */
const OFF = 0.3;
/** Steps along the board that make two million triangles; the noise one way and the other, mm. */
const FINE = { detail: 1120, noise: 0.3 } as const;

/** Prints what it finds; how many came back, and how many not. */
export function verifyBodies(): { readonly passed: number; readonly failed: number } {
  const starters = starterTexts.map(([name, text]) => {
    const read = readDesign(text);
    if (!read.ok) throw new Error(`${name} does not read`);
    return [name, read.design] as const;
  });
  const [[, present]] = starters;
  let [passed, failed] = [0, 0];
  const told = (name: string, right: boolean, figures: string) => {
    console.log(`${name}: ${figures}`);
    if (right) passed++;
    else failed++;
  };
  for (const [name, design] of [...starters, ...seedNames.map((name) => [name, seedDesign(name)] as const)]) {
    const { greatest, rms, remarks } = fitted(oddly(readStl(stlOf(design)), 1 / 25.4), present);
    told(name, greatest < OFF && remarks.length === 0, `back through STL within ${greatest.toFixed(3)} mm, root mean square ${rms.toFixed(3)}`);
  }
  const [, [name, design]] = starters;
  const body = readStl(stlOf(design, FINE.detail));
  // Corners in one place move as one: the noise of a place hangs on the place.
  const noisy = { indices: body.indices, positions: body.positions.slice() };
  const noise = new Map<string, readonly number[]>();
  const random = xoroshiro128plus(5);
  for (let i = 0; i < noisy.positions.length; i += 3) {
    const id = body.positions.subarray(i, i + 3).join(' ');
    let by = noise.get(id);
    if (!by) noise.set(id, (by = [0, 1, 2].map(() => 2 * FINE.noise * (uniformFloat64(random) - 0.5))));
    for (let d = 0; d < 3; d++) noisy.positions[i + d] += by[d];
  }
  const begun = performance.now();
  const { rms, corners } = fitted(noisy, present);
  // Noise even over a width is its twelfth root of square along any one way.
  const left = (2 * FINE.noise) / Math.sqrt(12);
  told(`${name} in ${body.indices.length / 3} triangles`, body.indices.length / 3 >= 2e6 && Math.abs(rms - left) < 0.03,
    `fitted in ${((performance.now() - begun) / 1000).toFixed(1)} s; root mean square ${rms.toFixed(3)} mm over ${corners} corners, where the noise alone is ${left.toFixed(3)}`);
  return { passed, failed };
}
