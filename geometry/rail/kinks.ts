/**
 * Where the inner faces turn a corner along the rail, because one of the board's lines does. A strip's height has
 * no curvature there, only an angle: it is told as that, and its bend is measured to either side.
 *
 * Below a ridge the inner face is as sharp as the ridge. Over a hollow corner it is the arc of a ball of the skin's
 * thickness rolled through, a fraction of a millimetre long: that stretch is left out as one with the corner.
 */
import { breaks } from '../curves/bspline';
import { planeFrame } from '../curves/plane';
import { findRoot } from '../curves/roots';
import { panelAt, panelProbe } from '../hull/panel';
import type { Kink, Panel, RailPlan } from '../types';
import { offsetAt } from './planLine';
import { sizesOnRun, type Interval, type Run } from './run';

/** Steps in which the run is searched for a station. */
const SEARCH = 96;
/** How far either side of a crease or a corner its two sides are looked at, mm. */
const HAIR = 1e-6;
/** Left out either side of a kink's own stretch, mm: what the inner face's foot is found to, with room. */
const MARGIN = 1e-3;
/** Corners of less are none, radians. */
const LEAST_ANGLE = 1e-6;

/** Finds the runs at which the line `inset` in from the box face (mm, negative outboard) crosses a station. */
function crossings(run: Run, inset: (s: number) => number): (x: number) => number[] {
  const frame = planeFrame();
  const xAt = (s: number) => {
    offsetAt(run.hull.outline, sizesOnRun(run, s).faceOffset, run.map.parameterAt(s), frame);
    return frame.x + inset(s) * frame.nx;
  };
  const corners = run.face.corners.flatMap((c) => [c.s - HAIR, c.s + HAIR]);
  const places = [...Array.from({ length: SEARCH + 1 }, (_, i) => (run.total * i) / SEARCH), ...corners].sort((a, b) => a - b);
  const xs = places.map(xAt);
  return (x) => places.slice(1).flatMap((to, i) => {
    const [f, g] = [xs[i] - x, xs[i + 1] - x];
    return f < 0 === g < 0 ? [] : [findRoot((s) => xAt(s) - x, places[i], to, 1e-7, f, g)];
  });
}

/**
 * Corners of the face under a skin of `thickness` (`face` 1 the deck, -1 the bottom; 0 thick for the finished
 * surface) along the line `inset` in from the box face. Empty for boards without a corner in any line.
 */
export function kinksAlong(run: Run, panel: Panel, face: 1 | -1, thickness: (s: number) => number, inset: (s: number) => number): Kink[] {
  const { creases } = panel;
  if (creases.length === 0) return [];
  const runsAt = crossings(run, inset);
  const probe = panelProbe();
  const frame = planeFrame();
  return [...creases].flatMap((x) => runsAt(x).flatMap((s): Kink[] => {
    offsetAt(run.hull.outline, sizesOnRun(run, s).faceOffset, run.map.parameterAt(s), frame);
    const { tx, ty } = frame;
    const y = frame.y + inset(s) * frame.ny;
    const side = (hair: number) => {
      const { zx, zy } = panelAt(panel, x + hair, Math.max(0, y), probe);
      return { slope: Math.atan(zx * tx + zy * ty), foot: x + (face * thickness(s) * zx) / Math.sqrt(1 + zx * zx + zy * zy) };
    };
    const [before, after] = [side(-HAIR), side(HAIR)];
    const angle = Math.abs(after.slope - before.slope);
    if (angle < LEAST_ANGLE) return [];
    const ends = [before.foot, after.foot, x].flatMap(runsAt).filter((at) => Math.abs(at - s) < 4 * thickness(s) + 1);
    return [{ s, x, angle, s0: Math.max(0, Math.min(s, ...ends) - MARGIN), s1: Math.min(run.total, Math.max(s, ...ends) + MARGIN) }];
  }));
}

/**
 * Where a line comes so near to the centreline that a ball rolled along the inside of the skin rests in the crease there
 * (a vee has one): the last fractions of a millimetre before an end that reaches it, which say nothing of a bend.
 */
function creaseEnds(run: Run, panel: Panel, thickness: number, inset: number): Interval[] {
  const probe = panelProbe();
  const frame = planeFrame();
  return ([[run.boxFrom, run.ribEnd.tail, 1], [run.boxTo, run.ribEnd.nose, -1]] as const).flatMap(([end, { kind, x }, way]) => {
    if (kind === 'open') return [];
    const { zx, zy } = panelAt(panel, x, 0, probe);
    const off = (thickness * Math.abs(zy)) / Math.sqrt(1 + zx * zx + zy * zy);
    if (off === 0) return [];
    offsetAt(run.hull.outline, run.sizes.faceOffset, run.map.parameterAt(end), frame);
    const reach = end + way * ((off + MARGIN) / Math.abs(frame.ty * (1 - inset * frame.kappa)) + MARGIN);
    return [{ s0: Math.min(end, reach), s1: Math.max(end, reach) }];
  });
}

/** What the lines do to sole (its rows lie on it) and cap: their corners, and the stretches over which they are smooth. */
interface Creased {
  readonly kinks: RailPlan['kinks'];
  readonly smooth: Readonly<Record<'sole' | 'cap', readonly Interval[]>>;
}

const known = new WeakMap<Run, Creased>();

/** Corners of sole and cap along the rib-end line; found once a run. */
export function creasedOf(run: Run): Creased {
  const kept = known.get(run);
  if (kept) return kept;
  const { hull, sizes } = run;
  const width = (s: number) => sizesOnRun(run, s).stripWidth;
  const kinks = {
    sole: kinksAlong(run, hull.bottom, -1, (s) => sizesOnRun(run, s).bottomSkin, width),
    cap: kinksAlong(run, hull.deck, 1, (s) => sizesOnRun(run, s).deckSkin, width),
  };
  const between = (corners: readonly Kink[], panel: Panel, thickness: number) =>
    smoothBetween(run, [...corners, ...creaseEnds(run, panel, thickness, sizes.stripWidth)], run.boxFrom, run.boxTo);
  const creased = { kinks, smooth: { sole: between(kinks.sole, hull.bottom, sizes.bottomSkin), cap: between(kinks.cap, hull.deck, sizes.deckSkin) } };
  known.set(run, creased);
  return creased;
}

/** The stretches of [from, to] over which a strip's line is smooth: between these kinks, the corners of the box face and the outline's own ends. */
export function smoothBetween(run: Run, kinks: readonly Interval[], from: number, to: number): Interval[] {
  const { outline } = run.hull;
  const spans = breaks(outline.knots);
  const joins = [...run.face.corners.map(({ s }) => s), ...[spans[0], spans[spans.length - 1]].map((u) => run.map.runAt(u))];
  const gaps = [...joins.map((s) => ({ s0: s - HAIR, s1: s + HAIR })), ...kinks].filter(({ s0, s1 }) => s1 > from && s0 < to).sort((a, b) => a.s0 - b.s0);
  const out: Interval[] = [];
  let s = from;
  for (const gap of gaps) {
    if (gap.s0 > s) out.push({ s0: s, s1: gap.s0 });
    s = Math.max(s, gap.s1);
  }
  if (to > s || out.length === 0) out.push({ s0: s, s1: to });
  return out;
}
