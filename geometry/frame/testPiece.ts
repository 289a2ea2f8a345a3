/** A piece to cut before the frames are: it tells the kerf and how wide a notch an offcut is pushed into by hand. */
import type { Design } from '../design/schema';
import type { FlatShape } from './types';

/** Side of the square hole, border and room between notches, depth of a notch, and height of letters, mm: own choice. */
const SQUARE = 30;
const BORDER = 12;
const NOTCH_DEPTH = 15;
const LETTER = 4;
/** Clearances of the notches A to H, tenths of a millimetre, whatever the board has now, so that a piece cut before keeps its meaning: own choice. */
const TENTHS = [-3, -2, -1, 0, 1, 2, 3, 4] as const;

/** A notch: its letter, the half-lap clearance that it stands for, and how wide it should come out, mm. */
export interface TestNotch {
  readonly letter: string;
  readonly fit: number;
  readonly width: number;
}

/** A test piece: the finished part's lines, as a frame part's are. */
export interface TestPiece {
  readonly id: 'test-piece' | 'test-piece-ribs' | 'test-piece-stringer';
  /** Which sheet it is cut from. */
  readonly of: 'ribs and stringer' | 'ribs' | 'stringer';
  readonly thickness: number;
  /** Side of its square hole, mm. */
  readonly square: number;
  /** Thickness of the offcut that is tried in its notches, mm. */
  readonly into: number;
  /** Left to right. */
  readonly notches: readonly TestNotch[];
  readonly shape: FlatShape;
}

/** One piece for each thickness of sheet: a rib laps into the stringer, so that its sheet's notches take the stringer's sheet, and the other way round. */
export function testPieces({ frames: { ribThickness, stringerThickness } }: Pick<Design, 'frames'>): TestPiece[] {
  const piece = (id: TestPiece['id'], of: TestPiece['of'], thickness: number, into: number): TestPiece => {
    const notches = TENTHS.map((tenths, i): TestNotch => ({ letter: 'ABCDEFGH'[i], fit: tenths / 10, width: into + tenths / 10 }));
    const wide = notches.reduce((sum, { width }) => sum + width + BORDER, BORDER);
    const high = 3 * BORDER + SQUARE + NOTCH_DEPTH;
    const outline: number[] = [0, 0, wide, 0, wide, high];
    const marks: FlatShape['marks'][number][] = [];
    // From right to left, as the loop goes round.
    let right = wide - BORDER;
    for (const { letter, width } of notches.toReversed()) {
      outline.push(right, high, right, high - NOTCH_DEPTH, right - width, high - NOTCH_DEPTH, right - width, high);
      const [at, base] = [right - width / 2 - LETTER / 2, high - NOTCH_DEPTH - 1.75 * LETTER];
      marks.push({ kind: 'label', points: Float64Array.from([at, base, at + LETTER, base]), text: letter, height: LETTER });
      right -= width + BORDER;
    }
    outline.push(0, high);
    const [a, b] = [BORDER, BORDER + SQUARE];
    return { id, of, thickness, square: SQUARE, into, notches, shape: { outline: Float64Array.from(outline), holes: [Float64Array.from([a, a, a, b, b, b, b, a])], marks } };
  };
  return ribThickness === stringerThickness
    ? [piece('test-piece', 'ribs and stringer', ribThickness, stringerThickness)]
    : [piece('test-piece-ribs', 'ribs', ribThickness, stringerThickness), piece('test-piece-stringer', 'stringer', stringerThickness, ribThickness)];
}

/** What a caliper reads to, mm. */
const CALIPER = 0.01;
const read = (value: number): number => Math.round(value / CALIPER) / Math.round(1 / CALIPER);

/**
 * The kerf by the test piece's square, mm, to a hundredth. A beam k wide that runs along a square of side a leaves a hole of a + k and
 * a square of a - k, wherever file or machine had moved the line and however the scale is off: k is half the difference (provable).
 */
export const kerfMeasured = (hole: number, square: number): number => read((hole - square) / 2);

/**
 * The half-lap clearance by the notch that an offcut was pushed into by hand, mm, to a hundredth, as it is to be entered once the kerf is
 * right: what the beam took from the notch beyond what file and machine allowed for, it took from the square hole too, which came out
 * that much wider than drawn (provable, of a scale that is right).
 */
export const fitMeasured = (fit: number, hole: number, drawn: number): number => read(fit + hole - drawn);
