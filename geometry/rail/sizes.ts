/** The sizes a box is made to, as the rest of the rail reads them. */
import type { Design } from '../design/schema';

/** Construction sizes of a box, taken from the design once: mm. */
export interface BoxSizes {
  readonly faceOffset: number;
  readonly stripWidth: number;
  readonly sole: number;
  readonly cap: number;
  readonly spacerWidth: number;
  readonly spacerHeight: number;
  readonly rows: number;
  readonly clearance: number;
  readonly glue: number;
  readonly deckSkin: number;
  readonly bottomSkin: number;
}

/** The box's sizes; the box face lies inside all outer layers and the shaping allowance. */
export function boxSizes(design: Design): BoxSizes {
  const { rail, skins } = design;
  return {
    faceOffset: rail.outerLayers * rail.outerThickness + rail.shapingAllowance,
    stripWidth: rail.stripWidth,
    sole: rail.soleThickness,
    cap: rail.capThickness,
    spacerWidth: rail.spacerWidth,
    spacerHeight: rail.spacerHeight,
    rows: rail.rows,
    clearance: rail.clearance,
    glue: rail.glueLine,
    deckSkin: skins.deck,
    bottomSkin: skins.bottom,
  };
}

/** Gap that a stack of `rows` needs, mm. */
export const gapFor = (sizes: BoxSizes, rows: number): number => rows * sizes.spacerHeight + sizes.clearance;

/** A tab's finger over the rows lower than this would break off, so the tab stays back behind them, mm; own choice. */
export const LEAST_FINGER = 2;
