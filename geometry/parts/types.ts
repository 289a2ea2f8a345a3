/**
 * What comes out of a plan for the saw, the laser and the bench. Plain data, millimetres and radians,
 * starboard unless a side is named; port is its mirror.
 */
import type { AirPath, BlockPart, FittingPart, FlatShape, FramePart, JigPart, Nest, VentPart } from '../frame/types';
import type { Said } from '../said';
import type { Finding, PartKind, Place, Plan, Side, StripName } from '../types';
import type { MethodHere } from '../wood/ladder';
import type { BendLimits } from '../wood/limits';

/** A strip or skin that is bent: the sole, the cap, one row stretch, one outer layer. */
export interface StripId extends StripName {
  /** Which stretch of that row, from the tail, 1 first. */
  readonly stretch: number;
}

/** A stretch of strip that one method brings to its curve. */
export interface BendZone extends MethodHere {
  readonly s0: number;
  readonly s1: number;
  /**
   * Greatest strain of the whole strip in the zone, what the method leaves of it to bear, least radius there (mm), and where.
   * Where none does it is what the accepted method nearest to it would leave, over that method's `limit`.
   */
  readonly strain: number;
  readonly borne: number;
  readonly limit?: number;
  readonly radius: number;
  readonly at: Place;
  /** Wet, split and strapped zones: length to heat, the zone and a margin either side, mm. Otherwise the zone's own length. */
  readonly wrap: number;
}

/** Bending of one strip along its own run; arrays run parallel to `s` (run on the box face, mm). */
export interface StripBending {
  readonly strip: StripId;
  readonly width: number;
  readonly thickness: number;
  readonly s: Float64Array;
  /** Length along the strip's own middle line from its tail end, mm. */
  readonly along: Float64Array;
  /**
   * Curvature of the strip's middle line, level and in profile, 1/mm; twist, rad/mm. Outer skins: profile is
   * the blank's own curve in the flat, cut to shape and no bend.
   */
  readonly planCurvature: Float64Array;
  readonly profileCurvature: Float64Array;
  readonly twist: Float64Array;
  /** Fibre strain from bending on edge and on the flat, and their sum at the worst corner. */
  readonly edgewise: Float64Array;
  readonly flatwise: Float64Array;
  readonly strain: Float64Array;
  readonly limits: BendLimits;
  readonly zones: readonly BendZone[];
  /** Where no accepted method does: the greatest lamination thickness (or width, for edgewise) that wet heat would bend. */
  readonly advice?: { readonly thickness?: number; readonly width?: number };
}

/** A side of the box as it stands: the plan with its rail, and how its strips bend. */
export interface BuiltSide {
  readonly plan: Plan;
  readonly bending: readonly StripBending[];
}

/** One end of a sole or a cap as it lies on the ribs. */
export interface LieEnd {
  readonly end: 'tail' | 'nose';
  /** Whether something holds its direction. */
  readonly held: boolean;
  readonly place: Place;
  /** Greatest stand-off from the drawn line in the two bays next to it, mm, inboard positive; and where. */
  readonly standOff: number;
  readonly at: Place;
  /** What pulls it home there, N. */
  readonly close: number;
  /** One more rib in the last bay: its station, and the stand-off that is left, mm. */
  readonly rib?: { readonly x: number; readonly leaves: number };
  /** The end held to the drawn direction, as a block's tongue does: what is left, mm; and the shear, MPa, in a glued lap so long that holds it. */
  readonly hold?: { readonly leaves: number; readonly lap: number; readonly shear: number };
}

/** How one stretch of sole or cap lies when it is pulled to the drawn line at the rib ends alone. */
export interface StripLie {
  readonly strip: StripId;
  /** Tail, nose. */
  readonly ends: readonly [LieEnd, LieEnd];
  /** Between neighbouring supports, tail first: greatest stand-off, mm, inboard positive. */
  readonly bays: readonly { readonly from: Place; readonly until: Place; readonly standOff: number; readonly at: Place }[];
  /** What holds it: its ends and the rib ends, and the force it is held with, N, positive where it is pulled inboard. */
  readonly supports: readonly { readonly place: Place; readonly rib?: number; readonly force: number }[];
  /** Share of its bending strength left on its tightest curve by the rule for glued laminated timber; undefined where it is too tight for the rule. */
  readonly kept?: number;
}

