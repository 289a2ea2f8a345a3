/** The box as made: its sizes at a run where sizes and rib ends differ from the drawing. */
import type { MadeBox, MadeField } from '../types';
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
 * The made box as a function of the run: drawn sizes plus deviations, straight between the places of `made`
 * and held beyond its first and last. Returns the same object each time, filled again: read it before the next call.
 */
export function madeOnRun(drawn: BoxSizes, made: MadeBox): (s: number) => MadeAt {
  const sizes: Mutable<BoxSizes> = { ...drawn };
  const out: Mutable<MadeAt> = { sizes, lift: 0, tilt: 0, seat: 0 };
  const places = made.s;
  const last = places.length - 1;
  const fields = (Object.entries(made.by) as [MadeField, Float64Array][]).map(([field, by]) => ({ field, by }));
  let i = 0;
  return (s) => {
    while (i > 0 && places[i] > s) i--;
    while (i < last && places[i + 1] <= s) i++;
    const t = i === last || s <= places[i] ? 0 : (s - places[i]) / (places[i + 1] - places[i]);
    for (const { field, by } of fields) {
      const value = t === 0 ? by[i] : by[i] + t * (by[i + 1] - by[i]);
      if (field === 'lift' || field === 'tilt' || field === 'seat') out[field] = value;
      else sizes[field] = drawn[field] + value;
    }
    return out;
  };
}
