/** The rail in figures: at each rib, at even steps, and each rib's section drawn full size. */
import { hasBox, sectionDrawing } from '../../../../geometry/rail/query';
import { size } from '../../../../geometry/said';
import type { PartKind, SectionDrawing } from '../../../../geometry/types';
import { textOf } from '../../../say/said';
import { radiusText } from '../../../say/bendWords';
import { radiusOf, ribPlaces, stepPlaces, type BoxPlace } from '../../railTables';
import { tickBox, type PrintColumn } from '../flow';
import type { Pen } from '../pen';
import { BAR_HEIGHT, checkBar, MARGIN } from '../sheets';
import { deg, len, lenUnit, ofSide, signOf, type Kit } from './kit';
import { bendLegend, bendMarks } from './marks';

/** Figures of one place, a dash where there is no box. */
function figures(kit: Kit, { x, section }: BoxPlace) {
  const { plan } = kit;
  const box = hasBox(plan, section.s);
  const ofBox = (text: string): string => (box ? text : '–');
  return {
    stationTail: len(kit, x), stationNose: len(kit, plan.hull.length - x),
    runTail: len(kit, section.s), runNose: len(kit, plan.rail.face.length - section.s),
    gap: ofBox(len(kit, section.gap)), rows: ofBox(String(section.rows)), bevel: ofBox(deg(section.bevel)),
    planing: ofBox(len(kit, section.planing)), capLeft: ofBox(len(kit, section.capLeft)),
    radius: radiusText(radiusOf(section), kit.stamp.unit), cover: ofBox(len(kit, section.cover)),
    thin: box && section.cover < plan.design.rail.leastCover,
  };
}

/** The strip's width, told true: a bevel set by a rounded one is wrong, so no fraction of an inch either. */
const trueWidth = ({ plan, stamp }: Kit): string => textOf(size(plan.design.rail.stripWidth), stamp.unit === 'mm' ? 'mm' : 'in');

function ribFigures(kit: Kit, places: readonly BoxPlace[]): void {
  const { flow, parts } = kit;
  const rows = places.map((place) => figures(kit, place));
  const sign = signOf(kit);
  const wide = (flow.width - 98) / 6;
  const columns: PrintColumn[] = [
    { title: ['rib'], width: 10, align: 'centre', face: 'bold', size: 14 },
    { title: ['station', 'from tail'], width: wide, face: 'bold' },
    { title: ['station', 'from nose'], width: wide, face: 'bold' },
    { title: ['along rail', 'from tail'], width: wide },
    { title: ['along rail', 'from nose'], width: wide },
    { title: ['gap', sign], width: wide, face: 'bold' },
    { title: ['rows'], width: 10, align: 'centre', face: 'bold' },
    { title: ['bevel'], width: 16, face: 'bold' },
    { title: ['planing', `over ${trueWidth(kit)}`], width: 16, face: 'bold' },
    { title: ['cap', 'left'], width: 12 },
    { title: ['radius', sign], width: wide },
    { title: ['bends'], width: 21, align: 'centre', draw: (pen, r, x, y, w, h) => bendMarks(pen, parts, places[r].section.s, x + 1, y, w - 2, h) },
    { title: ['cover', sign], width: 13 },
  ];
  flow.table(columns, rows.map((f, i) => [
    String((places[i].rib?.index ?? 0) + 1), f.stationTail, f.stationNose, f.runTail, f.runNose, f.gap, f.rows,
    f.bevel, f.planing, f.capLeft, f.radius, '', f.thin ? `! ${f.cover}` : f.cover,
  ]), { rowHeight: 6.2, size: kit.stamp.unit === 'in16' ? 10 : 11.5 });
}

