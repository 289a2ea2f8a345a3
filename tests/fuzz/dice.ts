/** Seeded dice: the same seed and index give the same throws, whatever was thrown before. */
import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';

export interface Dice {
  /** Uniform in [min, max). */
  real(min: number, max: number): number;
  /** Even over orders of magnitude, min > 0. */
  log(min: number, max: number): number;
  /** Whole, both ends included. */
  int(min: number, max: number): number;
  chance(share: number): boolean;
  pick<T>(list: readonly T[]): T;
  /** As `real`, but one throw in eight lands on an end. */
  edgy(min: number, max: number): number;
}

export function dice(seed: number, index: number): Dice {
  // Neighbouring indices must not share their first throws: mix, then let a few go by.
  const generator = xoroshiro128plus((Math.imul(seed, 0x9e3779b1) ^ Math.imul(index + 1, 0x85ebca6b)) | 0);
  for (let i = 0; i < 8; i++) generator.next();
  const u = () => uniformFloat64(generator);
  const real = (min: number, max: number) => min + (max - min) * u();
  const int = (min: number, max: number) => min + Math.floor(u() * (max - min + 1));
  return {
    real, int,
    log: (min, max) => min * (max / min) ** u(),
    chance: (share) => u() < share,
    pick: (list) => list[int(0, list.length - 1)],
    edgy: (min, max) => {
      const which = u();
      return which < 1 / 16 ? min : which < 1 / 8 ? max : real(min, max);
    },
  };
}
