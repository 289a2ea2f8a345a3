/**
 * The board file (`*.board.json`): what a maker decides, and nothing that can be worked out from it. Lengths are
 * millimetres. Angles in the file carry `Deg` in their names; the kernel turns them into radians as it takes them.
 * Every field has a range; a value outside it is an error, never clamped.
 */
import * as z from 'zod/mini';
import { METHODS } from './methods';

// The page's policy forbids making code from text. Left to itself the library tries at every start, and each try is reported.
z.config({ jitless: true });

export const BOARD_FORMAT = 'railwright-board';
export const BOARD_VERSION = 2;

/** A finite number within [min, max]. */
const num = (min: number, max: number) => z.number().check(z.minimum(min), z.maximum(max));
/** A whole number within [min, max]. */
const whole = (min: number, max: number) => z.int().check(z.minimum(min), z.maximum(max));
/** Text on one line, without control characters, half letters (lone surrogates), code points no file may hold, or marks that turn the writing direction. */
const ONE_LINE = /^[^\p{Cc}\p{Cs}\p{Noncharacter_Code_Point}\u2028\u2029\u202a-\u202e\u2066-\u2069]*$/u;
const text = (max: number) => z.string().check(z.maxLength(max), z.regex(ONE_LINE));
/** Such text, and not none. */
const name = (max: number) => z.string().check(z.maxLength(max), z.regex(ONE_LINE), z.minLength(1));
/** What a timber is called in the file. */
const timberId = () => z.string().check(z.maxLength(40), z.regex(/^[a-z0-9-]+$/));
/** Text that may run over several lines. */
const lines = (max: number) => z.string().check(z.maxLength(max), z.regex(/^[^\p{Cc}\p{Cs}\p{Noncharacter_Code_Point}\u202a-\u202e\u2066-\u2069]*(?:[\n\t][^\p{Cc}\p{Cs}\p{Noncharacter_Code_Point}\u202a-\u202e\u2066-\u2069]*)*$/u));

/** Most points one curve may have. */
export const MAX_POINTS = 200;
const curvePoint = z.strictObject({ x: num(0, 6000), v: num(-2000, 2000), corner: z.optional(z.boolean()) });

/**
 * A value along the length: a C2 cubic through the points (broken at corners). x from the tail, v in the
 * curve's own unit. End slopes: degrees from the centreline, or absent for a natural end.
 */
const lengthCurve = (min: number, max: number) =>
  z.strictObject({
    points: z.array(z.extend(curvePoint, { v: num(min, max) })).check(z.minLength(2), z.maxLength(MAX_POINTS)),
    tailSlopeDeg: z.optional(num(-80, 80)),
    noseSlopeDeg: z.optional(num(-80, 80)),
  });

/**
 * The outline: a parametric cubic through (x, y), tail to nose. The end angles are the directions at which
 * the outline leaves the tail and reaches the nose, measured from the centreline: 90 is truly round,
 * less comes to a point, absent is free.
 */
const outline = z.strictObject({
  points: z.array(z.strictObject({ x: num(0, 6000), y: num(0, 1000), corner: z.optional(z.boolean()) })).check(z.minLength(2), z.maxLength(MAX_POINTS)),
  tailAngleDeg: z.optional(num(-60, 90)),
  noseAngleDeg: z.optional(num(-60, 90)),
});

/** Most trial bends of a board. */
export const MAX_TRIALS = 100;

/** Classes of timber that bend alike. */
const WOOD_CLASSES = ['softwood', 'hardwood'] as const;

/** The most that a maker takes on at either end of the board, half of it each; absent: the least that does, up to wet heat. */
const atEnds = z.strictObject({ tail: z.optional(z.enum(METHODS)), nose: z.optional(z.enum(METHODS)) });

/** What fills an end where the strips stop before it. Absent until the maker has decided. */
const end = z.strictObject({
  block: z.enum(['ring', 'solid']),
  /** Whether the outer skins go round the block, or butt on it. */
  skins: z.enum(['wrapped', 'butted']),
});

const species = z.strictObject({
  id: timberId(),
  name: name(80),
  density: num(50, 1500),
  moe: num(500, 40000),
  mor: num(1, 400),
  /** Strains it takes cold and in wet heat as the maker found them; absent: by its strength and class (geometry/wood). */
  dryLimit: z.optional(num(0.0001, 0.05)),
  steamLimit: z.optional(num(0.0001, 0.2)),
  /** Absent: softwood, the more cautious. */
  woodClass: z.optional(z.enum(WOOD_CLASSES)),
  note: z.optional(lines(400)),
});

