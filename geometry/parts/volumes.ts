/**
 * How much timber is in each part of the finished board. Box strips are integrated along the run, each element
 * at inset e being 1 - e kappa as long as the box face (Pappus); skins and the outer skins under the finished
 * rail round along the outline. Both sides throughout; mm3 and mm2.
 */
import { breaks, evalSpline } from '../curves/bspline';
import { frameAt, planeFrame } from '../curves/plane';
import { GAUSS5_W, GAUSS5_X } from '../curves/quadrature';
import { blockVolume } from '../frame/blocks';
import { blockAt } from '../frame/ends';
import { innerAt, panelAt, panelProbe } from '../hull/panel';
import { roundArcs } from '../rail/cover';
import { runOf } from '../rail/query';
import { boxOnRun } from '../rail/run';
import { tabVolume } from '../rail/tab';
import type { Plan, RailSection } from '../types';

/** Greatest spacing of ordinates along the run, mm. */
const VOLUME_STEP = 5;

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
  /** Nose and tail blocks, less the sole's ends that run under them. */
  readonly blocks: number;
  /** All that lies between the inner faces over the box, hollow included, and the sole's ends: what solid laminations would fill. */
  readonly box: number;
  /** True surface of a whole bottom and a whole deck panel out to the outline, mm2. */
  readonly bottomArea: number;
  readonly deckArea: number;
}

