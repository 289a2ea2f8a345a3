/** A board's lines fitted to the curves of a drawing that the maker points at. */
import { firstBeyond } from '../curves/chords';
import { graphSpline, valueAt } from '../curves/graph';
import { buildOutline } from '../curves/outline';
import type { At } from '../curves/rational';
import { LEAST_POINT_STEP } from '../design/cross';
import { checkDesign } from '../design/read';
import type { Design } from '../design/schema';
import { BuildError, type FieldError } from '../errors';
import { mm, range, said, size, type Said } from '../said';
import { DrawingFault, fail, whereOf, type DrawnCurve } from './drawing';
import { outlineIn, sectionIn, sideIn, type DrawingLie, type Walked } from './drawingLines';
import { fitSection, withSections, type SectionFit } from './drawingSections';
import { halfBreadthAt } from './line';
import { OFFSET_COLUMNS, type OffsetColumn, type OffsetRow } from './offsets';
import { fitOffsets, withOffsets, type FitMiss } from './offsetsFit';

/** What a curve is of the board; `profile` is bottom and deck in one closed line. */
export type DrawnRole = 'outline' | 'bottom' | 'deck' | 'profile' | 'section';

/** A curve and what it is; a section with its station, mm from the tail. */
export interface DrawingChoice {
  readonly curve: DrawnCurve;
  readonly role: DrawnRole;
  readonly station?: number;
}

/** How far the drawing lies from a fitted line at most, and the place in the drawing. */
export interface DrawnMiss extends FitMiss {
  readonly at: At;
}

export type DrawingFitted =
  | {
    readonly ok: true; readonly design: Design; readonly met: boolean; readonly notes: readonly Said[];
    readonly misses: Partial<Record<OffsetColumn, DrawnMiss>>;
    readonly sections: readonly (SectionFit & { readonly met: boolean })[];
  }
  | { readonly ok: false; readonly errors: readonly FieldError[] };

/** Board lengths, as for a board file, mm. */
const LENGTH = range(300, 6000);
/** A side view may be longer or shorter than the outline by this share: it is drawn to the outline's length then. Own choice. */
const STRETCH = 0.005;

/** The value of a walk at x, between its places along their chord. */
function valueOn({ x, v }: Walked, at: number): number {
  const high = Math.min(x.length - 1, Math.max(1, firstBeyond(x, at)));
  const low = high - 1;
  const t = x[high] > x[low] ? (at - x[low]) / (x[high] - x[low]) : 0;
  return v[low] + Math.min(1, Math.max(0, t)) * (v[high] - v[low]);
}

/** Places whose x rises by more than rounding: what a length curve is fitted to. */
function rising({ x, v, at }: Walked): Walked {
  const kept: number[] = [];
  x.forEach((here, i) => {
    if (kept.length === 0 || here > x[kept[kept.length - 1]] + 1e-6) kept.push(i);
  });
  const last = x.length - 1;
  if (kept[kept.length - 1] !== last) kept[kept.length - 1] = last;
  return { x: kept.map((i) => x[i]), v: kept.map((i) => v[i]), at: kept.map((i) => at[i]) };
}

/** A walk laid to reach from 0 to `length`: what it was short of that, or over, is next to nothing. */
function reaching({ x, v, at }: Walked, length: number): Walked {
  const [from, to] = [x[0], x[x.length - 1]];
  return rising({ v, at, x: x.map((here, i) => (i === x.length - 1 ? length : ((here - from) * length) / (to - from))) });
}

/** The side view's lines over one length, heights from the lowest place of the bottom. */
function sideView(bottom: DrawnCurve, deck: DrawnCurve | undefined, lie: DrawingLie, tolerance: number): { readonly bottom: Walked; readonly deck?: Walked; readonly length: number; readonly off: number } {
  const low = sideIn(bottom, lie, tolerance, 'bottom');
  const high = deck && sideIn(deck, lie, tolerance, 'deck');
  const { length } = low;
  const mean = ({ v }: Walked) => v.reduce((sum, h) => sum + h, 0) / v.length;
  // Upright, either side may be up: the deck's, or that to which the ends rise.
  const up = !low.upright || (high ? mean(high) > mean(low) : low.v[0] + low.v[low.v.length - 1] > 2 * mean(low)) ? 1 : -1;
  const floor = low.v.reduce((least, h) => Math.min(least, h * up), Infinity);
  const over = (w: Walked): Walked => reaching({ ...w, v: w.v.map((h) => h * up - floor) }, length);
  let off = 0;
  if (deck && high) {
    const ends = [high.start - low.start, high.start + high.length - low.start - length];
    off = Math.max(...ends.map(Math.abs));
    if (off > STRETCH * length) {
      fail(whereOf(deck), said('{from} and {to} from the ends of the bottom', { from: mm(Math.abs(ends[0])), to: mm(Math.abs(ends[1])) }), said('{most} at most', { most: mm(STRETCH * length) }), 'deck and bottom are not drawn over each other, or one is shorter');
    }
  }
  return { bottom: over(low), ...(high ? { deck: over(high) } : {}), length, off };
}