/** A stretch of a piece that is made of several: ripped on its width, or in layers, and glued up again as it is bent. */
export interface Parting {
  readonly method: 'split' | 'layers';
  readonly n: number;
  /** From the piece's tail end along it, and how long, mm. */
  readonly from: number;
  readonly length: number;
}

/** One piece of a strip, cut to length. */
export interface Piece {
  /** Tail first; left out where it is one piece of timber. */
  readonly partings?: readonly Parting[];
  readonly strip: StripId;
  readonly side: Side;
  /** Which piece of its strip from the tail, 1 first. */
  readonly index: number;
  /** Extent on the run. Scarfed pieces overlap their neighbour by the scarf. */
  readonly s0: number;
  readonly s1: number;
  /** Length to cut along the strip's own centreline, mm (scarf counted in, saw kerf not). */
  readonly length: number;
  /** Stock length it is cut from, index into JointPlan.stockLengths. */
  readonly stockLength: number;
}

/** A joint between two pieces of one layer. */
export interface Joint {
  readonly strip: StripId;
  readonly side: Side;
  readonly s: number;
  readonly x: number;
  readonly kind: 'butt' | 'scarf';
  /** Rib whose tab carries it (butt); undefined for a scarf in the open. */
  readonly rib?: number;
  /** Scarf length along the strip. */
  readonly scarf?: number;
  /** What each end of a butt bears on: half its rib's thickness. */
  readonly bearing?: number;
}

/** One stock length (or board) and the pieces cut from it, in order. */
export interface StockLength {
  readonly stock: 'strips' | 'spacers';
  /** How wide and how thick it is, mm: sole and cap that differ are not cut from one stock length. */
  readonly width: number;
  readonly thickness: number;
  /** Whether it is ripped from a plank of the design; else it is bought ready. */
  readonly ripped?: true;
  /** Index into that stock list of the design; into timber.planks where it is ripped, of a plank as long. */
  readonly type: number;
  readonly length: number;
  readonly pieces: readonly number[];
  readonly waste: number;
}

/** Joints and cutting, and how good they are proved to be. */
export interface JointPlan {
  readonly pieces: readonly Piece[];
  readonly joints: readonly Joint[];
  readonly stockLengths: readonly StockLength[];
  readonly proof: {
    readonly optimal: boolean;
    /** Fewest pieces proved, pieces used; stock lengths or their total bought, and its proved lower bound. */
    readonly pieces: number;
    readonly pieceBound: number;
    readonly stock: number;
    readonly stockBound: number;
    /** What stopped the search, when it is not optimal. */
    readonly limit?: string;
  };
}

/** A strip to rip: a stock length of the cutting plan, or one part of a piece that is split on its width. */
export interface MillStrip {
  readonly width: number;
  readonly thickness: number;
  /** Length that it must have for its pieces and the cuts between them, mm. */
  readonly length: number;
  /** Indices into JointPlan.pieces and JointPlan.stockLengths. */
  readonly pieces: readonly number[];
  readonly stockLength: number;
  /** Where it is one of the parts that its one piece is glued up from: how many those are. */
  readonly parts?: number;
}

/** A strip as wide as the fence was set, sawn off a plank's width, and the strips that are then ripped from it. */
export interface MillSlice {
  readonly fence: number;
  /** `second`: what the fence is set to for these; `strips`: cut one after another from its length, indices into MillPlan.strips. */
  readonly rips: readonly { readonly second: number; readonly strips: readonly number[] }[];
}

/** One plank and what is ripped from it. */
export interface MilledPlank {
  /** Index into timber.planks. */
  readonly type: number;
  readonly slices: readonly MillSlice[];
  /** The whole plank, mm3: what becomes pieces, what saw and plane take, what is left over. */
  readonly volume: { readonly whole: number; readonly pieces: number; readonly kerf: number; readonly left: number };
}

