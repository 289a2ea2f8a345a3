/** Which templates there are: ribs, stringer, skin blanks, and the laser's sheets as they are nested. */
import { kerfCompensated } from '../../geometry/frame/kerf';
import { testPieces } from '../../geometry/frame/testPiece';
import type { FramePart, JigPart } from '../../geometry/frame/types';
import type { BlankPiece, Parts } from '../../geometry/parts/types';
import { fieldLength, fineUnit, lengthWithUnit, unitSign } from '../say/units';
import { notchWords } from '../say/testPiece';
import { halfSketch } from './halves';
import { moved, once, shapeStrokes, sketchOf, type Drawing, type Sketch, type Stroke } from './drawing';
import type { Recipe } from './recipe';
import { layerWords } from './shop';

/** A set of parts that share a template file. */
export interface TemplateSet {
  readonly id: string;
  readonly title: string;
  /** Not printed on sheets: the bench sheet draws the same full size; files for a machine and one sheet off a roll are made. */
  readonly rollOnly?: true;
  /** Where a print is by offsets unless it comes off a roll: how the parts lie. */
  readonly byOffsets?: string;
  /** As on paper, where that differs from the file for a machine; what is then to be said with the title. */
  readonly onPaper?: { readonly sketches: () => readonly Sketch[]; readonly say: string };
  /** The parts, drawn when they are asked for. */
  readonly sketches: () => readonly Sketch[];
}

/** What is said of parts that are printed as their halves. */
const HALVES = 'halves turn over at the dashed line';

const frameSketch = (part: FramePart | JigPart): Sketch => sketchOf(part.id, part.label, shapeStrokes(part.shape));

/** Name of a piece of a skin blank, and how many to cut. */
const blankTitle = (piece: BlankPiece): string => `Outer skin ${piece.layer}, piece ${piece.index + 1}, cut ${piece.count * piece.layers}`;

const blankSketch = (piece: BlankPiece): Sketch =>
  sketchOf(`outer-skin-${piece.layer}-${piece.index + 1}`, blankTitle(piece), shapeStrokes(piece.shape));

/** Every set that has a part in it. */
export function templateSets(parts: Parts): TemplateSet[] {
  const ribs = parts.frames.filter(({ kind }) => kind === 'rib');
  const stringer = parts.frames.filter(({ kind }) => kind === 'stringer');
  const blanks = parts.blanks.flatMap((blank) => blank.pieces);
  const { rounds = [], supports = [], blocks = [] } = parts.jigs ?? {};
  const shaped = blocks.filter(({ id }) => blocks.some((one) => one.id === id.replace(/[a-z]+$/, 'middle')));
  return [
    ...(ribs.length > 0 ? [{ id: 'ribs', title: 'Ribs', sketches: once(() => ribs.map(frameSketch)), onPaper: { sketches: () => ribs.map(halfSketch), say: HALVES } }] : []),
    ...(stringer.length > 0 ? [{ id: 'stringer', title: 'Stringer', byOffsets: 'Seen from starboard, tail left. Lightening holes and a joint\'s fingers are in the laser files alone: butt the pieces on a strap instead.', sketches: once(() => stringer.map(frameSketch)) }] : []),
    ...(blanks.length > 0 ? [{ id: 'skin-blanks', title: 'Skin blanks', byOffsets: 'The outside of starboard, tail left; turned over it is port\'s.', sketches: once(() => blanks.map(blankSketch)) }] : []),
    ...(blocks.length > 0 ? [{
      id: 'blocks', title: 'End blocks', sketches: once(() => blocks.map(frameSketch)),
      // Short ones, faired by eye, are in the files and off the roll alone: sheets are for what is shaped to sections.
      ...(shaped.length > 0 ? { onPaper: { sketches: () => shaped.map(halfSketch), say: HALVES } } : { rollOnly: true as const }),
    }] : []),
    ...(rounds.length > 0 ? [{ id: 'rail-rounds', title: 'Rail-round templates, square to the rail', rollOnly: true as const, sketches: once(() => rounds.map(frameSketch)) }] : []),
    ...(supports.length > 0 ? [{ id: 'rocker-supports', title: 'Rocker supports', sketches: once(() => supports.map(frameSketch)) }] : []),
  ];
}

