/**
 * The wall sheet: one A3 page with the whole rail at a glance. Side, half plan and the rail's stack stand over each other
 * on one scale of stations, every rib's line runs down through them into its column of figures; below, what is cut and
 * how it is bent. Figures are cut for two metres: an eye of full sight reads 5 minutes of arc (from memory), 2.9 mm
 * there; capitals here are 3.5 mm and more wherever the board leaves them room.
 */
import { isHeated, stripName } from '../../../geometry/parts/stripWords';
import type { Parts } from '../../../geometry/parts/types';
import { sectionAt } from '../../../geometry/rail/query';
import { stopsOf } from '../../../geometry/rail/laid';
import type { Plan } from '../../../geometry/types';
import { textOf } from '../../say/said';
import { angleText, fixed, lengthText, lengthWithUnit } from '../../say/units';
import { bendText } from '../../say/bendWords';
import { BEND_WORDS } from '../../say/words';
import type { Recipe } from '../recipe';
import { steamText } from '../railTables';
import { sheetSize } from '../sizes';
import { stampLine } from '../stamp';
import { outlinePoints, profilePoints } from './bench/cover';
import type { Face } from './letters';
import { finishDocument, newDocument, Pen, type Align } from './pen';
import { MARGIN } from './sheets';
import { drawStack } from './stack';

/** Room on the left for the names of the lines, mm. */
const NAMES = 27;
/** Most that side, half plan and stack take of the height, mm. */
const [SIDE, HALF, STACK] = [32, 54, 40];
/** Height of a line of the ribs' figures, and its letters, points. */
const [LINE, FIGURE] = [7.6, 17];

/** Places and scale that all three drawings share. */
interface Sheet {
  readonly pen: Pen;
  readonly recipe: Recipe;
  readonly left: number;
  readonly k: number;
  readonly say: (mm: number, decimals?: number) => string;
}

/** One line of text, made smaller where it would not fit. */
function fitted(pen: Pen, x: number, y: number, w: number, text: string, size: number, face: Face = 'regular', align: Align = 'left', grey = 0): void {
  const wide = pen.measure(text, size, face);
  pen.text(align === 'left' ? x : align === 'right' ? x + w : x + w / 2, y, text, { size: wide > w ? (size * w) / wide : size, face, align, grey });
}

/** Side and half plan, each under its name; returns where they end. */
function lines({ pen, recipe: { plan, parts }, left, k }: Sheet, top: number): number {
  const { hull, rail } = plan;
  const px = (x: number): number => left + x * k;
  const profile = profilePoints(plan);
  const bench = top + Math.max(...profile.filter((_, i) => i % 2 === 1)) * k;
  pen.path(Float64Array.from(profile, (v, i) => (i % 2 === 0 ? px(v) : bench - v * k)), { fill: 0.93, width: 0.5 });
  pen.line(left, bench, left + hull.length * k, bench, { width: 0.2, grey: 0.4 });
  pen.text(MARGIN, bench - 1, 'side', { size: 15, face: 'bold' });
  const middle = bench + 6;
  const half = (points: ArrayLike<number>): Float64Array => Float64Array.from(points, (v, i) => (i % 2 === 0 ? px(v) : middle + v * k));
  const end = middle + hull.widest.halfBreadth * k;
  const outline = outlinePoints(plan);
  pen.path([...half(outline), px(hull.length), middle, px(0), middle], { fill: 0.97, width: 0.6 });
  pen.within(left - 1, middle, hull.length * k + 2, end - middle + 1, () => {
    for (const block of parts.blocks ?? []) pen.path(half(block.plan.outline), { fill: 0.8, width: 0.3 });
  });
  const { samples } = rail;
  const face: number[] = [];
  for (let i = 0; i < samples.n; i += 4) face.push(samples.x[i], samples.y[i]);
  face.push(samples.x[samples.n - 1], samples.y[samples.n - 1]);
  pen.path(half(face), { width: 0.3 });
  pen.line(left - 2, middle, left + hull.length * k + 2, middle, { width: 0.15, dash: [6, 1.5, 1, 1.5] });
  pen.text(MARGIN, middle + 8, 'half plan,', { size: 15, face: 'bold' });
  pen.text(MARGIN, middle + 14, 'starboard', { size: 15, face: 'bold' });
  return end;
}

