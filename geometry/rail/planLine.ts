/**
 * Plan lines: exact normal offsets of the outline, trimmed where they cross themselves or the centreline,
 * and measured by arc length (the run).
 */
import { breaks, evalOnSpan, findSpan, type Spline } from '../curves/bspline';
import { frameAt, planeFrame, type PlaneFrame } from '../curves/plane';
import { GAUSS5_W, GAUSS5_X } from '../curves/quadrature';
import { findRoot } from '../curves/roots';
import { BuildError } from '../errors';
import { mm, said } from '../said';
import type { LineEnd, LinePiece, PlanLine } from '../types';

const frame = planeFrame();

/** The offset point and frame at u: position moved d along the inward normal; curvature of the parallel. */
export function offsetAt(outline: Spline, d: number, u: number, out: PlaneFrame): PlaneFrame {
  frameAt(outline, u, out);
  const shrink = 1 - d * out.kappa;
  out.x += d * out.nx;
  out.y += d * out.ny;
  out.speed *= shrink;
  out.kappa /= shrink;
  return out;
}

/** Length of the offset between two parameters of one smooth span: five Gauss points on each of four parts. */
function spanLength(outline: Spline, d: number, a: number, b: number): number {
  let sum = 0;
  for (let part = 0; part < 4; part++) {
    const from = a + ((b - a) * part) / 4;
    const h = (b - a) / 4;
    for (let i = 0; i < 5; i++) {
      frameAt(outline, from + h * GAUSS5_X[i], frame);
      sum += GAUSS5_W[i] * h * Math.abs(frame.speed * (1 - d * frame.kappa));
    }
  }
  return sum;
}

/** Arc length of an offset line between two parameters, knots respected. */
export function offsetLength(outline: Spline, d: number, a: number, b: number): number {
  const inner = breaks(outline.knots).filter((k) => k > a && k < b);
  const cuts = [a, ...inner, b];
  let sum = 0;
  for (let i = 0; i + 1 < cuts.length; i++) sum += spanLength(outline, d, cuts[i], cuts[i + 1]);
  return sum;
}

/** Two parameters between which the offset is left out: where it crosses itself, or breaks at a corner. */
interface Crossing {
  readonly u1: number;
  readonly u2: number;
}

/** Newton on P(a) = P(b) from a first guess. */
function refineCrossing(outline: Spline, d: number, a: number, b: number): Crossing {
  const p = planeFrame();
  const q = planeFrame();
  for (let i = 0; i < 30; i++) {
    offsetAt(outline, d, a, p);
    offsetAt(outline, d, b, q);
    const ex = q.x - p.x;
    const ey = q.y - p.y;
    const ax = p.tx * p.speed, ay = p.ty * p.speed;
    const bx = q.tx * q.speed, by = q.ty * q.speed;
    const det = ax * by - ay * bx;
    if (Math.abs(det) < 1e-14) break;
    const da = (ex * by - ey * bx) / det;
    const db = (ex * ay - ey * ax) / det;
    a += da;
    b += db;
    if (Math.abs(da) + Math.abs(db) < 1e-12 * (1 + Math.abs(a))) break;
  }
  return { u1: a, u2: b };
}

/** Segment (p, q) against (r, t): whether they cross. */
function segmentsCross(p: Float64Array, i: number, j: number): boolean {
  const orient = (a: number, b: number, c: number) =>
    (p[2 * b] - p[2 * a]) * (p[2 * c + 1] - p[2 * a + 1]) - (p[2 * b + 1] - p[2 * a + 1]) * (p[2 * c] - p[2 * a]);
  return orient(i, i + 1, j) * orient(i, i + 1, j + 1) < 0 && orient(j, j + 1, i) * orient(j, j + 1, i + 1) < 0;
}

/**
 * The outline's inward parallel at distance d (mm, may be 0), trimmed: only y >= 0, no loops. At a square end it
 * starts where it meets the end's plane: trimmed there, or carried on straight to it, unless it leans more than 45
 * degrees from the centreline.
 * Local loops (radius of the outline under d, or an outward corner) are cut at their crossing, leaving a
 * corner in the line; at an inward corner the line breaks off and goes on, and the break counts as a corner. Throws a BuildError where nothing of the line is left.
 */
