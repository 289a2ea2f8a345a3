/**
 * The plain data that flows design -> hull -> rail -> parts -> views. No closures, no classes: a worker,
 * the screen, the papers and the command line read the same thing. Millimetres and radians throughout;
 * x tail to nose, y to starboard, z up from the bench. Everything describes starboard; port mirrors it in y.
 */
import type { Design } from './design/schema';
import type { Dimension, Said } from './said';
import type { Spline } from './curves/bspline';

/** A side of the board. */
export type Side = 'starboard' | 'port';

/** Where something is. `s` is the run on the box face (mm); `x` the station from the tail. */
export interface Place {
  readonly s?: number;
  readonly x: number;
}

/** A strip of the rail by kind and, for rows (from the sole up) and outer layers (from the box out), number; 0 for sole and cap. */
export interface StripName {
  readonly kind: 'sole' | 'cap' | 'row' | 'outer-skin';
  readonly order: number;
}

/** How bad a finding is: `cannot` be built, `check` needs a decision, `note` is good to know. */
export type FindingLevel = 'cannot' | 'check' | 'note';

/** Something the plan found, with its place, its figure, its limit and what to do about it. */
export interface Finding {
  /** Stable identifier of this finding within a plan: code plus a counter. */
  readonly id: string;
  readonly code: string;
  readonly level: FindingLevel;
  readonly title: Said;
  readonly advice: Said;
  /** Where it is, at its worst where it covers a stretch. */
  readonly place?: Place;
  /** The stretch it covers, tail end first, where it is not one point; `even` where no place of it is worse than another. */
  readonly extent?: { readonly from: Place; readonly until: Place; readonly even?: true };
  /** The strip it is of, where it is of one. */
  readonly strip?: StripName;
  readonly figure?: number;
  readonly limit?: number;
  /** What figure and limit measure. */
  readonly unit?: Dimension;
  /** The maker settles it at the bench: what was to be checked is a note. */
  readonly settled?: true;
}

/**
 * A panel surface (deck or bottom, finished outside), reaching to the outline. Columns of the spline in u:
 * X, Y (half-breadth), then four Bezier heights Z0..Z3 across v = y / Y from centreline to outline.
 */
export interface Panel {
  readonly spline: Spline;
  /** The same once more for quick evaluation: per knot span, each column's four coefficients in powers of u - knot. */
  readonly pieces: Float64Array;
  /** Stations at which it has a crease athwart the board: a knot of three, where a line or the outline has a corner. */
  readonly creases: Float64Array;
}

/** Fairness of the hull's curves and loft. */
interface Fairness {
  /** Greatest distance between the loft and the section curves midway between its sections, mm. */
  readonly loftError: number;
  /** Stations where the curvature of each line changes sign (corners excluded). */
  readonly inflections: Readonly<Record<'outline' | 'rocker' | 'thickness', readonly number[]>>;
}

/** The lofted hull, starboard half. */
export interface Hull {
  readonly length: number;
  readonly outline: Spline;
  readonly lines: Readonly<Record<Exclude<keyof Design['lines'], 'outline'>, Spline>>;
  readonly deck: Panel;
  readonly bottom: Panel;
  /** Rail round: a spline in u of seven (x, y, z) control points, two cubic Beziers tuck-apex-deck. */
  readonly round: Spline;
  readonly widest: { readonly x: number; readonly halfBreadth: number };
  readonly fairness: Fairness;
  /** Finished outside, both halves: mm3; centre from the tail and above the bench; plan area mm2. */
  readonly volume: number;
  readonly centre: { readonly x: number; readonly z: number };
  readonly planArea: number;
}

/** A valid stretch of an offset line: parameter range on the outline and the run at its ends. */
export interface LinePiece {
  readonly u0: number;
  readonly u1: number;
  readonly s0: number;
  readonly s1: number;
}

/** How a plan line ends. `round`: runs unbroken across the centreline; `meets`: the two sides meet there
 * at an angle; `open`: a square end. */
export type LineEnd = 'round' | 'meets' | 'open';

/** An offset of the outline in plan, trimmed. */
export interface PlanLine {
  readonly offset: number;
  readonly pieces: readonly LinePiece[];
  readonly length: number;
  readonly tail: { readonly kind: LineEnd; readonly x: number; readonly y: number };
  readonly nose: { readonly kind: LineEnd; readonly x: number; readonly y: number };
  /** Places where the line turns a corner because the offset crossed itself, run on this line. */
  readonly corners: readonly { readonly s: number; readonly x: number; readonly y: number; readonly turn: number }[];
}

