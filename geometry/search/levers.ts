/** What may be changed to meet a target or clear a finding: each lever turns one amount into a changed design. */
import type { Design, LengthCurveDesign, LengthCurveName, OutlineDesign } from '../design/schema';
import type { Figure } from '../said';
import { stretchCurve, stretchOutline } from '../shape/stretch';

/** Names of the levers. */
const LEVER_IDS = [
  'thickness', 'thickness-nose', 'thickness-tail', 'width', 'breadth-nose', 'breadth-tail', 'crown', 'vee',
  'spacer-height', 'sole-thickness', 'cap-thickness', 'strip-width', 'spacer-width', 'outer-thickness', 'bottom-skin', 'deck-skin',
] as const;
export type LeverId = (typeof LEVER_IDS)[number];

/** One way of changing a board. */
export interface Lever {
  readonly id: LeverId;
  readonly title: string;
  /** What an amount is: mm added, or a share of what is there (0.05 is 5 % more). */
  readonly unit: 'mm' | 'share';
  /** Least and greatest amount; 0 is the board as it is. Own choice: what a maker would still call the same board. */
  readonly min: number;
  readonly max: number;
  /** The amount that counts as one unit of change. Own choice. */
  readonly whole: number;
  /** Amounts are offered in these steps where the lever is a size that is sawn or bought. */
  readonly step?: number;
  apply(design: Design, amount: number): Design;
}

/** Smooth from 0 to 1 between two places. */
function rise(from: number, to: number, x: number): number {
  const t = Math.min(1, Math.max(0, (x - from) / (to - from)));
  return t * t * (3 - 2 * t);
}

/** Where the change of an end begins, as a share of the length from the other end: own choice. */
const END_FROM = 0.5;

const weightAt = (end: 'nose' | 'tail', x: number, length: number): number => {
  const share = x / length;
  return rise(END_FROM, 1, end === 'nose' ? share : 1 - share);
};

const withLine = (design: Design, name: LengthCurveName, curve: LengthCurveDesign): Design => ({
  ...design, lines: { ...design.lines, [name]: curve },
});

const lengthOf = (design: Design): number => design.lines.outline.points[design.lines.outline.points.length - 1].x;

/** A length curve with its values (and end slopes) scaled as a whole. */
function scaleLine(name: LengthCurveName): Lever['apply'] {
  return (design, amount) => withLine(design, name, stretchCurve(design.lines[name], 1, 1 + amount, lengthOf(design)));
}

/** A length curve with its points raised toward one end, in shares of their value; end slopes stay. */
function swellLine(name: LengthCurveName, end: 'nose' | 'tail'): Lever['apply'] {
  return (design, amount) => {
    const length = lengthOf(design);
    const curve = design.lines[name];
    return withLine(design, name, { ...curve, points: curve.points.map((p) => ({ ...p, v: p.v * (1 + amount * weightAt(end, p.x, length)) })) });
  };
}

const withOutline = (design: Design, outline: OutlineDesign): Design => ({ ...design, lines: { ...design.lines, outline } });

/** Half-breadths swelled toward one end; tips on the centreline and end angles stay. */
function swellOutline(end: 'nose' | 'tail'): Lever['apply'] {
  return (design, amount) => {
    const { outline } = design.lines;
    const length = lengthOf(design);
    return withOutline(design, { ...outline, points: outline.points.map((p) => ({ ...p, y: p.y * (1 + amount * weightAt(end, p.x, length)) })) });
  };
}

type RailSize = 'spacerHeight' | 'soleThickness' | 'capThickness' | 'stripWidth' | 'spacerWidth' | 'outerThickness';
const addRail = (field: RailSize): Lever['apply'] => (design, amount) => ({ ...design, rail: { ...design.rail, [field]: design.rail[field] + amount } });
const addSkin = (field: 'bottom' | 'deck'): Lever['apply'] => (design, amount) => ({ ...design, skins: { ...design.skins, [field]: design.skins[field] + amount } });

const share = (id: LeverId, title: string, most: number, whole: number, apply: Lever['apply']): Lever => ({
  id, title, unit: 'share', min: -most, max: most, whole, apply,
});
const size = (id: LeverId, title: string, most: number, whole: number, step: number, apply: Lever['apply']): Lever => ({
  id, title, unit: 'mm', min: -most, max: most, whole, step, apply,
});

/** Every lever, in the order a maker would think of them: lines first, then what is sawn. */
export const LEVERS: readonly Lever[] = [
  share('thickness', 'Thickness', 0.2, 0.05, scaleLine('thickness')),
  share('thickness-nose', 'Thickness toward the nose', 0.4, 0.1, swellLine('thickness', 'nose')),
  share('thickness-tail', 'Thickness toward the tail', 0.4, 0.1, swellLine('thickness', 'tail')),
  share('width', 'Width', 0.1, 0.03, (d, a) => withOutline(d, stretchOutline(d.lines.outline, 1, 1 + a, lengthOf(d)))),
  share('breadth-nose', 'Half-breadth toward the nose', 0.2, 0.05, swellOutline('nose')),
  share('breadth-tail', 'Half-breadth toward the tail', 0.2, 0.05, swellOutline('tail')),
  share('crown', 'Crown', 0.75, 0.2, scaleLine('crown')),
  share('vee', 'Vee', 0.75, 0.2, scaleLine('vee')),
  size('spacer-height', 'Spacer height', 2, 1, 0.1, addRail('spacerHeight')),
  size('sole-thickness', 'Sole strip thickness', 2, 1, 0.1, addRail('soleThickness')),
  size('cap-thickness', 'Cap strip thickness', 3, 1, 0.1, addRail('capThickness')),
  size('strip-width', 'Strip width', 4, 2, 0.5, addRail('stripWidth')),
  size('spacer-width', 'Spacer width', 2, 1, 0.1, addRail('spacerWidth')),
  size('outer-thickness', 'Outer skin thickness', 2, 1, 0.1, addRail('outerThickness')),
  size('bottom-skin', 'Bottom skin thickness', 1, 0.5, 0.1, addSkin('bottom')),
  size('deck-skin', 'Deck skin thickness', 1, 0.5, 0.1, addSkin('deck')),
];

/** A lever by its name. */
export function leverById(id: LeverId): Lever {
  const lever = LEVERS.find((l) => l.id === id);
  if (!lever) throw new RangeError(`lever: ${id} given; ${LEVER_IDS.join(', ')} allowed`);
  return lever;
}

/** Hundredths of a per cent, or of a millimetre: finer than anybody builds. */
const tidy = (value: number): number => Number(value.toFixed(6));

/** An amount, or the range of several, with its sign and no finer than a maker would set it: a tenth of a per cent, 0.01 mm. */
export function amountOf(lever: Lever, ...amounts: readonly number[]): Figure {
  const value = amounts.map((amount) => Number(amount.toFixed(lever.unit === 'share' ? 3 : 2)));
  return { of: lever.unit, value: value.length === 1 ? value[0] : value, signed: true };
}

/** A design with several levers pulled, in their order. Amounts of 0 leave their part untouched. */
export function pulled(design: Design, levers: readonly Lever[], amounts: readonly number[]): Design {
  return levers.reduce((d, lever, i) => (amounts[i] === 0 ? d : lever.apply(d, tidy(amounts[i]))), design);
}