export function planLine(outline: Spline, d: number, field: string): PlanLine {
  const spans = breaks(outline.knots);
  const end = spans[spans.length - 1];
  const per = 24;
  const us: number[] = [];
  for (let k = 0; k + 1 < spans.length; k++) {
    // A hair inside each span, so that a corner shows both its normals.
    const h = (spans[k + 1] - spans[k]) * 1e-9;
    for (let i = 0; i <= per; i++) {
      us.push(Math.min(spans[k + 1] - h, Math.max(spans[k] + h, spans[k] + ((spans[k + 1] - spans[k]) * i) / per)));
    }
  }
  us[0] = spans[0];
  us[us.length - 1] = end;
  const n = us.length;
  const xy = new Float64Array(2 * n);
  let looped = false;
  const leaps: Crossing[] = [];
  let widest = 0;
  for (let i = 0; i < n; i++) {
    offsetAt(outline, d, us[i], frame);
    xy[2 * i] = frame.x;
    xy[2 * i + 1] = frame.y;
    if (frame.speed <= 0) looped = true;
    if (frame.y > xy[2 * widest + 1]) widest = i;
    // Where one span hands over to the next, a leap of the offset shows a corner of the outline.
    if (i > 0 && i % (per + 1) === 0 && Math.hypot(xy[2 * i] - xy[2 * i - 2], xy[2 * i + 1] - xy[2 * i - 1]) > 1e-4) {
      looped = true;
      leaps.push({ u1: us[i - 1], u2: us[i] });
    }
  }
  if (xy[2 * widest + 1] <= 0) {
    throw new BuildError({
      field, value: said('{d} in from the outline', { d: mm(d) }), allowed: 'less than the board\'s half-breadth',
      message: 'outer skins and strip together are wider than the board',
    });
  }
  const yAt = (u: number) => offsetAt(outline, d, u, frame).y;
  // Ends: the line starts where it last rises through the centreline before the widest point.
  let u0 = spans[0];
  let u1 = end;
  let tailKind: LineEnd = 'open';
  let noseKind: LineEnd = 'open';
  const touches = 1e-6;
  for (let i = widest; i > 0; i--) {
    if (xy[2 * i - 1] < -touches) {
      u0 = findRoot(yAt, us[i - 1], us[i], 1e-10);
      tailKind = 'meets';
      break;
    }
  }
  if (tailKind === 'open' && Math.abs(xy[1]) <= touches) tailKind = endKind(outline, d, u0);
  for (let i = widest; i < n - 1; i++) {
    if (xy[2 * i + 3] < -touches) {
      u1 = findRoot(yAt, us[i], us[i + 1], 1e-10);
      noseKind = 'meets';
      break;
    }
  }
  if (noseKind === 'open' && Math.abs(xy[2 * n - 1]) <= touches) noseKind = endKind(outline, d, u1);

  // Where the parallel meets the plane of a square end: its own end lies inside of that or beyond it. Carried on, it
  // may come to the centreline first.
  const plane = (at: number): { u: number; kind: LineEnd } => {
    const way = at === 0 ? 1 : -1;
    const end = outline.points[at === 0 ? 0 : outline.points.length - 2];
    const inside = (i: number) => way * (xy[2 * i] - end);
    const { tx, ty, speed } = frameAt(outline, us[at], frame);
    if (inside(at) > 0 && Math.abs(ty) <= tx) {
      const [toPlane, toCentre] = [inside(at) / tx, xy[2 * at + 1] / (way * ty)];
      const meets = toCentre > 0 && toCentre < toPlane;
      return { u: us[at] - (way * (meets ? toCentre : toPlane)) / speed, kind: meets ? 'meets' : 'open' };
    }
    let i = at;
    while (i + way >= 0 && i + way < n && inside(i) <= 0) i += way;
    const u = i === at ? us[at] : findRoot((v) => offsetAt(outline, d, v, frame).x - end, us[Math.min(i, i - way)], us[Math.max(i, i - way)], 1e-10);
    return { u, kind: 'open' };
  };
  if (tailKind === 'open') ({ u: u0, kind: tailKind } = plane(0));
  if (noseKind === 'open') ({ u: u1, kind: noseKind } = plane(n - 1));

  const crossings: Crossing[] = [];
  if (looped) {
    for (let i = 0; i + 1 < n; i++) {
      if (us[i + 1] <= u0 || us[i] >= u1) continue;
      // The farthest crossing ahead encloses the whole loop.
      for (let j = n - 2; j > i + 1; j--) {
        if (us[j] >= u1 || !segmentsCross(xy, i, j)) continue;
        const c = refineCrossing(outline, d, (us[i] + us[i + 1]) / 2, (us[j] + us[j + 1]) / 2);
        if (c.u2 > c.u1) {
          crossings.push(c);
          i = j;
        }
        break;
      }
    }
  }
  // At an inward corner the parallels part instead of crossing: the line breaks there and takes up beyond.
  for (const leap of leaps) {
    if (leap.u1 > u0 && leap.u2 < u1 && !crossings.some((c) => c.u1 < leap.u2 && c.u2 > leap.u1)) crossings.push(leap);
  }
  crossings.sort((a, b) => a.u1 - b.u1);
  const pieces: LinePiece[] = [];
  const corners: { s: number; x: number; y: number; turn: number }[] = [];
  let from = u0;
  let s = 0;
  const close = (to: number) => {
    const length = offsetLength(outline, d, from, to);
    pieces.push({ u0: from, u1: to, s0: s, s1: s + length });
    s += length;
  };
  for (const c of crossings) {
    close(c.u1);
    const before = offsetAt(outline, d, c.u1, planeFrame());
    const after = offsetAt(outline, d, c.u2, planeFrame());
    corners.push({
      s, x: before.x, y: before.y,
      turn: Math.abs(Math.atan2(before.tx * after.ty - before.ty * after.tx, before.tx * after.tx + before.ty * after.ty)),
    });
    from = c.u2;
  }
  close(u1);
  if (!(s > 1)) {
    throw new BuildError({
      field, value: said('{d} in from the outline', { d: mm(d) }), allowed: 'an offset that leaves a line to follow',
      message: 'nothing of the plan line is left after trimming',
    });
  }
  const tail = offsetAt(outline, d, u0, planeFrame());
  const nose = offsetAt(outline, d, u1, planeFrame());
  return {
    offset: d,
    pieces,
    length: s,
    tail: { kind: tailKind, x: tail.x, y: tail.y },
    nose: { kind: noseKind, x: nose.x, y: nose.y },
    corners,
  };
}

