/** A band at a place between those that were worked out. */
import type { Band, Banded, ToleranceBands } from './types';

/**
 * The band of a figure at run s, mm or radians: straight between places; undefined beyond the first and last,
 * where the box has no two sides to speak of.
 */
export function bandAt(bands: ToleranceBands, what: Banded, s: number): Band | undefined {
  const { n, s: runs } = bands;
  if (n < 2 || !(s >= runs[0] && s <= runs[n - 1])) return undefined;
  const i = Math.min(n - 2, Math.floor(((s - runs[0]) / (runs[n - 1] - runs[0])) * (n - 1)));
  const t = (s - runs[i]) / (runs[i + 1] - runs[i]);
  const line = bands[what];
  const mix = (list: Float64Array) => list[i] + t * (list[i + 1] - list[i]);
  return { value: mix(line.value), low: mix(line.low), high: mix(line.high) };
}
