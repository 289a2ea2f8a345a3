/**
 * The box at one run: heights, gap, bevels, planing, hollow and cover. The kernel's hottest function.
 *
 * The frame: at a run s the outline's normal gives a vertical plane square to the rail in plan. The box
 * stands square (level across), as its tabs are cut; along the rail it follows the skins, so a strip of
 * thickness t takes t / cos(slope) of height in that plane. The design note's level formula is the case
 * of no slope; on a rockered nose it would put stops several millimetres off.
 */
import { type PlaneFrame, planeFrame } from '../curves/plane';
import { innerAt, panelProbe, type PanelProbe } from '../hull/panel';
import type { Hull, RailSamples, RailSection, RowFigure } from '../types';
import { coverAt } from './cover';
import type { MadeAt } from './made';
import { offsetAt } from './planLine';
import type { BoxSizes } from './sizes';

/** Scratch state of the evaluator: five probes that remember where they were. */
export interface RailEvaluator {
  readonly hull: Hull;
  /** As drawn. */
  readonly sizes: BoxSizes;
  /** The box as made, where it differs from the drawing. */
  readonly made?: (s: number) => MadeAt;
  readonly frame: PlaneFrame;
  readonly deckRib: PanelProbe;
  readonly deckMid: PanelProbe;
  readonly deckFace: PanelProbe;
  readonly bottomRib: PanelProbe;
  readonly bottomFace: PanelProbe;
}

export function railEvaluator(hull: Hull, sizes: BoxSizes, made?: (s: number) => MadeAt): RailEvaluator {
  return {
    hull, sizes, made, frame: planeFrame(),
    deckRib: panelProbe(), deckMid: panelProbe(), deckFace: panelProbe(), bottomRib: panelProbe(), bottomFace: panelProbe(),
  };
}

/** What the strips alone are at a run: where they lie, and the gap between them. */
export type StripsAt = Pick<RailSection, 'x' | 'y' | 'nx' | 'ny' | 'kappa' | 'depth' | 'gap' | 'soleBottom' | 'soleTop' | 'capBottom' | 'capTop' | 'soleSlope'>;

const strips: { -readonly [K in keyof StripsAt]: number } = { x: 0, y: 0, nx: 0, ny: 0, kappa: 0, depth: 0, gap: 0, soleBottom: 0, soleTop: 0, capBottom: 0, capTop: 0, soleSlope: 0 };

/** The strips at outline parameter u, run s: what finding stops and bends asks for. Same figures as `fillBox`, fewer probes; the same object each time, filled again. */
export function stripsAt(ev: RailEvaluator, u: number, s: number): StripsAt {
  const { hull, frame } = ev;
  const made = ev.made?.(s);
  const sizes = made?.sizes ?? ev.sizes;
  offsetAt(hull.outline, sizes.faceOffset, u, frame);
  const ribX = frame.x + sizes.stripWidth * frame.nx;
  const ribY = frame.y + sizes.stripWidth * frame.ny;
  const deck = innerAt(hull.deck, 1, sizes.deckSkin, ribX, ribY, ev.deckRib);
  const bottom = innerAt(hull.bottom, -1, sizes.bottomSkin, ribX, ribY, ev.bottomRib);
  const z = made ? deck.z + made.lift : deck.z;
  const soleSlope = bottom.zx * frame.tx + bottom.zy * frame.ty;
  const box = boxHeights(sizes, z, bottom.z, deck.zx * frame.tx + deck.zy * frame.ty, soleSlope, made?.seat);
  const { x, y, nx, ny, kappa } = frame;
  ({
    x: strips.x = x, y: strips.y = y, nx: strips.nx = nx, ny: strips.ny = ny, kappa: strips.kappa = kappa, soleSlope: strips.soleSlope = soleSlope,
    depth: strips.depth = box.depth, gap: strips.gap = box.gap,
    soleBottom: strips.soleBottom = box.soleBottom, soleTop: strips.soleTop = box.soleTop, capBottom: strips.capBottom = box.capBottom, capTop: strips.capTop = box.capTop,
  }) satisfies StripsAt;
  return strips;
}

const heights = { depth: 0, gap: 0, soleBottom: 0, soleTop: 0, capBottom: 0, capTop: 0 };

/** Stack of the box between two inner faces: each strip takes thickness / cos(its slope) of height; the cap `seat` proud. */
function boxHeights(sizes: BoxSizes, deck: number, bottom: number, capSlope: number, soleSlope: number, seat = 0): typeof heights {
  const perSole = Math.sqrt(1 + soleSlope * soleSlope);
  const perCap = Math.sqrt(1 + capSlope * capSlope);
  heights.soleBottom = bottom + sizes.glue * perSole;
  heights.soleTop = heights.soleBottom + sizes.sole * perSole;
  heights.capTop = deck + (seat - sizes.glue) * perCap;
  heights.capBottom = heights.capTop - sizes.cap * perCap;
  heights.depth = (deck - bottom) / perSole;
  heights.gap = (heights.capBottom - heights.soleTop) / perSole;
  return heights;
}

/**
 * Fill sample i with the empty box at outline parameter u, run s: all that does not hang on the rows.
 *
 * Bevel: the strip's top face holds the rail's tangent T = (t, m) and the level direction square to it; the
 * deck, falling f per mm outboard, meets it at atan(f cos(slope)) about T. f is the chord from the rib-end
 * line to the box face: the straight pass of a plane. Derived in DEVELOPERS.md, "Bevel"; checked in tests by
 * cross products of the two planes' normals.
 */
