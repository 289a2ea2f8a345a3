/** The lines of a board as the maker meets them: names, what each measures, and how its values are shown and typed. */
import { fieldRange } from '../../../geometry/design/fields';
import { MM_LINES, type DesignCurve, isOutline, type LineName } from '../../../geometry/shape/line';
import { fixed, lengthText, readNumber, readLength, type Unit, unitSign } from '../../say/units';

export interface LineKind {
  readonly name: LineName;
  readonly title: string;
  /** What its value is called in a table. */
  readonly value: string;
  /** What it is, in a sentence. */
  readonly says: string;
  /** For ratios of half-breadth: the value times half-breadth is this, in mm. */
  readonly across?: string;
}

/** The three lines that are always drawn, then those along the length. */
export const MAIN_LINES: readonly LineKind[] = [
  { name: 'outline', title: 'Outline', value: 'half-breadth', says: 'Half the plan shape: distance from the centreline to the edge.' },
  { name: 'rocker', title: 'Rocker', value: 'rocker', says: 'Bottom on the centreline, height above the bench.' },
  { name: 'thickness', title: 'Thickness', value: 'thickness', says: 'Depth on the centreline, finished outside to finished outside.' },
];

export const SIDE_LINES: readonly LineKind[] = [
  { name: 'crown', title: 'Crown', value: 'crown', says: 'Rise of the deck across the half-breadth, as a share of it.', across: 'deck rise' },
  { name: 'concave', title: 'Concave', value: 'concave', says: 'Depth of the hollow bottom, as a share of the half-breadth.', across: 'depth' },
  { name: 'vee', title: 'Vee', value: 'vee', says: 'Rise of the bottom from keel to edge, as a share of the half-breadth.', across: 'edge rise' },
  { name: 'apex', title: 'Apex', value: 'apex', says: 'Height of the widest point of the rail round, as a share of the edge depth from the bottom.' },
  { name: 'fullness', title: 'Fullness', value: 'fullness', says: 'Fullness of the rail round: 0 a chamfer, 0.55 about a circle, near 1 boxy.' },
  { name: 'tuck', title: 'Tuck', value: 'tuck', says: 'How far in from the apex the rail turns into the bottom.' },
  { name: 'turn', title: 'Shoulder', value: 'shoulder', says: 'How far in from the apex the rail round meets the deck.' },
];

const KINDS = new Map([...MAIN_LINES, ...SIDE_LINES].map((kind) => [kind.name, kind]));

/** What is known of a line. */
export function kindOf(name: LineName): LineKind {
  const kind = KINDS.get(name);
  if (!kind) throw new Error(`no line is called ${name}`);
  return kind;
}

/** Whether a line's values are lengths; the others are ratios. */
export const inMm = (name: LineName): boolean => name === 'outline' || MM_LINES.includes(name);

/** The board whose line has these points, as `nearerEnd` asks for it: each line's last is at the tip of the nose. */
export const boardOf = (points: readonly { readonly x: number }[]) => ({ hull: { length: points[points.length - 1].x } });

/** Decimals of a ratio. */
const RATIO_DECIMALS = 3;

/** A line's value as text, without its unit. */
export function lineText(name: LineName, v: number, unit: Unit, decimals = 1): string {
  return inMm(name) ? lengthText(v, unit, decimals) : fixed(v, RATIO_DECIMALS);
}

/** A line's value with its unit, where it has one. */
export function valueWithUnit(name: LineName, v: number, unit: Unit, decimals = 1): string {
  return inMm(name) ? `${lengthText(v, unit, decimals)} ${unitSign(unit)}` : fixed(v, RATIO_DECIMALS);
}

/** Reads a typed value of a line; null where it is none. */
export const readValue = (name: LineName, text: string, unit: Unit): number | null => (inMm(name) ? readLength(text, unit) : readNumber(text));

/** The steps in which points move: by a drag, and by the arrow keys plain, coarse (Shift) and fine (Alt). */
export interface MoveSteps {
  readonly drag: number;
  readonly plain: number;
  readonly coarse: number;
  readonly fine: number;
}

const MM_STEPS: MoveSteps = { drag: 0.1, plain: 1, coarse: 10, fine: 0.1 };
const INCH_STEPS: MoveSteps = { drag: 0.127, plain: 25.4 / 16, coarse: 12.7, fine: 25.4 / 64 };
const RATIO_STEPS: MoveSteps = { drag: 0.001, plain: 0.005, coarse: 0.02, fine: 0.001 };

/** Steps along the board. */
export const lengthSteps = (unit: Unit): MoveSteps => (unit === 'mm' ? MM_STEPS : INCH_STEPS);
/** Steps of a line's value. */
export const valueSteps = (name: LineName, unit: Unit): MoveSteps => (inMm(name) ? lengthSteps(unit) : RATIO_STEPS);

/** Points of a line as stations and values, whatever kind of curve it is. */
export function pointsOf(curve: DesignCurve): readonly { readonly x: number; readonly v: number; readonly corner?: boolean }[] {
  return isOutline(curve) ? curve.points.map(({ x, y, corner }) => ({ x, v: y, corner })) : curve.points;
}

/** What a line's value may be, read from the board file's own ranges. */
export function valueRange(name: LineName): { min: number; max: number } {
  const range = fieldRange(['lines', name, 'points', 0, name === 'outline' ? 'y' : 'v']);
  if (!range) throw new Error(`${name} has no range`);
  return range;
}

/** The line of a design that a field's path lies in, or undefined. */
export function lineOfField(field: string): LineName | undefined {
  const name = /^lines\.([a-z]+)/.exec(field)?.[1];
  return name !== undefined && KINDS.has(name as LineName) ? (name as LineName) : undefined;
}
