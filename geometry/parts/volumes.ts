/**
 * How much timber is in each part of the finished board. Box strips are integrated along the run, each element
 * at inset e being 1 - e kappa as long as the box face (Pappus); skins and the outer skins under the finished
 * rail round along the outline. Both sides throughout; mm3 and mm2.
 */
import { breaks, evalSpline } from '../curves/bspline';
import { frameAt, planeFrame } from '../curves/plane';
import { GAUSS5_W, GAUSS5_X } from '../curves/quadrature';
import { weighBlock } from '../frame/blocks';
import { blockAt } from '../frame/ends';
import { ARC_ROOT, CLOSELY, type Weighing } from '../frame/weighing';
import { innerAt, panelAt, panelProbe } from '../hull/panel';
import { roundArcs } from '../rail/cover';
import { runOf } from '../rail/query';
import { tabVolume } from '../rail/tab';
import type { Plan, RailSection } from '../types';

/**
 * Simpson's first rule: the integral of a curve through an odd number of ordinates a common `step` apart.
 * Exact for cubics.
 */
export function simpson(ordinates: ArrayLike<number>, step: number): number {
  const last = ordinates.length - 1;
  let sum = ordinates[0] + ordinates[last];
  for (let i = 1; i < last; i++) sum += ordinates[i] * (i % 2 === 1 ? 4 : 2);
  return (sum * step) / 3;
}

/** Timber of the finished board, mm3; both sides. */
export interface Volumes {
  readonly sole: number;
  readonly cap: number;
  readonly rows: number;
  readonly outerSkins: number;
  readonly tabs: number;
  readonly bottomSkin: number;
  readonly deckSkin: number;
  /** Nose and tail blocks with their tongues. */
  readonly blocks: number;
  /** Of those the tongues alone: they lie in the box. */
  readonly tongues: number;
  /** All that lies between the inner faces over the box, hollow included, and the sole's ends: what solid laminations would fill. */
  readonly box: number;
  /** True surface of a whole bottom and a whole deck panel out to the outline, mm2. */
  readonly bottomArea: number;
  readonly deckArea: number;
}

/** A volume, mm3, and its first moment about the tail, mm4. */
interface Weighed {
  readonly volume: number;
  readonly moment: number;
}

const NONE: Weighed = { volume: 0, moment: 0 };
const twice = ({ volume, moment }: Weighed): Weighed => ({ volume: 2 * volume, moment: 2 * moment });
const plus = (a: Weighed, b: Weighed): Weighed => ({ volume: a.volume + b.volume, moment: a.moment + b.moment });

/** Integrate f(section) over [s0, s1] of the run; its moment as if each element lay at its middle, `inset` from the box face. */
function overRun(section: (s: number) => RailSection, s0: number, s1: number, step: number, inset: number, f: (c: RailSection) => number): Weighed {
  if (!(s1 > s0)) return NONE;
  const n = 2 * Math.max(2, Math.ceil((s1 - s0) / (2 * step)));
  const values = new Float64Array(n + 1);
  const moments = new Float64Array(n + 1);
  for (let i = 0; i <= n; i++) {
    const c = section(s0 + ((s1 - s0) * i) / n);
    const x = c.x + inset * c.nx;
    values[i] = f(c);
    moments[i] = x * values[i];
  }
  const h = (s1 - s0) / n;
  return { volume: simpson(values, h), moment: simpson(moments, h) };
}

/**
 * Section of a strip w wide and t thick, planed by `planing` at its outer edge (none where that is negative),
 * times the length of its elements: integral of h(e) (1 - e kappa) over the inset e from the box face.
 */
export function planedStrip(w: number, t: number, planing: number, kappa: number): number {
  if (planing > t) {
    const from = w * (1 - t / planing);
    const area = (t * (w - from)) / 2;
    return area * (1 - kappa * (from + (2 / 3) * (w - from)));
  }
  const outer = t - Math.max(0, planing);
  return ((outer + t) * w) / 2 - kappa * w * w * (outer / 2 + (t - outer) / 3);
}

/** A quadratic through values at 0, d/2 and d. */
function quadratic(f0: number, f1: number, f2: number, d: number): (e: number) => number {
  const b = (4 * f1 - 3 * f0 - f2) / d;
  const c = (2 * (f0 + f2 - 2 * f1)) / (d * d);
  return (e) => f0 + e * (b + c * e);
}

