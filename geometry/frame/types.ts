/** Flat shapes, ribs, stringer and end blocks as the laser, the saw and the papers take them. Plain data, millimetres and radians. */

/** A flat shape: closed loops of (x, y) pairs, mm. The first is the outside, counter-clockwise; others are holes, clockwise. */
export interface FlatShape {
  readonly outline: Float64Array;
  readonly holes: readonly Float64Array[];
  /** Open lines scored or drawn on the shape: ticks, centre lines, grain arrow. Pairs as above. */
  readonly marks: readonly {
    readonly kind: 'tick' | 'line' | 'grain' | 'label' | 'arrow';
    /** Labels: the two ends of the text's baseline, left to right. */
    readonly points: Float64Array;
    readonly text?: string;
    /** Height of the label's capitals that fits its place, mm. */
    readonly height?: number;
  }[];
}

/**
 * A rib or stringer piece to be cut by laser. Ribs lie in (y, z), y to starboard, seen from the tail; stringer
 * pieces in (x, z), nose to the right. Lines are the finished part's: kerf is added by `kerfCompensated`.
 */
export interface FramePart {
  readonly id: string;
  readonly kind: 'rib' | 'stringer';
  readonly rib?: number;
  readonly shape: FlatShape;
  readonly label: string;
  readonly thickness: number;
}

/** A solid block at an end of the board, both sides in one, between the inner skins and the outer layers. */
export interface BlockPart {
  readonly end: 'tail' | 'nose';
  /** Stations of its ends, and of its inner face on the centreline. */
  readonly x0: number;
  readonly x1: number;
  readonly inner: number;
  /** The squared timber it is cut from: along the board, across, and from its lowest to its highest point. */
  readonly length: number;
  readonly width: number;
  readonly depth: number;
  /** Its own volume, mm3, a rebate for the sole not taken out. */
  readonly volume: number;
  /** Whether the sole strip runs on under it. */
  readonly housesSole: boolean;
  /** Outline in plan, (x, y) pairs. */
  readonly plan: FlatShape;
}

/** Frame parts laid out on the laser's sheets; parts of different thickness never share one. */
export interface Nest {
  readonly sheets: readonly {
    readonly length: number;
    readonly width: number;
    readonly thickness: number;
    /** Turn the part's shape by `turn` about its own origin, then move it by (x, y). */
    readonly parts: readonly { readonly id: string; readonly x: number; readonly y: number; readonly turn: number }[];
    /** Share of the sheet that becomes parts, holes taken out. */
    readonly yield: number;
  }[];
  readonly unplaced: readonly string[];
  readonly yield: number;
}
