/**
 * A drawn cross-section as the seven figures a board has there: crown, vee, concave and the round's apex, fullness, tuck and
 * shoulder, so that the squared distances of the drawing from the section they make are least (Levenberg and Marquardt, as in
 * J. Nocedal & S. Wright, Numerical Optimization, 2nd ed. 2006, section 10.3, from memory; within each figure's own range).
 */
import { Matrix, solve } from 'ml-matrix';
import { cubicAt } from '../curves/bezier';
import { nearestOn } from '../curves/chords';
import type { At } from '../curves/rational';
import { graphSpline, valueAt } from '../curves/graph';
import { LEAST_POINT_STEP } from '../design/cross';
import { fieldRange } from '../design/fields';
import type { Design, LengthCurveDesign, LengthCurveName } from '../design/schema';
import { bottomRise, deckFall, roomForInset, roundControls } from '../hull/sections';
import type { Walked } from './drawingLines';

/** The lines that make a section besides its breadth and thickness. */
const FIGURES = ['crown', 'vee', 'concave', 'apex', 'fullness', 'tuck', 'turn'] as const satisfies readonly LengthCurveName[];
type Figures = Readonly<Record<(typeof FIGURES)[number], number>>;

/** A section as fitted: its station and figures, its own breadth and thickness, and where the drawing lies farthest from it. */
export interface SectionFit {
  readonly x: number;
  readonly figures: Figures;
  readonly halfBreadth: number;
  readonly thickness: number;
  readonly greatest: number;
  readonly at: At;
}

/** Places along deck and bottom, and along each arc of the round; rounds of the search; changes that are none. Own choices. */
const ALONG = 24;
const ROUNDS = 60;
const SETTLED = 1e-9;
/** Fullness the search begins from, besides the board's own: a chamfer, about a circle, boxy. */
const BEGINNINGS = [0.25, 0.55, 0.85];

/** What a fitted figure keeps off its limits: shares of the range of a ratio, and at the top of an inset's; mm at its foot. Own choices. */
const SWING = { ratio: 0.03, inset: 0.2, least: 0.5 } as const;

const ranges = FIGURES.map((name) => {
  const allowed = fieldRange(['lines', name, 'points', 0, 'v']);
  if (!allowed) throw new Error(`no range for ${name}`);
  // A line may not leave the range of these between its points: room is left for its swing.
  const whole = allowed.max - allowed.min;
  if (name === 'apex' || name === 'fullness') return { min: allowed.min + SWING.ratio * whole, max: allowed.max - SWING.ratio * whole };
  return name === 'tuck' || name === 'turn' ? { min: allowed.min + SWING.least, max: allowed.max - SWING.inset * whole } : allowed;
});

const arcs = new Float64Array(14);

/** Half a section by its figures, (y, z) from the bottom on the centreline to the deck there: the hull's own rules where the outline runs straight. */
function sectionPlaces(p: readonly number[], halfBreadth: number, thickness: number): Float64Array {
  const [crown, vee, concave, apex, full, tuckAim, turnAim] = p;
  const b = halfBreadth;
  const bottom = (y: number) => bottomRise(vee, concave, y, b)[0];
  const deck = (y: number) => thickness - deckFall(crown, y, b)[0];
  const [tuck, turn] = [tuckAim, turnAim].map((aim) => roomForInset(aim, 0.75 * b));
  const [yTuck, yTurn] = [b - tuck, b - turn];
  roundControls({
    turn, tuck, full, apex, zTurn: deck(yTurn), zTuck: bottom(yTuck),
    deckSlope: deckFall(crown, yTurn, b)[1], bottomSlope: -bottomRise(vee, concave, yTuck, b)[1],
  }, (i, inset, z) => arcs.set([b - inset, z], 2 * i));
  const out: number[] = [];
  for (let i = 0; i < ALONG; i++) out.push((yTuck * i) / ALONG, bottom((yTuck * i) / ALONG));
  for (const from of [0, 6]) {
    for (let i = 0; i < ALONG; i++) {
      const t = i / ALONG;
      for (const k of [from, from + 1]) out.push(cubicAt(arcs[k], arcs[k + 2], arcs[k + 4], arcs[k + 6], t)[0]);
    }
  }
  for (let i = ALONG; i >= 0; i--) out.push((yTurn * i) / ALONG, deck((yTurn * i) / ALONG));
  return Float64Array.from(out);
}

/** Distance of a place from a section's chords, positive on their left. */
function offOf(places: Float64Array, y: number, z: number): number {
  let least = Infinity;
  let signed = 0;
  for (let i = 0; i + 3 < places.length; i += 2) {
    const [dy, dz] = [places[i + 2] - places[i], places[i + 3] - places[i + 1]];
    const [ey, ez] = [y - places[i], z - places[i + 1]];
    const t = nearestOn(dy, dz, ey, ez);
    const way = Math.hypot(ey - t * dy, ez - t * dz);
    if (way < least) {
      least = way;
      signed = dy * ez - dz * ey < 0 ? -way : way;
    }
  }
  return signed;
}