/** Height of one cubic arc of the round at inset e; its insets fall or rise all the way: Newton's root in a bracket that only shrinks, to `fine` of the arc. */
export function arcHeight(arcs: Float64Array, at: number, e: number, fine = ARC_ROOT): number {
  const n0 = arcs[at], n1 = arcs[at + 2], n2 = arcs[at + 4], n3 = arcs[at + 6];
  const falls = n0 > n3;
  let low = 0;
  let high = 1;
  let t = 0.5;
  for (let i = 0; i < 60 && high - low > fine; i++) {
    const r = 1 - t;
    const miss = r * r * r * n0 + 3 * r * r * t * n1 + 3 * r * t * t * n2 + t * t * t * n3 - e;
    if (miss > 0 === falls) low = t;
    else high = t;
    const next = t - miss / (3 * (r * r * (n1 - n0) + 2 * r * t * (n2 - n1) + t * t * (n3 - n2)));
    const step = next > low && next < high ? next : (low + high) / 2;
    const moved = Math.abs(step - t);
    t = step;
    if (moved < fine) break;
  }
  const r = 1 - t;
  return r * r * r * arcs[at + 1] + 3 * r * r * t * arcs[at + 3] + 3 * r * t * t * arcs[at + 5] + t * t * t * arcs[at + 7];
}

const basis = new Float64Array(12);
const arcs = new Float64Array(14);
const frame = planeFrame();
const blank: Depths = { deck: 0, deckIn: 0, bottomIn: 0, bottom: 0 };

/** Heights at one plan point inside the outline: finished deck, its inner face, bottom's inner face, finished bottom. */
export interface Depths {
  deck: number;
  deckIn: number;
  bottomIn: number;
  bottom: number;
}

const high = panelProbe();
const low = panelProbe();

/**
 * Fill the four heights at (x, y). At a tip the skins run into each other and the normal's foot leaves the
 * panel: there a skin reaches through to the other side of the board and no farther.
 */
export function depthsAt(plan: Plan, x: number, y: number, out: Depths, inner = innerAt): Depths {
  const { hull, design } = plan;
  const deckIn = inner(hull.deck, 1, design.skins.deck, x, y, high).z;
  const bottomIn = inner(hull.bottom, -1, design.skins.bottom, x, y, low).z;
  out.deck = panelAt(hull.deck, x, y, high).z;
  out.bottom = panelAt(hull.bottom, x, y, low).z;
  out.deckIn = deckIn > out.bottom ? Math.min(deckIn, out.deck) : out.bottom;
  out.bottomIn = bottomIn < out.deck ? Math.max(bottomIn, out.bottom) : out.deck;
  return out;
}

interface Edge {
  outer: number;
  outerMoment: number;
  deckLost: number;
  bottomLost: number;
  bottomOutside: number;
  blockLost: number;
}

/**
 * What lies at the board's edge at outline parameter u, per mm of outline: outer skins (from the outline in to
 * the box face, under the deck skin), what the round takes off deck skin and bottom skin, and the bottom panel
 * outside the box face, where no skin goes. Where the outer skins butt on a block (`landed`), that and the bottom skin
 * reach to the outline: what the round takes off the block.
 */
function edgeAt(plan: Plan, u: number, landed: boolean, out: Edge, { inner, rim, root }: Weighing): Edge {
  const { hull } = plan;
  const face = runOf(plan).sizes.faceOffset;
  frameAt(hull.outline, u, frame);
  const { x, y, nx, ny, kappa } = frame;
  roundArcs(hull, u, nx, ny, x, y, arcs);
  const tuck = Math.max(0, arcs[0]);
  const turn = Math.max(0, arcs[12]);
  const centre = ny < -1e-9 ? Math.max(0, y) / -ny : Infinity;
  const reach = Math.min(Math.max(face, tuck, turn), centre, kappa > 0 ? 1 / kappa : Infinity);
  out.outer = out.outerMoment = out.deckLost = out.bottomLost = out.bottomOutside = out.blockLost = 0;
  if (!(reach > 1e-9)) return out;
  const [d0, d1, d2] = [0, reach / 2, reach].map((e) => depthsAt(plan, x + e * nx, y + e * ny, { ...blank }, inner));
  const along = (field: keyof Depths) => quadratic(d0[field], d1[field], d2[field], reach);
  const deck = along('deck');
  const deckIn = along('deckIn');
  const bottom = along('bottom');
  const bottomIn = along('bottomIn');
  const top = (e: number) => (e < turn ? Math.min(deck(e), arcHeight(arcs, 6, e, root)) : deck(e));
  const under = (e: number) => (e < tuck ? Math.max(bottom(e), arcHeight(arcs, 0, e, root)) : bottom(e));
  // Inset is taken as the square of the variable: the round is vertical at the apex, its height there goes as a root.
  const cuts = [0, tuck, turn, face, ...Array.from({ length: rim - 1 }, (_, i) => ((i + 1) * face) / rim)].filter((e) => e <= reach);
  const edges = [...new Set([...cuts, reach])].map(Math.sqrt).sort((a, b) => a - b);
  for (let i = 0; i + 1 < edges.length; i++) {
    const h = edges[i + 1] - edges[i];
    for (let k = 0; k < 5; k++) {
      const r = edges[i] + h * GAUSS5_X[k];
      const e = r * r;
      const weight = GAUSS5_W[k] * h * 2 * r * (1 - e * kappa);
      const [inner, roof, floor] = [deckIn(e), top(e), under(e)];
      if (landed && e < face) {
        const low = bottomIn(e);
        out.blockLost += weight * (Math.max(0, inner - low) - Math.max(0, Math.min(inner, roof) - Math.max(low, floor)));
      }
      if (e < face && !landed) {
        const area = weight * Math.max(0, Math.min(inner, roof) - floor);
        out.outer += area;
        out.outerMoment += area * (x + e * nx);
        out.bottomOutside += weight * (bottomIn(e) - bottom(e));
      } else {
        out.bottomLost += weight * (Math.min(bottomIn(e), floor) - bottom(e));
      }
      out.deckLost += weight * (deck(e) - Math.max(inner, Math.min(deck(e), roof)));
    }
  }
  return out;
}