/**
 * Everything the box is at one run, and each figure's unit. Heights are z of points in the vertical plane through
 * the outline's normal; thicknesses in that plane are true thickness / cos(slope). The one list of a section's
 * fields: the type, the samples' arrays and all that reads them follow from it, and the compiler holds what fills
 * them to it (`fillBox` and `fillRows` in rail/section.ts).
 */
export const SECTION_UNITS = {
  /** Run on the box face; outline parameter. */
  s: 'mm', u: 'mm',
  /** Box-face point, unit tangent and inward unit normal in plan. */
  x: 'mm', y: 'mm', tx: 'ratio', ty: 'ratio', nx: 'ratio', ny: 'ratio',
  /** Plan curvature of the box face, positive where the rail is convex outward. */
  kappa: '1/mm',
  /** Rib-end point in plan. */
  ribX: 'mm', ribY: 'mm',
  /** Inner deck and bottom faces at the rib-end line and at the box face, z. */
  deckRib: 'mm', deckFace: 'mm', bottomRib: 'mm', bottomFace: 'mm',
  /** Slope along the rail (dz per plan mm) of cap and sole at the rib-end line. */
  capSlope: 'ratio', soleSlope: 'ratio',
  /** Inner depth at the rib-end line, square to the sole. */
  depth: 'mm',
  /** Clear height between sole and cap, square to the sole on which the rows lie; negative where they overlap. */
  gap: 'mm',
  /** z of sole underside, sole top, cap underside, cap top at the rib-end line. */
  soleBottom: 'mm', soleTop: 'mm', capBottom: 'mm', capTop: 'mm',
  /** Angle from the cap's square top to the inner deck face, square to the rail; positive where the deck falls outboard. */
  bevel: 'rad',
  /** The same seen in the station plane. */
  stationBevel: 'rad',
  /** Angle from the sole's square underside to the inner bottom face; positive where the bottom rises outboard. */
  soleBevel: 'rad',
  /** Planed off the cap's outer top edge, and left of the cap there, square to the strip; left is negative where planing cuts through. */
  planing: 'mm', capLeft: 'mm',
  /** Planed off the sole's outer bottom edge, and left of the sole there. */
  solePlaning: 'mm', soleLeft: 'mm',
  /** Greatest height of the deck over the straight plane pass across the strip; negative where hollow. */
  deckHollow: 'mm',
  /** The same of the bottom over the sole's straight pass; negative where the bottom lies lower between. */
  soleHollow: 'mm',
  /** Full spacer rows at this run (after stops), and the slot open above them. */
  rows: 'count', slot: 'mm',
  /** Cross-section of the hollow. */
  hollowArea: 'mm2',
  /** Least timber from hollow or slot to the finished outside; negative where shaping breaks through. */
  cover: 'mm',
  /** Least timber from the box's own outer corners to the finished outside; negative where shaping cuts the strips. */
  boxCover: 'mm',
} as const;

export type RailSection = { readonly [K in keyof typeof SECTION_UNITS]: number };

/** The figures of a section that hang on the rows which stand there. */
export type RowFigure = 'rows' | 'slot' | 'hollowArea' | 'cover' | 'boxCover';

/** The sampled rail: one typed array per field of RailSection, all of length n, uniform in s. */
export type RailSamples = { readonly n: number; readonly step: number } & {
  readonly [K in keyof RailSection]: Float64Array;
};

/** A corner in a strip's line, because one of the board's lines has one. */
export interface Kink {
  /** Run, and the station of the corner in the lines. */
  readonly s: number;
  readonly x: number;
  /** By how much the strip's slope along the rail turns there. */
  readonly angle: number;
  /** The stretch that is one with the corner: over a hollow corner the skin's inside is an arc as short as this. */
  readonly s0: number;
  readonly s1: number;
}

/** Why a spacer row ends. */
export type StopCause = 'gap' | 'bend' | 'end' | 'block';

/** An edge of a row's cut end, across the rail: its run, and the box face's station there. */
export interface CutEdge {
  readonly s: number;
  readonly x: number;
}

/**
 * One end of a row, cut square to the row, which lies on the sole. Where the sole slopes, the cut's upper edge and its
 * lower one lie apart along the rail, by the spacer's height times the sine of the slope. The stop is the upper edge:
 * the gap closes on it. Where the box itself ends, it is whichever edge reaches farther.
 */
export interface Stop extends CutEdge {
  /** 1 is the row on the sole. */
  readonly row: number;
  readonly end: 'tail' | 'nose';
  readonly upper: CutEdge;
  readonly lower: CutEdge;
  readonly cause: StopCause;
  /** Gap there, and the gap the row needs. */
  readonly gap: number;
  readonly need: number;
}