/** The stack over the stations; every stop with its distance from the nearer end. Returns where it ends. */
function stack({ pen, recipe: { plan, parts }, left, k, say }: Sheet, top: number): number {
  const { rail, design, hull } = plan;
  const r = design.rail;
  const whole = r.soleThickness + r.capThickness + Math.max(r.spacerHeight, rail.range.gap.max);
  const up = STACK / whole;
  const base = top + STACK;
  const soleTop = base - r.soleThickness * up;
  const across = (s: number): number => left + sectionAt(plan, s).x * k;
  drawStack(pen, plan, parts, { across, soleTop, up });
  const high = r.spacerHeight * up;
  const size = Math.min(15, high * 2.4);
  for (const stop of stopsOf(rail)) {
    const text = say(Math.min(stop.x, hull.length - stop.x), 0);
    const y = soleTop - (stop.row - 0.5) * high + size * 0.125;
    const x = left + stop.x * k + (stop.end === 'tail' ? 1.2 : -1.2);
    const wide = pen.measure(text, size, 'bold') + 1;
    pen.rect(stop.end === 'tail' ? x - 0.5 : x - wide + 0.5, y - size * 0.27, wide, size * 0.31, { fill: 1, bare: true });
    pen.text(x, y, text, { size, face: 'bold', align: stop.end === 'tail' ? 'left' : 'right' });
  }
  pen.text(MARGIN, base - STACK / 2 - 2, 'the box,', { size: 15, face: 'bold' });
  pen.text(MARGIN, base - STACK / 2 + 4, `heights x ${fixed(up / k, 0)}`, { size: 11 });
  pen.text(MARGIN, base - STACK / 2 + 9, 'stops: from', { size: 10, grey: 0.2 });
  pen.text(MARGIN, base - STACK / 2 + 13, 'the nearer end', { size: 10, grey: 0.2 });
  return base;
}

/** A column a rib: where it stands, what the box is there. Returns where it ends. */
function ribs({ pen, recipe: { plan }, left, k, say }: Sheet, top: number, heads: number): number {
  const { rail, hull } = plan;
  const rows: readonly [string, (rib: (typeof rail.ribs)[number]) => string, Face][] = [
    ['from tail', (rib) => say(rib.x), 'bold'], ['from nose', (rib) => say(hull.length - rib.x), 'regular'],
    ['gap', (rib) => say(rib.gap), 'bold'], ['rows', (rib) => String(rib.rows), 'regular'],
    ['bevel', (rib) => angleText(rib.section.bevel, 1), 'bold'], ['planing', (rib) => say(rib.section.planing), 'regular'],
  ];
  const right = left + hull.length * k;
  const places = rail.ribs.map((rib) => left + rib.x * k);
  rows.forEach(([name], i) => {
    if (i % 2 === 0) pen.rect(MARGIN, top + i * LINE, right - MARGIN, LINE, { fill: 0.93, bare: true });
    pen.text(MARGIN + 1, top + i * LINE + 5.7, name, { size: 14, face: 'bold' });
  });
  rail.ribs.forEach((rib, n) => {
    const x = places[n];
    const room = Math.min(x - (n > 0 ? places[n - 1] : MARGIN + NAMES - 6), n + 1 < places.length ? places[n + 1] - x : 2 * (right + 6 - x)) - 2;
    pen.line(x, heads + 5, x, top, { width: 0.2, grey: 0.35, dash: [2, 1.2] });
    pen.circle(x, heads, 4.6, { fill: 1, width: 0.5 });
    pen.text(x, heads + 2.2, String(rib.index + 1), { size: 18, face: 'bold', align: 'centre' });
    rows.forEach(([, figure, face], i) => fitted(pen, x - room / 2, top + i * LINE + 5.9, room, figure(rib), FIGURE, face, 'centre'));
  });
  return top + rows.length * LINE;
}

/** Lines of one column of the foot, in letters as large as their number allows. */
function column(pen: Pen, x: number, top: number, w: number, high: number, head: string, list: readonly (readonly [string, string])[]): void {
  pen.line(x, top, x + w, top, { width: 0.5 });
  pen.text(x, top + 6.2, head, { size: 16, face: 'bold' });
  const step = Math.min(7.4, (high - 8) / Math.max(1, list.length));
  const size = Math.min(15, step * 2.2);
  list.forEach(([what, figure], i) => {
    const y = top + 8 + (i + 0.78) * step;
    const wide = figure === '' ? 0 : Math.min(w * 0.62, pen.measure(figure, size, 'bold'));
    fitted(pen, x, y, w - wide - 2, what, size);
    if (figure !== '') fitted(pen, x + w - wide, y, wide, figure, size, 'bold', 'right');
  });
}

/** What is cut: pieces of one strip and length counted, outer skins by layer. */
function cuts(parts: Parts, say: Sheet['say']): (readonly [string, string])[] {
  const pieces = new Map<string, number>();
  const add = (name: string, length: number, count: number) => {
    const key = `${name}|${say(length)}`;
    pieces.set(key, (pieces.get(key) ?? 0) + count);
  };
  for (const { strip, length } of parts.joints?.pieces ?? []) add(stripName(strip), length, 1);
  for (const piece of parts.blanks.flatMap((blank) => blank.pieces)) add(`Outer skin ${piece.layer}`, piece.boxLength, piece.count * piece.layers);
  return [...pieces].map(([key, count]) => {
    const [name, length] = key.split('|');
    return [name, `${count} x ${length}`] as const;
  });
}