/** Volume between each whole panel and its inner face out to the outline, its moment, and its true surface; both halves. */
function wholePanels(plan: Plan, { panels, inner }: Weighing) {
  const { hull } = plan;
  const spans = breaks(hull.outline.knots);
  const values = new Float64Array(6);
  const d = { ...blank };
  const out = { deck: 0, bottom: 0, deckMoment: 0, bottomMoment: 0, deckArea: 0, bottomArea: 0 };
  const slope = (p: typeof high) => Math.sqrt(1 + p.zx * p.zx + p.zy * p.zy);
  for (let k = 0; k + 1 < spans.length; k++) {
    const h = (spans[k + 1] - spans[k]) / panels;
    for (let part = 0; part < panels; part++) {
      for (let i = 0; i < 5; i++) {
        evalSpline(hull.outline, spans[k] + h * (part + GAUSS5_X[i]), values, basis);
        const [x, y] = values;
        // Both halves.
        const dx = 2 * values[2] * GAUSS5_W[i] * h;
        for (let j = 0; j < 5; j++) {
          depthsAt(plan, x, y * GAUSS5_X[j], d, inner);
          const cell = dx * y * GAUSS5_W[j];
          out.deck += (d.deck - d.deckIn) * cell;
          out.bottom += (d.bottomIn - d.bottom) * cell;
          out.deckMoment += x * (d.deck - d.deckIn) * cell;
          out.bottomMoment += x * (d.bottomIn - d.bottom) * cell;
          out.deckArea += slope(high) * cell;
          out.bottomArea += slope(low) * cell;
        }
      }
    }
  }
  return out;
}

/** All timber volumes of a plan. */
export const timberVolumes = (plan: Plan, how = CLOSELY): Volumes => weighTimber(plan, how).volumes;

/** Parts of the board that hang on its lines alone: all but ribs and stringer. */
type Shaped = 'sole' | 'cap' | 'rows' | 'outerSkins' | 'bottomSkin' | 'deckSkin' | 'blocks';