/** A stretch of spacer row. */
export interface RowStretch {
  readonly row: number;
  readonly tail: Stop;
  readonly nose: Stop;
  readonly length: number;
  /** Ribs whose tab lies within the stretch, indices into RailPlan.ribs. */
  readonly tabs: readonly number[];
}

/** A stretch that was dropped, and why. */
export interface DroppedStretch {
  readonly row: number;
  readonly s0: number;
  readonly s1: number;
  readonly why: 'short' | 'no tab';
}

/**
 * State of the box: `full` all rows; `fewer` some; `open` hollow, no rows; `tongue` the end block's tongue between sole
 * and cap; `block` the block beyond them; `closed` strips touch, taper or block from here; `none` no room for the sole;
 * `meet` the two sides meet on the centreline.
 */
export type BoxState = 'full' | 'fewer' | 'open' | 'tongue' | 'block' | 'closed' | 'none' | 'meet';
export interface BoxStretch {
  readonly state: BoxState;
  readonly rows: number;
  readonly s0: number;
  readonly s1: number;
}

/** Why sole and cap end before the board does: they bend no tighter, they touch, or the two sides' boxes meet. */
export type EndCause = 'bend' | 'touch' | 'meet';

/**
 * Where the strips end before the board does, and the block there begins: in the plane across the board where the
 * rib-end line stands at this run. Its tongue reaches on between sole and cap, which lie in rebates over it.
 */
export interface RailEnd {
  readonly end: 'tail' | 'nose';
  readonly cause: EndCause;
  /** Run at which sole and cap end, cut square to the rail; where they touch the cap does, the sole runs on under the block. */
  readonly s: number;
  /** Station of the rib-end line there: the block's inner face. */
  readonly x: number;
  /** Run of the tongue's inner end, where the rows end; `s` where no tongue has room between the strips. */
  readonly rowsTo: number;
  /** Run at which the outer skins butt on the block, which beyond it reaches to the finished outline; absent where they go round it. */
  readonly skinsTo?: number;
  /** Of a bend: the strip that fails first from mid-board. */
  readonly strip?: StripName;
  /** Of a bend: where beyond its end that strip falls short most, what the accepted method nearest to it would leave to bear there, and that method's limit. */
  readonly limit?: number;
  readonly strain?: number;
  readonly tightest?: Place;
}

/** A strip too tight to bend so near mid-board that no box is left beyond: it is planned through all the same. */
export interface Unbendable {
  readonly strip: StripName;
  /** Where it fails first from mid-board, and where beyond that it is bent most. */
  readonly first: Place;
  readonly at: Place;
  readonly strain: number;
  readonly limit: number;
}

/** A rib as the rail meets it. */
export interface RibAtRail {
  readonly index: number;
  /** Station of the rib's mid-plane. */
  readonly x: number;
  /** Run where the rib-end line crosses the rib's mid-plane. Ribs that miss the rail are left out. */
  readonly s: number;
  readonly ribY: number;
  readonly gap: number;
  readonly rows: number;
  readonly slot: number;
  readonly hasTab: boolean;
  /** Full section there. */
  readonly section: RailSection;
  /** What its plate meets over its whole thickness. */
  readonly over: PlateOver;
}

/** One line along the rail over a rib's thickness: its least half-breadth, and the highest of the sole's face and the lowest of the cap's, as planed. */
export interface LineOver {
  readonly y: number;
  readonly sole: number;
  readonly cap: number;
}

/** What a rib's plate meets of the box over its thickness: at the rib-end line, midway, the back of the rows and the box face. */
export interface PlateOver {
  readonly end: LineOver;
  readonly mid: LineOver;
  readonly back: LineOver;
  readonly face: LineOver;
  /** Most rows anywhere over it. */
  readonly rows: number;
}

/** What may differ between the box as made and as drawn: its sizes, and the three of the rib end (rail/made.ts). */
export type MadeField =
  | 'faceOffset' | 'stripWidth' | 'sole' | 'cap' | 'spacerWidth' | 'spacerHeight' | 'glue' | 'deckSkin' | 'bottomSkin'
  | 'lift' | 'tilt' | 'seat';

/** One value a stretch between places, per mm. */
export interface Eased {
  readonly start: Float64Array;
  readonly end: Float64Array;
}

/**
 * How the box as made differs from the drawn one at places on the run, in rising order: one value a place in
 * each list, mm (tilt: mm per mm), straight between places and held beyond the first and last.
 */
export interface MadeBox {
  readonly s: Float64Array;
  readonly by: Readonly<Partial<Record<MadeField, Float64Array>>>;
  /** Cubics in place of the straight pieces: from each place to the next, by how much their slopes at its start and at its end are off the straight piece's. */
  readonly eased?: Readonly<Partial<Record<MadeField, Eased>>>;
}