/** What an end of an outline is. */
function endWords(end: 'tail' | 'nose', halfBreadth: number, angleDeg: number | undefined): Said {
  if (halfBreadth > 0) return said('The {end} ends square, {width} wide.', { end, width: mm(2 * halfBreadth) });
  // What is told is whole degrees.
  return (angleDeg ?? 0) > 89.5 ? said('The {end} is round.', { end }) : said('The {end} comes to a point, {angle} to the centreline.', { end, angle: { of: 'deg', value: angleDeg ?? 0, decimals: 0 } });
}

function lengthOf(curve: DrawnCurve, length: number): number {
  const [least, most] = LENGTH.value;
  if (length < least || length > most) fail(whereOf(curve), size(Number(length.toFixed(1))), LENGTH, 'the board would be so long: choose another unit, or two known places');
  return length;
}

/** Sections laid into a board, and what of them is not the board's own there. */
function cutIn(design: Design, choices: readonly DrawingChoice[], lie: DrawingLie, tolerance: number): { readonly sections: readonly SectionFit[]; readonly notes: readonly Said[] } {
  const outline = buildOutline(design.lines.outline);
  const thickness = graphSpline(design.lines.thickness);
  const length = outline.points[outline.points.length - 2];
  const inside = range(LEAST_POINT_STEP, length - LEAST_POINT_STEP);
  const sections: SectionFit[] = [];
  const notes: Said[] = [];
  for (const { curve, station } of choices) {
    const where = whereOf(curve);
    if (station === undefined || station < inside.value[0] || station > inside.value[1]) fail(where, station === undefined ? 'nothing' : size(station), inside, 'the section\'s station is not on the board');
    const twice = sections.find(({ x }) => Math.abs(x - station) < LEAST_POINT_STEP);
    if (twice) fail(where, size(station), 'each station once', 'another section is at this station');
    const section = fitSection(sectionIn(curve, lie.mm, tolerance), station, design);
    sections.push(section);
    const [wide, high] = [section.halfBreadth - halfBreadthAt(outline, station), section.thickness - valueAt(thickness, station)];
    const apart = ([[2 * wide, 'wider', 'narrower'], [high, 'thicker', 'thinner']] as const).filter(([by]) => Math.abs(by) > tolerance);
    for (const [by, more, less] of apart) notes.push(said('The section at {x} is {by} {word} than the board there: its shape is taken, not its size.', { x: mm(station, 0), by: mm(Math.abs(by)), word: by > 0 ? more : less }));
  }
  return { sections, notes };
}

/**
 * Fits a board to what is pointed at in a drawing: each line by the fewest points found that pass its places within
 * `tolerance` (mm; as `fitOffsets`). Lines that are not pointed at are stretched to the length. The lowest place of the
 * bottom rests on the bench; a deck needs the bottom it lies over. Errors name the curve.
 */
