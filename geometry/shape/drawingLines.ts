/** Finding a board's lines in the curves of a drawing: which half, which way it lies, where its ends are. */
import { nearestOn } from '../curves/chords';
import { isStraight, sampled, type At } from '../curves/rational';
import { LEAST_POINT_STEP } from '../design/cross';
import { mm, said, size, type Said } from '../said';
import { boxOf, fail, whereOf, type DrawnCurve } from './drawing';
import { kinkAt, kinksOf } from './drawingCorners';

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
/** An upright end that is left at such an angle ends there, radians. Own choice: that of a corner. */
const BLUNT = (5 * Math.PI) / 180;
/** Places of one half that are held against the other, at most. Own choice. */
const COMPARED = 600;
/** Share of the length within which two ends are at the same end of the board. Own choice. */
const SAME_END = 0.02;

/** Places along a whole curve, the joints of its pieces once. A straight piece among bent ones is meant to be straight: it has places too, where one of many straight ones is a chord. */
export function placesOf(curve: DrawnCurve, sag: number, step: number): At[] {
  const flat: number[] = [];
  const out: At[] = [];
  const bent = curve.pieces.some((piece) => !isStraight(piece));
  for (const piece of curve.pieces) {
    flat.length = 0;
    sampled(piece, sag, step, flat);
    if (bent && isStraight(piece)) {
      const [x, y, tx, ty] = flat;
      const n = Math.ceil(Math.hypot(tx - x, ty - y) / step);
      flat.splice(2, 2, ...Array.from({ length: Math.max(0, n - 1) }, (_, k) => [x + ((tx - x) * (k + 1)) / n, y + ((ty - y) * (k + 1)) / n]).flat(), tx, ty);
    }
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

/** The part of a ring about one of its places, to either end of the board and on along what is upright there, or until the centreline is crossed. */
function about(ring: readonly Place[], from: number, length: number): Place[] {
  const n = ring.length;
  const eps = length * UPRIGHT;
  const atEnd = ({ u }: Place) => u <= eps || u >= length - eps;
  const walk = (step: 1 | -1): Place[] => {
    const out: Place[] = [];
    for (let k = 1; k < n; k++) {
      const [p, q] = [ring[(from + step * (k - 1) + 2 * n) % n], ring[(from + step * k + 2 * n) % n]];
      if (q.v < 0) {
        // From the end inward it is what is cut in between two tips.
        if (out.length > 0 && atEnd(out[out.length - 1]) && !atEnd(q)) return out;
        const t = p.v / (p.v - q.v);
        out.push({ u: p.u + t * (q.u - p.u), v: 0, at: { x: p.at.x + t * (q.at.x - p.at.x), y: p.at.y + t * (q.at.y - p.at.y) } });
        return out;
      }
      const ended = out.length > 0 && atEnd(out[out.length - 1]);
      if (ended && !atEnd(q)) return out;
      out.push(q);
      if (q.v === 0) return out;
    }
    return out;
  };
  return [...walk(-1).reverse(), ring[from], ...walk(1)];
}

/** An outline's places from tail to nose, without what is upright at its ends; an end that is next to nothing wide, and does not end blunt, brought to the centreline. */
function ordered(places: readonly Place[], length: number, widest: number, ofRing: boolean): Place[] {
  let out = places[0].u <= places[places.length - 1].u ? [...places] : places.toReversed();
  for (const end of [0, length]) {
    const run = out.findIndex(({ u }) => Math.abs(u - out[0].u) > length * UPRIGHT) - 1;
    // A corner ends what is upright however narrow it is: where it has none it may be a chord of a round end.
    const blunt = run > 0 && (Math.abs(out[run].v - out[0].v) > POINTED * widest || kinkAt(out, run) > BLUNT);
    if (blunt) out = out.slice(run);
    const [{ v }] = out;
    // Of a ring the end itself lies on the centreline; of a half its end is there but for rounding.
    if (!blunt && v !== 0 && Math.abs(v) < (ofRing ? POINTED : FLAT / 100) * widest) {
      const tip = { ...out[0], u: ofRing ? end : out[0].u, v: 0 };
      out = ofRing ? [tip, ...out] : [tip, ...out.slice(1)];
    }
    out.reverse();
  }
  return out;
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
    const t = nearestOn(du, dv, u - p.u, v - p.v);
    least = Math.min(least, Math.hypot(u - p.u - t * du, v - p.v - t * dv));
  }
  return least;
}

/** The half of an outline that is drawn, or taken of a whole one. */
function outlineDrawn(curve: DrawnCurve, lie: DrawingLie, tolerance: number): { readonly walked: Walked; readonly notes: readonly Said[] } {
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
  const cut = round.reduce((least, p, i) => {
    const q = round[(i + 1) % round.length];
    const [a, b] = [p.v - axis, q.v - axis];
    return a * b > 0 ? least : Math.min(least, a === b ? Math.min(p.u, q.u) : p.u + (a / (a - b)) * (q.u - p.u));
  }, Infinity);
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

/** A walk without what stands out between the corners of an end, by less than two points of a board are apart: no board has such an end. */
function withoutBulges(walk: Walked, kinks: readonly { readonly index: number }[]): { readonly walked: Walked; readonly from: number; readonly notes: readonly Said[] } {
  const { x, v, at } = walk;
  const last = x.length - 1;
  const flat = ({ index }: { index: number }, end: number) => {
    const by = Math.abs(x[index] - x[end]);
    return by < 2 * LEAST_POINT_STEP && v[index] - v[end] > by;
  };
  const [from, to] = [kinks.findLast((kink) => flat(kink, 0))?.index ?? 0, kinks.find((kink) => flat(kink, last))?.index ?? last];
  const told = ([['tail', from, x[from] - x[0]], ['nose', last - to, x[last] - x[to]]] as const).filter(([, places]) => places > 0);
  return {
    walked: { x: x.slice(from, to + 1).map((here) => here - x[from]), v: v.slice(from, to + 1), at: at.slice(from, to + 1) }, from,
    notes: told.map(([end, , by]) => said('What stands out between the corners of the {end}, {by} deep, is left out: a board here ends square.', { end, by: mm(by) })),
  };
}

/** The outline in a curve, half-breadths from tail to nose, and the places of it that are corners; what was made of it, in words. A fault names the curve. */
export function outlineIn(curve: DrawnCurve, lie: DrawingLie, tolerance: number): { readonly walked: Walked; readonly corners: readonly number[]; readonly notes: readonly Said[] } {
  const whole = outlineDrawn(curve, lie, tolerance);
  const kinks = kinksOf(whole.walked.x.map((u, i) => ({ u, v: whole.walked.v[i] })));
  const { walked, from, notes } = withoutBulges(whole.walked, kinks);
  const { x } = walked;
  // Sharpest first: a lesser one has to leave room for it.
  const corners = kinks.map(({ index, turn }) => ({ index: index - from, turn })).filter(({ index }) => index > 0 && index < x.length - 1).sort((a, b) => b.turn - a.turn)
    .reduce<typeof kinks>((kept, kink) => ([0, x.length - 1, ...kept.map(({ index }) => index)].every((other) => Math.abs(x[kink.index] - x[other]) >= LEAST_POINT_STEP) ? [...kept, kink] : kept), [])
    .sort((a, b) => a.index - b.index);
  return {
    walked, corners: corners.map(({ index }) => index),
    notes: [...whole.notes, ...notes, ...corners.map(({ index, turn }) => said('It has a corner at {x} from the tail, of {turn}.', { x: mm(x[index], 0), turn: { of: 'deg', value: (turn * 180) / Math.PI, decimals: 0 } }))],
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
