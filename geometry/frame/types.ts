/** Flat shapes, ribs, stringer and end blocks as the laser, the saw and the papers take them. Plain data, millimetres and radians. */

import type { Place } from '../types';
import type { BlockLayers } from './layers';

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

/** A block at an end of the board, both sides in one, between the inner skins and the outer layers, or reaching to the finished outline where these butt on it. */
export interface BlockPart {
  readonly end: 'tail' | 'nose';
  readonly shape: 'ring' | 'solid';
  /** Stations of its ends, and of its inner face on the centreline. */
  readonly x0: number;
  readonly x1: number;
  readonly inner: number;
  /** The squared timber it is cut from: along the board, across, and from its lowest to its highest point. */
  readonly length: number;
  readonly width: number;
  readonly depth: number;
  /** Its own volume, its tongues' too, mm3. */
  readonly volume: number;
  /** How it is glued up. */
  readonly layers: BlockLayers;
  /** Surface glued when it is set, both sides, mm2. */
  readonly glued: number;
  /** Station of its landing on the box face, where the outer skins butt on it; absent where they go round it. */
  readonly landing?: number;
  /** Whether the sole strip runs on under it. */
  readonly housesSole: boolean;
  /** Outline in plan, (x, y) pairs. */
  readonly plan: FlatShape;
}

/** A template to shape to, or a support to stand the board on: where it belongs, and its shape. */
export interface JigPart {
  readonly id: string;
  readonly label: string;
  readonly place: Place;
  readonly shape: FlatShape;
}

/** The vent as the maker placed it, or where one is proposed. */
export interface VentPart {
  readonly x: number;
  readonly y: number;
  readonly through: 'deck' | 'bottom';
  readonly diameter: number;
  readonly proposed: boolean;
}

/** A block under a skin for what is screwed or plugged into the board: its middle, its sides and its depth, mm. */
export interface FittingPart {
  readonly kind: 'leash' | 'fin' | 'handle';
  readonly name: string;
  readonly x: number;
  readonly y: number;
  readonly length: number;
  readonly width: number;
  readonly under: 'deck' | 'bottom';
  readonly depth: number;
  /** Whether it reaches from skin to skin; its depth is then the greatest of its room. */
  readonly whole: boolean;
}

/** A room between two ribs on one side of the stringer, and whether air gets from it to the vent. */
export interface AirPath {
  /** From the tail, 1 first. */
  readonly bay: number;
  readonly side: 'starboard' | 'port';
  readonly from: number;
  readonly until: number;
  readonly vented: boolean;
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