/** How strips are brought to their curve: those that do not just bend cold, by their stretches. */
function bends(plan: Plan, parts: Parts, say: Sheet['say']): (readonly [string, string])[] {
  const from = (s: number): string => say(sectionAt(plan, s).x, 0);
  const told = parts.bending.flatMap(({ strip, zones }) => zones.filter(({ method }) => method !== 'cold').map((zone) =>
    [`${stripName(strip)}: ${bendText(zone)}`, `${from(zone.s0)} to ${from(zone.s1)}`] as const));
  return [...told, [told.length === 0 ? `All strips: ${BEND_WORDS.cold}` : `The rest: ${BEND_WORDS.cold}`, ''] as const];
}

function sizes({ plan }: Recipe, say: Sheet['say']): (readonly [string, string])[] {
  const { rail, skins } = plan.design;
  return [
    ['sole', `${say(rail.stripWidth)} x ${say(rail.soleThickness)}`], ['cap', `${say(rail.stripWidth)} x ${say(rail.capThickness)}`],
    ['spacers', `${say(rail.spacerWidth)} x ${say(rail.spacerHeight)}`], ['outer skins', `${rail.outerLayers} x ${say(rail.outerThickness)}`],
    ['bottom, deck', `${say(skins.bottom)}, ${say(skins.deck)}`], ['ribs', say(plan.design.frames.ribThickness)],
  ];
}

/** The sheet as PDF, A3 lying. */
export async function writeWallSheet(recipe: Recipe): Promise<Uint8Array> {
  const { plan, parts, stamp } = recipe;
  const { hull } = plan;
  const { pdf, fonts } = await newDocument('Wall sheet', stamp);
  const [short, long] = sheetSize('A3');
  const pen = new Pen(pdf, fonts, long, short);
  const width = long - 2 * MARGIN;
  const say = (mm: number, decimals = 1): string => lengthText(mm, stamp.unit, decimals);
  const tall = Math.max(...profilePoints(plan).filter((_, i) => i % 2 === 1));
  const k = Math.min((width - NAMES) / hull.length, SIDE / tall, HALF / hull.widest.halfBreadth);
  const sheet: Sheet = { pen, recipe, left: MARGIN + NAMES, k, say };
  const figures = `${lengthWithUnit(hull.length, stamp.unit, 0)} x ${lengthWithUnit(2 * hull.widest.halfBreadth, stamp.unit, 0)}, ${fixed(hull.volume / 1e6, 1)} l`;
  fitted(pen, MARGIN, MARGIN + 8, width - 150, stamp.board, 30, 'bold');
  fitted(pen, long - MARGIN - 146, MARGIN + 4.6, 146, stampLine(stamp), 11, 'regular', 'right');
  fitted(pen, long - MARGIN - 146, MARGIN + 11, 146, figures, 18, 'bold', 'right');
  pen.line(MARGIN, MARGIN + 13, long - MARGIN, MARGIN + 13, { width: 0.6 });
  const heads = MARGIN + 19.5;
  pen.text(MARGIN, heads + 2, 'rib', { size: 15, face: 'bold' });
  const plane = lines(sheet, heads + 7);
  const box = stack(sheet, plane + 5);
  const table = ribs(sheet, box + 4, heads);
  const foot = table + 5;
  const high = short - MARGIN - foot - 11;
  const cut = cuts(parts, say);
  const wide = (width - 18) / 4;
  // A long cut list takes two of the four columns; sizes and bends the others.
  const half = cut.length > 8 ? Math.ceil(cut.length / 2) : cut.length;
  const at = (n: number): number => MARGIN + n * (wide + 6);
  column(pen, at(0), foot, wide, high, 'Sizes', sizes(recipe, say));
  column(pen, at(1), foot, wide, high, 'Cut', cut.slice(0, half));
  if (half < cut.length) column(pen, at(2), foot, wide, high, 'Cut, continued', cut.slice(half));
  const bend = half < cut.length ? 3 : 2;
  column(pen, at(bend), foot, (4 - bend) * wide + (3 - bend) * 6, high, 'Bend, stations from the tail', bends(plan, parts, say));
  const steam = parts.bending.some(({ zones }) => zones.some(isHeated)) ? `${textOf(steamText(parts), stamp.unit)} ` : '';
  pen.paragraph(MARGIN, short - MARGIN - 4.4, width, `${steam}Hatched: heat; cross-hatched: needs a block. Diamonds: joints, black on starboard, white on port. Grey in the plan: blocks. Planing: off the cap's outer edge.`, { size: 10, grey: 0.15 });
  return finishDocument(pdf);
}
