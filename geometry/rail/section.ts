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
import type { Hull, RailSection } from '../types';
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

export const emptySection = (): RailSection => ({
  s: 0, u: 0, x: 0, y: 0, tx: 1, ty: 0, nx: 0, ny: -1, kappa: 0, ribX: 0, ribY: 0,
  deckRib: 0, deckFace: 0, bottomRib: 0, bottomFace: 0, capSlope: 0, soleSlope: 0, depth: 0, gap: 0,
  soleBottom: 0, soleTop: 0, capBottom: 0, capTop: 0, bevel: 0, stationBevel: 0, soleBevel: 0,
  planing: 0, capLeft: 0, solePlaning: 0, soleLeft: 0, deckHollow: 0, soleHollow: 0, rows: 0, slot: 0, hollowArea: 0, cover: 0, boxCover: 0,
});

/** Fields of a section, in the order in which samples are stored. */
export const SECTION_FIELDS = Object.keys(emptySection()) as readonly (keyof RailSection)[];

/** Gap alone at outline parameter u, run s: what stop finding asks for. Same figures as fillSection, fewer probes. */
export function gapAt(ev: RailEvaluator, u: number, s: number): { gap: number; depth: number } {
  const { hull, frame } = ev;
  const made = ev.made?.(s);
  const sizes = made?.sizes ?? ev.sizes;
  offsetAt(hull.outline, sizes.faceOffset, u, frame);
  const ribX = frame.x + sizes.stripWidth * frame.nx;
  const ribY = frame.y + sizes.stripWidth * frame.ny;
  const deck = innerAt(hull.deck, 1, sizes.deckSkin, ribX, ribY, ev.deckRib);
  const bottom = innerAt(hull.bottom, -1, sizes.bottomSkin, ribX, ribY, ev.bottomRib);
  const z = made ? deck.z + made.lift : deck.z;
  const box = boxHeights(sizes, z, bottom.z, deck.zx * frame.tx + deck.zy * frame.ty, bottom.zx * frame.tx + bottom.zy * frame.ty, made?.seat);
  return { gap: box.gap, depth: box.depth };
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
 * Fill `out` with the empty box at outline parameter u, run s: all that does not depend on the rows.
 *
 * Bevel: the strip's top face holds the rail's tangent T = (t, m) and the level direction square to it; the
 * deck, falling f per mm outboard, meets it at atan(f cos(slope)) about T. f is the chord from the rib-end
 * line to the box face: the straight pass of a plane. Derivation in DEVELOPERS.md; checked in tests by
 * cross products of the two planes' normals.
 */
export function fillBox(ev: RailEvaluator, u: number, s: number, out: RailSection): RailSection {
  const { hull, frame } = ev;
  const made = ev.made?.(s);
  const sizes = made?.sizes ?? ev.sizes;
  offsetAt(hull.outline, sizes.faceOffset, u, frame);
  const { x, y, tx, ty, nx, ny } = frame;
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

  out.s = s;
  out.u = u;
  out.x = x;
  out.y = y;
  out.tx = tx;
  out.ty = ty;
  out.nx = nx;
  out.ny = ny;
  out.kappa = frame.kappa;
  out.ribX = ribX;
  out.ribY = ribY;
  out.deckRib = deckRib.z;
  out.deckFace = deckFace.z;
  out.bottomRib = bottomRib.z;
  out.bottomFace = bottomFace.z;
  out.capSlope = capSlope;
  out.soleSlope = soleSlope;
  out.depth = box.depth;
  out.gap = box.gap;
  out.soleBottom = box.soleBottom;
  out.soleTop = box.soleTop;
  out.capBottom = box.capBottom;
  out.capTop = box.capTop;
  out.bevel = Math.atan(tanBevel);
  // Traces of the two planes in x = const, outboard taken to starboard: slopes dz/dy.
  const strip = capSlope * ty;
  out.stationBevel = Math.atan(strip) - Math.atan(strip - fall * -ny);
  out.soleBevel = Math.atan(tanSole);
  out.planing = w * tanBevel + seat;
  out.capLeft = sizes.cap - out.planing;
  out.solePlaning = w * tanSole;
  out.soleLeft = sizes.sole - out.solePlaning;
  out.deckHollow = (deckMid.z - (deckRib.z + deckFace.z) / 2) * cosCap * Math.cos(out.bevel);
  // Middle of the cubic through the bottom's heights and outboard slopes at both ends, over its chord.
  out.soleHollow = ((w * (bottomFace.zx * nx + bottomFace.zy * ny - bottomRib.zx * nx - bottomRib.zy * ny)) / 8) * cosSole * Math.cos(out.soleBevel);
  return out;
}

/** Put `rows` spacer rows in a filled box: slot, hollow and cover follow. Fills and returns `out`. */
export function fillRows(ev: RailEvaluator, rows: number, out: RailSection): RailSection {
  const { hull } = ev;
  const sizes = ev.made?.(out.s).sizes ?? ev.sizes;
  out.rows = rows;
  out.slot = Math.max(0, out.gap - rows * sizes.spacerHeight);
  const stack = Math.max(0, Math.min(out.gap, rows * sizes.spacerHeight));
  out.hollowArea = out.gap > 0 ? sizes.stripWidth * out.gap - sizes.spacerWidth * stack : 0;
  coverAt(hull, sizes, out);
  return out;
}

/** The box with its rows: `fillBox`, then `fillRows`. */
export const fillSection = (ev: RailEvaluator, u: number, s: number, rows: number, out: RailSection): RailSection =>
  fillRows(ev, rows, fillBox(ev, u, s, out));