/** All strips to rip, and the planks they are ripped from where the design has planks. */
export interface MillPlan {
  readonly strips: readonly MillStrip[];
  readonly planks: readonly MilledPlank[];
  /** Whether no choice of planks is proved to cost less; absent where there is no plank. */
  readonly optimal?: boolean;
}

/** One outer-skin layer developed flat: u along the run from the tail, v = z, both mm. */
export interface Blank {
  readonly layer: number;
  /** Developed length of the layer at its neutral surface, and how much longer than the box face. */
  readonly length: number;
  readonly gain: number;
  /** The whole layer with oversize, starboard, outside towards the reader; tail left. Rocker edge below, deck edge above. */
  readonly whole: FlatShape;
  /** Exact edges without oversize, (u, v) pairs tail to nose. */
  readonly rockerEdge: Float64Array;
  readonly deckEdge: Float64Array;
  readonly pieces: readonly BlankPiece[];
}

export interface BlankPiece {
  readonly layer: number;
  /** From the tail, 0 first. */
  readonly index: number;
  /** Extent on the developed length; a scarf reaches half its length past either. Round a tail u0 is -u1, round a nose u1 lies as far past the end. */
  readonly u0: number;
  readonly u1: number;
  /** Turned so that its least-width box lies along x, with its lower left at (0, 0). */
  readonly shape: FlatShape;
  /** How far the shape was turned from (u, v), radians. */
  readonly turn: number;
  readonly boxLength: number;
  readonly boxWidth: number;
  /** Pieces to make for the whole board: two, the second turned over for port, or one that wraps a round end. */
  readonly count: 1 | 2;
  /** Blanks that each is glued up from, one on another, and how thick each is, mm: more than one where a stretch of it is bent in layers. */
  readonly layers: number;
  readonly thickness: number;
  readonly wraps?: 'tail' | 'nose';
  /** Stock board type it is cut from (index into timber.boards); undefined where no board is wide enough. */
  readonly board?: number;
  readonly partings?: readonly Parting[];
  /** How it joins the next piece. */
  readonly joint?: { readonly kind: 'butt' | 'scarf'; readonly u: number; readonly s: number };
}

/** Pieces of skin blanks laid out on stock boards, grain along the board. */
export interface BoardLayout {
  readonly boards: readonly {
    /** Index into timber.boards. */
    readonly type: number;
    readonly length: number;
    readonly width: number;
    /** As the blanks on it are: outer skins', or a part of it where they are bent in layers. */
    readonly thickness: number;
    /** Lower left of each piece's box on the board; `copy` 2 is the one turned over for port, `blank` which of its layers, 1 first. */
    readonly pieces: readonly { readonly layer: number; readonly index: number; readonly copy: 1 | 2; readonly blank: number; readonly x: number; readonly y: number }[];
    /** Share of the board that becomes skin blanks. */
    readonly yield: number;
  }[];
  readonly yield: number;
}

/** A piece of plank in a deck or bottom skin, in the skin's own flat: u along the board from the tail, v to starboard, mm. */
export interface PanelPiece {
  /** Number on all papers, and of the plank it is cut from, 1 first. */
  readonly number: number;
  readonly plank: number;
  /** Which plank from port, 1 first. */
  readonly strake: number;
  readonly u0: number;
  readonly u1: number;
  readonly v0: number;
  readonly v1: number;
  readonly length: number;
}

/** A deck or bottom skin glued up from planks. */
export interface PanelPlan {
  readonly panel: 'deck' | 'bottom';
  readonly thickness: number;
  /** Planks side by side, and the width of each once its edges are shot. */
  readonly strakes: number;
  readonly wide: number;
  /** Oversize outline; the finished one and the joints are drawn on it. */
  readonly shape: FlatShape;
  readonly pieces: readonly PanelPiece[];
}

/** Deck and bottom skin from planks of one kind. */
export interface SkinPlankPlan {
  /** Index into timber.skinPlanks, and that plank. */
  readonly type: number;
  readonly length: number;
  readonly width: number;
  readonly price: number;
  readonly panels: readonly PanelPlan[];
  readonly planks: readonly { readonly thickness: number; readonly pieces: readonly number[]; readonly left: number }[];
}