export function fillBox(ev: RailEvaluator, u: number, s: number, to: RailSamples, i: number): void {
  const { hull, frame } = ev;
  const made = ev.made?.(s);
  const sizes = made?.sizes ?? ev.sizes;
  offsetAt(hull.outline, sizes.faceOffset, u, frame);
  const { x, y, tx, ty, nx, ny, kappa } = frame;
  const w = sizes.stripWidth;
  const ribX = x + w * nx;
  const ribY = y + w * ny;
  const deckRib = innerAt(hull.deck, 1, sizes.deckSkin, ribX, ribY, ev.deckRib);
  const bottomRib = innerAt(hull.bottom, -1, sizes.bottomSkin, ribX, ribY, ev.bottomRib);
  const deckMid = innerAt(hull.deck, 1, sizes.deckSkin, x + (w / 2) * nx, y + (w / 2) * ny, ev.deckMid);
  const deckFace = innerAt(hull.deck, 1, sizes.deckSkin, x, y, ev.deckFace);
  const bottomFace = innerAt(hull.bottom, -1, sizes.bottomSkin, x, y, ev.bottomFace);
  if (made) {
    // The lift changes the cap's slope along the rail by its own fall per mm: a thousandth, left out.
    deckRib.z += made.lift;
    deckMid.z += made.lift + (made.tilt * w) / 2;
    deckFace.z += made.lift + made.tilt * w;
  }
  const seat = made?.seat ?? 0;
  const capSlope = deckRib.zx * tx + deckRib.zy * ty;
  const soleSlope = bottomRib.zx * tx + bottomRib.zy * ty;
  const box = boxHeights(sizes, deckRib.z, bottomRib.z, capSlope, soleSlope, seat);
  const cosCap = 1 / Math.sqrt(1 + capSlope * capSlope);
  const cosSole = 1 / Math.sqrt(1 + soleSlope * soleSlope);
  const fall = (deckRib.z - deckFace.z) / w;
  const rise = (bottomFace.z - bottomRib.z) / w;
  const tanBevel = fall * cosCap;
  const tanSole = rise * cosSole;
  const bevel = Math.atan(tanBevel);
  const soleBevel = Math.atan(tanSole);
  const planing = w * tanBevel + seat;
  const solePlaning = w * tanSole;
  // Traces of the two planes in x = const, outboard taken to starboard: slopes dz/dy.
  const strip = capSlope * ty;
  const stationBevel = Math.atan(strip) - Math.atan(strip - fall * -ny);
  const deckHollow = (deckMid.z - (deckRib.z + deckFace.z) / 2) * cosCap * Math.cos(bevel);
  // Middle of the cubic through the bottom's heights and outboard slopes at both ends, over its chord.
  const soleHollow = ((w * (bottomFace.zx * nx + bottomFace.zy * ny - bottomRib.zx * nx - bottomRib.zy * ny)) / 8) * cosSole * Math.cos(soleBevel);
  // Written as an object only so that the compiler misses no field; none is made of it once the code is warm.
  ({
    s: to.s[i] = s, u: to.u[i] = u, x: to.x[i] = x, y: to.y[i] = y, tx: to.tx[i] = tx, ty: to.ty[i] = ty, nx: to.nx[i] = nx, ny: to.ny[i] = ny,
    kappa: to.kappa[i] = kappa, ribX: to.ribX[i] = ribX, ribY: to.ribY[i] = ribY,
    deckRib: to.deckRib[i] = deckRib.z, deckFace: to.deckFace[i] = deckFace.z, bottomRib: to.bottomRib[i] = bottomRib.z, bottomFace: to.bottomFace[i] = bottomFace.z,
    capSlope: to.capSlope[i] = capSlope, soleSlope: to.soleSlope[i] = soleSlope, depth: to.depth[i] = box.depth, gap: to.gap[i] = box.gap,
    soleBottom: to.soleBottom[i] = box.soleBottom, soleTop: to.soleTop[i] = box.soleTop, capBottom: to.capBottom[i] = box.capBottom, capTop: to.capTop[i] = box.capTop,
    bevel: to.bevel[i] = bevel, stationBevel: to.stationBevel[i] = stationBevel, soleBevel: to.soleBevel[i] = soleBevel,
    planing: to.planing[i] = planing, capLeft: to.capLeft[i] = sizes.cap - planing,
    solePlaning: to.solePlaning[i] = solePlaning, soleLeft: to.soleLeft[i] = sizes.sole - solePlaning,
    deckHollow: to.deckHollow[i] = deckHollow, soleHollow: to.soleHollow[i] = soleHollow,
  }) satisfies Record<Exclude<keyof RailSection, RowFigure>, number>;
}

/** Put `rows` spacer rows in the filled box of sample i: slot, hollow and cover follow. */
export function fillRows(ev: RailEvaluator, rows: number, to: RailSamples, i: number): void {
  const sizes = ev.made?.(to.s[i]).sizes ?? ev.sizes;
  const gap = to.gap[i];
  const stack = rows * sizes.spacerHeight;
  const slot = Math.max(0, gap - stack);
  const { cover, boxCover } = coverAt(ev.hull, sizes, to, i, rows, slot);
  ({
    rows: to.rows[i] = rows, slot: to.slot[i] = slot, cover: to.cover[i] = cover, boxCover: to.boxCover[i] = boxCover,
    hollowArea: to.hollowArea[i] = gap > 0 ? sizes.stripWidth * gap - sizes.spacerWidth * Math.min(gap, stack) : 0,
  }) satisfies Record<RowFigure, number>;
}

/** The filled box of sample i where a block or its tongue takes the hollow's place: its own corners are all there is to cover. */
export function fillSolid(to: RailSamples, i: number): void {
  to.slot[i] = to.hollowArea[i] = 0;
  to.cover[i] = to.boxCover[i];
}