export function fitDrawing(design: Design, choices: readonly DrawingChoice[], lie: DrawingLie, tolerance: number): DrawingFitted {
  try {
    const only = (...roles: readonly DrawnRole[]): DrawnCurve | undefined => {
      const found = choices.filter(({ role }) => roles.includes(role));
      if (found.length > 1) fail(whereOf(found[1].curve), found[1].role, 'one curve for each line', said('is also {place} of the file', { place: found[0].curve.place }));
      return found[0]?.curve;
    };
    const [plan, bottom, deck] = [only('outline'), only('bottom', 'profile'), only('deck', 'profile')];
    const cuts = choices.filter(({ role }) => role === 'section');
    if (!plan && !bottom && cuts.length === 0) {
      if (deck) fail(whereOf(deck), 'the deck alone', 'the deck with its bottom', 'say which curve is the bottom: the thickness is between them');
      fail('', 'nothing', 'an outline, a bottom, both lines of the side view, or a section', 'say what a curve of the drawing is');
    }
    if (deck && !bottom) fail(whereOf(deck), 'the deck alone', 'the deck with its bottom', 'say which curve is the bottom: the thickness is between them');
    const notes: Said[] = [];
    const rows: OffsetRow[] = [];
    const places: At[] = [];
    const put = (x: number, at: At, values: Partial<Record<OffsetColumn, number>>) => {
      places.push(at);
      rows.push({ x, line: places.length, ...values });
    };
    const outline = plan && outlineIn(plan, lie, tolerance);
    let length = 0;
    if (plan && outline) {
      const { walked } = outline;
      length = lengthOf(plan, walked.x[walked.x.length - 1]);
      notes.push(...outline.notes);
      walked.x.forEach((x, i) => put(x, walked.at[i], { halfBreadth: walked.v[i] }));
    }
    if (bottom) {
      const view = sideView(bottom, deck, lie, tolerance);
      const long = lengthOf(bottom, view.length);
      if (!plan) length = long;
      const k = length / long;
      const where = whereOf(bottom);
      if (Math.abs(k - 1) > STRETCH) fail(where, size(Number(long.toFixed(1))), said('{length}, as long as the outline', { length: mm(length) }), 'side view and outline are of two lengths');
      if (Math.abs(length - long) > 0.05) notes.push(said('The side view is {by} {word} than the outline: it is stretched to its length.', { by: mm(Math.abs(length - long)), word: long > length ? 'longer' : 'shorter' }));
      if (view.off > 0.05) notes.push(said('Deck and bottom end {by} apart: the deck is stretched to the ends of the bottom.', { by: mm(view.off) }));
      const low = reaching(view.bottom, length);
      low.x.forEach((x, i) => put(x, low.at[i], { rocker: low.v[i] }));
      if (low.v[0] > low.v[low.v.length - 1]) notes.push('The bottom is higher at the tail than at the nose: check at which end the nose is.');
      if (view.deck && deck) {
        const high = reaching(view.deck, length);
        const under = high.v.findIndex((v, i) => v <= valueOn(low, high.x[i]));
        if (under >= 0) fail(whereOf(deck), said('{by} at {x} from the tail', { by: mm(high.v[under] - valueOn(low, high.x[under])), x: mm(high.x[under], 0) }), 'above the bottom all the way', 'the deck lies under the bottom: are the two the right way about, and drawn over each other?');
        high.x.forEach((x, i) => put(x, high.at[i], { thickness: high.v[i] - valueOn(low, x) }));
      }
    }
    const fit = plan || bottom ? fitOffsets({ length, rows }, { tolerance, corners: outline?.corners }) : { length: design.lines.outline.points[design.lines.outline.points.length - 1].x, tolerance, lines: {}, misses: {}, met: true };
    const fitted = fit.lines.outline;
    if (fitted) {
      notes.push(endWords('tail', fitted.points[0].y, fitted.tailAngleDeg), endWords('nose', fitted.points[fitted.points.length - 1].y, fitted.noseAngleDeg));
    }
    const board = withOffsets(design, fit);
    if (!board.ok) return board;
    const misses = Object.fromEntries(OFFSET_COLUMNS.flatMap((column) => {
      const miss = fit.misses[column];
      return miss ? [[column, { ...miss, at: places[miss.line - 1] }]] : [];
    }));
    const cut = cutIn(board.design, cuts, lie, tolerance);
    notes.push(...cut.notes);
    const shaped = cut.sections.length > 0 ? checkDesign({ ...board.design, lines: withSections(board.design.lines, cut.sections) }) : board;
    if (!shaped.ok) return shaped;
    const sections = cut.sections.map((section) => ({ ...section, met: section.greatest <= tolerance }));
    return { ok: true, design: shaped.design, met: fit.met && sections.every(({ met }) => met), notes, misses, sections };
  } catch (error) {
    if (error instanceof DrawingFault) return { ok: false, errors: [error.fault] };
    if (error instanceof BuildError) return { ok: false, errors: [error.fault] };
    throw error;
  }
}
