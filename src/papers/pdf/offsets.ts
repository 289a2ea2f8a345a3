/**
 * Long parts by offsets: each drawn small, its heights over the straight edge of the stock at even steps below it. What a
 * batten and a rule make of it is as good as a taped print, on one sheet instead of ten.
 */
import { lengthText, unitSign } from '../../say/units';
import type { Sketch } from '../drawing';
import { sheetSize, type PaperSize } from '../sizes';
import type { Stamp } from '../stamp';
import { Flow } from './flow';
import { finishDocument, newDocument } from './pen';

/** A stretch of an edge that is cut in for another part, along the stock. */
interface Notch {
  readonly from: number;
  readonly to: number;
  /** Height of its floor, and whether it is open above. */
  readonly floor: number;
  readonly above: boolean;
}

/** A part by its offsets: at each station along the stock the lowest and highest point, notches left out. */
export interface Offsets {
  /** Of its outline: lettering may reach past it. */
  readonly width: number;
  readonly height: number;
  readonly stations: readonly { readonly x: number; readonly low: number; readonly high: number }[];
  readonly notches: readonly Notch[];
}

/** Steps along the stock: 100 mm, or four inches. */
export const offsetStep = (unit: Stamp['unit']): number => (unit === 'mm' ? 100 : 4 * 25.4);

/** A wall of a notch is plumb to this, at least so high, and so far from the part's ends, where the fingers of a joint are, mm. */
const [PLUMB, WALL, FROM_END] = [1e-4, 2, 30];

/** Where a closed line crosses the plumb line at x, lowest and highest. */
function crossed(points: ArrayLike<number>, x: number): [number, number] {
  let [low, high] = [Infinity, -Infinity];
  const n = points.length / 2;
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    const [ax, ay, bx, by] = [points[2 * i], points[2 * i + 1], points[2 * j], points[2 * j + 1]];
    if ((ax - x) * (bx - x) > 0) continue;
    for (const y of ax === bx ? [ay, by] : [ay + ((by - ay) * (x - ax)) / (bx - ax)]) [low, high] = [Math.min(low, y), Math.max(high, y)];
  }
  return [low, high];
}

/** Plumb walls inside the part, in pairs: the notches. */
function notchesOf(points: ArrayLike<number>, width: number): Notch[] {
  const walls: { x: number; low: number; high: number }[] = [];
  const n = points.length / 2;
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    const [x, y, z] = [points[2 * i], points[2 * i + 1], points[2 * j + 1]];
    if (Math.abs(points[2 * j] - x) < PLUMB && Math.abs(z - y) > WALL && x > FROM_END && x < width - FROM_END) walls.push({ x, low: Math.min(y, z), high: Math.max(y, z) });
  }
  walls.sort((a, b) => a.x - b.x);
  const out: Notch[] = [];
  for (let i = 0; i + 1 < walls.length; i += 2) {
    const [a, b] = [walls[i], walls[i + 1]];
    const [, top] = crossed(points, (a.x + b.x) / 2);
    const above = top < Math.max(a.high, b.high) - WALL / 2;
    out.push({ from: a.x, to: b.x, floor: above ? top : crossed(points, (a.x + b.x) / 2)[0], above });
  }
  return out;
}

/** The points of a part's outline, and how long and high it is. */
function outlineOf({ strokes }: Sketch): { readonly points: ArrayLike<number>; readonly width: number; readonly height: number } {
  const points = strokes.find(({ layer, closed }) => layer === 'cut' && closed)?.points ?? [];
  let [width, height] = [0, 0];
  for (let i = 0; i + 1 < points.length; i += 2) [width, height] = [Math.max(width, points[i]), Math.max(height, points[i + 1])];
  return { points, width, height };
}

/** The offsets of a part's first closed cut line, lower left corner at (0, 0), at every `step` and at both ends. */
export function partOffsets(sketch: Sketch, step: number): Offsets {
  const { points: outline, width, height } = outlineOf(sketch);
  const notches = notchesOf(outline, width);
  const xs: number[] = [];
  for (let x = 0; x < width - step / 5; x += step) xs.push(x);
  xs.push(width);
  const stations = xs.map((x) => {
    // A hair inside the ends, where the line runs plumb; beside a notch where one lies there.
    const notch = notches.find(({ from, to }) => x > from - PLUMB && x < to + PLUMB);
    const at = notch ? (x - notch.from < notch.to - x ? notch.from - 0.01 : notch.to + 0.01) : Math.min(width - 0.01, Math.max(0.01, x));
    const [low, high] = crossed(outline, at);
    return { x: notch ? at : x, low, high };
  });
  return { width, height, stations, notches };
}