/** A line that starts on the centreline is round if it leaves it square, else the two sides meet there. */
function endKind(outline: Spline, d: number, u: number): LineEnd {
  offsetAt(outline, d, u, frame);
  return Math.abs(frame.tx) < 1e-4 ? 'round' : 'meets';
}

const basis = new Float64Array(12);
const [head, foot] = [new Float64Array(6), new Float64Array(6)];

/**
 * Outline parameter at a run on a plan line: Newton on the arc length, from a table. No part of the table holds a knot:
 * over each the outline's derivative is one quadratic. Stateful for speed: successive calls with rising s cost one step.
 */
export class RunMap {
  private readonly us: number[] = [];
  private readonly ss: number[] = [];
  /** The table's part of the last call, and of the hodograph that is laid; -1 for none. */
  private at = 0;
  private laid = -1;
  /** The outline's first derivative over that part in powers of u less the part's start: three numbers of x, three of y. */
  private readonly hodograph = new Float64Array(6);

  constructor(
    private readonly outline: Spline,
    private readonly line: PlanLine,
    step = 12,
  ) {
    const knots = breaks(outline.knots);
    for (const piece of line.pieces) {
      const cuts = [piece.u0, ...knots.filter((k) => k > piece.u0 && k < piece.u1), piece.u1];
      let s = piece.s0;
      this.us.push(piece.u0);
      this.ss.push(s);
      for (let k = 0; k + 1 < cuts.length; k++) {
        const parts = Math.max(1, Math.ceil((cuts[k + 1] - cuts[k]) / step));
        for (let i = 0; i < parts; i++) {
          const a = cuts[k] + ((cuts[k + 1] - cuts[k]) * i) / parts;
          const b = cuts[k] + ((cuts[k + 1] - cuts[k]) * (i + 1)) / parts;
          this.lay(a, b);
          s += this.arc(b - a);
          this.us.push(b);
          this.ss.push(s);
        }
      }
      // The table's own sum replaces the coarser total at the piece's end within rounding.
      this.ss[this.ss.length - 1] = piece.s1;
    }
  }