/** Figures of the steps along the rail, two lists side by side: tail half, nose half. */
function stepFigures(kit: Kit, places: readonly BoxPlace[]): void {
  const { flow } = kit;
  const sign = signOf(kit);
  const half = Math.ceil(places.length / 2);
  const wide = flow.width / 2;
  const columns: PrintColumn[] = [
    { title: ['along rail', `from tail ${sign}`], width: wide - 79, face: 'bold' }, { title: ['station', 'from tail'], width: 17 }, { title: ['gap', sign], width: 13, face: 'bold' },
    { title: ['rows'], width: 9, align: 'centre', face: 'bold' }, { title: ['bevel'], width: 14, face: 'bold' },
    { title: ['planing', `over ${trueWidth(kit)}`], width: 14, face: 'bold' }, { title: ['cover', sign], width: 12 },
  ];
  const cells = (place: BoxPlace | undefined): string[] => {
    if (!place) return columns.map(() => '');
    const f = figures(kit, place);
    return [f.runTail, f.stationTail, f.gap, f.rows, f.bevel, f.planing, f.thin ? `! ${f.cover}` : f.cover];
  };
  flow.table([...columns, ...columns], Array.from({ length: half }, (_, i) => [...cells(places[i]), ...cells(places[half + i])]), {
    rowHeight: 4.9, size: kit.stamp.unit === 'in16' ? 9 : 10.5,
  });
}

/** What the letters of the bending column mean, above a table. */
function legend(kit: Kit): void {
  bendLegend(kit.flow.pen, kit.flow.left, kit.flow.y + 3);
  kit.flow.space(5.4);
}

function notes(kit: Kit): void {
  const { flow, plan } = kit;
  flow.text(
    `Station: along the centreline, a rib's its own plane; square to the rail its section meets the box's outer face elsewhere (rib cards: face). Along the rail: on the curve of the box's outer face (inside the outer skins), starboard and port alike. ` +
      `Planing: depth at the cap's outer edge; it is what the deck falls over the strip's ${trueWidth(kit)}. ` +
      `Cap left: thickness left there. Radius: of the box face in plan. Cover: least timber between hollow and finished outside` +
      `${plan.design.rail.leastCover > 0 ? `; ! is less than ${lenUnit(kit, plan.design.rail.leastCover)}` : ''}. – : no cap there.`,
    8.5, 'regular', 0, 0.15,
  );
}

/** The table by rib. */
export function ribChapter(kit: Kit): void {
  const { flow } = kit;
  flow.chapter(`The rail at each rib${ofSide(kit)}`, 16);
  legend(kit);
  const places = ribPlaces(kit.plan);
  if (places.length === 0) flow.text('No rib meets the rail.');
  else ribFigures(kit, places);
  notes(kit);
}

/** The table by even steps along the rail. */
export function stepChapter(kit: Kit): void {
  kit.flow.chapter(`The rail every ${textOf(size(kit.step), kit.stamp.unit)} along its curve${ofSide(kit)}`, 40);
  stepFigures(kit, stepPlaces(kit.plan, kit.step));
}

const FILLS: Readonly<Partial<Record<PartKind, number>>> = {
  rib: 0.95, sole: 0.72, cap: 0.72, row: 0.84, 'outer-skin': 0.9, 'bottom-skin': 0.8, 'deck-skin': 0.8, hollow: 1,
};
const ORDER: readonly PartKind[] = ['rib', 'bottom-skin', 'deck-skin', 'hollow', 'sole', 'row', 'cap', 'outer-skin'];

/** Part of a section that a card shows: from so far inboard of the rib-end line, mm. */
const INBOARD = 24;

/** A section at a scale, o = 0 at x, z = 0 at y, clipped to a box. */
function drawSection(pen: Pen, drawing: SectionDrawing, x: number, y: number, k: number, box: readonly [number, number, number, number]): void {
  const place = (points: Float64Array) => Float64Array.from(points, (v, i) => (i % 2 === 0 ? x + v * k : y - v * k));
  pen.within(...box, () => {
    for (const kind of ORDER) {
      for (const shape of drawing.shapes) {
        if (shape.kind === kind) pen.path(place(shape.points), { fill: FILLS[kind], width: 0.18 });
      }
    }
    pen.path(place(drawing.finished), { width: 0.55 });
  });
}

