/**
 * Outer skins developed flat. A layer is bent round a cylinder standing on a plan curve, so its middle
 * surface unrolls without stretch: u is the arc length of the outline's parallel at the layer's middle, v is
 * the height. The length of a parallel differs from its neighbour's by their distance times the turning angle.
 */
import { planeFrame } from '../curves/plane';
import { innerAt, panelAt, panelProbe } from '../hull/panel';
import { RunMap, offsetAt, planLine } from '../rail/planLine';
import { runOf } from '../rail/query';
import { skinSpan } from '../rail/laid';
import { boxSizes } from '../rail/sizes';
import type { LineEnd, Plan } from '../types';

/** Greatest step of the developed edges along u, mm: the chord's error at 0.5 m radius is 0.006 mm. */
const BLANK_STEP = 5;

/** One layer unrolled, starboard, from its tail end: the board's, or the landing it butts on. All arrays run parallel to `u`. */
export interface Development {
  readonly layer: number;
  /** How it ends: `butted` on a block, else as its plan line does. */
  readonly ends: Readonly<Record<'tail' | 'nose', LineEnd | 'butted'>>;
  readonly length: number;
  readonly u: Float64Array;
  /** Finished bottom and inner deck face over the layer's middle surface, z. */
  readonly bottom: Float64Array;
  readonly deck: Float64Array;
  /** Run on the box face and station there; plan curvature of the middle surface, 1/mm. */
  readonly s: Float64Array;
  readonly x: Float64Array;
  readonly kappa: Float64Array;
  /** Samples at which the line turns a corner; the skin must be jointed there. */
  readonly corners: readonly number[];
  /** Station at any u, exact. */
  readonly xAt: (u: number) => number;
  /** Run on the box face at any u. */
  readonly runAt: (u: number) => number;
}

/** Inset of a layer's middle surface from the outline, mm: layer 1 lies on the box. */
export const layerInset = (plan: Plan, layer: number): number =>
  boxSizes(plan.design).faceOffset - (layer - 0.5) * plan.design.rail.outerThickness;

/**
 * Unroll one outer layer (1 lies on the box). Its rocker edge follows the finished bottom, its deck edge the
 * inner deck face: the deck skin lies on top of it, the bottom skin stops at the box.
 */
export function developLayer(plan: Plan, layer: number, step = BLANK_STEP): Development {
  const { hull, design } = plan;
  const offset = layerInset(plan, layer);
  const line = planLine(hull.outline, offset, 'rail.outerThickness');
  const map = new RunMap(hull.outline, line);
  const face = runOf(plan);
  const frame = planeFrame();
  const deckProbe = panelProbe();
  const bottomProbe = panelProbe();

  // Even steps between corners, so that each corner is a sample.
  const { s0, s1 } = skinSpan(plan.rail);
  const { tail, nose } = plan.rail.ends;
  // The layer's parallel has the box face's normals: it ends at the same parameter.
  const from = tail?.skinsTo === undefined ? 0 : map.runAt(face.map.parameterAt(s0));
  const to = nose?.skinsTo === undefined ? line.length : map.runAt(face.map.parameterAt(s1));
  const length = to - from;
  const cuts = [0, ...line.corners.map((c) => c.s - from).filter((c) => c > 0 && c < length), length];
  const us = [0];
  const corners: number[] = [];
  for (let k = 0; k + 1 < cuts.length; k++) {
    const n = Math.max(2, 2 * Math.ceil((cuts[k + 1] - cuts[k]) / (2 * step)));
    for (let i = 1; i <= n; i++) us.push(cuts[k] + ((cuts[k + 1] - cuts[k]) * i) / n);
    if (k + 2 < cuts.length) corners.push(us.length - 1);
  }
  const u = Float64Array.from(us);
  const make = () => new Float64Array(u.length);
  const out = { bottom: make(), deck: make(), s: make(), x: make(), kappa: make() };
  const parameter = (at: number) => map.parameterAt(at + from);
  /** Nearest run where the box face was trimmed away: the outer layers reach past its ends. */
  const { pieces } = face.face;
  const first = pieces[0];
  const last = pieces[pieces.length - 1];
  const runAt = (at: number): number => {
    const p = parameter(at);
    if (p <= first.u0) return 0;
    if (p >= last.u1) return face.total;
    const s = face.map.runAt(p);
    if (!Number.isNaN(s)) return s;
    const after = pieces.find((q) => q.u0 >= p);
    return after ? after.s0 : face.total;
  };
  for (let i = 0; i < u.length; i++) {
    offsetAt(hull.outline, offset, parameter(u[i]), frame);
    const y = Math.max(0, frame.y);
    out.x[i] = frame.x;
    out.kappa[i] = frame.kappa;
    out.s[i] = runAt(u[i]);
    out.bottom[i] = panelAt(hull.bottom, frame.x, y, bottomProbe).z;
    out.deck[i] = innerAt(hull.deck, 1, design.skins.deck, frame.x, y, deckProbe).z;
  }
  const scratch = planeFrame();
  return {
    layer, length, u, ...out, corners, ends: { tail: from > 0 ? 'butted' : line.tail.kind, nose: to < line.length ? 'butted' : line.nose.kind },
    xAt: (at) => offsetAt(hull.outline, offset, parameter(at), scratch).x,
    runAt,
  };
}

/** Value of a sampled edge at u, linear between samples. */
export function edgeAt(dev: Pick<Development, 'u'>, values: Float64Array, u: number): number {
  let low = 0;
  let high = dev.u.length - 1;
  if (u <= dev.u[0]) return values[0];
  if (u >= dev.u[high]) return values[high];
  while (high - low > 1) {
    const mid = (low + high) >> 1;
    if (dev.u[mid] <= u) low = mid;
    else high = mid;
  }
  const t = (u - dev.u[low]) / (dev.u[high] - dev.u[low]);
  return values[low] * (1 - t) + values[high] * t;
}
