/** Finding a board's lines in the curves of a drawing: which half, which way it lies, where its ends are. */
import { sampled, type At } from '../curves/rational';
import { mm, said, size, type Said } from '../said';
import { boxOf, fail, whereOf, type DrawnCurve } from './drawing';

/** How the drawing lies: millimetres of its unit, and whether the nose is at its right (or top) end. */
export interface DrawingLie {
  readonly mm: number;
  readonly noseHigh: boolean;
}

/** A line walked from tail to nose, mm: x from the tail, v the half-breadth or height; and each place in the drawing's own coordinates. */
export interface Walked {
  readonly x: readonly number[];
  readonly v: readonly number[];
  readonly at: readonly At[];
}

/** A place of a walk, turned so that the board lies along u, its nose at the greatest. */
interface Place {
  readonly u: number;
  readonly v: number;
  readonly at: At;
}

/** Places along a curve at most this share of its size apart. Own choice. */
const STEP = 1 / 250;
/** Two stations this share of the length apart are one: an upright line's. */
const UPRIGHT = 1e-6;
/** An end narrower than this share of the widest place is on the centreline, a flat side that deviates less is straight. Own choices. */
const POINTED = 0.01;
const FLAT = 1e-3;
/** Places of one half that are held against the other, at most. Own choice. */
const COMPARED = 600;
/** Share of the length within which two ends are at the same end of the board. Own choice. */
const SAME_END = 0.02;

/** Places along a whole curve, the joints of its pieces once. */
export function placesOf(curve: DrawnCurve, sag: number, step: number): At[] {
  const flat: number[] = [];
  const out: At[] = [];
  for (const piece of curve.pieces) {
    flat.length = 0;
    sampled(piece, sag, step, flat);
    for (let i = out.length > 0 ? 2 : 0; i < flat.length; i += 2) out.push({ x: flat[i], y: flat[i + 1] });
  }
  return out;
}

const span = (values: readonly number[]): readonly [number, number] => values.reduce<[number, number]>(([low, high], v) => [Math.min(low, v), Math.max(high, v)], [Infinity, -Infinity]);

/**
 * Half a section in a curve, mm from the bottom on the centreline round the rail to the deck there: the right half of a
 * closed one, or a half as it is drawn. x is the height over the bottom, v the distance from the centreline. A fault names the curve.
 */
export function sectionIn(curve: DrawnCurve, scale: number, tolerance: number): Walked {
  const rough = roughly(curve);
  const [low, high] = span(rough.map(({ x }) => x));
  const places = placesOf(curve, tolerance / 40 / scale, (high - low) * STEP * 2);
  const [first, last] = [places[0], places[places.length - 1]];
  const open = !curve.closed;
  const wide = (high - low) * scale;
  if (open && Math.abs(first.x - last.x) > SAME_END * (high - low)) {
    fail(whereOf(curve), said('ends {by} apart across', { by: mm(Math.abs(first.x - last.x) * scale) }), 'a closed section, or half of one from bottom to deck', 'this cannot be a section');
  }
  const axis = open ? (first.x + last.x) / 2 : (low + high) / 2;
  const side = open && axis - low > high - axis ? -1 : 1;
  // Neither end of the board is in a section: only its centreline ends it.
  const ring = (open ? places : places.slice(0, -1)).map((at): Place => ({ u: 0.5, v: side * (at.x - axis) * scale, at }));
  const widest = ring.reduce((best, p, i) => (p.v > ring[best].v ? i : best), 0);
  if (!(wide > 0) || !(ring[widest].v > 0)) fail(whereOf(curve), 'a line without breadth', 'a closed section, or half of one from bottom to deck', 'this cannot be a section');
  const half = open ? ring : about(ring, widest, 1);
  const upward = half[0].at.y <= half[half.length - 1].at.y ? half : half.toReversed();
  const base = upward[0].at.y;
  return { x: upward.map(({ at }) => (at.y - base) * scale), v: upward.map(({ v }) => Math.max(0, v)), at: upward.map(({ at }) => at) };
}

/** A curve within a thousandth of its size. */
function roughly(curve: DrawnCurve): At[] {
  const { low, high } = boxOf([curve]);
  return placesOf(curve, Math.max(high.x - low.x, high.y - low.y) * FLAT, Infinity);
}

/** Whether a curve is drawn up the page: higher than it is wide. */
export function isUpright(curve: DrawnCurve): boolean {
  const places = roughly(curve);
  const [x, y] = [span(places.map((p) => p.x)), span(places.map((p) => p.y))];
  return y[1] - y[0] > x[1] - x[0];
}

/** A curve's places along the board, sampled as close as a fit within `tolerance` asks; u begins at 0. */
function laid(curve: DrawnCurve, { mm: scale, noseHigh }: DrawingLie, tolerance: number): { readonly places: Place[]; readonly start: number; readonly length: number; readonly upright: boolean } {
  const upright = isUpright(curve);
  const rough = roughly(curve);
  const along = span(rough.map((p) => (upright ? p.y : p.x)));
  const places = placesOf(curve, tolerance / 40 / scale, (along[1] - along[0]) * STEP).map((at): Place => {
    // Upright, the page is turned to the right: what was up is along, what was right is down.
    const [u, v] = upright ? [at.y, -at.x] : [at.x, at.y];
    return { u: noseHigh ? u : -u, v, at };
  });
  const [low, high] = span(places.map(({ u }) => u));
  return { places: places.map((p) => ({ u: (p.u - low) * scale, v: p.v * scale, at: p.at })), start: low * scale, length: (high - low) * scale, upright };
}

