/** Whole boards there and back through STL, every board of the starters and of the tests, and one of two million triangles with a scanner's noise. */
import { readStl } from '../../src/work/bodyFiles/stl';
import { seedDesign, seedNames, starterDesigns } from '../geometry/boards';
import { fitted, noisy, oddly, stlOf } from '../support/bodies';

/** Farthest that a board may come back off itself, mm. */
const OFF = 0.3;
/** Steps along the board that make two million triangles; the noise one way and the other, mm. */
const FINE = { detail: 1120, noise: 0.3 } as const;

/** Prints what it finds; how many came back, and how many not. */
export function verifyBodies(): { readonly passed: number; readonly failed: number } {
  const starters = starterDesigns();
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
  const rough = noisy(body, FINE.noise, 5);
  const begun = performance.now();
  const { rms, corners } = fitted(rough, present);
  // Noise even over a width is its twelfth root of square along any one way.
  const left = (2 * FINE.noise) / Math.sqrt(12);
  told(`${name} in ${body.indices.length / 3} triangles`, body.indices.length / 3 >= 2e6 && Math.abs(rms - left) < 0.03,
    `fitted in ${((performance.now() - begun) / 1000).toFixed(1)} s; root mean square ${rms.toFixed(3)} mm over ${corners} corners, where the noise alone is ${left.toFixed(3)}`);
  return { passed, failed };
}