/** Highest and lowest of the finished outside within the card's reach. */
function extent(drawing: SectionDrawing): { low: number; high: number; out: number } {
  const p = drawing.finished;
  let [low, high, out] = [Infinity, -Infinity, 0];
  for (let i = 0; i < p.length; i += 2) {
    out = Math.max(out, p[i]);
    if (p[i] < -INBOARD) continue;
    low = Math.min(low, p[i + 1]);
    high = Math.max(high, p[i + 1]);
  }
  return { low, high, out };
}

/** Cards in a row, and what a card's words take above its section, mm. */
const CARDS = 4;
const CARD_HEAD = 20;

/** Every rib's card: its section drawn full size under its figures. */
export function cardChapter(kit: Kit): void {
  const { flow, plan } = kit;
  const places = ribPlaces(plan);
  if (places.length === 0) return;
  const drawings = places.map((place) => sectionDrawing(plan, place.section.s));
  const extents = drawings.map(extent);
  const k = 1 / flow.pen.scale;
  const tallOf = (from: number): number =>
    Math.max(...extents.slice(from, from + CARDS).map((e) => (e.high - e.low) * k)) + CARD_HEAD + 4;
  const bar = (): void => checkBar(flow.pen, MARGIN, flow.pen.height - MARGIN - BAR_HEIGHT);
  // Nothing follows the cards on their pages but the bar that they are measured by.
  flow.chapter(`Rib cards: sections full size, square to the rail${ofSide(kit)}`, tallOf(0) + BAR_HEIGHT);
  bar();
  const wide = flow.width / CARDS;
  for (let from = 0; from < places.length; from += CARDS) {
    const row = places.slice(from, from + CARDS);
    const tall = tallOf(from);
    if (from > 0 && flow.y + tall > flow.bottom - BAR_HEIGHT + 3) {
      flow.page('Rib cards, continued');
      bar();
    }
    row.forEach((place, i) => ribCard(kit, place, drawings[from + i], extents[from + i], k, flow.left + i * wide, flow.y, wide - 1.5, tall - 1.5));
    flow.space(tall);
  }
}

function ribCard(
  kit: Kit, place: BoxPlace, drawing: SectionDrawing, e: ReturnType<typeof extent>, k: number, x: number, y: number, w: number, h: number,
): void {
  const { flow } = kit;
  const { pen } = flow;
  const f = figures(kit, place);
  pen.rect(x, y, w, h, { width: 0.25, grey: 0.35 });
  pen.rect(x, y, w, 6.4, { fill: 0.9, bare: true });
  pen.text(x + 1.5, y + 5, place.name, { size: 14, face: 'bold' });
  tickBox(pen, x + w - 3.2, y + 3.2, 4.2);
  flow.fitted(x + 17, y + 4.6, w - 23.5, `${f.stationTail} from tail`, 8.5, 'regular', 'right');
  flow.fitted(x + 1.5, y + 10.8, w - 3, `bevel ${f.bevel}  planing ${f.planing}`, 10.5, 'bold');
  const slot = place.section.slot > 0.05 && place.section.rows > 0 ? `, slot ${len(kit, place.section.slot)}` : '';
  flow.fitted(x + 1.5, y + 14.6, w - 3, `gap ${f.gap}, rows ${f.rows}${slot}${place.rib && !place.rib.hasTab ? '; no tab' : ''}`, 8.5);
  flow.fitted(x + 1.5, y + 18, w - 3, `cover ${f.thin ? '! ' : ''}${f.cover}; face at ${len(kit, place.section.x)} from tail`, 8.5);
  const reach = Math.min(INBOARD, (w - 3) / k - e.out - 1);
  const box = [x + 1, y + CARD_HEAD - 1, w - 2, h - CARD_HEAD] as const;
  const middle = box[1] + box[3] / 2 + ((e.high + e.low) / 2) * k;
  drawSection(pen, drawing, box[0] + (w - 2 - (reach + e.out) * k) / 2 + reach * k, middle, k, box);
}
