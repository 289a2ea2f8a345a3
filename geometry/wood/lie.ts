/**
 * How a bent strip lies between the places that hold it. A strip that was straight and is pulled to a drawn curve at a
 * few supports alone is a continuous beam: its bent curvature k runs straight from support to support, and of all such
 * curvatures it is the least-squares projection of the drawn one (least bending energy; provable). For each inner
 * support, L- and L+ being the bays beside it,
 *   (L- / 6) k- + ((L- + L+) / 3) k + (L+ / 6) k+ = integral of the support's hat times the drawn curvature.
 * An end that is only pinned bears no couple, k = 0; one whose direction is held keeps its half hat's row. Between
 * supports the strip stands off the drawn line by u, u'' = k - drawn, u = 0 at both (slopes small, inboard positive).
 */
import { factorBand, solveBand } from '../curves/band';

/** The drawn curvature along a strip, straight between nodes in rising order: mm, and 1/mm, positive where the rail is convex outboard. */
export interface DrawnBend {
  readonly along: Float64Array;
  readonly curvature: Float64Array;
}

/** Whether an end's direction is held to the drawn one; else the end turns freely. */
export interface Held {
  readonly tail: boolean;
  readonly nose: boolean;
}

/** The stretch between two neighbouring supports. */
export interface Bay {
  readonly from: number;
  readonly to: number;
  /** The greatest stand-off, mm: positive where the strip lies inboard of the drawn line; and where along the strip. */
  readonly standOff: number;
  readonly at: number;
}

/** A strip as it lies. */
export interface Lying {
  /** Bent curvature at each support, 1/mm. */
  readonly curvature: Float64Array;
  /** Jump of the bent curvature's slope at each support, 1/mm2: times EI (N mm2) it is what the support presses with, inboard positive at a convex end. */
  readonly jumps: Float64Array;
  readonly bays: readonly Bay[];
}

/** Nodes of the drawn curvature in a bay, its two supports first and last: places, and curvature there, the nearer end's beyond the strip. */
function nodesIn({ along, curvature }: DrawnBend, from: number, to: number): { x: number[]; d: number[] } {
  const last = along.length - 1;
  const after = (at: number): number => {
    let [low, high] = [0, last + 1];
    while (low < high) {
      const mid = (low + high) >> 1;
      if (along[mid] > at) high = mid;
      else low = mid + 1;
    }
    return low;
  };
  const between = (at: number, k: number): number =>
    (k === 0 ? curvature[0] : k > last ? curvature[last] : curvature[k - 1] + ((curvature[k] - curvature[k - 1]) * (at - along[k - 1])) / (along[k] - along[k - 1]));
  const first = after(from);
  const x = [from];
  const d = [between(from, first)];
  let k = first;
  for (; k <= last && along[k] < to; k++) {
    x.push(along[k]);
    d.push(curvature[k]);
  }
  x.push(to);
  d.push(between(to, k));
  return { x, d };
}

/**
 * A strip on its supports: places along it in rising order, at least two and none twice, the strip's own ends among
 * them. Exact for a drawn curvature that is straight between its nodes.
 */
export function lieOn(drawn: DrawnBend, supports: readonly number[], held: Held): Lying {
  const n = supports.length;
  const bays = Array.from({ length: n - 1 }, (_, i) => ({ from: supports[i], to: supports[i + 1], ...nodesIn(drawn, supports[i], supports[i + 1]) }));
  const band = new Float64Array(3 * n);
  const curvature = new Float64Array(n);
  bays.forEach(({ from, to, x, d }, i) => {
    const length = to - from;
    band[3 * i + 1] += length / 3;
    band[3 * i + 2] += length / 6;
    band[3 * i + 3] += length / 6;
    band[3 * i + 4] += length / 3;
    for (let j = 0; j + 1 < x.length; j++) {
      const h = x[j + 1] - x[j];
      const [a, b] = [(x[j] - from) / length, (x[j + 1] - from) / length];
      const rising = (h / 6) * (2 * a * d[j] + a * d[j + 1] + b * d[j] + 2 * b * d[j + 1]);
      curvature[i + 1] += rising;
      curvature[i] += (h * (d[j] + d[j + 1])) / 2 - rising;
    }
  });
  for (const [i, isHeld] of [[0, held.tail], [n - 1, held.nose]] as const) {
    if (isHeld) continue;
    band.set([0, 1, 0], 3 * i);
    curvature[i] = 0;
  }
  solveBand(factorBand(n, 1, band), curvature, 1);
  const jumps = new Float64Array(n);
  bays.forEach(({ from, to }, i) => {
    const slope = (curvature[i + 1] - curvature[i]) / (to - from);
    jumps[i] += slope;
    jumps[i + 1] -= slope;
  });
  return { curvature, jumps, bays: bays.map((bay, i) => standOffIn(bay, curvature[i], curvature[i + 1])) };
}

/** The greatest stand-off in a bay whose bent curvature runs from k0 to k1: u is a cubic between nodes, integrated exactly. */
function standOffIn({ from, to, x, d }: { from: number; to: number; x: readonly number[]; d: readonly number[] }, k0: number, k1: number): Bay {
  const f = x.map((at, j) => k0 + ((k1 - k0) * (at - from)) / (to - from) - d[j]);
  // From a slope of nothing first; the slope that brings u back to 0 at the far support is then added.
  const slope = [0];
  const lift = [0];
  for (let j = 0; j + 1 < x.length; j++) {
    const h = x[j + 1] - x[j];
    lift.push(lift[j] + slope[j] * h + (h * h * (2 * f[j] + f[j + 1])) / 6);
    slope.push(slope[j] + (h * (f[j] + f[j + 1])) / 2);
  }
  const turn = -lift[lift.length - 1] / (to - from);
  let [standOff, at] = [0, from];
  for (let j = 0; j + 1 < x.length; j++) {
    const h = x[j + 1] - x[j];
    const [u, s] = [lift[j] + turn * (x[j] - from), slope[j] + turn];
    const c = (f[j + 1] - f[j]) / (2 * h);
    // Where u' = s + f t + c t^2 vanishes inside the piece, and at its far end.
    const root = Math.sqrt(Math.max(0, f[j] * f[j] - 4 * c * s));
    const q = -(f[j] + (f[j] < 0 ? -root : root)) / 2;
    for (const t of [h, q / c, s / q]) {
      if (!(t > 0 && t <= h)) continue;
      const value = u + t * (s + t * (f[j] / 2 + (t * c) / 3));
      if (Math.abs(value) > Math.abs(standOff)) [standOff, at] = [value, x[j] + t];
    }
  }
  return { from, to, standOff, at };
}
