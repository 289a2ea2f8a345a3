/**
 * Questions a view, a paper or the command line asks of a finished plan. Sections, rings and cuts are worked out again
 * at their very place; a place found from x or from a point in plan goes by the samples.
 */
import { frameAt, planeFrame } from '../curves/plane';
import { stationOutline } from '../hull/station';
import type { BoxState, MadeBox, PartKind, Place, Plan, RailSection, RibAtRail, SectionDrawing, SectionShape, Stop } from '../types';
import { roundArcs } from './cover';
import { madeOnRun } from './made';
import { boxRings, tidied, type SectionRing } from './rings';
import { rowsAt, skinSpan, solidAt, stopsOf } from './laid';
import { sectionOnRun, sizesOnRun, type Run } from './run';
import { RunMap } from './planLine';
import { railEvaluator } from './section';
import { LEAST_FINGER, boxSizes } from './sizes';

const runs = new WeakMap<Plan, Run>();

/** The evaluator behind a plan, laid again from its plain data; kept while the plan lives. */
export function runOf(plan: Plan): Run {
  const kept = runs.get(plan);
  if (kept) return kept;
  const run = runAs(plan, plan.rail.made);
  runs.set(plan, run);
  return run;
}

/**
 * Forgets the evaluator of a plan: the next that asks finds one laid again. Its first guesses are where it was asked last, and
 * move an answer by 1e-12; what must come out the same each time it is made begins here.
 */
export function layAgain(plan: Plan): void {
  runs.delete(plan);
}

/** The evaluator of a plan's drawn rail with other deviations of the box as made; not kept. */
export function runAs({ design, hull, rail }: Plan, made: MadeBox | undefined): Run {
  const sizes = boxSizes(design);
  return {
    hull, sizes, face: rail.face, ribEnd: rail.ribEnd,
    map: new RunMap(hull.outline, rail.face), ev: railEvaluator(hull, sizes, made && madeOnRun(sizes, made)),
    total: rail.face.length, boxFrom: rail.boxFrom, boxTo: rail.boxTo,
  };
}

/** The whole section at run s (mm); s outside the run is taken at its nearer end. A RangeError for a run that is not a number. */
export function sectionAt(plan: Plan, s: number): RailSection {
  // A NaN would stay in the evaluator's first guesses and spoil later answers.
  if (Number.isNaN(s)) throw new RangeError('a run must be a number of millimetres');
  const run = runOf(plan);
  const at = Math.min(run.total, Math.max(0, s));
  return sectionOnRun(run, at, rowsAt(plan.rail.rows, at), solidAt(plan.rail.ends, at));
}

/** Whether the box has a cap at run s: gap, bevel and cover mean something there. */
export const hasBox = ({ rail: { cap } }: Pick<Plan, 'rail'>, s: number): boolean => s >= cap.s0 && s <= cap.s1;

/** State of the box at run s. */
export function stateAt(plan: Plan, s: number): BoxState {
  return (plan.rail.stretches.find((t) => s <= t.s1) ?? plan.rail.stretches[plan.rail.stretches.length - 1]).state;
}

/** Run at which the box face crosses station x, straight between the two samples about it; the nearer end outside. */
export function runAtX(plan: Plan, x: number): number {
  const { s, x: xs, n } = plan.rail.samples;
  if (x <= xs[0]) return s[0];
  for (let i = 0; i + 1 < n; i++) {
    if (x >= xs[i] && x <= xs[i + 1]) return s[i] + ((s[i + 1] - s[i]) * (x - xs[i])) / (xs[i + 1] - xs[i] || 1);
  }
  return s[n - 1];
}

/** A run held on the rail; for one that is not a number, that of the widest point: of the parabola through the three samples about it, so that it hardly hangs on their spacing. */
export function heldRun({ rail: { face, samples: { n, step, s: runs, y } } }: Plan, s: number): number {
  if (Number.isFinite(s)) return Math.min(face.length, Math.max(0, s));
  let widest = 0;
  for (let i = 1; i < n; i++) if (y[i] > y[widest]) widest = i;
  const [a, b, c] = [y[widest - 1], y[widest], y[widest + 1]];
  const bend = a - 2 * b + c;
  return runs[widest] + (bend < 0 ? (step * (a - c)) / (2 * bend) : 0);
}