/** Figures in a row, and heights of a row's lines, mm. */
const ACROSS = 12;
const [LINE, ROW] = [4.6, 15.4];
/** Tallest that a part is drawn, mm. */
const TALL = 26;

function part(flow: Flow, sketch: Sketch, stamp: Stamp): void {
  const { pen } = flow;
  const say = (mm: number, decimals = 1): string => lengthText(mm, stamp.unit, decimals);
  const { width, height, stations, notches } = partOffsets(sketch, offsetStep(stamp.unit));
  const k = Math.min(flow.width / width, TALL / Math.max(1, height));
  pen.text(flow.left, flow.y + 5, sketch.title, { size: 13, face: 'bold' });
  pen.text(flow.left + flow.width, flow.y + 5, `${say(width)} long, ${say(height)} wide, ${unitSign(stamp.unit)}`, { size: 10, align: 'right' });
  flow.space(8 + height * k);
  const place = (points: ArrayLike<number>): Float64Array => Float64Array.from(points, (v, i) => (i % 2 === 0 ? flow.left + v * k : flow.y - v * k));
  for (const { x, high } of stations) pen.line(flow.left + x * k, flow.y + 1.5, flow.left + x * k, flow.y - high * k, { width: 0.1, grey: 0.5 });
  for (const { layer, points, closed } of sketch.strokes) if (layer === 'cut') pen.path(place(points), { width: 0.3, closed });
  pen.line(flow.left, flow.y, flow.left + flow.width, flow.y, { width: 0.15, dash: [4, 1.5] });
  flow.space(3);
  const each = (flow.width - 16) / ACROSS;
  for (let from = 0; from < stations.length; from += ACROSS) {
    flow.need(ROW);
    ['at', 'top', 'bottom'].forEach((word, i) => flow.pen.text(flow.left, flow.y + 3.6 + i * LINE, word, { size: 8.5, grey: 0.25 }));
    stations.slice(from, from + ACROSS).forEach(({ x, low, high }, i) => {
      const left = flow.left + 16 + i * each;
      flow.pen.rect(left, flow.y, each, 3 * LINE, { width: 0.1, grey: 0.6 });
      [say(x, Number.isInteger(x) ? 0 : 1), say(high), say(low)].forEach((figure, line) =>
        flow.fitted(left + 0.6, flow.y + 3.6 + line * LINE, each - 1.2, figure, 10.5, line === 0 ? 'regular' : 'bold', 'centre', line === 0 ? 0.25 : 0));
    });
    flow.space(ROW);
  }
  if (notches.length > 0) {
    flow.text(`Notches: ${notches.map(({ from, to, floor, above }, i) => `${i + 1}, ${say(from)} to ${say(to)}, open ${above ? 'above' : 'below'}, floor at ${say(floor)}`).join('; ')}.`, 9.5);
  }
  flow.space(4);
}

/** Height that a part takes if it is kept on one page, mm. */
function heightOf(sketch: Sketch, stamp: Stamp, room: number): number {
  const { width, height } = outlineOf(sketch);
  return 11 + Math.min(TALL, (height * room) / width) + ROW * Math.ceil((width / offsetStep(stamp.unit) + 1) / ACROSS);
}

/** Parts by their offsets, as PDF. A3 is the A4 sheet enlarged. */
export async function writeOffsetsPdf(title: string, how: string, sketches: readonly Sketch[], paper: Exclude<PaperSize, 'roll'>, stamp: Stamp): Promise<Uint8Array> {
  const { pdf, fonts } = await newDocument(title, stamp);
  const flow = new Flow(pdf, fonts, sheetSize(paper === 'Letter' ? 'Letter' : 'A4'), paper === 'A3' ? Math.SQRT2 : 1, stamp, `${title}: offsets`);
  flow.text(`${how} Figures are heights over the stock's straight edge (dashed), ${unitSign(stamp.unit)}, at every step along it from the tail end. Set them off, spring a batten through the marks, and draw. Full size: the DXF and SVG files, or one sheet off a roll.`, 10);
  flow.space(2);
  for (const sketch of sketches) {
    flow.need(heightOf(sketch, stamp, flow.width));
    part(flow, sketch, stamp);
  }
  flow.finish();
  return finishDocument(pdf);
}