/** The whole box rail, starboard. */
export interface RailPlan {
  readonly face: PlanLine;
  readonly ribEnd: PlanLine;
  readonly samples: RailSamples;
  /** Run where the two boxes part (tail) and meet (nose): the rib-end lines reach the centreline. */
  readonly boxFrom: number;
  readonly boxTo: number;
  readonly meets: { readonly tail?: Place; readonly nose?: Place };
  /** Extents of sole and cap on the run. */
  readonly sole: { readonly s0: number; readonly s1: number };
  readonly cap: { readonly s0: number; readonly s1: number };
  /** Where the strips end before the board does; absent where they close the end themselves. */
  readonly ends: { readonly tail?: RailEnd; readonly nose?: RailEnd };
  readonly unbendable?: Unbendable;
  /** Ribs that stand in an end's block, or touch it: they are left out. */
  readonly ribsInBlock: readonly number[];
  readonly rows: readonly RowStretch[];
  readonly dropped: readonly DroppedStretch[];
  /** Corners of the sole (its rows lie on it) and of the cap. */
  readonly kinks: { readonly sole: readonly Kink[]; readonly cap: readonly Kink[] };
  readonly stretches: readonly BoxStretch[];
  readonly ribs: readonly RibAtRail[];
  /** Volume of hollow and slots, one side, mm3, less the tabs. */
  readonly hollowVolume: number;
  readonly range: Readonly<Record<'bevel' | 'gap' | 'cover' | 'planing', { min: number; max: number; sMin: number; sMax: number }>>;
  /** Where this is the rail as measured, not as drawn: what differs. */
  readonly made?: MadeBox;
}

/** What planBoard returns. Frames, parts and totals are worked out from it (planParts.ts). */
export interface Plan {
  readonly design: Design;
  readonly hull: Hull;
  readonly rail: RailPlan;
  readonly findings: readonly Finding[];
}

/**
 * A triangle mesh in board axes. positions are xyz triples, indices are triples of vertex numbers
 * a, b, c with (b - a) x (c - a), worked on the numbers, pointing outward. Board axes (x forward, y starboard,
 * z up) are left-handed: to show or export a board true in right-handed axes, mirror one axis (for instance
 * X = x, Y = z, Z = y) and reverse each triangle, else starboard becomes port. Faces share the vertices of their arrises. Two meshes of
 * a part at the same detail have equal array lengths; a stage's have as many corners as the part's curves want, which mostly stays while the board changes. The optional channels have one value a vertex.
 */
export interface Mesh {
  readonly positions: Float32Array;
  readonly indices: Uint32Array;
  /** Unit normals, where the facets stand for one smooth surface: the finished round. */
  readonly normals?: Float32Array;
  /** Bevel in radians. */
  readonly bevel?: Float32Array;
  /** Run in mm, for the timber's grain along a strip. */
  readonly run?: Float32Array;
}

/** What a body is, for layers, colours and the build order. */
export type PartKind =
  | 'bottom-skin' | 'deck-skin' | 'round' | 'rib' | 'stringer' | 'sole' | 'row' | 'cap' | 'hollow' | 'outer-skin' | 'block' | 'fitting';

/**
 * One drawable body. `side`: starboard, port, or both in one mesh; `half`: of one that spans both, its half to starboard
 * alone, open on the centreline, for a stage that draws it twice.
 */
export interface Body {
  readonly id: string;
  readonly kind: PartKind;
  readonly side: Side | 'centre';
  readonly half?: true;
  /** Row number or outer-layer number, from the sole up and from the box out; rib index. */
  readonly order: number;
  readonly mesh: Mesh;
}

/** A closed outline in a rail section. Points are (o, z) pairs: o outboard from the rib-end line, z up, mm. */
export interface SectionShape {
  readonly kind: PartKind;
  readonly order: number;
  readonly points: Float64Array;
}

/** What the station card draws: the section square to the rail (in plan) at one run. */
export interface SectionDrawing {
  readonly section: RailSection;
  /** Station told, mm from the tail: a rib's own where one stands, else the box face's, which is `section.x`. */
  readonly x: number;
  readonly state: BoxState;
  readonly shapes: readonly SectionShape[];
  /** Finished outside as an open polyline, bottom (inboard) round the rail to the deck (inboard). */
  readonly finished: Float64Array;
  /** Where the section lies on the whole board: the station's half section, (y, z) pairs, centreline bottom to centreline deck. */
  readonly station: Float64Array;
}