/** Integrate f(section) over [s0, s1] of the run. */
function overRun(plan: Plan, s0: number, s1: number, step: number, f: (c: RailSection) => number): number {
  if (!(s1 > s0)) return 0;
  const run = runOf(plan);
  const n = 2 * Math.max(2, Math.ceil((s1 - s0) / (2 * step)));
  const values = new Float64Array(n + 1);
  for (let i = 0; i <= n; i++) {
    const s = s0 + ((s1 - s0) * i) / n;
    values[i] = f(boxOnRun(run, s));
  }
  return simpson(values, (s1 - s0) / n);
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

/** Height of one cubic arc of the round at inset e; its insets fall or rise all the way. */
function arcHeight(arcs: Float64Array, at: number, e: number): number {
  const value = (k: number, t: number) => {
    const r = 1 - t;
    return r * r * r * arcs[at + k] + 3 * r * r * t * arcs[at + 2 + k] + 3 * r * t * t * arcs[at + 4 + k] + t * t * t * arcs[at + 6 + k];
  };
  const falls = arcs[at] > arcs[at + 6];
  let low = 0;
  let high = 1;
  for (let i = 0; i < 40; i++) {
    const mid = (low + high) / 2;
    if (value(0, mid) > e === falls) low = mid;
    else high = mid;
  }
  return value(1, (low + high) / 2);
}

const basis = new Float64Array(12);
const arcs = new Float64Array(14);
const frame = planeFrame();
const blank: Depths = { deck: 0, deckIn: 0, bottomIn: 0, bottom: 0 };

/** Heights at one plan point inside the outline: finished deck, its inner face, bottom's inner face, finished bottom. */
interface Depths {
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
function depthsAt(plan: Plan, x: number, y: number, out: Depths): Depths {
  const { hull, design } = plan;
  const deckIn = innerAt(hull.deck, 1, design.skins.deck, x, y, high).z;
  const bottomIn = innerAt(hull.bottom, -1, design.skins.bottom, x, y, low).z;
  out.deck = panelAt(hull.deck, x, y, high).z;
  out.bottom = panelAt(hull.bottom, x, y, low).z;
  out.deckIn = deckIn > out.bottom ? Math.min(deckIn, out.deck) : out.bottom;
  out.bottomIn = bottomIn < out.deck ? Math.max(bottomIn, out.bottom) : out.deck;
  return out;
}

interface Edge {
  outer: number;
  deckLost: number;
  bottomLost: number;
  bottomOutside: number;
}

/**
 * What lies at the board's edge at outline parameter u, per mm of outline: outer skins (from the outline in to
 * the box face, under the deck skin), what the round takes off deck skin and bottom skin, and the bottom panel
 * outside the box face, where no skin goes.
 */
function edgeAt(plan: Plan, u: number, out: Edge): Edge {
  const { hull } = plan;
  const face = runOf(plan).sizes.faceOffset;
  frameAt(hull.outline, u, frame);
  const { x, y, nx, ny, kappa } = frame;
  roundArcs(hull, u, nx, ny, x, y, arcs);
  const tuck = Math.max(0, arcs[0]);
  const turn = Math.max(0, arcs[12]);
  const centre = ny < -1e-9 ? Math.max(0, y) / -ny : Infinity;
  const reach = Math.min(Math.max(face, tuck, turn), centre, kappa > 0 ? 1 / kappa : Infinity);
  out.outer = out.deckLost = out.bottomLost = out.bottomOutside = 0;
  if (!(reach > 1e-9)) return out;
  const [d0, d1, d2] = [0, reach / 2, reach].map((e) => depthsAt(plan, x + e * nx, y + e * ny, { ...blank }));
  const along = (field: keyof Depths) => quadratic(d0[field], d1[field], d2[field], reach);
  const deck = along('deck');
  const deckIn = along('deckIn');
  const bottom = along('bottom');
  const bottomIn = along('bottomIn');
  const top = (e: number) => (e < turn ? Math.min(deck(e), arcHeight(arcs, 6, e)) : deck(e));
  const under = (e: number) => (e < tuck ? Math.max(bottom(e), arcHeight(arcs, 0, e)) : bottom(e));
  // Inset is taken as the square of the variable: the round is vertical at the apex, its height there goes as a root.
  const cuts = [0, face, tuck, turn, face / 3, (2 * face) / 3].filter((e) => e <= reach);
  const edges = [...new Set([...cuts, reach])].map(Math.sqrt).sort((a, b) => a - b);
  for (let i = 0; i + 1 < edges.length; i++) {
    const h = edges[i + 1] - edges[i];
    for (let k = 0; k < 5; k++) {
      const r = edges[i] + h * GAUSS5_X[k];
      const e = r * r;
      const weight = GAUSS5_W[k] * h * 2 * r * (1 - e * kappa);
      const inner = deckIn(e);
      if (e < face) {
        out.outer += weight * Math.max(0, Math.min(inner, top(e)) - under(e));
        out.bottomOutside += weight * (bottomIn(e) - bottom(e));
      } else {
        out.bottomLost += weight * (Math.min(bottomIn(e), under(e)) - bottom(e));
      }
      out.deckLost += weight * (deck(e) - Math.max(inner, Math.min(deck(e), top(e))));
    }
  }
  return out;
}

/** Volume between each whole panel and its inner face out to the outline, and its true surface; both halves. */
function wholePanels(plan: Plan): { deck: number; bottom: number; deckArea: number; bottomArea: number } {
  const { hull } = plan;
  const spans = breaks(hull.outline.knots);
  const values = new Float64Array(6);
  const d = { ...blank };
  const out = { deck: 0, bottom: 0, deckArea: 0, bottomArea: 0 };
  const slope = (p: typeof high) => Math.sqrt(1 + p.zx * p.zx + p.zy * p.zy);
  for (let k = 0; k + 1 < spans.length; k++) {
    const h = (spans[k + 1] - spans[k]) / 4;
    for (let part = 0; part < 4; part++) {
      for (let i = 0; i < 5; i++) {
        evalSpline(hull.outline, spans[k] + h * (part + GAUSS5_X[i]), values, basis);
        const [x, y] = values;
        // Both halves.
        const dx = 2 * values[2] * GAUSS5_W[i] * h;
        for (let j = 0; j < 5; j++) {
          depthsAt(plan, x, y * GAUSS5_X[j], d);
          const cell = dx * y * GAUSS5_W[j];
          out.deck += (d.deck - d.deckIn) * cell;
          out.bottom += (d.bottomIn - d.bottom) * cell;
          out.deckArea += slope(high) * cell;
          out.bottomArea += slope(low) * cell;
        }
      }
    }
  }
  return out;
}

/** All timber volumes of a plan. `step` is the greatest spacing of ordinates along the run, mm. */
export function timberVolumes(plan: Plan, step = VOLUME_STEP): Volumes {
  const { design, rail, hull } = plan;
  const { stripWidth: w, soleThickness, capThickness, spacerWidth, spacerHeight } = design.rail;
  const soleOver = (s0: number, s1: number) => overRun(plan, s0, s1, step, (c) =>
    Math.hypot(1, c.soleSlope) * planedStrip(w, soleThickness, c.solePlaning, c.kappa));
  const sole = 2 * soleOver(rail.sole.s0, rail.sole.s1);
  const cap = 2 * overRun(plan, rail.cap.s0, rail.cap.s1, step, (c) =>
    Math.hypot(1, c.capSlope) * planedStrip(w, capThickness, c.planing, c.kappa));
  const rows = 2 * rail.rows.reduce((sum, row) => sum + overRun(plan, row.tail.s, row.nose.s, step, (c) =>
    Math.hypot(1, c.soleSlope) * spacerHeight * spacerWidth * (1 - (spacerWidth / 2) * c.kappa)), 0);
  const tabs = 2 * rail.ribs.reduce((sum, rib) => sum + tabVolume(design, rib), 0);

  const d = { ...blank };
  /** Between the inner faces from the box face in to `depth`, per mm of run; Simpson across is exact for its quadratic. */
  const between = (c: RailSection, depth: number): number => {
    if (!(depth > 0)) return 0;
    return simpson([0, depth / 2, depth].map((e) => {
      depthsAt(plan, c.x + e * c.nx, c.y + e * c.ny, d);
      return Math.max(0, d.deckIn - d.bottomIn) * (1 - e * c.kappa);
    }), depth / 2);
  };
  // Beyond the cap the sole runs on alone, under the block where there is one.
  const strips = rail.cap.s1 > rail.cap.s0 ? rail.cap : rail.sole;
  const soleEnds = { tail: 2 * soleOver(rail.sole.s0, strips.s0), nose: 2 * soleOver(strips.s1, rail.sole.s1) };
  const box = 2 * overRun(plan, strips.s0, strips.s1, step, (c) => between(c, w)) + soleEnds.tail + soleEnds.nose;
  const blocks = (['tail', 'nose'] as const).reduce((sum, end) => {
    const block = blockAt(plan, end);
    return block ? sum + Math.max(0, blockVolume(plan, block) - soleEnds[end]) : sum;
  }, 0);

  const edge = { outer: 0, deckLost: 0, bottomLost: 0, bottomOutside: 0 };
  const sum = { ...edge };
  const spans = breaks(hull.outline.knots);
  for (let k = 0; k + 1 < spans.length; k++) {
    const parts = Math.max(1, Math.ceil((spans[k + 1] - spans[k]) / (8 * step)));
    const h = (spans[k + 1] - spans[k]) / parts;
    for (let part = 0; part < parts; part++) {
      for (let i = 0; i < 5; i++) {
        edgeAt(plan, spans[k] + h * (part + GAUSS5_X[i]), edge);
        const ds = frame.speed * h * GAUSS5_W[i];
        sum.outer += edge.outer * ds;
        sum.deckLost += edge.deckLost * ds;
        sum.bottomLost += edge.bottomLost * ds;
        sum.bottomOutside += edge.bottomOutside * ds;
      }
    }
  }
  const whole = wholePanels(plan);
  return {
    sole, cap, rows, tabs, box, blocks,
    outerSkins: 2 * sum.outer,
    deckSkin: whole.deck - 2 * sum.deckLost,
    bottomSkin: whole.bottom - 2 * (sum.bottomOutside + sum.bottomLost),
    bottomArea: whole.bottomArea,
    deckArea: whole.deckArea,
  };
}
