/**
 * Where stations stand on the page: the ribbon and the sheets of Shape share this axis, so that they lie over each other with one
 * cursor through all of them. Each is drawn over the whole width of one column: tail left, nose right, linear in station.
 */
import { asGiven, fieldLength, MM_PER_INCH, type Unit } from '../say/units';

/** Room for words at the left and for what stands past an end, px; less of it on a narrow page. */
const MARGIN = { wide: { left: 56, right: 48 }, narrow: { left: 44, right: 42 } } as const;
/** Px of width under which a page is narrow: on it no outline is drawn at equal scale, sheets letter their stations, and the ribbon's key names the strips. */
export const NARROW = 560;

export interface StationAxis {
  readonly left: number;
  readonly right: number;
  /** px per mm. */
  readonly scale: number;
  /** px of a station, mm from the tail. */
  x(station: number): number;
  /** The station at px, which may lie past an end of the board. */
  station(px: number): number;
}

/** The axis of a board `length` mm long over a width of px. */
export function stationAxis(width: number, length: number): StationAxis {
  const margin = width < NARROW ? MARGIN.narrow : MARGIN.wide;
  const { left } = margin;
  const right = Math.max(left + 40, width - margin.right);
  const scale = (right - left) / length;
  return { left, right, scale, x: (station) => left + station * scale, station: (px) => (px - left) / scale };
}

const MM_STEPS = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000];
const INCH_STEPS = [1 / 16, 1 / 8, 1 / 4, 1 / 2, 1, 2, 3, 6, 12, 24, 48].map((inches) => inches * 25.4);

/** Least px between marks. */
const APART = 46;

export interface StationTick {
  /** Station, mm from the tail; and as it is told, from the nearer end. */
  readonly x: number;
  readonly from: number;
}

/** A round figure of an axis, mm, as it is lettered: with no decimal that it does not have. */
export const tickText = (mm: number, unit: Unit): string => (unit === 'in' ? asGiven(mm / MM_PER_INCH) : fieldLength(mm, unit));

/** Stations to be marked at so many px per mm: round figures from each end as far as the middle, tail to nose. */
export function stationTicks(length: number, scale: number, unit: Unit): StationTick[] {
  const steps = unit === 'mm' ? MM_STEPS : INCH_STEPS;
  const step = steps.find((mm) => mm * scale >= APART) ?? steps[steps.length - 1];
  const last = Math.floor(length / 2 / step + 1e-9);
  const fromTail = Array.from({ length: last + 1 }, (_, i) => ({ x: i * step, from: i * step }));
  const fromNose = fromTail.map(({ from }) => ({ x: length - from, from })).reverse();
  // Those nearest to the middle may stand too near to each other, or on each other.
  const gap = (fromNose[0].x - fromTail[last].x) * scale;
  return [...fromTail, ...(gap < APART ? fromNose.slice(1) : fromNose)];
}
