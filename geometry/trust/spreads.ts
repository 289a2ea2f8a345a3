/**
 * What has a spread, and how it moves the box. The models are the project's own choice:
 * - The half-width of a spread is two standard deviations of a normal distribution.
 * - Strips of one kind come off one setting of the planer: one deviation for all of them, and so for skins,
 *   glue lines (sole and cap alike) and the laser's kerf. Rib heights are independent, one a rib.
 * - The finished outside stays, since it is shaped last: a thicker skin leaves less depth inside.
 * - A rib end that is high lifts the deck there and, the stringer holding the middle, tilts it by its height
 *   over the distance to the centreline; between ribs both run straight, and are held beyond the outer ribs.
 * - A wider kerf takes half its width off every edge: ribs and stringer come out lower by all of it and their
 *   ends further in by half of it. A wider strip moves the box face out from the rib ends.
 */
import type { MadeBox, MadeField, Plan, RibAtRail } from '../types';
import { madeOnRun } from '../rail/made';
import { boxSizes } from '../rail/sizes';
import type { Measure } from './types';

/** A measure with a spread: half-width, mm, and what one mm of it adds to the box at every place. */
interface Spread {
  readonly measure: Measure;
  /** Index of the rib in the design, for `ribHeight`. */
  readonly ofRib?: number;
  readonly half: number;
  readonly adds: readonly { readonly field: MadeField; readonly by: Float64Array }[];
}

/** Measures that are one for the whole board, and what a millimetre of each adds. */
const COMMON: readonly { measure: Exclude<Measure, 'ribHeight'>; adds: Partial<Record<MadeField, number>> }[] = [
  { measure: 'sole', adds: { sole: 1 } },
  { measure: 'cap', adds: { cap: 1 } },
  { measure: 'spacerHeight', adds: { spacerHeight: 1 } },
  { measure: 'spacerWidth', adds: { spacerWidth: 1 } },
  { measure: 'stripWidth', adds: { stripWidth: 1, faceOffset: -1 } },
  { measure: 'deckSkin', adds: { deckSkin: 1 } },
  { measure: 'bottomSkin', adds: { bottomSkin: 1 } },
  { measure: 'glueLine', adds: { glue: 1 } },
  { measure: 'kerf', adds: { lift: -1, faceOffset: 0.5 } },
];

/** Places where the deviations are given, and every measure that has a spread. */
export interface Spreads {
  readonly s: Float64Array;
  /** What the plan itself already has, where it is one of a measured board. */
  readonly base: MadeBox | undefined;
  readonly list: readonly Spread[];
}

/** Places that get figures, as the kernel is asked for them: run, outline parameter, rows standing, whether a block fills the box. */
export interface Places {
  readonly s: Float64Array;
  readonly u: Float64Array;
  readonly rows: Int32Array;
  readonly solid: readonly boolean[];
}

/** The spreads of a plan: a measure of no spread is left out. */
export function planSpreads(plan: Plan): Spreads {
  const { spread } = plan.design;
  const base = plan.rail.made;
  const ribs = plan.rail.ribs;
  const s = Float64Array.from(new Set([...ribs.map((r) => r.s), ...(base?.s ?? []), 0].sort((a, b) => a - b)));
  const half: Record<Measure, number> = {
    sole: spread.strip, cap: spread.strip, spacerHeight: spread.strip, spacerWidth: spread.strip, stripWidth: spread.strip,
    deckSkin: spread.skin, bottomSkin: spread.skin, glueLine: spread.glueLine, kerf: spread.kerf, ribHeight: spread.ribHeight,
  };
  const even = (v: number) => new Float64Array(s.length).fill(v);
  const common = COMMON.map(({ measure, adds }): Spread => ({
    measure, half: half[measure],
    adds: (Object.entries(adds) as [MadeField, number][]).map(([field, v]) => ({ field, by: even(v) })),
  }));
  const single = ribs.map((rib, i): Spread => {
    const lift = s.map((at) => hat(ribs.map((r) => r.s), i, at));
    return {
      measure: 'ribHeight', ofRib: rib.index, half: half.ribHeight,
      adds: [{ field: 'lift', by: lift }, { field: 'tilt', by: lift.map((v) => v / toCentre(plan, rib)) }],
    };
  });
  return { s, base, list: [...common, ...single].filter((l) => l.half > 0) };
}

/**
 * Distance square to the rail from a rib end to the centreline, over which a high rib end tilts the deck, mm;
 * a strip's width at least, for nearer than that there is no deck between the two boxes to tilt.
 */
export const toCentre = (plan: Plan, rib: RibAtRail): number =>
  Math.max(plan.design.rail.stripWidth, rib.ribY / Math.max(1e-3, -rib.section.ny));

/** Weight at `at` of the i-th of some places: 1 there, straight to 0 at its neighbours, held beyond the ends. */
function hat(places: readonly number[], i: number, at: number): number {
  const here = places[i];
  if (at <= here) return i === 0 ? 1 : Math.max(0, (at - places[i - 1]) / (here - places[i - 1]));
  return i === places.length - 1 ? 1 : Math.max(0, (places[i + 1] - at) / (places[i + 1] - here));
}

/** A made box that is written again for every set of deviations: `set(d)` takes one deviation, mm, for each spread. */
export function movable(plan: Plan, spreads: Spreads): { made: MadeBox; set: (deviations: ArrayLike<number>) => void } {
  const fields = new Set<MadeField>(spreads.list.flatMap((l) => l.adds.map((a) => a.field)));
  const { base, s } = spreads;
  for (const field of Object.keys(base?.by ?? {}) as MadeField[]) fields.add(field);
  const rest = new Map<MadeField, Float64Array>();
  const by: Partial<Record<MadeField, Float64Array>> = {};
  const drawn = boxSizes(plan.design);
  const baseAt = base && madeOnRun(drawn, base);
  for (const field of fields) {
    const own = s.map((at) => {
      if (!baseAt) return 0;
      const there = baseAt(at);
      return field === 'lift' || field === 'tilt' || field === 'seat' ? there[field] : there.sizes[field] - drawn[field];
    });
    rest.set(field, own);
    by[field] = own.slice();
  }
  const set = (deviations: ArrayLike<number>) => {
    for (const [field, own] of rest) by[field]?.set(own);
    spreads.list.forEach((spread, k) => {
      for (const add of spread.adds) {
        const to = by[add.field];
        if (to) for (let i = 0; i < to.length; i++) to[i] += deviations[k] * add.by[i];
      }
    });
  };
  // The base keeps its cubics, whose places are among these; what is spread is straight.
  const at = base && s.map((place) => base.s.indexOf(place));
  const moved = (line: Float64Array) => Float64Array.from(at ?? [], (i) => (i < 0 ? 0 : line[i]));
  const eased = base?.eased && Object.fromEntries(Object.entries(base.eased).map(([field, { start, end }]) => [field, { start: moved(start), end: moved(end) }]));
  return { made: { s, by, ...(eased && { eased }) }, set };
}
