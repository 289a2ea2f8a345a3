/** Plain data of tolerances and readings, as screen and papers read them. Millimetres and radians. */
import type { FieldError } from '../errors';
import type { Plan, StopCause } from '../types';

/** What is bought, cut or glued with a spread. One value for the whole board but for `ribHeight`: one a rib. */
export type Measure =
  | 'sole' | 'cap' | 'spacerHeight' | 'spacerWidth' | 'stripWidth' | 'deckSkin' | 'bottomSkin' | 'glueLine' | 'kerf' | 'ribHeight';

/** A figure and the band that holds it in about 95 of 100 boards. */
export interface Band {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** A band at every place of `ToleranceBands.s`. */
export type BandLine = { readonly [K in keyof Band]: Float64Array };

/** How much of a figure's variance one measure brings, and how far that measure alone moves it either way. */
export interface Share {
  readonly measure: Measure;
  /** Index of the rib in the design, for `ribHeight`. */
  readonly ofRib?: number;
  /** 0 to 1. */
  readonly share: number;
  /** Half-width of the band from this measure alone, in the figure's unit. */
  readonly half: number;
}

/** One stop with its band, in the order of `RailPlan.rows`, tail before nose. */
export interface StopBand {
  /** Index of the stretch in RailPlan.rows. */
  readonly stretch: number;
  readonly row: number;
  readonly end: 'tail' | 'nose';
  readonly cause: StopCause;
  readonly x: number;
  /** Run. */
  readonly s: Band;
  /** Share of boards drawn that have this stop at all; 1 by the quick estimate, which cannot know. Where none has it the band is the quick estimate's. */
  readonly present: number;
  /** The gap curves within the band, so that the quick estimate misjudges it: use random trials. */
  readonly curved: boolean;
  readonly shares: readonly Share[];
}

/** Figures that carry a band along the run. */
export type Banded = 'gap' | 'bevel' | 'cover';

export interface RibBand {
  /** Index of the rib in the design. */
  readonly index: number;
  readonly s: number;
  readonly x: number;
  readonly bands: Readonly<Record<Banded, Band>>;
  readonly shares: Readonly<Record<Banded, readonly Share[]>>;
}

/** One line of the list of what to hold tight: a measure, where it matters, and for what. */
export interface Matter extends Share {
  readonly quantity: Banded | 'stop';
  /** Index in the design of the rib where it matters: for a stop the nearest. */
  readonly rib: number | undefined;
  /** The stop, where the quantity is one. */
  readonly row?: number;
  readonly end?: 'tail' | 'nose';
  readonly s: number;
  readonly x: number;
  /** Half-width over the size of error a maker would notice: what the list is sorted by. */
  readonly weight: number;
}

export type ToleranceMethod = 'estimate' | 'trials';

export interface ToleranceBands {
  readonly method: ToleranceMethod;
  /** Boards drawn, and the seed; 0 by the quick estimate. */
  readonly runs: number;
  readonly seed: number;
  /** Places on the run, from where the boxes part to where they meet, and their stations. */
  readonly n: number;
  readonly s: Float64Array;
  readonly x: Float64Array;
  readonly gap: BandLine;
  readonly bevel: BandLine;
  readonly cover: BandLine;
  readonly stops: readonly StopBand[];
  readonly ribs: readonly RibBand[];
  /** Most pressing first. */
  readonly whatMatters: readonly Matter[];
}

/** One thing measured at a rib end, or a strip beside it: lengths, and the bevel. */
export type ReadingField = 'depth' | 'sole' | 'cap' | 'spacer' | 'tab' | 'bevel';

/** A reading that cannot be right, or that has nowhere to go; its field as a reader would write it: rib 4, depth; batch, cap. */
export interface ReadingFlag extends FieldError {
  /** Index of the rib in the design, where it is one; none for a size of the batch. */
  readonly rib?: number;
  readonly reading?: ReadingField;
}

/** One figure of the plan that the readings changed. */
export interface Correction {
  readonly what: 'stop' | 'gap' | 'cover' | 'planing' | 'rows';
  /** The stop, or the row that came or went. */
  readonly row?: number;
  readonly end?: 'tail' | 'nose';
  /** Index of the rib, for figures at a rib. */
  readonly rib?: number;
  /** Where, on the run and from the tail. */
  readonly s: number;
  readonly x: number;
  /** Figure before and after; undefined where there was or is none. */
  readonly was: number | undefined;
  readonly is: number | undefined;
}

/** The plan corrected by what was measured; the design in it is untouched. */
export interface AsBuilt {
  readonly plan: Plan;
  readonly changes: readonly Correction[];
  readonly flags: readonly ReadingFlag[];
  /** Readings the correction uses. */
  readonly used: number;
}