/** Volume, mass and cost of one part kind, both sides. */
export interface PartTotal {
  readonly part: string;
  readonly species: string;
  /** mm3, kg, and money in the design's currency. */
  readonly volume: number;
  readonly mass: number;
  readonly cost: number;
}

export interface Totals {
  readonly parts: readonly PartTotal[];
  readonly timberVolume: number;
  readonly mass: number;
  readonly cost: number;
  readonly currency: string;
  readonly boardVolume: number;
  readonly centre: { readonly x: number; readonly z: number };
  /** Glued surface (mm2), glue left in the board and glue to mix (kg), its spread (g/m2), and whether that is only a placeholder. */
  readonly glue: { readonly area: number; readonly left: number; readonly mix: number; readonly spread: number; readonly placeholder: boolean };
  /** What the maker puts on beside timber and glue, kg, as he entered it. */
  readonly own: { readonly finish: number; readonly vent: number; readonly fittings: number };
  /** Timber, glue and the maker's own weights, kg. */
  readonly boardMass: number;
  /** Station of the timber's centre of mass: where the bare board balances, mm from the tail. */
  readonly balance: number;
  /** Sag of the board under a load midway, hollow rails over solid. */
  readonly sag: number;
  /** The rail alone, hollow and as solid laminations of the same timbers filling the same outline. */
  readonly hollowRail: { readonly volume: number; readonly mass: number; readonly cost: number };
  readonly solidRail: { readonly volume: number; readonly mass: number; readonly cost: number; readonly laminations: number };
  readonly saving: { readonly volume: number; readonly mass: number; readonly cost: number };
}

/** One line of the order of work. */
export interface WorkStep {
  readonly index: number;
  /** What it is ticked off by: stays when its title's words change, and when steps come and go before it. */
  readonly id: string;
  readonly title: string;
  readonly text: Said;
  /** Papers that the text names, by their ids in the catalogue. */
  readonly papers?: readonly ('joints.csv' | 'bench-sheet' | 'rail-rounds.svg')[];
  /** Part kinds that are in place once the step is done, those of the steps before included. */
  readonly places: readonly PartKind[];
  /** Whether the box is there on port too; while it is built, on starboard first, it does not. */
  readonly port: boolean;
  /** Clamps and how to set them, glue and its open time, and what else the step needs. */
  readonly needs: readonly Said[];
  /** Surface to glue, mm2, on each side while the box is built; and glue to mix for it, g. */
  readonly glue?: { readonly area: number; readonly mix: number };
  /** Where clamps go in this step. */
  readonly clamps: readonly Place[];
  /** What to measure now and what it should read. */
  readonly checks: readonly { readonly what: Said; readonly place?: Place; readonly value: number; readonly unit: 'mm' | 'rad' }[];
  readonly cautions: readonly string[];
}

/** Everything for the bench. A member that could not be made is left out and a finding says why. */
export interface Parts {
  readonly bending: readonly StripBending[];
  readonly lies: readonly StripLie[];
  readonly joints?: JointPlan;
  readonly milling?: MillPlan;
  readonly blanks: readonly Blank[];
  /** Absent where no blank fits any board. */
  readonly boards?: BoardLayout;
  /** Absent where deck and bottom skin are bought as panels. */
  readonly skins?: SkinPlankPlan;
  readonly frames: readonly FramePart[];
  readonly nest?: Nest;
  readonly blocks?: readonly BlockPart[];
  /** Vent, fitting blocks, and the rooms between the ribs with their way to the vent. */
  readonly fittings?: { readonly vent: VentPart; readonly blocks: readonly FittingPart[]; readonly air: readonly AirPath[] };
  /** Templates of the rail round, and supports that carry the rocker. */
  readonly jigs?: { readonly rounds: readonly JigPart[]; readonly supports: readonly JigPart[]; readonly blocks: readonly JigPart[] };
  readonly totals?: Totals;
  readonly steps: readonly WorkStep[];
  readonly findings: readonly Finding[];
}