/** One search from one beginning. */
function settle(begin: readonly number[], offs: (p: readonly number[]) => Float64Array): { readonly p: readonly number[]; readonly sum: number } {
  const within = (p: readonly number[]) => p.map((v, i) => Math.min(ranges[i].max, Math.max(ranges[i].min, v)));
  const sumOf = (r: Float64Array) => r.reduce((sum, v) => sum + v * v, 0);
  let p = within(begin);
  let r = offs(p);
  let sum = sumOf(r);
  let damping = 1e-3;
  for (let round = 0; round < ROUNDS && damping < 1e9; round++) {
    const jacobian = new Matrix(r.length, p.length);
    p.forEach((v, j) => {
      const whole = ranges[j].max - ranges[j].min;
      const step = (v + 1e-5 * whole > ranges[j].max ? -1 : 1) * 1e-5 * whole;
      const moved = offs(p.map((w, k) => (k === j ? w + step : w)));
      moved.forEach((w, i) => jacobian.set(i, j, (w - r[i]) / step));
    });
    const normal = jacobian.transpose().mmul(jacobian);
    const gradient = jacobian.transpose().mmul(Matrix.columnVector([...r]));
    // A figure at its limit that would go beyond stays there.
    p.forEach((v, j) => {
      const out = gradient.get(j, 0) < 0 ? v >= ranges[j].max : v <= ranges[j].min;
      if (!out) return;
      for (let k = 0; k < p.length; k++) {
        normal.set(j, k, 0);
        normal.set(k, j, 0);
      }
      normal.set(j, j, 1);
      gradient.set(j, 0, 0);
    });
    const steered = normal.clone();
    for (let j = 0; j < p.length; j++) steered.set(j, j, normal.get(j, j) * (1 + damping) + 1e-12);
    const step = solve(steered, gradient);
    const next = within(p.map((v, j) => v - step.get(j, 0)));
    const nextOffs = offs(next);
    const nextSum = sumOf(nextOffs);
    if (nextSum < sum) {
      const gained = sum - nextSum;
      [p, r, sum] = [next, nextOffs, nextSum];
      damping /= 4;
      if (gained <= SETTLED * sum) break;
    } else damping *= 6;
  }
  return { p, sum };
}

/** The figures of a drawn half section at station x, the search begun from the board's own there. */
export function fitSection({ x: heights, v: breadths, at }: Walked, x: number, design: Design): SectionFit {
  const halfBreadth = breadths.reduce((most, y) => Math.max(most, y), 0);
  const thickness = heights[heights.length - 1];
  const offs = (p: readonly number[]) => {
    const places = sectionPlaces(p, halfBreadth, thickness);
    return Float64Array.from(heights, (z, i) => offOf(places, breadths[i], z));
  };
  const own = FIGURES.map((name) => valueAt(graphSpline(design.lines[name]), x));
  const beginnings = [own, ...BEGINNINGS.map((full) => own.map((v, i) => (FIGURES[i] === 'fullness' ? full : v)))];
  const { p } = beginnings.map((begin) => settle(begin, offs)).reduce((best, one) => (one.sum < best.sum ? one : best));
  const off = offs(p).map(Math.abs);
  const worst = off.reduce((most, way, i) => (way > off[most] ? i : most), 0);
  return { x, figures: Object.fromEntries(FIGURES.map((name, i) => [name, p[i]])) as Figures, halfBreadth, thickness, greatest: off[worst], at: at[worst] };
}

/**
 * A board's lines with sections laid into them: each line has the section's figure at its station; between two sections its
 * change runs straight from one to the other, and beyond the last it fades to nothing at the board's end.
 */
export function withSections(lines: Design['lines'], sections: readonly SectionFit[]): Design['lines'] {
  const sorted = [...sections].sort((a, b) => a.x - b.x);
  const laid = (name: (typeof FIGURES)[number]): LengthCurveDesign => {
    const curve = lines[name];
    const spline = graphSpline(curve);
    const last = curve.points[curve.points.length - 1].x;
    const changes = [{ x: curve.points[0].x, by: 0 }, ...sorted.map(({ x, figures }) => ({ x, by: figures[name] - valueAt(spline, x) })), { x: last, by: 0 }];
    const changeAt = (x: number) => {
      const k = Math.max(0, changes.findLastIndex((change, i) => change.x <= x && i + 1 < changes.length));
      const [a, b] = [changes[k], changes[k + 1]];
      return a.by + ((x - a.x) / (b.x - a.x)) * (b.by - a.by);
    };
    const kept = curve.points.filter(({ x }, i) => i === 0 || x === last || sorted.every((section) => Math.abs(section.x - x) >= LEAST_POINT_STEP));
    const points = [...kept.map((point) => ({ ...point, v: point.v + changeAt(point.x) })), ...sorted.map(({ x, figures }) => ({ x, v: figures[name] }))];
    return { ...curve, points: points.sort((a, b) => a.x - b.x) };
  };
  return { ...lines, ...Object.fromEntries(FIGURES.map((name) => [name, laid(name)])) };
}
