/** The box as made: its sizes at a run where sizes and rib ends differ from the drawing. */
import type { Eased, MadeBox, MadeField } from '../types';
import type { BoxSizes } from './sizes';

/** The box as made at one run: the sizes there, mm, and how the deck and the cap lie over the rib end. */
export interface MadeAt {
  readonly sizes: BoxSizes;
  /** Height of the rib end above the drawn one, mm. */
  readonly lift: number;
  /** Further height of the deck per mm outboard of the rib end: the stringer holds the middle. */
  readonly tilt: number;
  /** How far the cap's inner arris stands proud of the deck, because its tab is too high, mm square to the cap. */
  readonly seat: number;
}

type Mutable<T> = { -readonly [K in keyof T]: T[K] };

/**
 * Cubics through values v at places s, level at a turn and at both ends, so that they never pass the values. A strip
 * over ribs lies as smoothly; straight pieces would bend it at each rib as no strip bends. Slopes are weighted harmonic means (Fritsch
 * and Butland, "A method for constructing local monotone piecewise cubic interpolants", 1984; from memory).
 */
export function eased(s: Float64Array, v: Float64Array): Eased {
  const slope = v.map((_, i) => {
    if (i === 0 || i === v.length - 1) return 0;
    const [before, after] = [s[i] - s[i - 1], s[i + 1] - s[i]];
    const [a, b] = [(v[i] - v[i - 1]) / before, (v[i + 1] - v[i]) / after];
    return a * b <= 0 ? 0 : (3 * (before + after)) / ((2 * after + before) / a + (after + 2 * before) / b);
  });
  const off = (next: 0 | 1) => v.map((_, i) => (i === v.length - 1 ? 0 : slope[i + next] - (v[i + 1] - v[i]) / (s[i + 1] - s[i])));
  return { start: off(0), end: off(1) };
}

/**
 * The made box as a function of the run: drawn sizes plus deviations, straight or eased between the places of `made`
 * and held beyond its first and last. Returns the same object each time, filled again: read it before the next call.
 */
export function madeOnRun(drawn: BoxSizes, made: MadeBox): (s: number) => MadeAt {
  const sizes: Mutable<BoxSizes> = { ...drawn };
  const out: Mutable<MadeAt> = { sizes, lift: 0, tilt: 0, seat: 0 };
  const places = made.s;
  const last = places.length - 1;
  const fields = (Object.entries(made.by) as [MadeField, Float64Array][]).map(([field, by]) => ({ field, by, ease: made.eased?.[field] }));
  let i = 0;
  return (s) => {
    while (i > 0 && places[i] > s) i--;
    while (i < last && places[i + 1] <= s) i++;
    const span = i === last ? 0 : places[i + 1] - places[i];
    const t = i === last || s <= places[i] ? 0 : (s - places[i]) / span;
    for (const { field, by, ease } of fields) {
      const even = t === 0 ? by[i] : by[i] + t * (by[i + 1] - by[i]);
      const value = ease ? even + span * t * (1 - t) * ((1 - t) * ease.start[i] - t * ease.end[i]) : even;
      if (field === 'lift' || field === 'tilt' || field === 'seat') out[field] = value;
      else sizes[field] = drawn[field] + value;
    }
    return out;
  };
}