/** The volumes, and the first moments about the tail of each part, mm4; what shaping takes off skins is counted midway between outline and tuck or turn. */
export function weighTimber(plan: Plan, how = CLOSELY): { volumes: Volumes; moments: Readonly<Record<Shaped, number>> } {
  const { design, rail, hull } = plan;
  const { stripWidth: w, soleThickness, capThickness, spacerWidth, spacerHeight } = design.rail;
  const { step, inner } = how;
  const section = how.section(plan);
  const soleOver = (s0: number, s1: number) => overRun(section, s0, s1, step, w / 2, (c) =>
    Math.hypot(1, c.soleSlope) * planedStrip(w, soleThickness, c.solePlaning, c.kappa));
  const sole = twice(soleOver(rail.sole.s0, rail.sole.s1));
  const cap = twice(overRun(section, rail.cap.s0, rail.cap.s1, step, w / 2, (c) =>
    Math.hypot(1, c.capSlope) * planedStrip(w, capThickness, c.planing, c.kappa)));
  const rows = twice(rail.rows.reduce((sum, row) => plus(sum, overRun(section, row.tail.s, row.nose.s, step, spacerWidth / 2, (c) =>
    Math.hypot(1, c.soleSlope) * spacerHeight * spacerWidth * (1 - (spacerWidth / 2) * c.kappa))), NONE));
  const tabs = 2 * rail.ribs.reduce((sum, rib) => sum + tabVolume(design, rib), 0);

  const d = { ...blank };
  /** Between the inner faces from the box face in to `depth`, per mm of run; Simpson across is exact for its quadratic. */
  const between = (c: RailSection, depth: number): number => {
    if (!(depth > 0)) return 0;
    return simpson([0, depth / 2, depth].map((e) => {
      depthsAt(plan, c.x + e * c.nx, c.y + e * c.ny, d, inner);
      return Math.max(0, d.deckIn - d.bottomIn) * (1 - e * c.kappa);
    }), depth / 2);
  };
  // Beyond the cap the sole runs on alone, under the block where there is one.
  const strips = rail.cap.s1 > rail.cap.s0 ? rail.cap : rail.sole;
  const soleEnds = { tail: twice(soleOver(rail.sole.s0, strips.s0)), nose: twice(soleOver(strips.s1, rail.sole.s1)) };
  const box = 2 * overRun(section, strips.s0, strips.s1, step, w / 2, (c) => between(c, w)).volume + soleEnds.tail.volume + soleEnds.nose.volume;
  const ends = (['tail', 'nose'] as const).flatMap((end) => blockAt(plan, end) ?? []).map((block) => weighBlock(plan, block, how));
  const blocks = ends.map(({ whole }) => whole).reduce(plus, NONE);
  const tongues = ends.reduce((sum, { tongues: own }) => sum + own, 0);

  const edge: Edge = { outer: 0, outerMoment: 0, deckLost: 0, bottomLost: 0, bottomOutside: 0, blockLost: 0 };
  const runSizes = runOf(plan).sizes;
  const sum = { ...edge, deckMoment: 0, bottomMoment: 0, blockMoment: 0 };
  const { map } = runOf(plan);
  const [landedTail, landedNose] = [rail.ends.tail?.skinsTo, rail.ends.nose?.skinsTo].map((s) => (s === undefined ? undefined : map.parameterAt(s)));
  const spans = [...breaks(hull.outline.knots), ...[landedTail, landedNose].filter((u) => u !== undefined)].sort((a, b) => a - b);
  for (let k = 0; k + 1 < spans.length; k++) {
    const parts = Math.max(1, Math.ceil((spans[k + 1] - spans[k]) / (8 * step)));
    const h = (spans[k + 1] - spans[k]) / parts;
    for (let part = 0; part < parts; part++) {
      for (let i = 0; i < 5; i++) {
        const u = spans[k] + h * (part + GAUSS5_X[i]);
        edgeAt(plan, u, u < (landedTail ?? -Infinity) || u > (landedNose ?? Infinity), edge, how);
        const ds = frame.speed * h * GAUSS5_W[i];
        sum.outer += edge.outer * ds;
        sum.deckLost += edge.deckLost * ds;
        sum.bottomLost += edge.bottomLost * ds;
        sum.bottomOutside += edge.bottomOutside * ds;
        sum.blockLost += edge.blockLost * ds;
        const x = frame.x + (runSizes.faceOffset / 2) * frame.nx;
        sum.outerMoment += edge.outerMoment * ds;
        sum.deckMoment += edge.deckLost * x * ds;
        sum.blockMoment += edge.blockLost * x * ds;
        sum.bottomMoment += (edge.bottomLost + edge.bottomOutside) * x * ds;
      }
    }
  }
  const whole = wholePanels(plan, how);
  return {
    volumes: {
      sole: sole.volume, cap: cap.volume, rows: rows.volume, tabs, box, blocks: blocks.volume - 2 * sum.blockLost, tongues,
      outerSkins: 2 * sum.outer,
      deckSkin: whole.deck - 2 * sum.deckLost,
      bottomSkin: whole.bottom - 2 * (sum.bottomOutside + sum.bottomLost),
      bottomArea: whole.bottomArea,
      deckArea: whole.deckArea,
    },
    moments: {
      sole: sole.moment, cap: cap.moment, rows: rows.moment, blocks: blocks.moment - 2 * sum.blockMoment, outerSkins: 2 * sum.outerMoment,
      deckSkin: whole.deckMoment - 2 * sum.deckMoment, bottomSkin: whole.bottomMoment - 2 * sum.bottomMoment,
    },
  };
}