/** The part of a ring about one of its places, until either end of the board is reached, or the centreline crossed. */
function about(ring: readonly Place[], from: number, length: number): Place[] {
  const n = ring.length;
  const eps = length * UPRIGHT;
  const walk = (step: 1 | -1): Place[] => {
    const out: Place[] = [];
    for (let k = 1; k < n; k++) {
      const [p, q] = [ring[(from + step * (k - 1) + step * n + n) % n], ring[(from + step * k + n * n) % n]];
      if (q.v < 0) {
        const t = p.v / (p.v - q.v);
        out.push({ u: p.u + t * (q.u - p.u), v: 0, at: { x: p.at.x + t * (q.at.x - p.at.x), y: p.at.y + t * (q.at.y - p.at.y) } });
        return out;
      }
      out.push(q);
      if (q.v === 0 || q.u <= eps || q.u >= length - eps) return out;
    }
    return out;
  };
  return [...walk(-1).reverse(), ring[from], ...walk(1)];
}

/** Places from tail to nose, without upright straight lines at the ends; each end that is next to nothing wide brought to the centreline. */
function ordered(places: readonly Place[], length: number, widest: number, ofRing: boolean): Place[] {
  const out = places[0].u <= places[places.length - 1].u ? [...places] : places.toReversed();
  const upright = (a: Place, b: Place) => Math.abs(a.u - b.u) <= length * UPRIGHT && Math.abs(a.v - b.v) > POINTED * widest;
  while (out.length > 2 && upright(out[0], out[1])) out.shift();
  while (out.length > 2 && upright(out[out.length - 1], out[out.length - 2])) out.pop();
  const [tail, nose] = [out[0], out[out.length - 1]];
  const pointed = ({ v }: Place) => v !== 0 && Math.abs(v) < (ofRing ? POINTED : FLAT / 100) * widest;
  // Of a ring the end itself lies on the centreline; of a half its end is there but for rounding.
  const from = pointed(tail) ? [{ ...tail, u: ofRing ? 0 : tail.u, v: 0 }] : [];
  const to = pointed(nose) ? [{ ...nose, u: ofRing ? length : nose.u, v: 0 }] : [];
  return [...from, ...out.slice(ofRing ? 0 : from.length, ofRing || to.length === 0 ? undefined : -1), ...to];
}

function risingOnly(curve: DrawnCurve, places: readonly Place[], length: number, what: string): Walked {
  const back = places.findIndex((p, i) => i > 0 && p.u < places[i - 1].u - length * UPRIGHT);
  if (back > 0) fail(whereOf(curve), said('turns back at {x}', { x: mm(places[back].u) }), 'one way from tail to nose', said('this cannot be {what} as it lies', { what }));
  return { x: places.map(({ u }) => Math.min(length, Math.max(0, u))), v: places.map(({ v }) => v), at: places.map(({ at }) => at) };
}

const mirroredV = (places: readonly Place[], axis: number, by: 1 | -1): Place[] => places.map((p) => ({ ...p, v: by * (p.v - axis) }));

/** How far the flat side of a ring at height v is one straight line along the board, as a share of the length. */
function flatAt(places: readonly Place[], v: number, height: number, length: number): number {
  let along = 0;
  places.forEach((p, i) => {
    const q = places[(i + 1) % places.length];
    if (Math.abs(p.v - v) < FLAT * height && Math.abs(q.v - v) < FLAT * height) along += Math.abs(q.u - p.u);
  });
  return along / length;
}

/** The least way from a place to a walk's chords. */
function wayTo(walk: readonly Place[], { u, v }: Place): number {
  let least = Infinity;
  for (let i = 0; i + 1 < walk.length; i++) {
    const [p, q] = [walk[i], walk[i + 1]];
    const [du, dv] = [q.u - p.u, q.v - p.v];
    const t = Math.min(1, Math.max(0, ((u - p.u) * du + (v - p.v) * dv) / (du * du + dv * dv || 1)));
    least = Math.min(least, Math.hypot(u - p.u - t * du, v - p.v - t * dv));
  }
  return least;
}