  /** Lay the hodograph from a to b. Beyond its ends the outline goes on straight. */
  private lay(a: number, b: number): void {
    const { outline, hodograph } = this;
    const { knots } = outline;
    const last = knots[knots.length - 1];
    const middle = (a + b) / 2;
    const span = findSpan(knots, middle);
    const straight = middle < knots[0] || middle > last;
    evalOnSpan(outline, span, straight ? Math.min(last, Math.max(knots[0], middle)) : a, head, basis);
    evalOnSpan(outline, span, b, foot, basis);
    for (let d = 0; d < 2; d++) {
      hodograph[3 * d] = head[2 + d];
      hodograph[3 * d + 1] = straight ? 0 : head[4 + d];
      hodograph[3 * d + 2] = straight || !(b > a) ? 0 : (foot[4 + d] - head[4 + d]) / (2 * (b - a));
    }
  }

  /** Lay the hodograph over part i of the table. */
  private layPart(i: number): void {
    if (i === this.laid) return;
    this.laid = i;
    this.lay(this.us[i], this.us[i + 1]);
  }

  /** Length of the line per unit of u, t on from the start of what is laid. */
  private speed(t: number): number {
    const h = this.hodograph;
    const dx = h[0] + t * (h[1] + t * h[2]);
    const dy = h[3] + t * (h[4] + t * h[5]);
    const square = dx * dx + dy * dy;
    return Math.sqrt(square) - (this.line.offset * (dy * (h[1] + 2 * t * h[2]) - dx * (h[4] + 2 * t * h[5]))) / square;
  }

  /** Length of the line from the start of what is laid to t on. */
  private arc(t: number): number {
    let sum = 0;
    for (let i = 0; i < 5; i++) sum += GAUSS5_W[i] * this.speed(t * GAUSS5_X[i]);
    return sum * t;
  }

  /** u for a run s in [0, length]; outside, the nearer end. */
  parameterAt(s: number): number {
    const { us, ss } = this;
    const last = ss.length - 1;
    if (s <= 0) return us[0];
    if (s >= ss[last]) return us[last];
    let i = this.at;
    if (!(ss[i] <= s && s < ss[i + 1])) {
      let low = 0;
      let high = last;
      while (high - low > 1) {
        const mid = (low + high) >> 1;
        if (ss[mid] <= s) low = mid;
        else high = mid;
      }
      i = low;
      this.at = i;
    }
    this.layPart(i);
    const h = us[i + 1] - us[i];
    const want = s - ss[i];
    const length = ss[i + 1] - ss[i];
    // By Hermite's cubic of u over the run, so near that one step of Newton does.
    const w = want / length;
    let t = h * w * w * (3 - 2 * w) + w * (1 - w) * length * ((1 - w) / this.speed(0) - w / this.speed(h));
    if (!(t > 0 && t < h)) t = h * w;
    for (let k = 0; k < 20; k++) {
      const error = this.arc(t) - want;
      const next = t - error / this.speed(t);
      const within = next >= 0 && next <= h;
      // Newton squares the error: from a step this short nothing is left to check.
      if (within && Math.abs(next - t) < 1e-4) return us[i] + next;
      // Close to a cusp the speed tends to zero: stay inside the part.
      t = within ? next : error > 0 ? t / 2 : (t + h) / 2;
    }
    return us[i] + t;
  }

  /** Run at an outline parameter; NaN where the parameter was trimmed away. */
  runAt(u: number): number {
    for (const piece of this.line.pieces) {
      if (u < piece.u0 - 1e-9 || u > piece.u1 + 1e-9) continue;
      let low = 0;
      let high = this.us.length - 1;
      while (high - low > 1) {
        const mid = (low + high) >> 1;
        if (this.us[mid] <= u) low = mid;
        else high = mid;
      }
      this.layPart(low);
      return Math.min(piece.s1, Math.max(piece.s0, this.ss[low] + this.arc(u - this.us[low])));
    }
    return Number.NaN;
  }
}