/** Run of the sample of the box face nearest to (x, y) in plan, either side. */
export function nearestRun(plan: Plan, x: number, y: number): number {
  const { s, x: xs, y: ys, n } = plan.rail.samples;
  const side = Math.abs(y);
  let best = 0;
  let least = Infinity;
  for (let i = 0; i < n; i++) {
    const d = (xs[i] - x) ** 2 + (ys[i] - side) ** 2;
    if (d < least) {
      least = d;
      best = i;
    }
  }
  return s[best];
}

/** A place nearer to a rib's or a stop's than this is that one's: the finest length shown, mm. */
const AT_RIB = 0.1;

/** Of marks along the rail the one nearest to run s, the first of several; undefined where there are none. */
export const nearestMark = <M extends { readonly s: number }>(marks: readonly M[], s: number): M | undefined =>
  marks.reduce<M | undefined>((best, mark) => (best && Math.abs(best.s - s) <= Math.abs(mark.s - s) ? best : mark), undefined);

/** The rib whose middle lies at run s: there, and only there, is that rib named and its own station told. */
export const ribAt = ({ rail }: Plan, s: number): RibAtRail | undefined => rail.ribs.find((rib) => Math.abs(rib.s - s) < AT_RIB);

/** The rib whose thickness the section at run s goes through, its middle or not. */
export const ribThrough = ({ rail, design }: Plan, s: number): RibAtRail | undefined =>
  rail.ribs.find((rib) => Math.abs(rib.s - s) <= design.frames.ribThickness / 2);

/** The stops at run s, lowest row first: there, and only there, is a stop named. */
export const stopsAt = ({ rail }: Plan, s: number): Stop[] => stopsOf(rail).filter((stop) => Math.abs(stop.s - s) < AT_RIB);

/** Spacer rows a little before run s and a little past it, mm of run: they differ where one stops. */
export const rowsBeside = ({ rail: { rows } }: Plan, s: number): readonly [tailward: number, noseward: number] => [rowsAt(rows, s - AT_RIB), rowsAt(rows, s + AT_RIB)];

/** What a gap needs at run s, mm: so many spacers of this height, and the clearance; as made where that is known. */
export function needsAt(plan: Plan, s: number): { readonly height: number; readonly clearance: number } {
  const { spacerHeight, clearance } = sizesOnRun(runOf(plan), s);
  return { height: spacerHeight, clearance };
}

/**
 * The one station told of run s, mm from the tail: a rib's own, its mid-plane on the centreline; where none
 * stands, that of the box face. Square to the rail a rib's section meets the box face elsewhere: that is a second figure.
 */
export const stationAt = (plan: Plan, s: number): number => ribAt(plan, s)?.x ?? sectionAt(plan, s).x;

/** Run that a place leads to: its own; where it has none, that of the rib whose station it is, or of the box face there. */
export const runOfPlace = (plan: Plan, { s, x }: Place): number =>
  s ?? plan.rail.ribs.find((rib) => Math.abs(rib.x - x) < AT_RIB)?.s ?? runAtX(plan, x);

/** How far inboard of the rib-end line the station card's section reaches, mm. */
const CARD_REACH = 60;