/** The outline in a curve, half-breadths from tail to nose; what was made of it, in words. A fault names the curve. */
export function outlineIn(curve: DrawnCurve, lie: DrawingLie, tolerance: number): { readonly walked: Walked; readonly notes: readonly Said[] } {
  const { places, length } = laid(curve, lie, tolerance);
  const [low, high] = span(places.map(({ v }) => v));
  const height = high - low;
  if (!(length > 0 && height > 0)) fail(whereOf(curve), 'a straight line', 'half an outline, or a whole one', 'this cannot be an outline');
  const [first, last] = [places[0], places[places.length - 1]];
  const ring = curve.closed || Math.abs(first.u - last.u) < SAME_END * length;
  if (!ring) {
    const ends = (first.v + last.v) / 2;
    const mean = places.reduce((sum, { v }) => sum + v, 0) / places.length;
    const up = mean >= ends ? 1 : -1;
    const axis = up === 1 ? Math.min(first.v, last.v) : Math.max(first.v, last.v);
    return { walked: risingOnly(curve, ordered(mirroredV(places, axis, up), length, height, false), length, 'an outline'), notes: ['Half an outline: the other half mirrors it.'] };
  }
  // The last of a closed ring is its first again.
  const round = Math.hypot(first.u - last.u, first.v - last.v) <= UPRIGHT * length ? places.slice(0, -1) : places;
  const half = (of: readonly Place[], widest: number) => ordered(about(of, of.reduce((best, p, i) => (p.v > of[best].v ? i : best), 0), length), length, widest, true);
  for (const [axis, by] of [[low, 1], [high, -1]] as const) {
    if (flatAt(round, axis, height, length) > 1 - SAME_END) {
      const above = mirroredV(round, axis, by);
      return { walked: risingOnly(curve, half(above, height), length, 'an outline'), notes: ['Half an outline, closed along the centreline: the other half mirrors it.'] };
    }
  }
  const axis = (low + high) / 2;
  const [port, starboard] = ([1, -1] as const).map((by) => half(mirroredV(round, axis, by), height / 2));
  let apart = { by: 0, at: 0 };
  const every = Math.ceil(starboard.length / COMPARED);
  for (let i = 0; i < starboard.length; i += every) {
    const p = starboard[i];
    const by = wayTo(port, p);
    if (by > apart.by) apart = { by, at: p.u };
  }
  const cut = round.filter((p) => Math.abs(p.v - axis) < 0.2 * port[0].v).reduce((least, p) => Math.min(least, p.u), Infinity);
  return {
    walked: risingOnly(curve, port, length, 'an outline'),
    notes: [
      apart.by > tolerance
        ? said('A whole outline whose halves differ by up to {by}, at {x} from the tail: the upper (or left) half is taken, the other mirrors it.', { by: mm(apart.by, 2), x: mm(apart.at, 0) })
        : said('A whole outline, its halves alike within {by}.', { by: mm(apart.by, 2) }),
      ...(Number.isFinite(cut) && cut > FLAT * 5 * length ? [said('What is cut in between the tips of the tail, {by} deep, is left out: a board here ends square.', { by: mm(cut) })] : []),
    ],
  };
}

/** The lower or the upper way round a ring from one end of the board to the other. */
function sideOf(ring: readonly Place[], side: 'bottom' | 'deck'): readonly Place[] {
  const end = (than: (a: number, b: number) => boolean) => ring.reduce((best, p, i) => (than(p.u, ring[best].u) ? i : best), 0);
  const [tail, nose] = [end((a, b) => a < b), end((a, b) => a > b)];
  const way = (from: number, to: number) => Array.from({ length: ((to - from + ring.length) % ring.length) + 1 }, (_, k) => ring[(from + k) % ring.length]);
  const mean = (of: readonly Place[]) => of.reduce((sum, { v }) => sum + v, 0) / of.length;
  const [one, other] = [way(tail, nose), way(nose, tail)];
  return mean(one) < mean(other) === (side === 'bottom') ? one : other;
}

/** A line of the side view: heights from tail to nose, of a closed one its lower or upper side; where it begins along the page, and how long it is. */
export function sideIn(curve: DrawnCurve, lie: DrawingLie, tolerance: number, side: 'bottom' | 'deck'): Walked & { readonly upright: boolean; readonly start: number; readonly length: number } {
  const { places, start, length, upright } = laid(curve, lie, tolerance);
  const what = side === 'bottom' ? 'the bottom' : 'the deck';
  if (!(length > 0)) fail(whereOf(curve), size(0), 'a line along the board', said('this cannot be {what}', { what }));
  const [low, high] = span(places.map(({ v }) => v));
  const line = curve.closed ? sideOf(places.slice(0, -1), side) : places;
  const height = Math.max(high - low, length * SAME_END);
  const out = line[0].u <= line[line.length - 1].u ? [...line] : line.toReversed();
  const steep = (a: Place, b: Place) => Math.abs(a.u - b.u) <= length * UPRIGHT && Math.abs(a.v - b.v) > FLAT * height;
  while (out.length > 2 && steep(out[0], out[1])) out.shift();
  while (out.length > 2 && steep(out[out.length - 1], out[out.length - 2])) out.pop();
  return { ...risingOnly(curve, out, length, what), upright, start, length };
}

/** The places of a curve that lie farthest apart along the board. */
export function endsAlong(curve: DrawnCurve): readonly [At, At] {
  const upright = isUpright(curve);
  const key = (p: At) => (upright ? p.y : p.x);
  const places = roughly(curve);
  return [places.reduce((a, b) => (key(b) < key(a) ? b : a)), places.reduce((a, b) => (key(b) > key(a) ? b : a))];
}