const stripStock = z.strictObject({
  length: num(100, 10000),
  price: num(0, 100000),
  /** Pieces on hand; absent means as many as needed. */
  onHand: z.optional(whole(0, 10000)),
});
const boardStock = z.strictObject({
  length: num(100, 10000),
  width: num(20, 1000),
  price: num(0, 100000),
  onHand: z.optional(whole(0, 10000)),
});

/** A strip bent on trial: what it was, how tight it went, and whether it held. Kept beside the board, in the readings file. */
export const trialSchema = z.strictObject({
  /** Strips and spacers, outer skins, or a timber by its id. */
  of: timberId(),
  /** Its section, and over which of the two it was bent. */
  width: num(0.5, 300),
  thickness: num(0.5, 300),
  bent: z.enum(['edge', 'flat']),
  /** Radius of its middle line. */
  radius: num(5, 100000),
  heat: z.enum(['cold', 'wet']),
  /** It went round without a crack. */
  held: z.boolean(),
  note: z.optional(lines(400)),
});
export type TrialBend = z.infer<typeof trialSchema>;

export const boardSchema = z.strictObject({
  format: z.literal(BOARD_FORMAT),
  version: z.literal(BOARD_VERSION),
  name: name(80),
  revision: text(20),
  note: z.optional(lines(2000)),
  lines: z.strictObject({
    outline,
    /** Height of the bottom on the centreline above the bench. */
    rocker: lengthCurve(-50, 600),
    /** Depth on the centreline, finished outside to finished outside. */
    thickness: lengthCurve(2, 300),
    /** Deck rise over half-breadth (1 = as high as wide). */
    crown: lengthCurve(-0.1, 0.5),
    /** Concave depth over half-breadth. */
    concave: lengthCurve(0, 0.3),
    /** Vee rise over half-breadth: the edge above the centreline. */
    vee: lengthCurve(0, 0.3),
    /** Apex height as a fraction of the edge depth, from the bottom. */
    apex: lengthCurve(0.05, 0.95),
    /** Fullness of the rail round: 0 a chamfer, 0.55 about a circle, near 1 boxy. */
    fullness: lengthCurve(0, 0.98),
    /** How far in from the apex the rail turns into the bottom. */
    tuck: lengthCurve(0.5, 150),
    /** How far in from the apex the rail round meets the deck. */
    turn: lengthCurve(0.5, 150),
  }),
  skins: z.strictObject({ bottom: num(0.5, 20), deck: num(0.5, 20) }),
  frames: z.strictObject({
    stringerThickness: num(1, 60),
    ribThickness: num(1, 40),
    /** Rib mid-planes, distance from the tail. */
    ribs: z.array(num(0, 6000)).check(z.minLength(0), z.maxLength(80)),
    /** Least timber left around a lightening hole. */
    leastWeb: num(3, 100),
    /** Clearance of a half-lap notch, whole. */
    notchFit: num(-0.5, 2),
    kerf: num(0, 3),
    /** Face grain of the sheets, which runs along their length: along every part (so where absent), or of no matter, and parts may lie across it. */
    grain: z.optional(z.enum(['along', 'either'])),
    sheet: z.strictObject({ length: num(100, 5000), width: num(100, 3000), price: num(0, 100000) }),
  }),
  rail: z.strictObject({
    stripWidth: num(3, 80),
    soleThickness: num(1, 40),
    capThickness: num(1, 40),
    spacerWidth: num(1, 60),
    spacerHeight: num(1, 60),
    rows: whole(1, 8),
    /** Clearance above a stack of rows, glue included, before the last row counts as fitting. */
    clearance: num(0, 10),
    glueLine: num(0, 2),
    /** Rows shorter than this are dropped. */
    leastRow: num(0, 2000),
    /** Rip a last, lower row to fill the slot left above the full rows. */
    fillSlot: z.boolean(),
    outerLayers: whole(1, 6),
    outerThickness: num(0.5, 30),
    /** Room kept outside the outer skins for an edging laid on before shaping: the box moves in by it, totals count it as timber, no skin blank is cut for it. */
    shapingAllowance: num(0, 30),
    leastCover: num(0, 30),
    jointStagger: num(0, 1000),
    joint: z.enum(['butt', 'scarf']),
    scarfRatio: num(4, 20),
    blankOversize: num(0, 60),
    /** Least length of a lamination's or strip's piece. */
    leastPiece: num(20, 2000),
  }),
  timber: z.strictObject({
    rail: text(40),
    outer: text(40),
    skins: text(40),
    frames: text(40),
    /** What the saw takes, and the plane after it where it is counted in, when strips are ripped and cut to length. */
    sawKerf: num(0, 6),
    species: z.array(species).check(z.maxLength(40)),
    strips: z.array(stripStock).check(z.minLength(1), z.maxLength(20)),
    spacers: z.array(stripStock).check(z.minLength(1), z.maxLength(20)),
    boards: z.array(boardStock).check(z.minLength(1), z.maxLength(20)),
    /** Planks that strips and spacers are ripped from; what none gives, and all where absent, is bought ready. */
    planks: z.optional(z.array(z.extend(boardStock, { thickness: num(2, 200) })).check(z.minLength(1), z.maxLength(20))),
    /** Planks that deck and bottom skin are glued up from, as thick as the skins; absent: bought as panels. */
    skinPlanks: z.optional(z.array(boardStock).check(z.minLength(1), z.maxLength(20))),
    skinPricePerM2: num(0, 100000),
    currency: text(8),
  }),
  /** The most that is done to bend each kind of strip at either end of the board. */
  methods: z.optional(z.strictObject({ sole: z.optional(atEnds), rows: z.optional(atEnds), cap: z.optional(atEnds), skins: z.optional(atEnds) })),
  /** What the maker agrees to where wet heat does not do: strips split on their width, a strap on their back. */
  consents: z.optional(z.strictObject({ split: z.optional(z.boolean()), strap: z.optional(z.boolean()) })),
  ends: z.optional(z.strictObject({
    tail: z.optional(end),
    nose: z.optional(end),
    /** Width of a ring along the box face. */
    ringWidth: z.optional(num(10, 200)),
  })),
  /** Causes of findings that the maker settles at the bench (rail/findings.ts). */
  settled: z.optional(z.array(text(80)).check(z.maxLength(100))),
  /** Where the air goes in and out: station, distance to starboard of the centreline, through which skin. */
  vent: z.optional(z.strictObject({ x: num(0, 6000), y: num(-1000, 1000), through: z.enum(['deck', 'bottom']), diameter: num(2, 80) })),
  /** Blocks glued in for what is screwed or plugged into the board: station and distance to starboard of their middle. */
  fittings: z.optional(z.array(z.strictObject({
    kind: z.enum(['leash', 'fin', 'handle']),
    x: num(0, 6000), y: num(-1000, 1000),
    length: num(10, 600), width: num(10, 400),
    under: z.enum(['deck', 'bottom']),
    /** Depth of the block from that skin; absent: from skin to skin. */
    depth: z.optional(num(4, 300)),
    name: z.optional(text(60)),
  })).check(z.maxLength(20))),
  /** The glue, by its maker's data sheet. */
  adhesive: z.optional(z.strictObject({
    name: text(60),
    /** g/m2 of glued surface. */
    spread: num(20, 2000),
    openMinutes: num(1, 600),
    clampMinutes: num(1, 10000),
  })),
  /** What the maker puts on beside timber and glue, kg. */
  weights: z.optional(z.strictObject({ finish: z.optional(num(0, 20)), vent: z.optional(num(0, 5)), fittings: z.optional(num(0, 20)) })),
  /** Half-widths of the spread of each size as bought, cut or glued. */
  spread: z.strictObject({
    strip: num(0, 3),
    skin: num(0, 3),
    glueLine: num(0, 2),
    kerf: num(0, 1),
    ribHeight: num(0, 5),
  }),
});

/** What the planner takes: a board file's content, and beside it the trial bends of its timber, which stay out of the file. */
export const plannedSchema = z.extend(boardSchema, { trials: z.optional(z.array(trialSchema).check(z.maxLength(MAX_TRIALS))) });

/** A board as its maker drew it, with trial bends where it is planned by them (wood/trials.ts). */
export type Design = z.infer<typeof plannedSchema>;
export type OutlineDesign = Design['lines']['outline'];
export type LengthCurveDesign = Design['lines']['rocker'];
export type LengthCurveName = Exclude<keyof Design['lines'], 'outline'>;
export type SpeciesDesign = Design['timber']['species'][number];