/** The section square to the rail at run s, as closed shapes ready to draw. */
export function sectionDrawing(plan: Plan, s: number): SectionDrawing {
  const run = runOf(plan);
  const { design, rail } = plan;
  const section = sectionAt(plan, s);
  const sizes = sizesOnRun(run, section.s);
  const { stripWidth: w, faceOffset, spacerWidth } = sizes;
  const rings = boxRings(run, design.rail.outerThickness);
  const shapes: SectionShape[] = [];
  const add = (kind: PartKind, order: number, ring: SectionRing) => {
    const corners = tidied(ring);
    if (corners.length > 2) shapes.push({ kind, order, points: Float64Array.from(corners.flat()) });
  };
  // Inboard no farther than the centreline.
  const reach = section.ny < -1e-6 ? Math.min(CARD_REACH, Math.max(0, section.ribY / -section.ny)) : CARD_REACH;
  const slab = (face: 1 | -1, to: number): SectionRing => {
    const os = Array.from({ length: 11 }, (_, i) => -reach + ((to + reach) * i) / 10);
    const [low, high] = face === 1 ? [rings.inside, rings.outside] : [rings.outside, rings.inside];
    return [...os.map((o) => [o, low(section, face, o)] as const), ...os.reverse().map((o) => [o, high(section, face, o)] as const)];
  };
  const covered = skinSpan(rail);
  const wrapped = s >= covered.s0 && s <= covered.s1;
  // Under a block that the outer skins butt on, the bottom skin goes out with it.
  add('bottom-skin', 0, slab(-1, wrapped ? w : w + faceOffset));
  add('deck-skin', 0, slab(1, w + faceOffset));
  const hollow = rings.hollow(section, section.rows);
  const rib = ribThrough(plan, s);
  if (rib) {
    // The tab fills the hollow behind the rows; with a finger over them, all of it.
    const finger = section.rows === 0 || (!design.rail.fillSlot && section.slot >= LEAST_FINGER);
    const back = w - spacerWidth;
    const tab: SectionRing = !rib.hasTab ? [] : finger ? hollow : [[0, section.soleTop], [back, section.soleTop], [back, section.capBottom], [0, section.capBottom]];
    add('rib', rib.index, [
      [-reach, rings.inside(section, -1, -reach)], [0, section.bottomRib], ...tab, [0, section.deckRib], [-reach, rings.inside(section, 1, -reach)],
    ]);
  }
  if (s >= rail.sole.s0 && s <= rail.sole.s1) add('sole', 0, rings.sole(section));
  if (hasBox(plan, s)) {
    add('cap', 0, rings.cap(section));
    for (let k = 1; k <= section.rows; k++) add('row', k, rings.row(section, k));
    if (solidAt(rail.ends, s)) add('block', 0, rings.tongue(section));
    else add('hollow', 0, hollow);
  }
  if (!wrapped) {
    // Beyond the strips' ends, the block that the skins butt on: as much of it as has the same plan square to the rail.
    const os = Array.from({ length: 11 }, (_, i) => ((w + faceOffset) * i) / 10);
    add('block', 0, [...os.map((o) => [o, rings.inside(section, -1, o)] as const), ...os.reverse().map((o) => [o, rings.inside(section, 1, o)] as const)]);
  }
  for (let layer = 1; wrapped && layer <= design.rail.outerLayers; layer++) add('outer-skin', layer, rings.outerSkin(section, layer));
  return {
    section, x: ribAt(plan, s)?.x ?? section.x,
    state: stateAt(plan, s),
    shapes,
    finished: finishedOutline(run, section, reach, (face, o) => rings.outside(section, face, o)),
    station: stationOutline(run.hull, section.x),
  };
}

const arcs = new Float64Array(14);

/** Finished outside in (o, z): bottom inboard, round the rail, deck inboard. */
function finishedOutline(run: Run, section: RailSection, reach: number, outer: (face: 1 | -1, o: number) => number): Float64Array {
  const edge = run.sizes.stripWidth + run.sizes.faceOffset;
  const { x, y } = frameAt(run.hull.outline, section.u, planeFrame());
  roundArcs(run.ev.hull, section.u, section.nx, section.ny, x, y, arcs);
  const out: number[] = [];
  const tuck = edge - arcs[0];
  const turn = edge - arcs[12];
  for (let i = 0; i <= 8; i++) {
    const o = -reach + ((tuck + reach) * i) / 8;
    out.push(o, outer(-1, o));
  }
  for (let arc = 0; arc < 2; arc++) {
    for (let i = 1; i <= 12; i++) {
      const t = i / 12;
      const r = 1 - t;
      const b = [r * r * r, 3 * r * r * t, 3 * r * t * t, t * t * t];
      let n = 0;
      let z = 0;
      for (let c = 0; c < 4; c++) {
        n += b[c] * arcs[2 * (arc * 3 + c)];
        z += b[c] * arcs[2 * (arc * 3 + c) + 1];
      }
      out.push(edge - n, z);
    }
  }
  for (let i = 7; i >= 0; i--) {
    const o = -reach + ((turn + reach) * i) / 8;
    out.push(o, outer(1, o));
  }
  return Float64Array.from(out);
}