/** Deck and bottom skin glued up from planks, full size: oversize outline, finished outline and joints. */
export function panelDrawings({ skins }: Parts): { id: string; title: string; draw: () => Drawing }[] {
  return (skins?.panels ?? []).map(({ panel, shape }) => {
    const [id, title] = [`${panel}-skin`, `${panel === 'deck' ? 'Deck' : 'Bottom'} skin from planks, full size`];
    return {
      id, title, draw: () => {
        const sketch = sketchOf(id, title, shapeStrokes(shape));
        return { id, title, placed: [{ sketch, x: 0, y: 0 }], width: sketch.width, height: sketch.height };
      },
    };
  });
}

/** The laser's sheets, one drawing each. */
export function sheetDrawings({ plan, parts, kerf, shop, stamp: { unit } }: Pick<Recipe, 'plan' | 'parts' | 'kerf' | 'shop' | 'stamp'>): { id: string; title: string; draw: () => Drawing }[] {
  return (parts.nest?.sheets ?? []).map((sheet, n) => {
    const id = `sheet-${n + 1}`;
    const burnt = kerf === 'drawn' ? 0 : plan.design.frames.kerf;
    const size = (mm: number) => `${fieldLength(mm, unit)} ${unitSign(unit)}`;
    const title = `Laser sheet ${n + 1} of ${parts.nest?.sheets.length}, ${size(sheet.thickness)} thick, face grain along its length, ${burnt === 0 ? 'lines as drawn' : `lines moved outward for a kerf of ${lengthWithUnit(burnt, fineUnit(unit), 2)}`}`;
    return { id, title, draw: () => ({ ...drawSheet(id, title, parts, sheet, burnt), notes: ['The arrow under the sheet: its face grain.', ...layerWords(shop)] }) };
  });
}

/** The test pieces, with what is measured on them and where that is entered. */
export function testDrawings({ plan, kerf, shop, stamp: { unit } }: Pick<Recipe, 'plan' | 'kerf' | 'shop' | 'stamp'>): { id: string; title: string; draw: () => Drawing }[] {
  return testPieces(plan.design).map(({ id, of, thickness, square, into, notches, shape }) => {
    const title = `Test piece for the ${of}, from the sheet ${lengthWithUnit(thickness, unit)} thick`;
    const notes = [
      `Square: measure the hole, drawn ${lengthWithUnit(square, fineUnit(unit), 2)}, and what falls out of it, across, with a caliper. Half of what they differ by is the kerf.`,
      `Notches, for an offcut ${lengthWithUnit(into, unit)} thick, by their half-lap clearance: ${notches.map((notch) => notchWords(notch, unit)).join(', ')} ${unitSign(unit)}.`,
      'Which one is an offcut pushed into by hand? Enter all three in Bench, Frames, Test piece; then cut the frames.',
      ...layerWords(shop),
    ];
    return {
      id, title, draw: () => {
        const sketch = sketchOf(id, title, shapeStrokes(kerfCompensated(shape, kerf === 'drawn' ? 0 : plan.design.frames.kerf)));
        return { id, title, notes, placed: [{ sketch, x: 0, y: 0 }], width: sketch.width, height: sketch.height };
      },
    };
  });
}

type Sheet = NonNullable<Parts['nest']>['sheets'][number];

function drawSheet(id: string, title: string, parts: Parts, sheet: Sheet, kerf: number): Drawing {
  const edge: Stroke = { layer: 'stock', closed: true, points: [0, 0, sheet.length, 0, sheet.length, sheet.width, 0, sheet.width] };
  const grain: Stroke = { layer: 'note', closed: false, points: [0, -5, 60, -5, 55, -3, 60, -5, 55, -7] };
  const strokes = sheet.parts.flatMap((placed) => {
    const part = parts.frames.find((one) => one.id === placed.id);
    return part ? moved(shapeStrokes(kerfCompensated(part.shape, kerf)), placed.x, placed.y, placed.turn) : [];
  });
  const sketch: Sketch = { id, title, strokes: [edge, grain, ...strokes], width: sheet.length, height: sheet.width };
  return { id, title, placed: [{ sketch, x: 0, y: 0 }], width: sheet.length, height: sheet.width };
}
